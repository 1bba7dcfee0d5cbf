"""Versions of platforms: one after another, whole at any instant, nothing lost."""

from __future__ import annotations

import os
import random
import signal
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.authoring import history
from firstoff.authoring.history import Act, Version, record, served, version_text, versions, writing
from firstoff.errors import BadRequest, HistoryFailed
from firstoff.store.revision import text_revision

NOW = datetime(2026, 3, 1, 9, 30, tzinfo=UTC)


def publish(content: Path, text: str | None, why: str = "because", act: Act = Act.PUBLISHED) -> Version:
    with writing(content):
        return record(content, "kettle", text, act, who="jo", why=why, when=NOW)


def consistent(content: Path) -> tuple[Version, ...]:
    """Settle, then see that every version has its text and the last is what is served."""
    with writing(content):
        pass
    found = versions(content, "kettle")
    assert [each.number for each in found] == list(range(1, len(found) + 1))
    for each in found:
        text = version_text(content, "kettle", each.number)
        assert (text_revision(text) if text is not None else "") == each.revision
    left = {path.name for path in (content / "history" / "kettle").glob("*")}
    kept = {f"{each.number:06d}.json" for each in found} | {f"{each.number:06d}.ttl" for each in found if each.revision}
    assert left <= kept | {f"{len(found) + 1:06d}.ttl"}  # a text whose record was not begun is written over
    return found


def test_one_after_another(tmp_path: Path) -> None:
    first = publish(tmp_path, "one", "first")
    assert first == Version(1, Act.PUBLISHED, text_revision("one"), "jo", "2026-03-01T09:30:00Z", "first")
    second = publish(tmp_path, "two")
    assert served(tmp_path, "kettle") == "two"
    assert versions(tmp_path, "kettle") == (first, second)
    assert [version_text(tmp_path, "kettle", number) for number in (1, 2, 3)] == ["one", "two", None]
    assert history.platforms(tmp_path) == ("kettle",)


def test_the_same_text_is_no_new_version(tmp_path: Path) -> None:
    first = publish(tmp_path, "one")
    assert publish(tmp_path, "one") == first
    assert versions(tmp_path, "kettle") == (first,)


def test_withdrawn_and_published_again(tmp_path: Path) -> None:
    publish(tmp_path, "one")
    gone = publish(tmp_path, None, act=Act.WITHDRAWN)
    assert (gone.number, gone.act, gone.revision) == (2, Act.WITHDRAWN, "")
    assert served(tmp_path, "kettle") is None
    assert publish(tmp_path, "one").number == 3
    assert served(tmp_path, "kettle") == "one"
    assert version_text(tmp_path, "kettle", 2) is None
    assert len(consistent(tmp_path)) == 3


@pytest.mark.parametrize("before", [(), ("one",)])
def test_what_was_put_there_by_other_means_is_kept(tmp_path: Path, before: tuple[str, ...]) -> None:
    for text in before:
        publish(tmp_path, text)
    (tmp_path / "kettle.ttl").write_text("by hand", encoding="utf-8")
    assert publish(tmp_path, "two").number == len(before) + 2
    found = versions(tmp_path, "kettle")[-2]
    assert (found.act, found.who) == (Act.FOUND, "")
    assert version_text(tmp_path, "kettle", found.number) == "by hand"


def test_line_ends_are_kept(tmp_path: Path) -> None:
    publish(tmp_path, "a\r\nb\n")
    assert served(tmp_path, "kettle") == version_text(tmp_path, "kettle", 1) == "a\r\nb\n"


@pytest.mark.parametrize("name", ["../kettle", "Kettle", "", "a b", "-a", "a" * 101, "a/b", "a\n"])
def test_a_name_is_a_slug(tmp_path: Path, name: str) -> None:
    with pytest.raises(BadRequest, match="no name of a platform"):
        served(tmp_path, name)
    with pytest.raises(BadRequest):
        version_text(tmp_path, name, 1)


