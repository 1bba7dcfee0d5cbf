"""A real service in a process of its own, which can be stopped and started again at the same address."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Mapping
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


class Served:
    """``firstoff serve`` on a free port of this machine; ``settings`` are variables of its environment."""

    def __init__(self, log: Path, data: Path | None = None, settings: Mapping[str, str] | None = None) -> None:
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self._port = free.getsockname()[1]
        self._log = log
        self._data = data
        self._settings = dict(settings or {})
        self._process: subprocess.Popen[bytes] | None = None

    @property
    def port(self) -> int:
        return self._port

    @property
    def process(self) -> int:
        """Its number.

        :raises AssertionError: it is not running.
        """
        assert self._process is not None, "the service is not running"
        assert self._process.poll() is None, self._log.read_text(encoding="utf-8")[-3_000:]
        return self._process.pid

    @property
    def address(self) -> str:
        return f"http://localhost:{self._port}"

    def start(self) -> None:
        """Start and wait until it answers.

        :raises AssertionError: it did not within three minutes.
        """
        asked = [sys.executable, "-m", "firstoff.cli", "serve", "--port", str(self._port)]
        asked += ["--data", str(self._data)] if self._data else []
        path = os.pathsep.join((str(ROOT / "service"), str(ROOT / "shared")))
        environment = {**os.environ, "PYTHONPATH": path, **self._settings}
        with self._log.open("ab") as log:
            self._process = subprocess.Popen(asked, env=environment, stdout=log, stderr=log)
        end = time.monotonic() + 180
        while time.monotonic() < end:
            try:
                with urllib.request.urlopen(f"{self.address}/healthz", timeout=5):
                    return
            except OSError:
                time.sleep(0.1)
        raise AssertionError(self._log.read_text(encoding="utf-8"))

    def start_again(self) -> None:
        """Start it where it was stopped."""
        if self._process is None:
            self.start()

    def ended(self, within: float) -> int:
        """Its exit code, once it has ended by itself.

        :raises subprocess.TimeoutExpired: it has not, within so many seconds.
        """
        assert self._process is not None, "the service is not running"
        code = self._process.wait(within)
        self._process = None
        return code

    def stop(self) -> None:
        """Stop it at once, as where the network is cut; nothing where it is stopped already."""
        if self._process is not None:
            self._process.send_signal(signal.SIGKILL)
            self._process.wait()
            self._process = None
