"""The log of outcomes: a file of JSON lines that is only ever added to.

A line counts once its end is there. It is forced onto the disk before ``add`` returns, so that what was answered is
kept whatever happens next. Where a process died while it wrote, the last line is torn: nobody was told it was kept,
and the next that writes cuts it off. Several processes may share a folder: whoever writes holds a lock on the file and
reads first what others have added; whoever reads while another writes has what was there before.
"""

from __future__ import annotations

import fcntl
import hashlib
import json
import logging
import os
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from threading import Lock

from firstoff.errors import KeyReused, StateFailed
from firstoff.outcomes.record import Outcome, line_of, outcome_in

FILE = "outcomes.jsonl"
_log = logging.getLogger("firstoff.outcomes")


@dataclass(frozen=True, slots=True)
class Counted:
    """Jobs by model and by the fault confirmed, as of ``revision``, the digest of all lines; None: none are kept."""

    revision: str | None = None
    jobs: Mapping[str, Mapping[str, int]] = field(default_factory=dict)


class _Read:
    """What of the file has been read: whole lines up to ``size`` bytes."""

    def __init__(self, file: tuple[int, int] | None = None) -> None:
        self.file = file
        self.size = 0
        self.lines = 0
        self.digest = hashlib.sha256()
        self.by_key: dict[str, Outcome] = {}
        self.jobs: dict[str, dict[str, int]] = {}

    def take(self, line: bytes, outcome: Outcome) -> None:
        self.size += len(line)
        self.lines += 1
        self.digest.update(line)
        if outcome.key in self.by_key:
            return
        self.by_key[outcome.key] = outcome
        # A new mapping each time: one that was given out does not change.
        own = dict(self.jobs.get(outcome.model, {}))
        own[outcome.fault] = own.get(outcome.fault, 0) + 1
        self.jobs = {**self.jobs, outcome.model: own}


class OutcomeLog:
    """The outcomes in ``folder``. Safe to use from several threads, and several processes on one machine.

    Nothing is written, nor made, until ``prepare`` or ``add``.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self.path = folder / FILE
        self._lock = Lock()  # held for moments only: for what was read, never while the disk is waited for
        self._read = _Read()

    def prepare(self) -> None:
        """Make the folder and the file where they are missing, and cut off a torn last line.

        :raises StateFailed: the folder cannot be written, or the file holds something else than outcomes.
        """
        with self._writing() as file, self._lock:
            self._mend(file)

    def counted(self) -> Counted:
        """What has been kept up to now, by any process.

        :raises StateFailed: the file cannot be read, or holds something else than outcomes.
        """
        with self._lock:
            self._look()
            return Counted(self._read.digest.hexdigest()[:16], self._read.jobs)

    def all(self) -> tuple[Outcome, ...]:
        """Every outcome, in the order they were kept. Raises as ``counted`` does."""
        with self._lock:
            self._look()
            return tuple(self._read.by_key.values())

    def add(self, key: str, body: str, made: Callable[[], Outcome]) -> Outcome:
        """The outcome kept for ``key``: what ``made`` gives, on the disk when this returns, or what is there already.

        :raises KeyReused: another ``body`` was sent with the key before; nothing is kept.
        :raises StateFailed: it could not be kept; send it again with the same key.
        """
        with self._writing() as file:
            with self._lock:
                self._mend(file)
                known = self._read.by_key.get(key)
            if known is not None:
                if known.body != body:
                    raise KeyReused()
                return known
            outcome = made()
            self._append(file, line_of(outcome))
            with self._lock:
                self._catch_up(file)
            return outcome

    @contextmanager
    def _writing(self) -> Iterator[int]:
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            new = not self.path.exists()
            file = os.open(self.path, os.O_RDWR | os.O_APPEND | os.O_CREAT, 0o600)
        except OSError as error:
            raise self._failed("cannot be written", error) from error
        try:
            fcntl.flock(file, fcntl.LOCK_EX)
            if new:
                _force_folder(self._folder)
            yield file
        except OSError as error:
            raise self._failed("cannot be written", error) from error
        finally:
            os.close(file)

    def _mend(self, file: int) -> None:
        """Read what is new and cut off what is no whole line: nobody else is writing."""
        self._catch_up(file)
        torn = os.fstat(file).st_size - self._read.size
        if torn:
            _log.warning("%s: cut off a torn last line of %d bytes", self.path, torn)
            os.ftruncate(file, self._read.size)
            os.fsync(file)

    def _look(self) -> None:
        try:
            seen = self.path.stat()
            if (seen.st_dev, seen.st_ino) == self._read.file and seen.st_size == self._read.size:
                return
            file = os.open(self.path, os.O_RDONLY)
        except FileNotFoundError:
            self._read = _Read()
            return
        except OSError as error:
            raise self._failed("cannot be read", error) from error
        try:
            fcntl.flock(file, fcntl.LOCK_SH | fcntl.LOCK_NB)
            self._catch_up(file)
        except BlockingIOError:
            return
        except OSError as error:
            raise self._failed("cannot be read", error) from error
        finally:
            os.close(file)

    def _catch_up(self, file: int) -> None:
        """Read the whole lines that are new, up to one that is torn. Nobody else is writing."""
        seen = os.fstat(file)
        if (seen.st_dev, seen.st_ino) != self._read.file or seen.st_size < self._read.size:
            self._read = _Read((seen.st_dev, seen.st_ino))
        *lines, rest = _bytes_from(file, self._read.size).split(b"\n")
        for place, line in enumerate(lines, start=1):
            try:
                outcome = outcome_in(line)
            except ValueError as error:
                garbled = isinstance(error, (json.JSONDecodeError, UnicodeDecodeError))
                if garbled and place == len(lines) and not rest:
                    return
                raise StateFailed(
                    f"{self.path}, line {self._read.lines + 1}: {error}.",
                    mend="Put back a copy of the file, or take the line out and start again.",
                ) from error
            self._read.take(line + b"\n", outcome)

    def _append(self, file: int, line: bytes) -> None:
        start = os.fstat(file).st_size
        try:
            left = memoryview(line)
            while left:
                left = left[os.write(file, left) :]
            os.fsync(file)
        except OSError:
            # Part of it may be there: cut it off, here or, should that fail too, before the next one is written.
            os.ftruncate(file, start)
            raise

    def _failed(self, what: str, error: OSError) -> StateFailed:
        return StateFailed(f"{self.path} {what}: {error.strerror or error}.")


def _bytes_from(file: int, start: int) -> bytes:
    parts = []
    os.lseek(file, start, os.SEEK_SET)
    while part := os.read(file, 1 << 20):
        parts.append(part)
    return b"".join(parts)


def _force_folder(folder: Path) -> None:
    """Force the file's name onto the disk too."""
    opened = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)
