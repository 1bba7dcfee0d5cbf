"""The audit trail over HTTP: each write and each refusal is in it, and without it nothing is written."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient
from typer.testing import CliRunner

from firstoff.access.trail import Trail, read
from firstoff.api.application import create_app
from firstoff.cli import app as command
from firstoff.collection.opening import open_content
from firstoff.errors import StateFailed
from firstoff.settings import Settings
from support.keys import key_file
from support.problems import assert_problem
from support.small_platform import TURTLE

BOX = "/v1/graphs/small-box"


@pytest.fixture
def service(tmp_path: Path) -> Iterator[TestClient]:
    folder = tmp_path / "content"
    folder.mkdir()
    (folder / "small-box.ttl").write_text(TURTLE, encoding="utf-8")
    keys = key_file(tmp_path, {"bench": ("of the bench", "publish"), "van": ("of the van", "outcomes")})
    settings = Settings(data=folder, keys=keys, state=tmp_path / "state", rate_failing=3, refresh_seconds=0)
    with TestClient(create_app(open_content(folder), settings), client=("192.0.2.1", 1)) as client:
        yield client


def told(folder: Path) -> list[tuple[str | None, str, int | None]]:
    lines = list(read(folder / "state" / "audit.jsonl"))
    assert all(each.wrong is None for each in lines)
    assert {each.told["where"] for each in lines} == {"192.0.2.1"}
    return [(each.told["who"], each.told["outcome"], each.told["status"]) for each in lines]


def put(service: TestClient, key: str | None, **headers: str) -> int:
    sent = {"content-type": "text/turtle", **{name.replace("_", "-"): text for name, text in headers.items()}}
    sent |= {"authorization": f"Bearer {key}"} if key else {}
    return service.put(f"{BOX}?why=a+test", content=TURTLE, headers=sent).status_code


def test_each_write_and_each_refusal_is_told(service: TestClient, tmp_path: Path) -> None:
    assert put(service, "of the bench", if_match="*") == 200
    assert put(service, "of the bench") == 428
    assert put(service, "of the van") == 403
    assert put(service, None) == 401
    assert service.get(BOX).status_code == 200  # reading is not told
    assert told(tmp_path) == [
        ("bench", "begun", None),
        ("bench", "done", 200),
        ("bench", "begun", None),
        ("bench", "done", 428),
        ("van", "refused", 403),
        (None, "refused", 401),
    ]
    ids = [each.told["request"] for each in read(tmp_path / "state" / "audit.jsonl")]
    assert ids[0] == ids[1] != ids[2] == ids[3]
    assert None not in ids
    what = {each.told["what"] for each in read(tmp_path / "state" / "audit.jsonl")}
    assert what == {f"PUT {BOX}"}  # nothing of the query


def test_whoever_floods_fills_no_disk(service: TestClient, tmp_path: Path) -> None:
    assert [put(service, "guessed") for _ in range(6)] == [401, 401, 401, 429, 429, 429]
    assert len(told(tmp_path)) == 3


def test_without_the_trail_nothing_is_written(
    service: TestClient, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(self: Trail, entry: object) -> None:
        raise StateFailed("There is no room.")

    with monkeypatch.context() as patch:
        patch.setattr(Trail, "add", full)
        sent = {"authorization": "Bearer of the bench", "if-match": "*"}
        answer = service.delete(f"{BOX}?why=x", headers=sent)
        assert_problem(answer, 503, "state-failed")
        assert put(service, None) == 401  # refused as before
    assert service.get(BOX).text == TURTLE
    assert put(service, "of the bench", if_match="*") == 200


def test_the_command_shows_it_and_sees_what_was_changed(service: TestClient, tmp_path: Path) -> None:
    put(service, "of the bench", if_match="*")
    state = str(tmp_path / "state")
    done = CliRunner().invoke(command, ["audit", "--state", state])
    assert done.exit_code == 0, done.output
    assert f"done 200  PUT {BOX}  by bench from 192.0.2.1" in done.output
    assert "digest of the last line: " in done.output
    path = tmp_path / "state" / "audit.jsonl"
    path.write_text(path.read_text().replace('"bench"', '"van"', 1))
    done = CliRunner().invoke(command, ["audit", "--state", state, "--json"])
    assert done.exit_code == 1
    lines = [json.loads(line) for line in done.stdout.splitlines()]
    assert [line["wrong"] is None for line in lines] == [True, False]
    assert "line 2 does not follow" in done.stderr
