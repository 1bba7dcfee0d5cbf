"""A client that goes takes its query along."""

from __future__ import annotations

import asyncio
from typing import Any
from urllib.parse import urlencode

import pytest
from starlette.types import Message

from firstoff.api.application import create_app
from firstoff.collection.opening import Opened
from firstoff.settings import Settings
from support.queries import ENDLESS, QUICK


@pytest.mark.parametrize("method", ["GET", "POST"])
def test_a_client_that_goes_takes_its_query_along(opened: Opened, method: str) -> None:
    """The only worker has ten minutes for a query; the next is answered within one."""
    app = create_app(opened, Settings(sparql_workers=1, sparql_seconds=600.0))

    async def asked(text: str, stays: bool) -> int:
        query = urlencode({"query": text}).encode()
        headers = [(b"content-type", b"application/x-www-form-urlencoded"), (b"host", b"localhost")]
        scope: dict[str, Any] = {
            "type": "http",
            "asgi": {"version": "3.0"},
            "http_version": "1.1",
            "method": method,
            "scheme": "http",
            "path": "/sparql",
            "raw_path": b"/sparql",
            "root_path": "",
            "query_string": query if method == "GET" else b"",
            "headers": headers,
            "client": ("127.0.0.1", 1),
            "server": ("localhost", 80),
        }
        body = query if method == "POST" else b""
        messages: list[Message] = [{"type": "http.request", "body": body, "more_body": False}]
        status = 0

        async def receive() -> Message:
            if messages:
                return messages.pop(0)
            await asyncio.sleep(0.2 if not stays else 600)
            return {"type": "http.disconnect"}

        async def send(message: Message) -> None:
            nonlocal status
            status = message.get("status", status)

        await asyncio.wait_for(app(scope, receive, send), 60)
        return status

    async def story() -> None:
        assert await asked(QUICK, stays=True) == 200
        assert await asked(ENDLESS, stays=False) == 503
        assert await asked(QUICK, stays=True) == 200

    try:
        asyncio.run(story())
    finally:
        app.state.sparql.close()
