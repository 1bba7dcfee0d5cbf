"""Workbooks that may not be opened, or of which part cannot be taken: told at its place, and nothing half done."""

from __future__ import annotations

import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest
from openpyxl.worksheet.worksheet import Worksheet

from firstoff.authoring.importing import empty, exported, imported, write_tables
from firstoff.authoring.ontology import Ontology
from firstoff.authoring.workbook import package
from firstoff.authoring.workbook.sheets import Workbook
from firstoff.errors import BadRequest
from support.small_platform import TURTLE


@pytest.fixture
def sound(tmp_path: Path, workbook: Workbook) -> Path:
    path = tmp_path / "small-box.xlsx"
    write_tables(exported(TURTLE, "small-box.ttl", workbook), path, workbook)
    return path


def changed(path: Path, sheet: str, change: Callable[[Worksheet], object]) -> Path:
    book = openpyxl.load_workbook(path)
    change(book[sheet])
    book.save(path)
    return path


def cell(sheet: Worksheet, heading: str, row: int = 2) -> openpyxl.cell.cell.Cell:
    at = next(each.column for each in sheet[1] if each.value == heading)
    found = sheet.cell(row, at)
    assert isinstance(found, openpyxl.cell.cell.Cell)
    return found


def put(heading: str, value: object) -> Callable[[Worksheet], None]:
    def change(sheet: Worksheet) -> None:
        cell(sheet, heading).value = value  # type: ignore[assignment]

    return change


def head(heading: str, new: str) -> Callable[[Worksheet], None]:
    def change(sheet: Worksheet) -> None:
        cell(sheet, heading, 1).value = new

    return change


def test_a_sound_workbook_passes(sound: Path, workbook: Workbook, ontology: Ontology) -> None:
    found = imported(sound, ontology, workbook)
    assert found.platform == "small-box"
    assert found.report.findings == ()
    assert found.turtle is not None


@pytest.mark.parametrize(
    ("sheet", "change", "rule", "row", "column"),
    [
        ("removals", put("minutes out", "=1+1"), "formula-in-cell", 2, True),
        ("removals", put("minutes out", "#DIV/0!"), "error-in-cell", 2, True),
        ("removals", put("minutes out", "2,5"), "decimal-comma", 2, True),
        ("components", put("kilograms", "12 mm"), "unit-in-cell", 2, True),
        ("components", put("kind", "thingumajig"), "unknown-term", 2, True),
        ("components", put("name", "Big Lamp"), "no-name", 2, True),
        ("components", put("name", None), "no-name", 2, True),
        ("zones", lambda sheet: sheet.append([sheet["A2"].value, "again"]), "name-used-twice", None, True),
        ("components", lambda sheet: sheet.merge_cells("A2:A3"), "merged-cells", 2, True),
        ("components", head("kilograms", "kilogrammes"), "unknown-column", 1, True),
        ("components", head("kilograms", "label"), "heading-twice", 1, True),
        ("components", head("name", "nam"), "unknown-column", 1, True),
        ("components", head("kind", ""), "no-heading", 1, True),
        ("components", lambda sheet: setattr(sheet, "title", "component"), "unknown-sheet", None, False),
        ("platform", lambda sheet: sheet.delete_rows(2), "one-platform", None, False),
        ("fastenings", put("of removal", "lamp-of"), "unknown-name", 2, True),
        ("components", lambda sheet: sheet.cell(200_000, 1, "far"), "sheet-too-large", None, False),
    ],
)
def test_told_at_its_place(
    sound: Path,
    workbook: Workbook,
    ontology: Ontology,
    sheet: str,
    change: Callable[[Worksheet], object],
    rule: str,
    row: int | None,
    column: bool,
) -> None:
    found = imported(changed(sound, sheet, change), ontology, workbook)
    assert found.turtle is None
    told = [each for each in found.report.findings if each.rule == rule]
    assert told, found.report.findings
    assert told[0].sheet is not None
    assert told[0].mend
    assert row is None or told[0].line == row
    assert (told[0].column is not None) is column


def test_a_sheet_of_another_purpose_is_passed_over_and_said(
    sound: Path, workbook: Workbook, ontology: Ontology
) -> None:
    book = openpyxl.load_workbook(sound)
    book.create_sheet("price list 2031")["A1"] = "lamp"
    book.save(sound)
    found = imported(sound, ontology, workbook)
    assert found.turtle is not None
    assert [(each.severity.value, each.rule, each.sheet) for each in found.report.findings] == [
        ("warning", "unknown-sheet", "price list 2031")
    ]


