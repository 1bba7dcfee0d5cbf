"""What is kept of a job, and its line in the log."""

from __future__ import annotations

import hashlib
import json
from dataclasses import asdict, dataclass, fields
from typing import Any

#: Form of a line; a line of another form is not read.
FORM = 1


def digest(text: str) -> str:
    """SHA-256 in hexadecimal."""
    return hashlib.sha256(text.encode()).hexdigest()


@dataclass(frozen=True, slots=True)
class Outcome:
    """A job by the names of the content alone. ``key`` and ``body`` are digests of the idempotency key and the request.

    ``on`` is a day as YYYY-MM-DD; ``checks`` pairs a check with the label of the outcome seen, as the content words it;
    ``fault`` is the one confirmed, ``remedy`` what ended it, where told; ``revision`` the content it was told of.
    """

    key: str
    body: str
    on: str
    model: str
    symptoms: tuple[str, ...]
    absent: tuple[str, ...]
    checks: tuple[tuple[str, str], ...]
    codes: tuple[str, ...]
    fault: str
    remedy: str | None
    revision: str

    @property
    def id(self) -> str:
        """The same for the same key, whenever and wherever it is asked for."""
        return self.key[:16]


def line_of(outcome: Outcome) -> bytes:
    """One line of JSON, its end included."""
    return json.dumps({"form": FORM, **asdict(outcome)}, ensure_ascii=False, separators=(",", ":")).encode() + b"\n"


def outcome_in(line: bytes) -> Outcome:
    """The outcome that a line holds.

    :raises ValueError: it holds none.
    """
    told = json.loads(line)
    names = {each.name for each in fields(Outcome)}
    if not isinstance(told, dict) or told.keys() != names | {"form"} or told["form"] != FORM:
        raise ValueError("it is no outcome of the form known here")
    texts = ("key", "body", "on", "model", "fault", "revision")
    lists = ("symptoms", "absent", "codes")
    sound = all(isinstance(told[name], str) for name in texts)
    sound = sound and all(_texts(told[name]) for name in lists)
    sound = sound and isinstance(told["checks"], list) and all(_texts(each, 2) for each in told["checks"])
    if not sound or not (told["remedy"] is None or isinstance(told["remedy"], str)):
        raise ValueError("a member of it has another type")
    return Outcome(
        **{name: told[name] for name in (*texts, "remedy")},
        symptoms=tuple(told["symptoms"]),
        absent=tuple(told["absent"]),
        codes=tuple(told["codes"]),
        checks=tuple((check, label) for check, label in told["checks"]),
    )


def _texts(value: Any, length: int | None = None) -> bool:
    return (
        isinstance(value, list)
        and all(isinstance(each, str) for each in value)
        and (length is None or len(value) == length)
    )
