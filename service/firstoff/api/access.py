"""Who may do what, judged by the head of a request before anything of its body is read."""

from __future__ import annotations

from starlette.types import ASGIApp, Receive, Scope, Send

from firstoff.access.key_file import KeyRing
from firstoff.access.keys import Key
from firstoff.access.needs import needed, refusal
from firstoff.api.problems import firstoff_problem

#: Where in a request's scope the key stands that it was sent with; a routine below reads it with ``key_of``.
_HELD = "firstoff.key"


class Access:
    """ASGI middleware that finds the key of each request, and refuses what it may not do (RFC 6750)."""

    def __init__(self, app: ASGIApp, *, ring: KeyRing, reading_by_key: bool) -> None:
        self._app = app
        self._ring = ring
        self._reading_by_key = reading_by_key

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "http":
            sent = bearer(scope)
            key = self._ring.find(sent) if sent is not None else None
            scope[_HELD] = key
            wanted = needed(
                scope["method"],
                scope["path"],
                reading_by_key=self._reading_by_key,
                keys_are_set_up=self._ring.is_set_up,
            )
            if wanted is not None and (key is None or wanted not in key.scopes):
                refused = refusal(wanted, key, sent=sent is not None, anyone_may=self._ring.anyone_may(wanted))
                if refused is not None:
                    await firstoff_problem(scope["path"], refused)(scope, receive, send)
                    return
        await self._app(scope, receive, send)


def key_of(scope: Scope) -> Key | None:
    """The key that a request was sent with, None where it had none that is known."""
    held: Key | None = scope.get(_HELD)
    return held


def bearer(scope: Scope) -> str | None:
    """The bearer token of a request; None where there is none, or there are several Authorization headers."""
    told = [value for name, value in scope["headers"] if name == b"authorization"]
    if len(told) != 1:
        return None
    scheme, _, token = told[0].decode("latin-1").partition(" ")
    return token.strip() or None if scheme.lower() == "bearer" else None
