"""Settings: each has a name, a default and a help text; the environment overrides the default."""

from __future__ import annotations

import os
import re
from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from math import inf
from pathlib import Path
from typing import Any

from firstoff.content import data_folder
from firstoff.errors import BadRequest

_DIGEST = re.compile("[0-9a-f]{64}")
_NAME_THE_STANDARD = "Name the standard of the safe voltage in FIRSTOFF_SAFE_VOLTS_STANDARD."


@dataclass(frozen=True, slots=True)
class Settings:
    """How a service runs. ``from_environment`` reads ``FIRSTOFF_<NAME>``."""

    data: Path = field(
        default_factory=data_folder, metadata={"help": "Folder of content: one Turtle file for each platform."}
    )
    safe_volts: float = field(
        default=42.4,
        metadata={"help": "Volts under which a discharged capacitor counts as safe to work on, above 0 and up to 60."},
    )
    safe_volts_standard: str = field(
        default="IEC 60335-1, 8.1.4 (an accessible-part limit, borrowed for service)",
        metadata={"help": "The standard that the safe voltage is taken from."},
    )
    plan_seconds: float = field(
        default=2.0,
        metadata={
            "help": "Seconds for a plan, and again for its alternatives; then the best so far is given with its gap."
        },
    )
    shop: str = field(default="", metadata={"help": "Name of the shop, printed at the head of job sheets."})
    body_bytes: int = field(default=1_000_000, metadata={"help": "Largest request body in bytes."})
    state: Path | None = field(
        default=None, metadata={"help": "Folder to keep outcomes of jobs in. Without it nothing is kept or learned."}
    )
    outcome_keys: str = field(
        default="",
        metadata={
            "help": "SHA-256 digests, in hexadecimal, of the keys that may tell outcomes; commas between. Without any "
            "no outcome is taken over HTTP."
        },
    )
    publish_keys: str = field(
        default="",
        metadata={
            "help": "Who may publish: NAME=DIGEST, the SHA-256 digest of the key of each; commas between. Without any "
            "nothing is published over HTTP."
        },
    )
    graph_bytes: int = field(default=20_000_000, metadata={"help": "Largest content of a platform in bytes."})
    refresh_seconds: float = field(
        default=1.0,
        metadata={"help": "Seconds between looks at the folder for what others published; 0 never looks."},
    )
    authored_jobs: float = field(
        default=50.0,
        metadata={"help": "How many jobs the authored frequencies of the faults are worth beside jobs that were told."},
    )
    cache_bytes: int = field(default=64_000_000, metadata={"help": "Bytes of computed answers to keep in memory."})

    def __post_init__(self) -> None:
        if not 0 < self.safe_volts <= 60:
            raise BadRequest(f"safe_volts is {self.safe_volts}.", mend="Set FIRSTOFF_SAFE_VOLTS above 0 and up to 60.")
        if not self.safe_volts_standard.strip():
            raise BadRequest("No standard is named for the safe voltage.", mend=_NAME_THE_STANDARD)
        default = {each.name: each.default for each in fields(self)}
        if self.safe_volts != default["safe_volts"] and self.safe_volts_standard == default["safe_volts_standard"]:
            raise BadRequest(
                f"safe_volts is {self.safe_volts}, which is not of {self.safe_volts_standard}.", mend=_NAME_THE_STANDARD
            )
        if not 0 < self.plan_seconds < inf:
            raise BadRequest(f"plan_seconds is {self.plan_seconds}.", mend="Set FIRSTOFF_PLAN_SECONDS above 0.")
        if self.body_bytes <= 0:
            raise BadRequest(f"body_bytes is {self.body_bytes}.", mend="Set FIRSTOFF_BODY_BYTES above 0.")
        if not 0 < self.authored_jobs < inf:
            raise BadRequest(
                f"authored_jobs is {self.authored_jobs}.", mend="Set FIRSTOFF_AUTHORED_JOBS above 0, such as 50."
            )
        for each in self.key_digests:
            if not _DIGEST.fullmatch(each):
                raise BadRequest(
                    "outcome_keys holds something that is no SHA-256 digest.",
                    mend="Set FIRSTOFF_OUTCOME_KEYS to what `firstoff new-key` prints for it, never to the key itself.",
                )
        if self.key_digests and self.state is None:
            raise BadRequest(
                "outcome_keys is set, and there is no folder to keep outcomes in.", mend="Set FIRSTOFF_STATE to one."
            )
        for name, digest in self.publishers:
            if not name or not _DIGEST.fullmatch(digest):
                raise BadRequest(
                    "publish_keys holds something that is no NAME=DIGEST.",
                    mend="Set FIRSTOFF_PUBLISH_KEYS to a name and what `firstoff new-key` prints for it, such as "
                    "bench=0a1b…, never to the key itself.",
                )
        if self.graph_bytes <= 0:
            raise BadRequest(f"graph_bytes is {self.graph_bytes}.", mend="Set FIRSTOFF_GRAPH_BYTES above 0.")
        if not 0 <= self.refresh_seconds < inf:
            raise BadRequest(
                f"refresh_seconds is {self.refresh_seconds}.", mend="Set FIRSTOFF_REFRESH_SECONDS to 0 or more."
            )
        if self.cache_bytes < 0:
            raise BadRequest(f"cache_bytes is {self.cache_bytes}.", mend="Set FIRSTOFF_CACHE_BYTES to 0 or more.")

    @property
    def key_digests(self) -> tuple[str, ...]:
        """The digests of ``outcome_keys``, in small letters."""
        return tuple(each.strip().lower() for each in self.outcome_keys.split(",") if each.strip())

    @property
    def publishers(self) -> tuple[tuple[str, str], ...]:
        """The name and the digest, in small letters, of each of ``publish_keys``."""
        entries = (each.partition("=") for each in self.publish_keys.split(",") if each.strip())
        return tuple((name.strip(), digest.strip().lower()) for name, _, digest in entries)

    @classmethod
    def from_environment(cls, environment: Mapping[str, str] = os.environ, **given: Any) -> Settings:
        """Settings from ``FIRSTOFF_<NAME>`` variables; ``given`` values win.

        :raises BadRequest: a variable is empty, or cannot be read as its setting's type.
        """
        values: dict[str, Any] = {}
        for each in fields(cls):
            name = f"FIRSTOFF_{each.name.upper()}"
            if name in environment and each.name not in given:
                values[each.name] = _read(name, environment[name], str(each.type))
        return cls(**values, **given)


def _read(name: str, text: str, kind: str) -> Any:
    readers = {"Path": Path, "Path | None": Path, "float": float, "int": int, "str": str}
    if not text.strip():
        raise BadRequest(f"{name} is empty.", mend="Give it a value, or take it away.")
    try:
        return readers[kind](text)
    except ValueError as error:
        raise BadRequest(f"{name} is {text!r}.", mend=f"Set it to a value of type {kind}.") from error
