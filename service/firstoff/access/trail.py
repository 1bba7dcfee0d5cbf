"""The audit trail: who wrote what, when and from where, a line each, only ever added to.

A write has two lines: that it began, on the disk before anything is written, and how it ended; a refusal has one. Each
line holds the digest of the line before, so that one which is changed, taken away or put elsewhere shows; that
lines are missing at the end shows by the last digest, where somebody keeps it elsewhere. A line that was torn when a
process died stays, and the line behind it says how long it is.
"""

from __future__ import annotations

import fcntl
import hashlib
import json
import logging
import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from threading import Lock
from typing import Any

from firstoff.errors import StateFailed

FILE = "audit.jsonl"
FIRST = "0" * 64
_TAIL = 65_536  # bytes that hold the last line whatever it says
_MOST = 300  # letters of a text
_log = logging.getLogger("firstoff.access")


@dataclass(frozen=True, slots=True)
class Entry:
    """What is told of a request: ``outcome`` is begun, done or refused, ``status`` that of the answer."""

    who: str | None
    where: str | None
    what: str
    outcome: str
    status: int | None = None
    request: str | None = None


class Trail:
    """The trail in ``folder``. Several threads and processes of one machine may write to it."""

    def __init__(self, folder: Path, now: Callable[[], datetime] = lambda: datetime.now(UTC)) -> None:
        self.path = folder / FILE
        self._now = now
        self._lock = Lock()

    def add(self, entry: Entry) -> None:
        """Keep ``entry``: it is on the disk when this returns.

        :raises StateFailed: it could not be kept.
        """
        try:
            with self._lock:
                self._add(entry)
        except OSError as error:
            raise StateFailed(
                f"The audit trail cannot be written: {error.strerror or error}. Nothing is written without it.",
                mend="Send it again, with the same idempotency key where it had one, once the folder of FIRSTOFF_STATE "
                "can be written and has room.",
            ) from error

    def _add(self, entry: Entry) -> None:
        self.path.parent.mkdir(parents=True, exist_ok=True)
        new = not self.path.exists()
        file = os.open(self.path, os.O_RDWR | os.O_CREAT | os.O_APPEND, 0o600)
        try:
            fcntl.flock(file, fcntl.LOCK_EX)
            size = os.fstat(file).st_size
            before, torn, gap = _end(os.pread(file, _TAIL, max(0, size - _TAIL)))
            line = _line(entry, self._now(), before, torn)
            if torn:
                _log.error("the audit trail ended in a torn line of %d bytes; it goes on behind it", torn)
            try:
                if os.write(file, gap + line) != len(gap + line):
                    raise OSError("there is no room")
                os.fsync(file)
            except OSError:
                os.ftruncate(file, size)  # nobody was told that it is there
                raise
        finally:
            os.close(file)
        if new:
            folder = os.open(self.path.parent, os.O_RDONLY)
            try:
                os.fsync(folder)
            finally:
                os.close(folder)


@dataclass(frozen=True, slots=True)
class Read:
    """A line of the trail: what it tells, and what is wrong with it, None where nothing is. ``told`` is empty of a torn
    line; the entry behind it tells of it."""

    number: int
    told: dict[str, Any]
    wrong: str | None


def read(path: Path) -> Iterator[Read]:
    """Every line in order, each judged by the one before. The last may be torn: nothing tells of it yet.

    :raises StateFailed: the file cannot be read.
    """
    try:
        lines = path.read_bytes().split(b"\n")
    except OSError as error:
        raise StateFailed(
            f"The audit trail {str(path)!r} cannot be read: {error.strerror}.",
            mend="Name the folder with --state, or FIRSTOFF_STATE; a trail begins with the first write.",
        ) from error
    lines = lines[:-1] if lines[-1] == b"" else lines
    before, torn = FIRST, 0
    for number, line in enumerate(lines, start=1):
        told = _parsed(line)
        if told is None:
            torn += len(line) + 1
            yield Read(number, {}, "torn; the next write goes on behind it" if number == len(lines) else None)
            continue
        wrong = None
        if told["before"] != before:
            wrong = "does not follow from the line before it"
        elif told.get("torn", 0) != torn:
            wrong = f"tells of {told.get('torn', 0)} torn bytes where there are {torn}"
        before, torn = digest_of(line), 0
        yield Read(number, told, wrong)


def digest_of(line: bytes) -> str:
    """The digest that the next line holds."""
    return hashlib.sha256(line).hexdigest()


def _end(tail: bytes) -> tuple[str, int, bytes]:
    """The digest of the last entry in ``tail``, the bytes that are torn behind it, and what ends its last line."""
    torn = 0
    *whole, rest = tail.split(b"\n")
    gap = b"\n" if rest else b""
    for line in reversed([*whole, rest] if rest else whole):
        if _parsed(line) is not None:
            return digest_of(line), torn, gap
        torn += len(line) + 1
    return FIRST, torn, gap


def _line(entry: Entry, now: datetime, before: str, torn: int) -> bytes:
    told: dict[str, Any] = {
        "when": now.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z"),
        "who": _short(entry.who),
        "where": _short(entry.where),
        "what": _short(entry.what),
        "outcome": entry.outcome,
        "status": entry.status,
        "request": _short(entry.request),
        "before": before,
    }
    if torn:
        told["torn"] = torn
    return json.dumps(told).encode() + b"\n"


def _short(text: str | None) -> str | None:
    return text if text is None or len(text) <= _MOST else f"{text[:_MOST]}…"


def _parsed(line: bytes) -> dict[str, Any] | None:
    try:
        told = json.loads(line)
    except ValueError:
        return None
    return told if isinstance(told, dict) and "before" in told else None
