"""Every request that writes is told to the audit trail before it is answered, and how it ended."""

from __future__ import annotations

import asyncio
import logging
from dataclasses import replace

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from firstoff.access.needs import WRITING, needed
from firstoff.access.trail import Entry, Trail
from firstoff.api.access import client_of, key_of
from firstoff.api.noted import present_id
from firstoff.api.problems import firstoff_problem
from firstoff.errors import StateFailed

_log = logging.getLogger("firstoff.access")


class Audited:
    """ASGI middleware around all that judges a request; without a ``trail`` it does nothing.

    A write that is let in begins with a line on the disk: :class:`Beginning` stands below what judges. Here is told how
    it ended, or that it was refused.
    """

    def __init__(self, app: ASGIApp, *, trail: Trail | None) -> None:
        self._app = app
        self._trail = trail

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if self._trail is None or not _writes(scope):
            await self._app(scope, receive, send)
            return
        status = 0

        async def watched(message: Message) -> None:
            nonlocal status
            if message["type"] == "http.response.start":
                status = message["status"]
            await send(message)

        try:
            await self._app(scope, receive, watched)
        finally:
            await self._end(self._trail, scope, status)

    async def _end(self, trail: Trail, scope: Scope, status: int) -> None:
        begun = scope.get(_BEGUN, False)
        if not begun and status == _TOO_MANY:  # or whoever floods would fill the disk
            return
        entry = replace(entry_of(scope), outcome="done" if begun else "refused", status=status or None)
        try:
            await asyncio.to_thread(trail.add, entry)
        except StateFailed as error:
            _log.error("how a request ended is missing in the audit trail: %s", error.detail)


class Beginning:
    """ASGI middleware below all that refuses: a write begins once that is on the disk, and not where it cannot be."""

    def __init__(self, app: ASGIApp, *, trail: Trail | None) -> None:
        self._app = app
        self._trail = trail

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if self._trail is not None and _writes(scope):
            try:
                await asyncio.to_thread(self._trail.add, entry_of(scope))
            except StateFailed as error:
                await firstoff_problem(scope["path"], error)(scope, receive, send)
                return
            scope[_BEGUN] = True
        await self._app(scope, receive, send)


_BEGUN = "firstoff.begun"
_TOO_MANY = 429


def entry_of(scope: Scope) -> Entry:
    """What is told of a request: nothing of its query, its headers or its body."""
    key = key_of(scope)
    return Entry(
        who=key.name if key else None,
        where=client_of(scope),
        what=f"{scope['method']} {scope['path']}",
        outcome="begun",
        request=present_id(),
    )


def _writes(scope: Scope) -> bool:
    return (
        scope["type"] == "http"
        and needed(scope["method"], scope["path"], reading_by_key=False, keys_are_set_up=True) in WRITING
    )