def test_what_the_check_finds_has_its_sheet_and_row(sound: Path, workbook: Workbook, ontology: Ontology) -> None:
    found = imported(changed(sound, "removals", put("minutes out", 9_999)), ontology, workbook)
    assert found.turtle is not None
    told = next(each for each in found.report.errors if each.rule == "removal-minutes-out")
    assert (told.sheet, told.line) == ("removals", 2)
    assert str(told).startswith(f"{sound}, sheet removals, row 2: error: ")


def test_an_empty_template_says_what_is_missing(tmp_path: Path, workbook: Workbook, ontology: Ontology) -> None:
    write_tables(empty(["es"], workbook), tmp_path / "new.xlsx", workbook)
    found = imported(tmp_path / "new.xlsx", ontology, workbook)
    assert [each.rule for each in found.report.findings] == ["one-platform"]


def repacked(path: Path, change: dict[str, bytes]) -> Path:
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in (parts | change).items():
            archive.writestr(name, content)
    return path


ENTITY = b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY e SYSTEM "file:///etc/hostname">]><x>&e;</x>'


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"xl/vbaProject.bin": b"x"}, "macros"),
        ({"xl/sharedStrings.xml": ENTITY}, "entities"),
        ({"xl/sharedStrings.xml": ENTITY.decode().encode("utf-16")}, "entities"),
        ({"xl/media/zeros.bin": bytes(package.MOST_UNPACKED)}, "unpacks to more"),
        ({f"xl/media/{number}.bin": b"" for number in range(package.MOST_PARTS)}, "unpacks to more"),
        ({"xl/workbook.xml": b"<workbook"}, "cannot be read"),
    ],
    ids=["macros", "entity", "entity in utf-16", "bomb", "parts", "broken"],
)
def test_not_opened(sound: Path, workbook: Workbook, ontology: Ontology, change: dict[str, bytes], said: str) -> None:
    with pytest.raises(BadRequest, match=said) as raised:
        imported(repacked(sound, change), ontology, workbook)
    assert raised.value.mend


@pytest.mark.parametrize("name", ["a.xlsx", "a.xlsm", "a.xls", "a.ods"])
def test_no_workbook_at_all(tmp_path: Path, workbook: Workbook, ontology: Ontology, name: str) -> None:
    (tmp_path / name).write_bytes(b"\xd0\xcf\x11\xe0 not a ZIP archive")
    with pytest.raises(BadRequest, match=r"XLSX|another format"):
        imported(tmp_path / name, ontology, workbook)


def test_a_file_of_100_mb(tmp_path: Path, workbook: Workbook, ontology: Ontology) -> None:
    path = tmp_path / "large.xlsx"
    with path.open("wb") as stream:
        stream.truncate(100_000_000)
    with pytest.raises(BadRequest, match="more than 20 MB"):
        imported(path, ontology, workbook)


def test_a_folder_of_csv(tmp_path: Path, workbook: Workbook, ontology: Ontology) -> None:
    folder = tmp_path / "csv"
    write_tables(exported(TURTLE, "small-box.ttl", workbook), folder, workbook)
    assert imported(folder, ontology, workbook).report.findings == ()
    components = folder / "components.csv"
    text = components.read_text(encoding="utf-8")
    # as a spreadsheet program of a country with decimal commas saves it
    components.write_text(text.replace(",", ";"), encoding="utf-8-sig")
    assert imported(folder, ontology, workbook).report.findings == ()
    components.write_bytes(text.encode("utf-16"))
    assert next(each.rule for each in imported(folder, ontology, workbook).report.errors) == "not-utf-8"
    components.write_text(text + '"never closed', encoding="utf-8")
    assert next(each.rule for each in imported(folder, ontology, workbook).report.errors) == "not-csv"
    with components.open("wb") as stream:
        stream.truncate(100_000_000)
    assert next(each.rule for each in imported(folder, ontology, workbook).report.errors) == "too-large"
    with pytest.raises(BadRequest, match="no CSV file"):
        imported(tmp_path, ontology, workbook)
