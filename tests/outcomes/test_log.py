"""The log: what was answered is kept, a torn line is cut off, a key counts once, whatever goes wrong meanwhile."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import pytest

from firstoff.errors import FirstoffError, KeyReused, StateFailed
from firstoff.outcomes import Outcome, OutcomeLog
from firstoff.outcomes.record import line_of

ONE = Outcome("k1", "b1", "2026-11-27", "m", ("wet",), (), (("look", "dry"),), (), "pump", None, "r")
TWO = replace(ONE, key="k2", body="b2", fault="hose", remedy="new-hose")
THREE = replace(ONE, key="k3", body="b3", model="other")


def kept(log: OutcomeLog, *outcomes: Outcome) -> None:
    for each in outcomes:
        assert log.add(each.key, each.body, lambda each=each: each) == each  # type: ignore[misc]


def unasked() -> Outcome:
    raise AssertionError("made again")


def test_what_was_added_is_counted_and_there_after_a_restart(tmp_path: Path) -> None:
    log = OutcomeLog(tmp_path / "state")
    empty = log.counted()
    kept(log, ONE, TWO, THREE)
    for each in (log, OutcomeLog(tmp_path / "state")):
        assert each.all() == (ONE, TWO, THREE)
        assert each.counted().jobs == {"m": {"pump": 1, "hose": 1}, "other": {"pump": 1}}
        assert each.counted().revision == log.counted().revision != empty.revision
    assert empty.jobs == {}
    assert log.path.read_bytes() == b"".join(map(line_of, (ONE, TWO, THREE)))
    assert log.path.stat().st_mode & 0o077 == 0


def test_reading_makes_nothing(tmp_path: Path) -> None:
    assert OutcomeLog(tmp_path / "state").counted().jobs == {}
    assert list(tmp_path.iterdir()) == []


def test_a_key_counts_once_and_for_one_body(tmp_path: Path) -> None:
    log = OutcomeLog(tmp_path)
    kept(log, ONE)
    for again in (log, OutcomeLog(tmp_path)):
        assert again.add("k1", "b1", unasked) == ONE
        with pytest.raises(KeyReused):
            again.add("k1", "b2", unasked)
    assert log.all() == (ONE,)


def test_every_way_to_tear_the_last_line(tmp_path: Path) -> None:
    whole = b"".join(map(line_of, (ONE, TWO)))
    first = len(line_of(ONE))
    for size in range(len(whole)):
        (tmp_path / "outcomes.jsonl").write_bytes(whole[:size])
        log = OutcomeLog(tmp_path)
        expected = () if size < first else (ONE,)
        assert log.all() == expected, size
        log.prepare()
        assert log.path.read_bytes() == whole[: first if expected else 0], size
        kept(log, *(each for each in (ONE, TWO) if each not in expected))
        assert OutcomeLog(tmp_path).all() == (ONE, TWO), size


@pytest.mark.parametrize("torn", [b"\x00" * 50, b"\x00" * 50 + b"\n", line_of(TWO)[:20] + b"\x00\n", b"\xff\n"])
def test_a_last_line_of_lost_blocks_is_torn_too(tmp_path: Path, torn: bytes) -> None:
    (tmp_path / "outcomes.jsonl").write_bytes(line_of(ONE) + torn)
    log = OutcomeLog(tmp_path)
    assert log.all() == (ONE,)
    kept(log, TWO)
    assert log.path.read_bytes() == line_of(ONE) + line_of(TWO)


@pytest.mark.parametrize(
    "strange", [b"\x00\n" + line_of(TWO), b'{"form":2}\n', line_of(TWO).replace(b'"form":1', b'"form":2'), b"{}\n"]
)
def test_a_line_that_nobody_tore_is_never_cut_off(tmp_path: Path, strange: bytes) -> None:
    """It was answered for, or is of a later version: the file is left as it is, and the line is named."""
    (tmp_path / "outcomes.jsonl").write_bytes(line_of(ONE) + strange)
    log = OutcomeLog(tmp_path)
    asks: list[Callable[[], object]] = [log.prepare, log.counted, log.all, lambda: log.add("k9", "b", unasked)]
    for ask in asks:
        with pytest.raises(StateFailed, match="line 2"):
            ask()
    assert log.path.read_bytes() == line_of(ONE) + strange


@pytest.mark.parametrize("fails", ["write", "fsync"])
def test_a_disk_that_fails_keeps_nothing_and_the_next_is_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, fails: str
) -> None:
    log = OutcomeLog(tmp_path)
    kept(log, ONE)
    plain = os.write

    def half(file: int, data: bytes) -> int:
        if len(data) < 20:
            raise OSError(28, "No space left on device")
        return plain(file, bytes(data)[: len(data) // 2])

    def broken(_file: int) -> None:
        raise OSError(5, "Input/output error")

    with monkeypatch.context() as patched:
        patched.setattr(os, fails, half if fails == "write" else broken)
        with pytest.raises(StateFailed, match=r"No space|Input/output") as caught:
            log.add("k2", "b2", lambda: TWO)
    assert "same idempotency key" in caught.value.mend
    assert log.all() == (ONE,)
    kept(log, TWO)
    assert OutcomeLog(tmp_path).all() == (ONE, TWO)


def test_a_disk_that_fails_to_cut_off_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    log = OutcomeLog(tmp_path)
    kept(log, ONE)
    plain = os.write

    def half(file: int, data: bytes) -> int:
        plain(file, bytes(data)[:30])
        raise OSError(5, "Input/output error")

    def broken(_file: int, _size: int) -> None:
        raise OSError(5, "Input/output error")

    with monkeypatch.context() as patched:
        patched.setattr(os, "write", half)
        patched.setattr(os, "ftruncate", broken)
        with pytest.raises(StateFailed):
            log.add("k2", "b2", lambda: TWO)
    assert len(log.path.read_bytes()) == len(line_of(ONE)) + 30
    kept(log, TWO)
    assert log.path.read_bytes() == line_of(ONE) + line_of(TWO)


def test_it_is_forced_to_disk_before_it_is_answered_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The file's name with its folder, then each line, whole, and after it nothing but the answer."""
    done: list[tuple[str, str, int]] = []

    def noted(name: str) -> Callable[..., object]:
        plain = getattr(os, name)

        def noting(file: int, *given: bytes) -> object:
            found = plain(file, *given)
            done.append((name, Path(f"/proc/self/fd/{file}").readlink().name, os.fstat(file).st_size))
            return found

        return noting

    for name in ("write", "fsync"):
        monkeypatch.setattr(os, name, noted(name))
    log = OutcomeLog(tmp_path / "state")
    kept(log, ONE)
    one, both = len(line_of(ONE)), len(line_of(ONE) + line_of(TWO))
    assert done[0][:2] == ("fsync", "state")
    assert done[1:] == [("write", log.path.name, one), ("fsync", log.path.name, one)]
    del done[:]
    kept(log, TWO, ONE)  # the second is there already
    assert done == [("write", log.path.name, both), ("fsync", log.path.name, both)]


