"""The commands of authors: from an empty workbook to a version that is served, saved over, restored and withdrawn."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from firstoff.cli import app
from firstoff.errors import BadRequest, ContentMissing, ContentRefused, FirstoffError, NotFound, Stale
from firstoff.store.revision import text_revision
from firstoff_contract.authoring import GraphCheck, GraphList, Published, VersionDifference, VersionList
from support.small_platform import TURTLE

SLOWER = TURTLE.replace("fo:minutesOut ", "fo:minutesOut 1", 1)
BROKEN = TURTLE.replace("fo:status", "fo:state", 1)


def firstoff(*arguments: str | Path) -> Result:
    return CliRunner().invoke(app, [str(each) for each in arguments])


def failing(error: type[FirstoffError], *arguments: str | Path) -> FirstoffError:
    """What the command ends with; ``main`` makes two lines of it."""
    done = firstoff(*arguments)
    assert isinstance(done.exception, error), done.output
    return done.exception


@pytest.fixture
def shelf(tmp_path: Path) -> Path:
    folder = tmp_path / "content"
    folder.mkdir()
    (folder / "small-box.ttl").write_text(TURTLE, encoding="utf-8")
    return folder


@pytest.fixture
def draft(tmp_path: Path) -> Path:
    path = tmp_path / "small-box.ttl"
    path.write_text(SLOWER, encoding="utf-8")
    return path


@pytest.mark.parametrize("book", ["box.xlsx", "box"])
def test_out_to_a_workbook_and_back(tmp_path: Path, draft: Path, book: str) -> None:
    assert firstoff("template", tmp_path / f"empty-{book}").exit_code == 0
    assert firstoff("export", draft, tmp_path / book).exit_code == 0
    done = firstoff("import", tmp_path / book, "--out", tmp_path / "back.ttl")
    assert done.exit_code == 0, done.output
    again = firstoff("import", tmp_path / book, "--out", tmp_path / "back.ttl")
    assert isinstance(again.exception, BadRequest)
    assert firstoff("import", tmp_path / book, "--out", tmp_path / "back.ttl", "--overwrite").exit_code == 0
    assert firstoff("check", tmp_path / book).exit_code == 0


def test_findings_as_sarif(tmp_path: Path) -> None:
    (tmp_path / "small-box.ttl").write_text(BROKEN)
    done = firstoff("check", tmp_path / "small-box.ttl", "--sarif")
    assert done.exit_code == 1
    log = json.loads(done.stdout)
    assert log["version"] == "2.1.0"
    assert log["runs"][0]["results"]


def test_a_draft_beside_what_is_published(shelf: Path, draft: Path) -> None:
    done = firstoff("preview", draft, "--data", shelf)
    assert done.exit_code == 0, done.output
    assert "minutes out" in done.stdout
    assert "What it changes for a technician" in done.stdout
    answer = GraphCheck.model_validate_json(firstoff("preview", draft, "--data", shelf, "--json").stdout)
    assert any(change.plans for change in answer.models)
    draft.write_text(TURTLE + "# again\n")
    assert "no plan, no live point" in firstoff("preview", draft, "--data", shelf).stdout
    draft.write_text(BROKEN)
    assert firstoff("preview", draft, "--data", shelf).exit_code == 1


def test_published_versioned_restored_and_withdrawn(shelf: Path, draft: Path) -> None:
    why = ("--why", "Timed on the bench.", "--who", "jo", "--data", str(shelf))
    done = Published.model_validate_json(firstoff("publish", draft, *why, "--json").stdout)
    assert (done.version.number, done.version.who) == (2, "jo")
    assert (shelf / "small-box.ttl").read_text() == SLOWER
    told = firstoff("versions", "small-box", "--data", shelf).stdout
    assert "Timed" in told
    kept = VersionList.model_validate_json(firstoff("versions", "small-box", "--data", shelf, "--json").stdout)
    assert [each.act for each in kept.versions] == ["found", "published"]
    assert "wasRevisionOf" in firstoff("versions", "small-box", "--provenance", "--data", shelf).stdout
    differs = firstoff("difference", "small-box", "1", "--data", shelf, "--json").stdout
    assert VersionDifference.model_validate_json(differs).differences == done.differences
    assert firstoff("text", "small-box", "1", "--data", shelf).stdout == TURTLE
    stale = failing(Stale, "publish", draft, *why, "--over", text_revision(TURTLE))
    assert any("minutes out" in each for each in stale.changed)  # type: ignore[attr-defined]
    assert firstoff("restore", "small-box", "1", *why).exit_code == 0
    assert (shelf / "small-box.ttl").read_text() == TURTLE
    assert "touches" in firstoff("withdraw", "small-box", *why).stdout
    assert not (shelf / "small-box.ttl").exists()


def test_the_first_platform_goes_into_an_empty_folder(tmp_path: Path, draft: Path) -> None:
    empty = tmp_path / "empty"
    empty.mkdir()
    assert "the platform is new" in firstoff("preview", draft, "--data", empty).stdout
    why = ("--why", "The first.", "--who", "jo", "--data", str(empty))
    done = Published.model_validate_json(firstoff("publish", draft, *why, "--json").stdout)
    assert (done.version.number, [each.id for each in done.models]) == (1, ["box-10", "box-20"])
    assert firstoff("withdraw", "small-box", *why).exit_code == 0
    assert firstoff("restore", "small-box", "1", *why).exit_code == 0
    assert (empty / "small-box.ttl").read_text() == SLOWER
    failing(ContentMissing, "publish", draft, "--why", "x", "--data", tmp_path / "nowhere")


def test_a_workbook_is_told_of_its_sheets(tmp_path: Path, draft: Path) -> None:
    draft.write_text(TURTLE.replace("fo:needsState p:supply-isolated ; fo:minutesOut", "fo:minutesOut"))
    assert firstoff("export", draft, tmp_path / "box.xlsx").exit_code == 0
    told = " ".join(firstoff("check", tmp_path / "box.xlsx").stdout.split())
    assert "Name under 'needs state' the state in which the supply is isolated. [supply-not-isolated]" in told
    assert "fo:" not in told


def test_every_platform_with_its_versions(shelf: Path) -> None:
    (found,) = GraphList.model_validate_json(firstoff("versions", "--data", shelf, "--json").stdout).graphs
    assert (found.platform, found.versions, found.status) == ("small-box", 0, "reviewed")
    assert "never published" in firstoff("versions", "small-box", "--data", shelf).stdout


def test_what_is_refused_leaves_all_as_it_was(shelf: Path, draft: Path, tmp_path: Path) -> None:
    why = ("--why", "x", "--data", str(shelf))
    draft.write_text(BROKEN)
    refused = failing(ContentRefused, "publish", draft, *why)
    assert refused.findings  # type: ignore[attr-defined]
    failing(BadRequest, "publish", tmp_path / "nothing.ttl", *why)
    draft.write_bytes(b"\xff\xfe")
    failing(BadRequest, "publish", draft, *why)
    draft.write_text("nonsense")
    failing(BadRequest, "publish", draft, *why)
    draft.write_text(SLOWER)
    failing(BadRequest, "publish", draft, "--why", " ", "--data", shelf)
    failing(NotFound, "restore", "small-box", "3", *why)
    failing(NotFound, "versions", "no-box", "--data", shelf)
    assert (shelf / "small-box.ttl").read_text() == TURTLE
    assert not list((shelf / "history").glob("*/*"))
