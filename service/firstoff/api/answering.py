"""How many answers are computed at once, and for how long one is waited for."""

from __future__ import annotations

import asyncio
import logging

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from firstoff.access.needs import WRITING, needed
from firstoff.api.problems import firstoff_problem
from firstoff.errors import TooBusy

_log = logging.getLogger("firstoff.api")
_LOOKS = ("/healthz", "/readyz", "/metrics")


class Answering:
    """ASGI middleware below what is kept of answers: ``most`` are computed at once, beyond them is refused at once.

    After ``seconds`` 503 is said. What is computed in a thread cannot be stopped: it goes on, and its place is taken
    until it ends, so that what is slow never piles up. What writes is waited for: it must not be told as failed and be
    done after all.
    """

    def __init__(self, app: ASGIApp, *, most: int, seconds: float) -> None:
        self._app = app
        self._most = most
        self._seconds = seconds
        self._running: set[asyncio.Task[None]] = set()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http" or scope["path"] in _LOOKS:
            await self._app(scope, receive, send)
            return
        if len(self._running) >= self._most:
            busy = TooBusy(f"{self._most} answers are being computed.", retry_after=1)
            await firstoff_problem(scope["path"], busy)(scope, receive, send)
            return
        given_up = started = False

        async def sending(message: Message) -> None:
            nonlocal started
            if not given_up:
                started = True
                await send(message)

        task = asyncio.create_task(self._run(scope, receive, sending))
        self._running.add(task)
        task.add_done_callback(self._running.discard)
        writes = needed(scope["method"], scope["path"], reading_by_key=False, keys_are_set_up=False) in WRITING
        try:
            await asyncio.wait({task}, timeout=None if writes else self._seconds)
        except asyncio.CancelledError:
            task.cancel()
            raise
        if not task.done() and not started:
            given_up = True
            task.add_done_callback(_too_late)
            slow = TooBusy(f"The answer took longer than {self._seconds:g} seconds.", retry_after=5)
            await firstoff_problem(scope["path"], slow)(scope, receive, send)
            return
        await task

    async def _run(self, scope: Scope, receive: Receive, send: Send) -> None:
        await self._app(scope, receive, send)


def _too_late(task: asyncio.Task[None]) -> None:
    """Nobody waits for the answer any more; what went wrong in it is told all the same."""
    if not task.cancelled() and (error := task.exception()) is not None:
        _log.error("an answer that was given up ended in an error", exc_info=error)
