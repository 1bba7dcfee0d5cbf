"""Node, the development tools of the client, and the service on a port of its own."""

from __future__ import annotations

import fcntl
import hashlib
import shutil
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from firstoff.api.application import create_app
from firstoff.collection.opening import Opened
from firstoff.settings import Settings
from support.listening import serving

ROOT = Path(__file__).resolve().parents[3]
CLIENT = ROOT / "clients" / "javascript"

Node = Callable[..., subprocess.CompletedProcess[str]]


@pytest.fixture(scope="session")
def node(needed: Callable[[object, str], None]) -> Node:
    """``node(*arguments)`` runs Node and gives what it printed."""
    found = shutil.which("node")
    needed(found, "Node")

    def run(*arguments: str | Path, cwd: Path = ROOT) -> subprocess.CompletedProcess[str]:
        command = [str(found), *map(str, arguments)]
        return subprocess.run(command, cwd=cwd, capture_output=True, text=True, timeout=300, check=False)

    return run


@pytest.fixture(scope="session")
def tools(request: pytest.FixtureRequest, needed: Callable[[object, str], None]) -> Path:
    """The folder of the development tools, as the lock file names them: fetched once and kept beside pytest's cache."""
    npm = shutil.which("npm")
    needed(npm, "npm")
    assert request.config.cache is not None
    lock = (CLIENT / "package-lock.json").read_bytes()
    folder = request.config.cache.mkdir("javascript") / hashlib.sha256(lock).hexdigest()[:16]
    folder.mkdir(exist_ok=True)
    with (folder / "lock").open("w") as held:
        fcntl.flock(held, fcntl.LOCK_EX)
        done = folder / "done"
        if not done.exists():
            for name in ("package.json", "package-lock.json"):
                shutil.copy(CLIENT / name, folder / name)
            fetched = subprocess.run(
                [str(npm), "ci", "--ignore-scripts", "--no-audit", "--no-fund"],
                cwd=folder,
                capture_output=True,
                text=True,
                timeout=600,
                check=False,
            )
            needed(fetched.returncode == 0, f"the tools in package-lock.json, from the npm registry: {fetched.stderr}")
            done.touch()
    return folder / "node_modules"


@pytest.fixture(scope="module")
def service(opened: Opened, settings: Settings) -> Iterator[str]:
    """The address of the service over the demo content."""
    with serving(create_app(opened, settings)) as address:
        yield address
