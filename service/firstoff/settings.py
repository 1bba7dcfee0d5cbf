"""Settings: each has a name, a default, a help text, and a check that says how to mend what fails it.

A default gives way to a file (``configuration.py`` reads it), that to the environment, that to an option of a command.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import Field, dataclass, field, fields
from ipaddress import ip_network
from math import inf
from pathlib import Path
from typing import Any

from firstoff.content import data_folder
from firstoff.errors import BadRequest

_ORIGIN = re.compile(r"https?://[a-z0-9.-]+(:[0-9]{1,5})?|https?://\[[0-9a-f:]+\](:[0-9]{1,5})?")
_HTTP = ("http://", "https://")
_ADMITS = re.compile(r"\s*[A-Za-z][A-Za-z0-9+.-]*://[^/?#]*@")
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
    example: str | list[str] = "",
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

    data: Path = setting(
        data_folder, "Folder of content: one Turtle file for each platform.", answers=False, example="content"
    )
    engine: str = setting(
        "memory",
        "Where the triples are: memory, a folder, or the query address of a SPARQL 1.1 server.",
        (
            lambda text: bool(text.strip()) and ("://" not in text or text.startswith(_HTTP)),
            "to memory, a folder, or an address of http or https",
        ),
        answers=False,
        example="http://localhost:7878/query",
    )
    engine_update: str = setting(
        "",
        "Update address of the SPARQL 1.1 server. Without it the service reads what another publishes.",
        (lambda text: not text or text.startswith(_HTTP), "to an address of http or https"),
        answers=False,
        example="http://localhost:7878/update",
    )
    engine_seconds: float = setting(
        10.0, "Seconds that the SPARQL 1.1 server may take for one answer.", ABOVE_0, answers=False
    )
    publisher: str = setting(
        "",
        "Address of the service that publishes, told to authors who come to one that only reads.",
        answers=False,
        example="https://publish.example",
    )
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
    keys: Path | None = setting(
        None,
        "TOML file of keys, with what each may do; `firstoff new-key` adds to it. Without it nothing is written over "
        "HTTP.",
        answers=False,
        example="keys.toml",
    )
    reading: str = setting(
        "open",
        "Who may read: open for anybody, or key for whoever has a key with the scope read (sparql for queries).",
        (lambda text: text in ("open", "key"), "to open or key"),
        answers=False,
    )
    rate_reading: int = setting(
        0,
        "Requests a minute that a key, or an address without one, may read with; 0 for any number.",
        NOT_BELOW_0,
        answers=False,
    )
    rate_writing: int = setting(
        0, "Requests a minute that a key may write with; 0 for any number.", NOT_BELOW_0, answers=False
    )
    rate_failing: int = setting(
        60,
        "Attempts a minute without the right key from one address, told so; 0 for any number.",
        NOT_BELOW_0,
        answers=False,
    )
    trusted_proxies: tuple[str, ...] = setting(
        (),
        "Addresses and networks of the proxies that may say who the client is, commas between.",
        (lambda proxies: all(_is_network(each) for each in proxies), "to addresses or networks, such as 10.0.0.0/8"),
        answers=False,
        example=["10.0.0.0/8"],
    )
    cors_origins: tuple[str, ...] = setting(
        (),
        "Origins whose pages may ask this service, exactly as browsers send them, commas between.",
        (lambda origins: all(_ORIGIN.fullmatch(each) for each in origins), "to origins such as https://shop.example"),
        answers=False,
        example=["https://shop.example"],
    )
    hsts_seconds: int = setting(
        0,
        "Seconds for which browsers are promised HTTPS; 0 promises nothing. Only behind HTTPS.",
        NOT_BELOW_0,
        answers=False,
    )
    body_seconds: float = setting(60.0, "Seconds that a request's body may take to come.", ABOVE_0, answers=False)
    answer_seconds: float = setting(
        30.0,
        "Seconds after which an answer that is not there yet is given up, but of what writes.",
        ABOVE_0,
        answers=False,
    )
    computations: int = setting(64, "Answers computed at once; beyond them is refused at once.", ABOVE_0, answers=False)
    graph_bytes: int = setting(20_000_000, "Largest content of a platform in bytes.", ABOVE_0)
    refresh_seconds: float = setting(
        0.5,
        "Seconds between looks at the folder, or engine, for what others published; 0 never looks.",
        NOT_BELOW_0,
        answers=False,
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
            if isinstance(value, str) and _ADMITS.match(value):  # it is not told: it holds what must stay secret
                raise BadRequest(
                    f"{each.name} is an address with a user or a password in it.",
                    mend="Leave them out; set FIRSTOFF_ENGINE_USER and FIRSTOFF_ENGINE_PASSWORD for an engine.",
                )
            if check is not None and not check[0](value):
                said = "not what it can be" if is_secret(each) else value
                raise BadRequest(f"{each.name} is {said}.", mend=f"Set {variable(each)} {check[1]}.")
        for wrong, detail, mend in _TOGETHER:
            if wrong(self):
                raise BadRequest(detail.format(its=self), mend=mend)

    @property
    def engine_is_server(self) -> bool:
        """Whether the engine is a server on the network."""
        return self.engine.startswith(_HTTP)

    @property
    def reads_only(self) -> bool:
        """Whether the content is what another service publishes into the engine; the folder of content is not used."""
        return self.engine_is_server and not self.engine_update


#: What settings must be to each other: whether they are not, what is wrong, how to mend it.
_TOGETHER: tuple[tuple[Callable[[Settings], bool], str, str], ...] = (
    (
        lambda its: bool(its.engine_update) and not its.engine_is_server,
        "engine_update is set, and engine is {its.engine}, which is no server.",
        "Set FIRSTOFF_ENGINE to the query address of the server, or take FIRSTOFF_ENGINE_UPDATE away.",
    ),
    (
        lambda its: its.safe_volts != 42.4 and its.safe_volts_standard == _STANDARD,
        "safe_volts is {its.safe_volts}, which is not of {its.safe_volts_standard}.",
        _NAME_THE_STANDARD,
    ),
    (
        lambda its: its.reading == "key" and its.keys is None,
        "reading is by key, and there is no file of keys.",
        "Set FIRSTOFF_KEYS to one; `firstoff new-key` makes it.",
    ),
)


def _is_network(text: str) -> bool:
    try:
        ip_network(text)
    except ValueError:
        return False
    return True


def variable(setting: Field[Any]) -> str:
    """The environment variable of a setting."""
    return f"FIRSTOFF_{setting.name.upper()}"


def of_answers(settings: Settings) -> dict[str, Any]:
    """Name and value of each setting that answers depend on; no secret is among them."""
    return {each.name: getattr(settings, each.name) for each in fields(settings) if each.metadata["answers"]}


def is_secret(setting: Field[Any]) -> bool:
    """Whether its value is shown nowhere."""
    return bool(setting.metadata["secret"])