def test_what_cannot_be_made_keeps_nothing(tmp_path: Path) -> None:
    def refused() -> Outcome:
        raise FirstoffError("no such fault")

    log = OutcomeLog(tmp_path)
    with pytest.raises(FirstoffError, match="no such fault"):
        log.add("k1", "b1", refused)
    assert log.all() == ()
    kept(log, ONE)


def test_a_folder_that_is_none_is_named(tmp_path: Path) -> None:
    (tmp_path / "state").write_text("a file")
    log = OutcomeLog(tmp_path / "state")
    for ask in (log.prepare, log.counted):
        with pytest.raises(StateFailed, match="state"):
            ask()


def test_a_file_put_back_is_read_again(tmp_path: Path) -> None:
    log = OutcomeLog(tmp_path)
    kept(log, ONE, TWO)
    (tmp_path / "copy").write_bytes(line_of(THREE))
    (tmp_path / "copy").replace(log.path)
    assert log.all() == (THREE,)
    kept(log, ONE)
    assert OutcomeLog(tmp_path).all() == (THREE, ONE)


def test_many_at_once_with_one_key_make_one(tmp_path: Path) -> None:
    log = OutcomeLog(tmp_path)
    made: list[int] = []

    def once() -> Outcome:
        made.append(1)
        return ONE

    with ThreadPoolExecutor(8) as pool:
        found = list(pool.map(lambda _: log.add("k1", "b1", once), range(32)))
    assert set(found) == {ONE}
    assert len(made) == 1
    assert OutcomeLog(tmp_path).all() == (ONE,)


_ADDS = """
import sys
from dataclasses import replace
from pathlib import Path
from firstoff.outcomes import OutcomeLog
from firstoff.outcomes.record import outcome_in
log, one = OutcomeLog(Path(sys.argv[1])), outcome_in(sys.argv[2].encode())
for n in range(40):
    own = replace(one, key=f"{sys.argv[3]}-{n}", fault=f"fault of {sys.argv[3]}" + "x" * (n * 37 % 90))
    for each in (own, replace(one, key=f"shared-{n}")):
        log.add(each.key, each.body, lambda: each)
"""


def test_processes_share_a_folder(tmp_path: Path) -> None:
    """Neither tears the other's lines, and a key that several send is kept once."""
    reading = OutcomeLog(tmp_path)
    run = [sys.executable, "-c", _ADDS, str(tmp_path), line_of(ONE).decode()]
    running = [subprocess.Popen([*run, name]) for name in ("a", "b", "c")]
    while any(each.poll() is None for each in running):
        reading.counted()
    assert [each.wait() for each in running] == [0, 0, 0]
    keys = [each.key for each in reading.all()]
    assert sorted(keys) == sorted(f"{who}-{n}" for who in ("a", "b", "c", "shared") for n in range(40))
    assert reading.path.read_bytes() == b"".join(map(line_of, reading.all()))


_DIES = """
import os, sys
from pathlib import Path
from firstoff.outcomes import OutcomeLog
from firstoff.outcomes.record import outcome_in
plain, left = os.write, int(sys.argv[3])
def dying(file, data):
    plain(file, bytes(data)[:left])
    os.kill(os.getpid(), 9)
os.write = dying
OutcomeLog(Path(sys.argv[1])).add("k2", "b2", lambda: outcome_in(sys.argv[2].encode()))
"""


@pytest.mark.parametrize("written", [0, 1, 60, len(line_of(TWO)) - 1, len(line_of(TWO))])
def test_a_process_killed_while_it_writes(tmp_path: Path, written: int) -> None:
    kept(OutcomeLog(tmp_path), ONE)
    run = [sys.executable, "-c", _DIES, str(tmp_path), line_of(TWO).decode(), str(written)]
    assert subprocess.run(run, check=False).returncode == -9
    log = OutcomeLog(tmp_path)
    assert log.all() == ((ONE, TWO) if written == len(line_of(TWO)) else (ONE,))
    assert log.add("k2", "b2", lambda: TWO) == TWO  # as its sender does, who had no answer
    assert OutcomeLog(tmp_path).path.read_bytes() == line_of(ONE) + line_of(TWO)
