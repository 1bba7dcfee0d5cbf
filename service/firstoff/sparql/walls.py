"""What a process gives up before it runs the query of a stranger."""

from __future__ import annotations

import ctypes
import os
import resource
import sys
from contextlib import suppress
from pathlib import Path

_NEW_USER, _NEW_NETWORK = 0x10000000, 0x40000000  # linux/sched.h: CLONE_NEWUSER, CLONE_NEWNET
_NICENESS = 10


def without_network() -> bool:
    """Leave the network of the machine for an empty one of this process's own; False where the system forbids it.

    Has to come before any thread is started (unshare(2), EINVAL).
    """
    if not sys.platform.startswith("linux"):
        return False
    with suppress(OSError, AttributeError):
        return bool(ctypes.CDLL(None).unshare(_NEW_USER | _NEW_NETWORK) == 0)
    return False


def without_new_files() -> None:
    """Take every file descriptor that is left, so that no file and no socket can be opened any more."""
    now = 1 + max(int(each.name) for each in Path("/dev/fd").iterdir())
    resource.setrlimit(resource.RLIMIT_NOFILE, (now, now))
    with suppress(OSError):
        while True:
            os.dup(0)


def behind_others() -> None:
    """Let every other process go first."""
    os.nice(_NICENESS)


def within(memory_bytes: int) -> None:
    """Leave no core behind, and have no more memory than this."""
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    resource.setrlimit(resource.RLIMIT_AS, (memory_bytes, memory_bytes))
