"""Slow bodies, slow answers, and too many at once: each ends, and what is refused is refused at once."""

from __future__ import annotations

import asyncio
import json
from typing import Any

import pytest

from firstoff.api.answering import Answering
from firstoff.api.limits import RequestLimits

SOON = 0.02


def scope(method: str = "GET", path: str = "/v1/models") -> dict[str, Any]:
    return {
        "type": "http",
        "method": method,
        "path": path,
        "raw_path": path.encode(),
        "query_string": b"",
        "headers": [],
    }


class Answer:
    """What an application sends."""

    def __init__(self) -> None:
        self.status = 0
        self.headers: dict[bytes, bytes] = {}
        self.body = b""

    async def send(self, message: Any) -> None:
        if message["type"] == "http.response.start":
            assert not self.status, "a second answer"
            self.status, self.headers = message["status"], dict(message["headers"])
        else:
            self.body += message.get("body", b"")

    @property
    def kind(self) -> str:
        return str(json.loads(self.body)["type"].rpartition("/")[2])


async def nothing() -> dict[str, Any]:
    return {"type": "http.request", "body": b"", "more_body": False}


class Waiting:
    """An application that answers once it is let go."""

    def __init__(self) -> None:
        self.go = asyncio.Event()
        self.running = self.most = 0

    async def __call__(self, _scope: Any, _receive: Any, send: Any) -> None:
        self.running += 1
        self.most = max(self.most, self.running)
        try:
            await self.go.wait()
            await send({"type": "http.response.start", "status": 200, "headers": []})
            await send({"type": "http.response.body", "body": b"done"})
        finally:
            self.running -= 1


async def asked(app: Any, **told: str) -> Answer:
    answer = Answer()
    await app(scope(**told), nothing, answer.send)
    return answer


def test_beyond_the_bound_is_refused_at_once_and_health_is_told_still() -> None:
    async def go() -> None:
        slow = Waiting()
        app = Answering(slow, most=3, seconds=60)
        first = [asyncio.create_task(asked(app)) for _ in range(3)]
        while slow.running < 3:
            await asyncio.sleep(0)
        refused = await asked(app)
        assert (refused.status, refused.kind) == (503, "too-busy")
        assert refused.headers[b"retry-after"] == b"1"
        health = asyncio.create_task(asked(app, path="/healthz"))
        slow.go.set()
        assert [each.status for each in await asyncio.gather(*first, health)] == [200] * 4
        assert (await asked(app)).status == 200

    asyncio.run(go())


def test_a_slow_answer_is_given_up_and_its_place_is_taken_until_it_ends() -> None:
    async def go() -> None:
        slow = Waiting()
        app = Answering(slow, most=1, seconds=SOON)
        answer = await asked(app)
        assert (answer.status, answer.kind) == (503, "too-busy")
        assert b"retry-after" in answer.headers
        assert slow.running == 1  # a thread cannot be stopped
        again = await asked(app)
        assert b"being computed" in again.body
        body = answer.body
        slow.go.set()
        while app._running:
            await asyncio.sleep(0)
        assert answer.body == body  # nothing comes after the problem
        assert (await asked(app)).status == 200
        assert slow.most == 1

    asyncio.run(go())


@pytest.mark.parametrize(("method", "path"), [("PUT", "/v1/graphs/box"), ("POST", "/v1/outcomes")])
def test_what_writes_is_waited_for(method: str, path: str) -> None:
    async def go() -> None:
        slow = Waiting()
        task = asyncio.create_task(asked(Answering(slow, most=1, seconds=SOON), method=method, path=path))
        await asyncio.sleep(2 * SOON)
        slow.go.set()
        assert (await task).status == 200

    asyncio.run(go())


def test_an_answer_that_has_begun_is_not_cut() -> None:
    async def go() -> None:
        go_on = asyncio.Event()

        async def streaming(scope: Any, receive: Any, send: Any) -> None:
            await send({"type": "http.response.start", "status": 200, "headers": []})
            await go_on.wait()
            await send({"type": "http.response.body", "body": b"whole"})

        task = asyncio.create_task(asked(Answering(streaming, most=1, seconds=SOON)))
        await asyncio.sleep(2 * SOON)
        go_on.set()
        assert (await task).body == b"whole"

    asyncio.run(go())


def test_an_error_is_handed_on() -> None:
    async def failing(scope: Any, receive: Any, send: Any) -> None:
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        asyncio.run(asked(Answering(failing, most=1, seconds=60)))


def test_an_error_of_an_answer_that_was_given_up_is_told(caplog: pytest.LogCaptureFixture) -> None:
    async def go() -> None:
        go_on = asyncio.Event()

        async def failing(scope: Any, receive: Any, send: Any) -> None:
            await go_on.wait()
            raise ZeroDivisionError

        app = Answering(failing, most=1, seconds=SOON)
        assert (await asked(app)).status == 503
        go_on.set()
        while app._running:
            await asyncio.sleep(0)
        await asyncio.sleep(0)

    asyncio.run(go())
    assert "given up" in caplog.text


@pytest.mark.parametrize("drops", [0, 3])
def test_a_body_that_drips_is_not_waited_for(drops: int) -> None:
    async def go() -> None:
        left = drops
        seen: list[Any] = []

        async def dripping() -> dict[str, Any]:
            nonlocal left
            if not left:
                await asyncio.Event().wait()
            left -= 1
            return {"type": "http.request", "body": b"x", "more_body": True}

        async def app(scope: Any, receive: Any, send: Any) -> None:
            seen.append(scope)

        answer = Answer()
        limits = RequestLimits(app, body_bytes=100, graph_bytes=100, body_seconds=SOON)
        await limits(scope("POST", "/v1/outcomes"), dripping, answer.send)
        assert (answer.status, answer.kind) == (408, "body-too-slow")
        assert answer.headers[b"connection"] == b"close"
        assert not seen

    asyncio.run(go())
