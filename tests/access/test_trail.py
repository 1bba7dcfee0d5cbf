"""The audit trail: what was written is whole or torn at its end, and nothing can be changed unseen."""

from __future__ import annotations

import errno
import json
import os
import stat
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.access.trail import Entry, Trail, read
from firstoff.errors import StateFailed

ENTRY = Entry("bench", "192.0.2.1", "PUT /v1/graphs/small-box", "begun")


def wrong(folder: Path) -> list[int]:
    return [each.number for each in read(folder / "audit.jsonl") if each.wrong is not None]


def written(folder: Path, count: int) -> list[bytes]:
    trail = Trail(folder)
    for number in range(count):
        trail.add(Entry("bench", "192.0.2.1", f"PUT /v1/graphs/box-{number}", "done", 200))
    return trail.path.read_bytes().splitlines(keepends=True)


def test_what_is_told_is_kept(tmp_path: Path) -> None:
    trail = Trail(tmp_path / "new")
    trail.add(ENTRY)
    trail.add(Entry(None, None, "x" * 5000, "refused", 401, "a-request"))
    first, second = (each.told for each in read(trail.path))
    assert (first["who"], first["where"], first["outcome"], first["status"]) == ("bench", "192.0.2.1", "begun", None)
    assert (second["who"], second["status"], second["request"], len(second["what"])) == (None, 401, "a-request", 301)
    assert first["before"] == "0" * 64
    assert stat.S_IMODE(trail.path.stat().st_mode) == 0o600
    assert wrong(tmp_path / "new") == []


@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_any_change_but_at_the_end_is_seen(tmp_path_factory: pytest.TempPathFactory, data: st.DataObject) -> None:
    folder = tmp_path_factory.mktemp("trail")
    lines = written(folder, 5)
    at = data.draw(st.integers(0, 3))
    how = data.draw(st.sampled_from(["change", "drop", "swap", "copy"]))
    if how == "change":
        told = json.loads(lines[at])
        told[data.draw(st.sampled_from(["who", "what", "when"]))] = "another"
        lines[at] = json.dumps(told).encode() + b"\n"
    elif how == "drop":
        del lines[at]
    elif how == "swap":
        lines[at], lines[at + 1] = lines[at + 1], lines[at]
    else:
        lines.insert(at, lines[at])
    (folder / "audit.jsonl").write_bytes(b"".join(lines))
    assert wrong(folder)


@settings(max_examples=60, deadline=None)
@given(cuts=st.lists(st.integers(0, 400), max_size=3))
def test_wherever_a_process_died_the_trail_goes_on(tmp_path_factory: pytest.TempPathFactory, cuts: list[int]) -> None:
    folder = tmp_path_factory.mktemp("trail")
    trail = Trail(folder)
    trail.add(ENTRY)
    for cut in cuts:
        size = trail.path.stat().st_size
        trail.add(ENTRY)
        os.truncate(trail.path, min(trail.path.stat().st_size, size + cut))
    trail.add(ENTRY)
    trail.add(ENTRY)
    assert wrong(folder) == []


def test_a_torn_end_is_told_until_the_next_write(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    written(tmp_path, 2)
    path = tmp_path / "audit.jsonl"
    os.truncate(path, path.stat().st_size - 20)
    (last,) = [each for each in read(path) if each.wrong is not None]
    assert (last.number, last.told) == (2, {})
    assert "torn" in (last.wrong or "")
    Trail(tmp_path).add(ENTRY)
    assert wrong(tmp_path) == []
    assert "torn line" in caplog.text


def test_a_torn_line_is_no_place_to_hide_one(tmp_path: Path) -> None:
    lines = written(tmp_path, 4)
    (tmp_path / "audit.jsonl").write_bytes(b"".join((*lines[:2], b"ruined\n", lines[3])))
    assert wrong(tmp_path) == [4]


def test_of_several_who_write_at_once_each_is_there(tmp_path: Path) -> None:
    def one(number: int) -> None:
        Trail(tmp_path).add(Entry(str(number), None, "PUT /", "done", 200))

    with ThreadPoolExecutor(8) as pool:
        list(pool.map(one, range(40)))
    assert wrong(tmp_path) == []
    assert {each.told["who"] for each in read(tmp_path / "audit.jsonl")} == {str(number) for number in range(40)}


def test_where_there_is_no_room_nothing_is_left_half(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    trail = Trail(tmp_path)
    trail.add(ENTRY)
    before = trail.path.read_bytes()
    plain = os.write

    def full(file: int, data: bytes) -> int:
        raise OSError(errno.ENOSPC, "No space left on device")

    def part(file: int, data: bytes) -> int:
        return plain(file, data[:30])

    def unkept(file: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    for name, failing in (("write", full), ("write", part), ("fsync", unkept)):
        with monkeypatch.context() as patch:
            patch.setattr(os, name, failing)
            with pytest.raises(StateFailed):
                trail.add(ENTRY)
        assert trail.path.read_bytes() == before
    trail.add(ENTRY)
    assert wrong(tmp_path) == []


def test_a_trail_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(StateFailed, match="cannot be read"):
        list(read(tmp_path / "audit.jsonl"))
    (tmp_path / "file").write_text("")
    with pytest.raises(StateFailed, match="cannot be written"):
        Trail(tmp_path / "file").add(ENTRY)


@given(st.binary(max_size=300))
@settings(max_examples=60, deadline=None)
def test_any_file_can_be_looked_at_and_gone_on_from(tmp_path_factory: pytest.TempPathFactory, content: bytes) -> None:
    folder = tmp_path_factory.mktemp("trail")
    (folder / "audit.jsonl").write_bytes(content)
    list(read(folder / "audit.jsonl"))
    Trail(folder).add(ENTRY)
    found: list[Any] = list(read(folder / "audit.jsonl"))
    assert found[-1].told["who"] == "bench"
