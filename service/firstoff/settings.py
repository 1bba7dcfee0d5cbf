"""Settings: each has a name, a default, a help text, and a check that says how to mend what fails it.

A default gives way to a file (``configuration.py`` reads it), that to the environment, that to an option of a command.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import Field, dataclass, field, fields
from math import inf
from pathlib import Path
from typing import Any

from firstoff.content import data_folder
from firstoff.errors import BadRequest

_DIGEST = re.compile("[0-9a-f]{64}")
_NAME_THE_STANDARD = "Name the standard of the safe voltage in FIRSTOFF_SAFE_VOLTS_STANDARD."
_STANDARD = "IEC 60335-1, 8.1.4 (an accessible-part limit, borrowed for service)"

Check = tuple[Callable[[Any], bool], str]
"""Whether a value can be, and what to set the variable to where it cannot: "above 0"."""

ABOVE_0: Check = (lambda value: 0 < value < inf, "above 0")
NOT_BELOW_0: Check = (lambda value: 0 <= value < inf, "to 0 or more")


def setting(
    default: Any,
    help_text: str,
    check: Check | None = None,
    *,
    answers: bool = True,
    secret: bool = False,
    example: str = "",
) -> Any:
    """A field of :class:`Settings`; ``default`` may be a function that makes it.

    ``answers`` is false where no answer depends on it: services that differ in it answer alike. A ``secret`` is a
    ``pydantic.SecretStr``: it is shown nowhere, and no answer depends on it. ``example`` is for a file, where the
    default says nothing.
    """
    told = {"help": help_text, "check": check, "answers": answers and not secret, "secret": secret, "example": example}
    if callable(default):
        return field(default_factory=default, metadata=told)
    return field(default=default, repr=not secret, metadata=told)


@dataclass(frozen=True, slots=True)
class Settings:
    """How a service runs. Each is set by ``FIRSTOFF_<NAME>`` or by its name in a file."""

    data: Path = setting(data_folder, "Folder of content: one Turtle file for each platform.", example="content")
    safe_volts: float = setting(
        42.4,
        "Volts under which a discharged capacitor counts as safe to work on, above 0 and up to 60.",
        (lambda volts: 0 < volts <= 60, "above 0 and up to 60"),
    )
    safe_volts_standard: str = setting(
        _STANDARD,
        "The standard that the safe voltage is taken from.",
        (lambda text: bool(text.strip()), "to the standard of the safe voltage"),
    )
    plan_seconds: float = setting(
        2.0, "Seconds for a plan, and again for its alternatives; then the best so far is given with its gap.", ABOVE_0
    )
    shop: str = setting(
        "", "Name of the shop, printed at the head of job sheets.", example="Larkfield Appliance Repair"
    )
    body_bytes: int = setting(1_000_000, "Largest request body in bytes.", ABOVE_0)
    state: Path | None = setting(
        None, "Folder to keep outcomes of jobs in. Without it nothing is kept or learned.", example="state"
    )
    outcome_keys: str = setting(
        "",
        "SHA-256 digests, in hexadecimal, of the keys that may tell outcomes; commas between. Without any "
        "no outcome is taken over HTTP.",
        example="0" * 64,
    )
    publish_keys: str = setting(
        "",
        "Who may publish: NAME=DIGEST, the SHA-256 digest of the key of each; commas between. Without any "
        "nothing is published over HTTP.",
        example=f"bench={'0' * 64}",
    )
    graph_bytes: int = setting(20_000_000, "Largest content of a platform in bytes.", ABOVE_0)
    refresh_seconds: float = setting(
        1.0, "Seconds between looks at the folder for what others published; 0 never looks.", NOT_BELOW_0
    )
    authored_jobs: float = setting(
        50.0,
        "How many jobs the authored frequencies of the faults are worth beside jobs that were told.",
        (lambda jobs: 0 < jobs < inf, "above 0, such as 50"),
    )
    log: str = setting(
        "plain",
        "How a line of the log is written: plain for a person, json for a collector.",
        (lambda form: form in ("plain", "json"), "to plain or json"),
        answers=False,
    )
    log_level: str = setting(
        "info",
        "What is logged: debug, info (a line for each request), warning or error.",
        (lambda level: level in ("debug", "info", "warning", "error"), "to debug, info, warning or error"),
        answers=False,
    )
    grace_seconds: float = setting(
        1.0,
        "Seconds for which a service told to stop still takes requests, while it says that it is not ready.",
        NOT_BELOW_0,
        answers=False,
    )
    stop_seconds: int = setting(
        20, "Seconds within which requests in flight end once the service stops.", ABOVE_0, answers=False
    )
    cache_bytes: int = setting(64_000_000, "Bytes of computed answers to keep in memory.", NOT_BELOW_0)
    sparql_workers: int = setting(
        2,
        "Processes that answer queries at /sparql, from the first query on; 0 for none.",
        (lambda count: 0 <= count <= 64, "to 0 (no queries) or up to 64"),
        answers=False,
    )
    sparql_seconds: float = setting(5.0, "Seconds after which a query at /sparql is stopped.", ABOVE_0, answers=False)
    sparql_memory_bytes: int = setting(
        1_500_000_000,
        "Bytes of address space of a process that answers queries.",
        (lambda count: count >= 700_000_000, "to 700000000 or more; a process needs that to start"),
        answers=False,
    )
    sparql_rows: int = setting(
        10_000, "Rows that an answer to a query may have; with more it is refused.", ABOVE_0, answers=False
    )
    sparql_bytes: int = setting(
        10_000_000, "Bytes that an answer to a query may have; with more it is refused.", ABOVE_0, answers=False
    )
    sparql_triples: int = setting(
        5_000_000, "Triples up to which the content is copied to disk for queries.", ABOVE_0, answers=False
    )

    def __post_init__(self) -> None:
        for each in fields(self):
            check, value = each.metadata["check"], getattr(self, each.name)
            if check is not None and not check[0](value):
                said = "not what it can be" if is_secret(each) else value
                raise BadRequest(f"{each.name} is {said}.", mend=f"Set {variable(each)} {check[1]}.")
        for wrong, detail, mend in _TOGETHER:
            if wrong(self):
                raise BadRequest(detail.format(its=self), mend=mend)

    @property
    def key_digests(self) -> tuple[str, ...]:
        """The digests of ``outcome_keys``, in small letters."""
        return tuple(each.strip().lower() for each in self.outcome_keys.split(",") if each.strip())

    @property
    def publishers(self) -> tuple[tuple[str, str], ...]:
        """The name and the digest, in small letters, of each of ``publish_keys``."""
        entries = (each.partition("=") for each in self.publish_keys.split(",") if each.strip())
        return tuple((name.strip(), digest.strip().lower()) for name, _, digest in entries)


#: What settings must be to each other: whether they are not, what is wrong, how to mend it.
_TOGETHER: tuple[tuple[Callable[[Settings], bool], str, str], ...] = (
    (
        lambda its: its.safe_volts != 42.4 and its.safe_volts_standard == _STANDARD,
        "safe_volts is {its.safe_volts}, which is not of {its.safe_volts_standard}.",
        _NAME_THE_STANDARD,
    ),
    (
        lambda its: not all(_DIGEST.fullmatch(each) for each in its.key_digests),
        "outcome_keys holds something that is no SHA-256 digest.",
        "Set FIRSTOFF_OUTCOME_KEYS to what `firstoff new-key` prints for it, never to the key itself.",
    ),
    (
        lambda its: bool(its.key_digests) and its.state is None,
        "outcome_keys is set, and there is no folder to keep outcomes in.",
        "Set FIRSTOFF_STATE to one.",
    ),
    (
        lambda its: not all(name and _DIGEST.fullmatch(digest) for name, digest in its.publishers),
        "publish_keys holds something that is no NAME=DIGEST.",
        "Set FIRSTOFF_PUBLISH_KEYS to a name and what `firstoff new-key` prints for it, such as bench=0a1b…, never to "
        "the key itself.",
    ),
)


def variable(setting: Field[Any]) -> str:
    """The environment variable of a setting."""
    return f"FIRSTOFF_{setting.name.upper()}"


def of_answers(settings: Settings) -> dict[str, Any]:
    """Name and value of each setting that answers depend on; no secret is among them."""
    return {each.name: getattr(settings, each.name) for each in fields(settings) if each.metadata["answers"]}


def is_secret(setting: Field[Any]) -> bool:
    """Whether its value is shown nowhere."""
    return bool(setting.metadata["secret"])
