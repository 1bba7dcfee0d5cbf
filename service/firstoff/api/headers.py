"""Header fields that every answer has, whoever made it: what a browser may do with it."""

from __future__ import annotations

from starlette.types import ASGIApp, Message, Receive, Scope, Send

#: Data loads nothing and stands in no frame (Content Security Policy Level 3). A page has a policy of its own.
DATA_POLICY = b"default-src 'none'; frame-ancestors 'none'"
_POLICY = b"content-security-policy"
_ALWAYS = (
    (b"x-content-type-options", b"nosniff"),  # Fetch, "X-Content-Type-Options"
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-resource-policy", b"same-origin"),  # Fetch, "Cross-Origin-Resource-Policy"
)


class SecurityHeaders:
    """ASGI middleware that adds what an answer does not say itself.

    ``hsts_seconds`` of more than 0 promise browsers HTTPS for so long (RFC 6797). An answer 304 has no policy added: it
    would replace that of what is kept (RFC 9111, 3.2).
    """

    def __init__(self, app: ASGIApp, *, hsts_seconds: int) -> None:
        self._app = app
        promise = ((b"strict-transport-security", f"max-age={hsts_seconds}".encode()),) if hsts_seconds else ()
        self._always = (*_ALWAYS, *promise)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return

        async def adding(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = list(message.get("headers", ()))
                there = {name for name, _ in headers}
                headers += [each for each in self._always if each[0] not in there]
                if _POLICY not in there and message["status"] != 304:
                    headers.append((_POLICY, DATA_POLICY))
                message = {**message, "headers": headers}
            await send(message)

        await self._app(scope, receive, adding)
