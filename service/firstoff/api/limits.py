"""Requests that are too large, refused before anything reads them whole."""

from __future__ import annotations

import asyncio

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from firstoff.api.problems import problem_response


class RequestLimits:
    """ASGI middleware that answers 413 for a body over ``body_bytes`` and 414 for an address over ``address_bytes``.

    Below ``/v1/graphs`` a body may have ``graph_bytes``. A body that takes longer than ``body_seconds`` to come is not
    waited for: 408 and the end of the connection (RFC 9110, 15.5.9).
    """

    def __init__(
        self,
        app: ASGIApp,
        *,
        body_bytes: int,
        graph_bytes: int,
        body_seconds: float,
        address_bytes: int = 16_384,
    ) -> None:
        self._app = app
        self._body_bytes = body_bytes
        self._graph_bytes = graph_bytes
        self._body_seconds = body_seconds
        self._address_bytes = address_bytes

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        if len(scope.get("raw_path") or b"") + len(scope["query_string"]) > self._address_bytes:
            response = problem_response(
                414,
                "address-too-long",
                "Address too long",
                f"The address is longer than {self._address_bytes} bytes.",
                "Ask for less at a time; a removal plan can also be asked for by POST.",
                instance=scope["path"][:200],
            )
            await response(scope, receive, send)
            return
        most = self._graph_bytes if scope["path"].startswith("/v1/graphs/") else self._body_bytes
        declared = dict(scope["headers"]).get(b"content-length", b"0")
        if not declared.isdigit() or int(declared) > most:
            await self._refuse(most, scope, receive, send)
            return
        if scope["method"] in ("GET", "HEAD"):
            await self._app(scope, receive, send)
            return
        try:
            async with asyncio.timeout(self._body_seconds):
                body = await self._read(most, receive)
        except TimeoutError:
            await self._give_up(scope, receive, send)
            return
        if body is None:
            await self._refuse(most, scope, receive, send)
            return
        given = False

        async def replay() -> Message:
            nonlocal given
            if given:
                return await receive()
            given = True
            return {"type": "http.request", "body": body, "more_body": False}

        await self._app(scope, replay, send)

    async def _read(self, most: int, receive: Receive) -> bytes | None:
        """The whole body, None where it is larger than allowed or the client went away."""
        body = bytearray()
        while True:
            message = await receive()
            if message["type"] == "http.disconnect":
                return None
            body += bytes(message.get("body", b""))
            if len(body) > most:
                return None
            if not message.get("more_body", False):
                return bytes(body)

    async def _refuse(self, most: int, scope: Scope, receive: Receive, send: Send) -> None:
        response = problem_response(
            413,
            "body-too-large",
            "Body too large",
            f"The body is larger than {most} bytes.",
            "Send a smaller body.",
            instance=scope["path"],
        )
        await response(scope, receive, send)

    async def _give_up(self, scope: Scope, receive: Receive, send: Send) -> None:
        response = problem_response(
            408,
            "body-too-slow",
            "Body too slow",
            f"The body did not come within {self._body_seconds:g} seconds.",
            "Send it again over a faster connection.",
            instance=scope["path"],
        )
        response.headers["connection"] = "close"
        await response(scope, receive, send)
