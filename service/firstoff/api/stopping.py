"""The server as a supervisor stops it: told once it says so, is left alone by who asks, and ends what it began."""

from __future__ import annotations

import signal
import threading
from collections.abc import Callable
from types import FrameType

import uvicorn


class Graceful(uvicorn.Server):
    """``said`` is called when the service is told to stop.

    On SIGTERM it goes on listening for ``grace`` seconds, so that whoever balances load sees that it is no longer
    ready; then no connection is taken, and requests in flight end within the configured time. On SIGINT, which a person
    sends, there is no grace. A second signal ends it at once.
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
            self._leave()
            return
        self._told = True
        self._said()
        if sig == signal.SIGTERM and self._grace:
            timer = threading.Timer(self._grace, self._leave)
            timer.daemon = True
            timer.start()
        else:
            self._leave()

    def _leave(self) -> None:
        self.should_exit = True
