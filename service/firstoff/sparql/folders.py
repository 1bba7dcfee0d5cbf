"""Where snapshots lie: a folder for each running service, which goes with it."""

from __future__ import annotations

import fcntl
import os
import shutil
import tempfile
import time
from contextlib import suppress
from pathlib import Path

_PREFIX = "firstoff-sparql-"
_LOCK = "lock"
#: A folder without its lock is one that is being made, or was left by a service that was killed right then.
_YOUNG_SECONDS = 60.0


class Folder:
    """A new folder of this process; its lock is held for as long as the process lives."""

    def __init__(self) -> None:
        clear_leftovers()
        self.path = Path(tempfile.mkdtemp(prefix=_PREFIX))  # for this user alone (mode 0700)
        self._lock = (self.path / _LOCK).open("wb")  # closed once, however often it is told to
        fcntl.flock(self._lock, fcntl.LOCK_EX)

    def remove(self) -> None:
        """Remove it with all that is in it. Twice does no harm."""
        shutil.rmtree(self.path, ignore_errors=True)
        self._lock.close()


def clear_leftovers() -> None:
    """Remove the folders of services that were killed: nobody holds their locks any more."""
    for folder in Path(tempfile.gettempdir()).glob(f"{_PREFIX}*"):
        with suppress(OSError):
            said = folder.lstat()
            if folder.is_symlink() or said.st_uid != os.getuid():
                continue
            if _is_left(folder / _LOCK, said.st_mtime):
                shutil.rmtree(folder, ignore_errors=True)


def _is_left(lock: Path, made: float) -> bool:
    if not lock.exists():
        return time.time() - made > _YOUNG_SECONDS
    opened = os.open(lock, os.O_RDWR | os.O_CLOEXEC)
    try:
        fcntl.flock(opened, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    else:
        return True
    finally:
        os.close(opened)
