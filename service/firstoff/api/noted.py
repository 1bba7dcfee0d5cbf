"""What is noted of a request while it is answered: its id, and the kind of problem it ended in.

The note of the present request is at hand everywhere beneath it, in worker threads as well.
"""

from __future__ import annotations

import re
import uuid
from contextvars import ContextVar
from dataclasses import dataclass, field

_SOUND = re.compile(r"[A-Za-z0-9._-]{1,64}")


def request_id(sent: str | None) -> str:
    """The id a caller sent, where it is of 1 to 64 letters, digits, dots, hyphens and underscores; else a new one."""
    return sent if sent is not None and _SOUND.fullmatch(sent) else uuid.uuid4().hex


@dataclass(slots=True)
class Note:
    """``problem`` is the kind of the problem document; None where there was none."""

    request_id: str = field(default_factory=lambda: request_id(None))
    problem: str | None = None


#: The note of the present request; None outside of one.
present: ContextVar[Note | None] = ContextVar("present", default=None)


def present_id() -> str | None:
    """The id of the present request; None outside of one."""
    note = present.get()
    return None if note is None else note.request_id
