"""Processes of the service that know nothing of its environment."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import firstoff

_PACKAGES = Path(firstoff.__file__).resolve().parents[1]
_KEPT = ("PATH", "LD_LIBRARY_PATH", "TMPDIR", "VIRTUAL_ENV")


def started(module: str) -> subprocess.Popen[bytes]:
    """A process that runs ``module``, with pipes to write to and to read from.

    It gets no variable that may hold a secret, and no file that is open here. What it says as an error is let go: a
    stranger could fill the log with it.
    """
    environment = {name: os.environ[name] for name in _KEPT if name in os.environ}
    given = os.environ.get("PYTHONPATH", "").split(os.pathsep)
    path = os.pathsep.join([str(_PACKAGES), *(str(Path(each).absolute()) for each in given if each)])
    return subprocess.Popen(
        [sys.executable, "-P", "-m", module],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        cwd="/",
        env={**environment, "PYTHONPATH": path, "PYTHONUTF8": "1"},
    )
