"""Publishing into content that is read: one whole revision at any time, refused as a whole, nothing lost."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from threading import Event, Thread

import pytest

from firstoff.answers.desk import Desk
from firstoff.authoring.history import Act, versions
from firstoff.authoring.record import read_record, record_file
from firstoff.collection.opening import Opened, open_content
from firstoff.collection.shelf import Shelf
from firstoff.errors import ContentRefused, HistoryFailed, NotFound, Stale
from firstoff.settings import Settings
from firstoff.store.revision import text_revision
from support.small_platform import TURTLE

NOW = datetime(2026, 3, 1, 9, 30, tzinfo=UTC)
BOX, BIG = "small-box", "big-box"
HEAVIER = TURTLE.replace('rdfs:label "small box"@en', 'rdfs:label "heavier box"@en')
BROKEN = TURTLE.replace("fo:status", "fo:state", 1)
BIG_BOX = (
    TURTLE.replace("platform/small-box", "platform/big-box")
    .replace("model/box-", "model/big-")
    .replace('"BOX ', '"BIG ')
)
WHO = {"who": "jo", "why": "for a test"}


def shelf_on(folder: Path, told: list[Opened] | None = None) -> Shelf:
    (folder / f"{BOX}.ttl").write_text(TURTLE, encoding="utf-8")
    changed = told.append if told is not None else lambda _: None
    return Shelf(open_content(folder), folder, changed, lambda: NOW)


def labels(opened: Opened) -> dict[str, str]:
    return {entry.platform.id: entry.platform.label for entry in opened.collection.models}


def test_a_new_platform(tmp_path: Path) -> None:
    told: list[Opened] = []
    shelf = shelf_on(tmp_path, told)
    before = shelf.opened
    found = shelf.publish(BIG, BIG_BOX, over=None, **WHO)
    assert (found.version.number, found.version.act, found.before) == (1, Act.PUBLISHED, None)
    assert labels(shelf.opened) == {BOX: "small box", BIG: "small box"}
    assert told == [shelf.opened]
    assert labels(before) == {BOX: "small box"}
    again = open_content(tmp_path)
    assert again.collection.revision == shelf.opened.collection.revision
    assert read_record(record_file(tmp_path)).keys() == {f"{BIG}.ttl"}


def test_a_change_is_served_and_the_revision_before_stays_whole(tmp_path: Path) -> None:
    shelf = shelf_on(tmp_path)
    before = shelf.opened
    shelf.publish(BOX, HEAVIER, over=[text_revision(TURTLE)], **WHO)
    assert labels(shelf.opened) == {BOX: "heavier box"}
    model = shelf.opened.collection.models[0].id
    assert before.collection.appliances(model)[0].platform.label == "small box"
    assert shelf.opened.collection.appliances(model)[0].platform.label == "heavier box"
    assert [each.act for each in versions(tmp_path, BOX)] == [Act.FOUND, Act.PUBLISHED]


def test_what_breaks_a_rule_is_refused_whole(tmp_path: Path) -> None:
    shelf = shelf_on(tmp_path)
    before = shelf.opened
    with pytest.raises(ContentRefused, match="still served") as refused:
        shelf.publish(BOX, BROKEN, over=["*"], **WHO)
    assert refused.value.findings
    assert shelf.opened is before
    assert (tmp_path / f"{BOX}.ttl").read_text(encoding="utf-8") == TURTLE
    assert versions(tmp_path, BOX) == ()


def test_two_numbers_that_read_alike_on_a_plate(tmp_path: Path) -> None:
    shelf = shelf_on(tmp_path)
    with pytest.raises(ContentRefused) as refused:
        shelf.publish(BIG, BIG_BOX.replace('"BIG 10"', '"box-1O"'), over=None, **WHO)
    assert "numbers-read-alike" in {each.rule for each in refused.value.findings}  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("platform", "over"),
    [(BOX, None), (BOX, ["0" * 16]), (BOX, []), (BIG, ["*"]), (BIG, ["0" * 16])],
)
def test_a_save_over_another_version(tmp_path: Path, platform: str, over: list[str] | None) -> None:
    shelf = shelf_on(tmp_path)
    text = {BOX: HEAVIER, BIG: BIG_BOX}[platform]
    with pytest.raises(Stale) as stale:
        shelf.publish(platform, text, over=over, **WHO)
    assert stale.value.revision == (text_revision(TURTLE) if platform == BOX else None)
    assert labels(shelf.opened) == {BOX: "small box"}


def test_a_stale_save_is_told_what_the_other_changed(tmp_path: Path) -> None:
    shelf = shelf_on(tmp_path)
    base = text_revision(TURTLE)
    shelf.publish(BOX, HEAVIER, over=[base], **WHO)
    with pytest.raises(Stale, match="another author") as stale:
        shelf.publish(BOX, TURTLE + "# mine\n", over=[base], **WHO)
    assert any("heavier box" in each for each in stale.value.changed)


def test_withdrawn_and_restored(tmp_path: Path) -> None:
    shelf = shelf_on(tmp_path)
    shelf.publish(BIG, BIG_BOX, over=None, **WHO)
    shelf.withdraw(BIG, over=["*"], **WHO)
    assert labels(shelf.opened) == {BOX: "small box"}
    with pytest.raises(NotFound):
        shelf.withdraw(BIG, over=["*"], **WHO)
    found = shelf.restore(BIG, 1, over=None, **WHO)
    assert (found.version.number, found.version.act, found.version.restored) == (3, Act.RESTORED, 1)
    assert BIG in labels(shelf.opened)
    for number in (2, 4):
        with pytest.raises(NotFound):
            shelf.restore(BIG, number, over=["*"], **WHO)


def test_what_another_process_published_is_taken_over(tmp_path: Path) -> None:
    told: list[Opened] = []
    shelf = shelf_on(tmp_path, told)
    assert not shelf.refresh()
    other = Shelf(open_content(tmp_path), tmp_path)
    other.publish(BIG, BIG_BOX, over=None, **WHO)
    other.publish(BOX, HEAVIER, over=["*"], **WHO)
    assert shelf.refresh()
    assert labels(shelf.opened) == {BOX: "heavier box", BIG: "small box"}
    assert shelf.opened.collection.revision == other.opened.collection.revision
    other.withdraw(BIG, over=["*"], **WHO)
    assert shelf.refresh()
    assert labels(shelf.opened) == {BOX: "heavier box"}
    assert not shelf.refresh()
    assert len(told) == 2


def test_a_file_broken_by_hand_leaves_what_was_served(tmp_path: Path) -> None:
    shelf = shelf_on(tmp_path)
    (tmp_path / f"{BOX}.ttl").write_text("nonsense")
    assert shelf.refresh()
    assert labels(shelf.opened) == {BOX: "small box"}
    assert [each.file for each in shelf.opened.refused] == [f"{BOX}.ttl"]
    (tmp_path / f"{BOX}.ttl").write_text(HEAVIER)
    assert shelf.refresh()
    assert (labels(shelf.opened), shelf.opened.refused) == ({BOX: "heavier box"}, ())


def test_what_is_found_on_a_draft_says_so(tmp_path: Path) -> None:
    shelf = shelf_on(tmp_path)
    reviewed = Desk(shelf.opened, Settings(data=tmp_path))
    assert not reviewed.search("lamp").draft
    shelf.publish(BOX, TURTLE.replace('fo:status "reviewed"', 'fo:status "draft"', 1), over=["*"], **WHO)
    drafted = reviewed.renewed(shelf.opened)
    assert drafted.search("lamp").hits
    assert drafted.search("lamp").draft
    assert drafted.suggest("lam").draft
    assert drafted.energies("box-20", None).draft
    assert not drafted.search("qzxv").draft


def test_old_graphs_are_let_go(tmp_path: Path) -> None:
    shelf = shelf_on(tmp_path)
    for number in range(6):
        shelf.publish(BOX, f"{TURTLE}# {number}\n", over=["*"], **WHO)
    held = [graph for graph in _graphs(shelf.opened) if BOX in graph]
    assert len(held) <= 3


def _graphs(opened: Opened) -> set[str]:
    return {str(each) for each in opened.store._engine.named_graphs()}  # type: ignore[attr-defined]


def test_a_folder_that_is_full_or_closed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shelf = shelf_on(tmp_path)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("firstoff.authoring.history._write", full)
    with pytest.raises(HistoryFailed, match="No space left"):
        shelf.publish(BOX, HEAVIER, over=["*"], **WHO)
    monkeypatch.undo()
    assert labels(shelf.opened) == {BOX: "small box"}
    shelf.publish(BOX, HEAVIER, over=["*"], **WHO)
    assert [each.number for each in versions(tmp_path, BOX)] == [1, 2]


def test_readers_see_one_revision_whole(tmp_path: Path) -> None:
    shelf = shelf_on(tmp_path)
    model = shelf.opened.collection.models[0].id
    allowed, wrong, stop = {"small box", "heavier box"}, [], Event()

    def read() -> None:
        while not stop.wait(0.002):
            opened = shelf.opened
            (entry,) = [each for each in opened.collection.models if each.id == model]
            (appliance, *_) = opened.collection.appliances(model)
            if {entry.platform.label, appliance.platform.label} - allowed or entry.platform != appliance.platform:
                wrong.append((entry.platform, appliance.platform))

    readers = [Thread(target=read) for _ in range(3)]
    for each in readers:
        each.start()
    try:
        for text in (HEAVIER, TURTLE, HEAVIER):
            shelf.publish(BOX, text, over=["*"], **WHO)
    finally:
        stop.set()
        for each in readers:
            each.join()
    assert not wrong
