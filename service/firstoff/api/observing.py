"""The outermost layer: each request gets an id, is counted, and has one line in the log."""

from __future__ import annotations

import logging
import time
from collections.abc import Callable

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from firstoff.api.access import key_of
from firstoff.api.metrics import Metrics
from firstoff.api.noted import Note, present, request_id
from firstoff.api.telemetry import Tracing

_log = logging.getLogger("firstoff.requests")
#: Written where the caller went away before there was an answer; no status of HTTP.
_GONE = 499
#: What those who watch ask for every few seconds; told from the level debug on.
_WATCHING = ("/healthz", "/readyz", "/metrics")
_METHODS = frozenset(("GET", "HEAD", "POST", "PUT", "DELETE", "OPTIONS", "PATCH"))


class Observed:
    """ASGI middleware. ``template`` gives the route's own writing of a path.

    A line tells the route, not the query: that may hold what a customer said.
    """

    def __init__(self, app: ASGIApp, *, metrics: Metrics, template: Callable[[str], str], tracing: Tracing) -> None:
        self._app = app
        self._metrics = metrics
        self._template = template
        self._tracing = tracing

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        sent = next((value for name, value in scope["headers"] if name == b"x-request-id"), None)
        note = Note(request_id(None if sent is None else sent.decode("latin-1")))
        marked = (b"x-request-id", note.request_id.encode())
        status, size = 0, 0

        async def watched(message: Message) -> None:
            nonlocal status, size
            if message["type"] == "http.response.start":
                status = message["status"]
                message = {**message, "headers": [*message["headers"], marked]}
            elif message["type"] == "http.response.body":
                size += len(message.get("body", b""))
            await send(message)

        method = scope["method"] if scope["method"] in _METHODS else "other"
        route = self._template(scope["path"])
        present.set(note)  # of this request alone: each is answered in a context of its own
        started = time.perf_counter()
        self._metrics.in_flight.inc()
        try:
            with self._tracing.request(scope, method, route, note.request_id, lambda: status):
                await self._app(scope, receive, watched)
        except Exception:
            note.problem, status = "unexpected", status or 500  # answered by the layer around this one
            raise
        finally:
            self._metrics.in_flight.dec()
            self._tell(scope, method, route, note, status or _GONE, size, time.perf_counter() - started)

    def _tell(self, scope: Scope, method: str, route: str, note: Note, status: int, size: int, seconds: float) -> None:
        self._metrics.answered(method, route, status, seconds, note.problem)
        level = logging.DEBUG if route in _WATCHING and status < 500 else logging.INFO
        if _log.isEnabledFor(level):
            key = key_of(scope)
            told = {
                "request_id": note.request_id,
                "method": method,
                "route": route,
                "status": status,
                "ms": round(seconds * 1_000, 2),
                "bytes": size,
                "key": key.name if key else None,
                "problem": note.problem,
            }
            _log.log(level, "%s %s %d", method, route, status, extra={"told": told})
