"""The server as a supervisor stops it: told once it says so, is left alone by who asks, and ends what it began."""

from __future__ import annotations

import logging
import os
import signal
import threading
from collections.abc import Callable
from types import FrameType

import uvicorn

#: Seconds for what is left when the requests have ended or were cut off, and when a second signal came.
_LINGERING = 5.0
_AT_ONCE = 0.5

_log = logging.getLogger("firstoff.service")


class Graceful(uvicorn.Server):
    """``said`` is called when the service is told to stop.

    On SIGTERM it goes on listening for ``grace`` seconds, so that whoever balances load sees that it is no longer
    ready; then no connection is taken, and requests in flight end within the configured time. On SIGINT, which a person
    sends, there is no grace. A second signal ends it at once.

    A thread that still computes does not keep the process: it ends after ``_LINGERING`` seconds more, or ``_AT_ONCE``.
    """

    def __init__(self, config: uvicorn.Config, *, said: Callable[[], None], grace: float) -> None:
        super().__init__(config)
        self._said = said
        self._grace = grace
        self._told = False

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:  # noqa: ARG002 - as the server calls it
        """Called for SIGINT and SIGTERM; they are not raised again, so that the process ends with 0."""
        if self._told:
            self.force_exit = True
            _later(_AT_ONCE, _end)
            self._leave()
            return
        self._told = True
        self._said()
        grace = self._grace if sig == signal.SIGTERM else 0.0
        _later(grace + (self.config.timeout_graceful_shutdown or 0) + _LINGERING, _end)
        if grace:
            _later(grace, self._leave)
        else:
            self._leave()

    def _leave(self) -> None:
        self.should_exit = True


def _later(seconds: float, act: Callable[[], None]) -> None:
    timer = threading.Timer(seconds, act)
    timer.daemon = True  # it keeps no process that ends by itself
    timer.start()


def _end() -> None:
    """End the process as it is. What was published or told is on disk by the time it is acknowledged."""
    _log.warning("what was still computed is cut off")
    os._exit(0)