def test_a_folder_that_cannot_be_written_to(tmp_path: Path) -> None:
    (tmp_path / "history").write_text("no folder")
    with pytest.raises(HistoryFailed, match="cannot be written"), writing(tmp_path):
        pass


def test_a_record_that_cannot_be_read(tmp_path: Path) -> None:
    publish(tmp_path, "one")
    (tmp_path / "history" / "kettle" / "000001.json").write_text("{}")
    with pytest.raises(HistoryFailed, match="history of kettle"):
        versions(tmp_path, "kettle")


# --- a process that ends at any instant -------------------------------------------------------------------


class Killed(BaseException):
    """Stands for the end of the process."""


@contextmanager
def ending_after(steps: int) -> Iterator[list[str]]:
    """Every change of the disk is a step; after ``steps`` of them nothing more happens."""
    done: list[str] = []

    def counted(name: str, act: object) -> object:
        def instead(*args: object, **kwargs: object) -> object:
            if len(done) >= steps:
                raise Killed
            done.append(name)
            return act(*args, **kwargs)  # type: ignore[operator]

        return instead

    with pytest.MonkeyPatch.context() as patch:
        for owner, name in ((Path, "replace"), (Path, "unlink"), (os, "fsync")):
            patch.setattr(owner, name, counted(name, getattr(owner, name)))
        yield done


TEXTS = st.one_of(st.none(), st.sampled_from(["one", "two", "three"]))


@given(st.lists(TEXTS, max_size=5), TEXTS, st.integers(0, 20), st.booleans())
@settings(max_examples=300, deadline=None)
def test_before_or_after_and_never_between(
    texts: list[str | None], last: str | None, steps: int, by_hand: bool
) -> None:
    with TemporaryDirectory() as folder, pytest.MonkeyPatch.context() as patch:
        patch.setattr(os, "fsync", lambda _: None)  # no power fails here, and it takes most of the time
        content = Path(folder)
        for text in texts:
            publish(content, text, act=Act.PUBLISHED if text else Act.WITHDRAWN)
        if by_hand:
            (content / "kettle.ttl").write_text("by hand")
        before, old = versions(content, "kettle"), served(content, "kettle")
        try:
            with ending_after(steps):
                publish(content, last, act=Act.PUBLISHED if last else Act.WITHDRAWN)
            ended = False
        except Killed:
            ended = True
        assert served(content, "kettle") in {old, last}
        found = consistent(content)
        assert found[: len(before)] == before
        if not ended or served(content, "kettle") != old:
            assert served(content, "kettle") == last
            assert (found[-1].revision if found else "") == (text_revision(last) if last else "")
        publish(content, "after")
        assert served(content, "kettle") == "after"
        assert consistent(content)[: len(found)] == found


def test_killed_a_hundred_times(tmp_path: Path) -> None:
    """Real processes, killed while they publish one version after another: what they were told is done stays done."""
    rng = random.Random(7)
    told = 0
    began = time.perf_counter()
    publish(tmp_path, "first")
    once = time.perf_counter() - began
    for turn in range(100):
        reading, writing_end = os.pipe()
        child = os.fork()
        if child == 0:  # pragma: no cover - another process
            os.close(reading)
            os.write(writing_end, b"0\n")  # it runs
            for number in range(1000):
                version = publish(tmp_path, f"{turn}.{number} " + "x" * 20_000)
                os.write(writing_end, f"{version.number}\n".encode())
            os._exit(0)
        os.close(writing_end)
        os.read(reading, 2)
        time.sleep(rng.uniform(0.0, 5.0 * once + 0.01))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        with os.fdopen(reading, "rb") as pipe:
            numbers = [int(line) for line in pipe.read().split()]
        text = served(tmp_path, "kettle")
        assert text is not None
        assert text == "first" or len(text.split(" ", 1)[1]) == 20_000
        found = consistent(tmp_path)
        told = max([told, *numbers])
        assert len(found) >= told
        assert found[-1].revision == text_revision(text)
    assert told > 1
