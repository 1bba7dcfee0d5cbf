"""Who may do what and how often, judged by the head of a request before anything of its body is read."""

from __future__ import annotations

import time
from collections.abc import Callable
from math import ceil

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from firstoff.access.key_file import KeyRing
from firstoff.access.keys import Key
from firstoff.access.needs import WRITING, needed, refusal
from firstoff.access.rates import Rates, asker_at, told
from firstoff.api.problems import firstoff_problem
from firstoff.errors import TooManyRequests

#: Where in a request's scope the key stands that it was sent with; a routine below reads it with ``key_of``.
_HELD = "firstoff.key"
_UNCOUNTED = ("/healthz", "/readyz", "/metrics")


class Access:
    """ASGI middleware that finds the key of each request, and refuses what it may not do (RFC 6750) or asks too often
    (RFC 6585, 4).

    Who has a key is counted by its name, who has none by their address; attempts without the right key are counted by
    address on their own. A rate of 0 counts nothing.
    """

    def __init__(
        self,
        app: ASGIApp,
        *,
        ring: KeyRing,
        reading_by_key: bool,
        rates: dict[str, int],
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._app = app
        self._ring = ring
        self._reading_by_key = reading_by_key
        self._rates = {kind: Rates(count) for kind, count in rates.items() if count}
        self._clock = clock

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        sent = bearer(scope)
        key = self._ring.find(sent) if sent is not None else None
        scope[_HELD] = key
        wanted = needed(
            scope["method"], scope["path"], reading_by_key=self._reading_by_key, keys_are_set_up=self._ring.is_set_up
        )
        if wanted is not None and (key is None or wanted not in key.scopes):
            refused = refusal(wanted, key, sent=sent is not None, anyone_may=self._ring.anyone_may(wanted))
            if refused is not None:
                counted = self._counted("failing", asker_at(client_of(scope)))
                await firstoff_problem(scope["path"], counted or refused)(scope, receive, send)
                return
        kind = "writing" if wanted in WRITING else "reading"
        rates = self._rates.get(kind)
        if rates is None or scope["path"] in _UNCOUNTED:
            await self._app(scope, receive, send)
            return
        asker = f"key {key.name}" if key is not None else asker_at(client_of(scope))
        verdict = rates.take(asker, self._clock())
        headers = told(kind, rates.count, verdict)

        async def telling(message: Message) -> None:
            if message["type"] == "http.response.start":
                message = {**message, "headers": [*message.get("headers", ()), *headers]}
            await send(message)

        if verdict.allowed:
            await self._app(scope, receive, telling)
        else:
            await firstoff_problem(scope["path"], _too_many(kind, rates.count, verdict.wait))(scope, receive, telling)

    def _counted(self, kind: str, asker: str) -> TooManyRequests | None:
        rates = self._rates.get(kind)
        if rates is None:
            return None
        verdict = rates.take(asker, self._clock())
        return None if verdict.allowed else _too_many(kind, rates.count, verdict.wait)


def _too_many(kind: str, count: int, wait: float) -> TooManyRequests:
    what = {"reading": "requests", "writing": "requests that write", "failing": "attempts without a key that may"}[kind]
    return TooManyRequests(f"These are more than {count} {what} in a minute.", retry_after=max(1, ceil(wait)))


def key_of(scope: Scope) -> Key | None:
    """The key that a request was sent with, None where it had none that is known."""
    held: Key | None = scope.get(_HELD)
    return held


def client_of(scope: Scope) -> str | None:
    """The address a request came from, as far as proxies that are trusted tell it."""
    client = scope.get("client")
    return client[0] if client else None


def bearer(scope: Scope) -> str | None:
    """The bearer token of a request; None where there is none, or there are several Authorization headers."""
    told = [value for name, value in scope["headers"] if name == b"authorization"]
    if len(told) != 1:
        return None
    scheme, _, token = told[0].decode("latin-1").partition(" ")
    return token.strip() or None if scheme.lower() == "bearer" else None
