"""The content is followed, everything goes when the service does, and nothing is started that nobody asked for."""

from __future__ import annotations

import asyncio
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from firstoff.collection.opening import Opened, open_content
from firstoff.collection.shelf import Shelf
from firstoff.errors import EngineFailed, FirstoffError
from firstoff.settings import Settings
from firstoff.sparql import folders
from firstoff.sparql.endpoint import Endpoint
from support.queries import ENDLESS, QUICK, children_of, is_running, question, small_content, wait_until
from support.small_platform import TURTLE

LABEL = (
    "SELECT ?label { GRAPH <https://firstoff.example/graph/small-box> {"
    " <https://firstoff.example/platform/small-box> <http://www.w3.org/2000/01/rdf-schema#label> ?label } }"
)
SETTINGS = Settings(sparql_workers=1, sparql_seconds=60.0)


@pytest.fixture(autouse=True)
def own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The machine's temporary folder, for this test alone."""
    folder = tmp_path / "temporary"
    folder.mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(folder))
    monkeypatch.setenv("TMPDIR", str(folder))
    return folder


@pytest.fixture
def content(tmp_path: Path) -> Opened:
    folder = tmp_path / "content"
    folder.mkdir()
    return small_content(folder)


@pytest.fixture
def endpoint(content: Opened) -> Iterator[Endpoint]:
    made = Endpoint(content, SETTINGS)
    yield made
    made.close()


def ask(endpoint: Endpoint, text: str = QUICK) -> tuple[bytes, str]:
    answer = asyncio.run(endpoint.ask(question(text)))
    return answer.body, answer.revision


def test_nothing_is_started_before_it_is_asked(content: Opened, own_folder: Path) -> None:
    before = children_of(os.getpid())
    endpoint = Endpoint(content, SETTINGS)
    endpoint.renewed(content)
    assert (children_of(os.getpid()), list(own_folder.iterdir())) == (before, [])
    endpoint.close()
    assert (children_of(os.getpid()), list(own_folder.iterdir())) == (before, [])


def test_closing_leaves_nothing(content: Opened, own_folder: Path) -> None:
    before = children_of(os.getpid())
    endpoint = Endpoint(content, SETTINGS)
    ask(endpoint)
    assert len(list(own_folder.iterdir())) == 1
    endpoint.close()
    assert ask(endpoint)[0] == b'{"head":{},"boolean":true}'  # as where an application is started again
    endpoint.close()
    endpoint.close()
    assert (children_of(os.getpid()), list(own_folder.iterdir())) == (before, [])


def test_forgotten_it_leaves_nothing_either(content: Opened, own_folder: Path) -> None:
    before = children_of(os.getpid())
    endpoint = Endpoint(content, SETTINGS)
    ask(endpoint)
    del endpoint
    wait_until(lambda: children_of(os.getpid()) == before and not list(own_folder.iterdir()))


def test_a_new_revision_is_taken_over(tmp_path: Path) -> None:
    folder = tmp_path / "content"
    folder.mkdir()
    (folder / "small-box.ttl").write_text(TURTLE, encoding="utf-8")
    opened = open_content(folder)
    endpoint = Endpoint(opened, SETTINGS)
    shelf = Shelf(opened, folder, endpoint.renewed)
    try:
        body, first = ask(endpoint, LABEL)
        assert b"small box" in body
        assert first == opened.collection.revision
        heavier = TURTLE.replace('rdfs:label "small box"@en', 'rdfs:label "heavier box"@en')
        shelf.publish("small-box", heavier, over=["*"], who="jo", why="for a test")
        second = shelf.opened.collection.revision
        assert second != first
        wait_until(lambda: ask(endpoint)[1] == second)
        body, revision = ask(endpoint, LABEL)
        assert (b"heavier box" in body, revision) == (True, second)
    finally:
        endpoint.close()


def test_who_goes_takes_the_query_along(endpoint: Endpoint) -> None:
    async def leave() -> None:
        await endpoint.ask(question(QUICK))
        asking = asyncio.ensure_future(endpoint.ask(question(ENDLESS)))
        await asyncio.sleep(0)
        asking.cancel()
        with pytest.raises(asyncio.CancelledError):
            await asking
        answer = await asyncio.wait_for(endpoint.ask(question(QUICK)), 30)  # the only worker has sixty seconds
        assert answer.rows == 1

    asyncio.run(leave())


def test_a_copy_that_fails_is_told_and_tried_again(content: Opened, monkeypatch: pytest.MonkeyPatch) -> None:
    endpoint = Endpoint(content, SETTINGS)
    monkeypatch.setattr("firstoff.sparql.endpoint._AGAIN_SECONDS", 0.0)
    monkeypatch.setattr("firstoff.sparql.snapshots.n_triples", _fail)
    try:
        with pytest.raises(EngineFailed, match="out of order"):
            ask(endpoint)
        monkeypatch.undo()
        monkeypatch.setattr("firstoff.sparql.endpoint._AGAIN_SECONDS", 0.0)
        assert ask(endpoint)[1] == content.collection.revision
    finally:
        endpoint.close()


def _fail(*_: object) -> bytes:
    raise EngineFailed("The engine is out of order.")


SCRIPT = """
import asyncio, os, sys
from pathlib import Path
from firstoff.collection.opening import open_content
from firstoff.settings import Settings
from firstoff.sparql.endpoint import Endpoint
from support.queries import ENDLESS, QUICK, question
endpoint = Endpoint(open_content(Path(sys.argv[1])), Settings(sparql_workers=2, sparql_seconds=600.0))
async def main():
    await endpoint.ask(question(QUICK))
    asking = asyncio.ensure_future(endpoint.ask(question(ENDLESS)))
    await asyncio.sleep(0.2)
    print("asked", flush=True)
    await asking
asyncio.run(main())
"""


def test_a_service_that_is_killed_leaves_no_process_and_its_folder_goes_with_the_next(
    content: Opened, own_folder: Path, tmp_path: Path
) -> None:
    path = os.pathsep.join(each for each in sys.path if each)
    killed = subprocess.Popen(
        [sys.executable, "-c", SCRIPT, str(tmp_path / "content")],
        env={**os.environ, "PYTHONPATH": path},
        stdout=subprocess.PIPE,
    )
    with killed:
        assert killed.stdout is not None
        assert killed.stdout.readline() == b"asked\n"
        workers = children_of(killed.pid)
        assert len(workers) == 2
        left = list(own_folder.iterdir())
        folders.clear_leftovers()
        assert list(own_folder.iterdir()) == left  # it lives
        killed.kill()
    wait_until(lambda: not any(is_running(pid) for pid in workers))
    assert list(own_folder.iterdir()) == left
    young = own_folder / "firstoff-sparql-young"
    young.mkdir()
    folders.clear_leftovers()
    assert list(own_folder.iterdir()) == [young]  # it may be one that is being made


def test_every_error_of_a_worker_can_be_told() -> None:
    """What ``answered`` raises is known at the other end of the pipe."""
    from firstoff.sparql.process import _TOLD

    assert all(issubclass(each, FirstoffError) and each("a", mend="b").mend == "b" for each in _TOLD.values())
