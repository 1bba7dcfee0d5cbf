"""Services without a network for the Python client: the application itself, or a script of replies."""

from __future__ import annotations

from collections.abc import Callable, Iterable

import httpx2
from fastapi import FastAPI
from fastapi.testclient import TestClient

Handler = Callable[[httpx2.Request], httpx2.Response]


class Recorder(httpx2.BaseTransport, httpx2.AsyncBaseTransport):
    """The application as a transport, blocking or not; ``seen`` keeps each request with its status."""

    def __init__(self, blocking: httpx2.BaseTransport, app: FastAPI) -> None:
        self._blocking = blocking
        self._async = httpx2.ASGITransport(app, raise_app_exceptions=False)
        self.seen: list[tuple[httpx2.Request, int]] = []

    def handle_request(self, request: httpx2.Request) -> httpx2.Response:
        response = self._blocking.handle_request(request)
        self.seen.append((request, response.status_code))
        return response

    async def handle_async_request(self, request: httpx2.Request) -> httpx2.Response:
        response = await self._async.handle_async_request(request)
        self.seen.append((request, response.status_code))
        return response


def recorder(client: TestClient) -> Recorder:
    """A recorder over the application behind ``client``, which is running."""
    app = client.app
    assert isinstance(app, FastAPI)
    return Recorder(client._transport, app)


class Script:
    """A handler for ``httpx2.MockTransport`` that gives its replies in order, the last for ever; errors are raised."""

    def __init__(self, replies: Iterable[httpx2.Response | Exception | Handler]) -> None:
        self._replies = list(replies)
        self.requests: list[httpx2.Request] = []

    def __call__(self, request: httpx2.Request) -> httpx2.Response:
        reply = self._replies[min(len(self.requests), len(self._replies) - 1)]
        self.requests.append(request)
        if isinstance(reply, Exception):
            raise reply
        if isinstance(reply, httpx2.Response):
            # A response is read once; each request is given one of its own.
            return httpx2.Response(reply.status_code, headers=reply.headers, content=reply.content)
        return reply(request)
