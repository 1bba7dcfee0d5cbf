"""How the server works: threads, time, cancelling, progress, errors nobody expected, content that is published."""

from __future__ import annotations

import asyncio
import json
import shutil
from collections.abc import Iterator
from pathlib import Path
from threading import Event
from typing import Any

import pytest
from mcp import Client

from firstoff.answers.desk import Desk
from firstoff.assistants.server import WORKERS
from firstoff.collection.opening import open_content
from firstoff.commands.assisting import source_of
from firstoff.errors import EngineFailed
from firstoff.settings import Settings
from support.assistants import text_of, with_client

ASKED = {"model": "tgd27-460-s"}


class Slow(Desk):
    """A desk that tells of a machine only when it is let, and fails in ways nobody expects at the record."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk.opened, desk.settings)
        self.begun, self.go = Event(), Event()

    def model(self, model: str, serial: str | None) -> Any:
        self.begun.set()
        assert self.go.wait(60)
        return super().model(model, serial)

    def safety_record(self, *_: Any) -> Any:
        raise ZeroDivisionError("secret of the machine room")

    def code(self, *_: Any) -> Any:
        raise EngineFailed("the engine failed")


@pytest.fixture
def slow(desk: Desk) -> Iterator[Slow]:
    made = Slow(desk)
    yield made
    made.go.set()


async def begun(slow: Slow) -> None:
    assert await asyncio.to_thread(slow.begun.wait, 60)


def test_a_long_question_holds_up_no_other(slow: Slow) -> None:
    async def both(client: Client) -> None:
        long = asyncio.create_task(client.call_tool("describe_machine", ASKED))
        await begun(slow)
        quick = await client.call_tool("live_points", ASKED)
        assert not quick.is_error
        assert not long.done()
        slow.go.set()
        assert not (await long).is_error

    with_client(slow, both)


def test_a_question_that_takes_too_long_is_given_up(slow: Slow) -> None:
    async def waiting(client: Client) -> None:
        late = await client.call_tool("describe_machine", ASKED)
        assert late.is_error
        assert "was not answered within 0.05 seconds" in text_of(late)
        slow.go.set()

    with_client(slow, waiting, seconds=0.05)


def test_questions_that_are_cancelled_leave_the_server_answering(slow: Slow) -> None:
    async def cancelling(client: Client) -> None:
        tasks = [asyncio.create_task(client.call_tool("describe_machine", ASKED)) for _ in range(WORKERS - 1)]
        await begun(slow)
        for task in tasks:
            task.cancel()
        await asyncio.gather(*tasks, return_exceptions=True)
        assert all(task.cancelled() for task in tasks)
        assert not (await client.call_tool("live_points", ASKED)).is_error

    with_client(slow, cancelling)


def test_progress_is_told_while_it_is_worked_out(slow: Slow) -> None:
    told: list[float] = []

    async def listening(progress: float, total: float | None, message: str | None) -> None:
        told.append(progress)
        slow.go.set()

    async def asking(client: Client) -> None:
        answer = await client.call_tool("describe_machine", ASKED, progress_callback=listening)
        assert not answer.is_error

    with_client(slow, asking)
    assert told
    assert told == sorted(set(told))


@pytest.mark.parametrize(
    ("tool", "arguments", "said", "logged"),
    [
        ("safety_record", ASKED, "did not expect", "secret of the machine room"),
        ("display_code", {**ASKED, "code": "E5"}, "the engine failed", "EngineFailed"),
    ],
)
def test_what_breaks_is_logged_and_told_without_its_inside(
    slow: Slow, caplog: pytest.LogCaptureFixture, tool: str, arguments: dict[str, Any], said: str, logged: str
) -> None:
    async def asking(client: Client) -> None:
        broken = await client.call_tool(tool, arguments)
        assert broken.is_error
        assert said in text_of(broken)
        for inside in ("ZeroDivisionError", "Traceback", "secret"):
            assert inside not in text_of(broken)
        assert not (await client.call_tool("live_points", ASKED)).is_error

    with_client(slow, asking)
    assert logged in caplog.text


def test_content_that_is_published_is_answered_from(tmp_path: Path) -> None:
    demo, folder = Settings().data, tmp_path / "data"
    folder.mkdir()
    platforms = sorted(demo.glob("*.ttl"))[:2]
    shutil.copy(demo / "checked.json", folder)
    shutil.copy(platforms[0], folder)
    settings = Settings(data=folder)
    source = source_of(open_content(folder), settings)
    before = json.loads(source.desk().models(None, 0, 200).model_dump_json())
    shutil.copy(platforms[1], folder)
    assert source.follow is not None
    source.follow()
    after = json.loads(source.desk().models(None, 0, 200).model_dump_json())
    assert {each["id"] for each in before["models"]} < {each["id"] for each in after["models"]}
    assert before["revision"] != after["revision"]
