"""The file of keys: read anew when it changes, written so that it is whole at any moment and its owner's alone."""

from __future__ import annotations

import fcntl
import logging
import os
import stat
from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from tempfile import NamedTemporaryFile

from firstoff.access.keys import Key, found, keys_in, table_of
from firstoff.errors import BadRequest, FirstoffError

_log = logging.getLogger("firstoff.access")
_HEAD = (
    "# Keys of a firstoff service, by their digests; `firstoff new-key` adds one. To take one away, delete its table.\n"
)
_MOST_BYTES = 1_000_000


class KeyRing:
    """The keys of ``path``, as the file is now; none where ``path`` is None.

    A file that cannot be used when it changes leaves the keys as they were; ``failure`` says why.

    :raises BadRequest: the file cannot be used at first.
    """

    def __init__(self, path: Path | None, now: Callable[[], datetime] = lambda: datetime.now(UTC)) -> None:
        self._path = path
        self._now = now
        self._keys: tuple[Key, ...] = ()
        self._seen: tuple[int, ...] | None = None
        self.failure: str | None = None
        if path is not None:
            self._seen = _signature(path)
            self._keys = keys_of(path)

    @property
    def is_set_up(self) -> bool:
        """Whether there is a file of keys."""
        return self._path is not None

    def keys(self) -> tuple[Key, ...]:
        """The keys of now."""
        if self._path is not None:
            seen = _signature(self._path)
            if seen != self._seen:
                self._read(self._path, seen)
        return self._keys

    def find(self, sent: str) -> Key | None:
        """The key that was sent, None where it is unknown or does not hold now."""
        return found(self.keys(), sent, self._now())

    def anyone_may(self, scope: str) -> bool:
        """Whether there is a key with ``scope``."""
        return any(scope in each.scopes for each in self.keys())

    def _read(self, path: Path, seen: tuple[int, ...] | None) -> None:
        self._seen = seen
        try:
            self._keys = keys_of(path)
        except FirstoffError as error:
            self.failure = f"{error.detail} The keys that were there before still serve."
            _log.error("%s %s", self.failure, error.mend)
        else:
            self.failure = None
            _log.info("the keys were read anew: %d", len(self._keys))


def keys_of(path: Path) -> tuple[Key, ...]:
    """The keys of a file.

    :raises BadRequest: it is not there, others may read it, or it holds something else. No value of it is told.
    """
    try:
        with path.open("rb") as file:
            mode = stat.S_IMODE(os.fstat(file.fileno()).st_mode)
            content = file.read(_MOST_BYTES + 1)
    except OSError as error:
        raise BadRequest(
            f"The keys in {str(path)!r} cannot be read: {error.strerror}.",
            mend="Set FIRSTOFF_KEYS to a file that is there; `firstoff new-key` makes one.",
        ) from error
    if mode & 0o077:
        raise BadRequest(
            f"The keys in {str(path)!r} can be read or changed by others on this machine (mode {mode:o}).",
            mend=f"Run chmod 600 {path}, and see who was in it.",
        )
    try:
        if len(content) > _MOST_BYTES:
            raise BadRequest(f"It has more than {_MOST_BYTES} bytes.")
        return keys_in(content.decode("utf-8"))
    except UnicodeDecodeError as error:
        raise BadRequest(f"The keys in {str(path)!r} cannot be used: it is not UTF-8.") from error
    except BadRequest as error:
        raise BadRequest(f"The keys in {str(path)!r} cannot be used: {error.detail}", mend=error.mend) from error


def add_key(path: Path, key: Key) -> None:
    """Add ``key`` to the file, made with mode 600 where there is none; who reads meanwhile has one or the other, whole.

    :raises BadRequest: the file cannot be used as it is, or cannot be written.
    """
    try:
        folder = os.open(path.parent, os.O_RDONLY | os.O_DIRECTORY)
    except OSError as error:
        raise _cannot_write(path, error) from error
    try:
        fcntl.flock(folder, fcntl.LOCK_EX)  # of two that add at once neither is lost
        before = ""
        if path.exists():
            keys_of(path)
            before = path.read_text(encoding="utf-8").rstrip("\n") + "\n"
        text = f"{before or _HEAD}\n{table_of(key)}"
        keys_in(text)
        _replace(path, text)
        os.fsync(folder)
    except OSError as error:
        raise _cannot_write(path, error) from error
    finally:
        os.close(folder)


def _replace(path: Path, text: str) -> None:
    with NamedTemporaryFile("w", dir=path.parent, prefix=f".{path.name}.", delete=False, encoding="utf-8") as file:
        try:
            os.fchmod(file.fileno(), 0o600)
            if path.exists():  # whoever runs the service goes on owning it
                owner = path.stat()
                if (owner.st_uid, owner.st_gid) != (os.geteuid(), os.getegid()):
                    os.fchown(file.fileno(), owner.st_uid, owner.st_gid)
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
            Path(file.name).replace(path)
        except BaseException:
            with suppress(OSError):
                Path(file.name).unlink()
            raise


def _cannot_write(path: Path, error: OSError) -> BadRequest:
    return BadRequest(
        f"The keys in {str(path)!r} cannot be written: {error.strerror or error}.",
        mend="Name another file with --keys.",
    )


def _signature(path: Path) -> tuple[int, ...] | None:
    """What changes when a file does; None where there is none."""
    try:
        told = path.stat()
    except OSError:
        return None
    return told.st_mtime_ns, told.st_ctime_ns, told.st_size, told.st_ino, told.st_mode
