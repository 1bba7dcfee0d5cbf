"""What a cell may hold, and what is said where it holds something else."""

from __future__ import annotations

from datetime import date

import pyoxigraph as ox
import pytest

from firstoff.authoring.workbook.cells import Cell, CellWrong, NotForCells, cell_of, terms_of
from firstoff.authoring.workbook.sheets import Column, Workbook

NAMES = {"drain-pump": "https://firstoff.example/platform/x/drain-pump"}


def column(workbook: Workbook, sheet: str, title: str) -> Column:
    return next(each for each in workbook.titled[sheet].columns if each.title == title)


def taken(workbook: Workbook, sheet: str, title: str, cell: Cell) -> list[str]:
    found = column(workbook, sheet, title)
    return [str(each) for each in terms_of(cell, found, "en", NAMES, workbook.terms.get(found.vocabulary, {}))]


DECIMAL = "^^<http://www.w3.org/2001/XMLSchema#decimal>"


@pytest.mark.parametrize(
    ("sheet", "title", "cell", "expected"),
    [
        ("removals", "minutes out", 2, [f'"2.0"{DECIMAL}']),
        ("removals", "minutes out", 2.5, [f'"2.5"{DECIMAL}']),
        ("removals", "minutes out", " 2.50 ", [f'"2.5"{DECIMAL}']),
        ("links", "farads", 4.7e-07, [f'"0.00000047"{DECIMAL}']),
        ("links", "farads", "4.7e-7", [f'"0.00000047"{DECIMAL}']),
        ("fastenings", "count", 4.0, ['"4"^^<http://www.w3.org/2001/XMLSchema#integer>']),
        ("outcomes", "healthy", "Yes", ['"true"^^<http://www.w3.org/2001/XMLSchema#boolean>']),
        ("outcomes", "healthy", False, ['"false"^^<http://www.w3.org/2001/XMLSchema#boolean>']),
        ("components", "label", "Drain pump", ['"Drain pump"@en']),
        ("components", "part number", 10110, ['"10110"']),
        ("components", "part number", 10110.0, ['"10110"']),
        ("components", "supersedes", "A-1\nA;2", ['"A-1"', '"A;2"']),
        ("fastenings", "kind", "screw", ["<https://firstoff.example/vocabulary/fastening-kinds#screw>"]),
        ("removals", "needs off", "drain-pump; drain-pump", 2 * [f"<{NAMES['drain-pump']}>"]),
        ("links", "current kind", "ac", ['"ac"']),
    ],
)
def test_taken(workbook: Workbook, sheet: str, title: str, cell: Cell, expected: list[str]) -> None:
    assert taken(workbook, sheet, title, cell) == expected


@pytest.mark.parametrize(
    ("sheet", "title", "cell", "rule", "mend"),
    [
        ("removals", "minutes out", "2,5", "decimal-comma", "2.5"),
        ("removals", "minutes out", "2.5 min", "unit-in-cell", "alone"),
        ("components", "kilograms", "12 kg", "unit-in-cell", "alone"),
        ("components", "kilograms", "1,2kg", "unit-in-cell", "alone"),
        ("components", "kilograms", "heavy", "no-number", "such as 2.5"),
        ("components", "kilograms", True, "no-number", "such as 2.5"),
        ("components", "kilograms", "1e300", "number-out-of-reach", "Correct"),
        ("fastenings", "count", 2.5, "no-whole-number", "whole"),
        ("outcomes", "healthy", "maybe", "not-yes-or-no", "yes or no"),
        ("removals", "needs off", "drainpump", "unknown-name", "drain-pump"),
        ("fastenings", "kind", "scrw", "unknown-term", "screw"),
        ("links", "current kind", "AC/DC", "no-such-choice", "Choose"),
        ("links", "see also", "see page 4", "no-address", "https"),
        ("components", "part number", date(2026, 1, 2), "date-in-cell", "text"),
    ],
)
def test_refused(workbook: Workbook, sheet: str, title: str, cell: Cell, rule: str, mend: str) -> None:
    with pytest.raises(CellWrong) as raised:
        taken(workbook, sheet, title, cell)
    assert raised.value.rule == rule
    assert mend in raised.value.mend


@pytest.mark.parametrize(
    ("sheet", "title", "values"),
    [
        ("components", "kilograms", [ox.Literal("heavy")]),
        ("components", "kilograms", [ox.Literal(1), ox.Literal(2)]),
        ("components", "label", [ox.Literal(" ", language="en")]),
        ("components", "part number", [ox.Literal("x", language="en")]),
        ("components", "in zone", [ox.NamedNode("https://firstoff.example/platform/y/z")]),
    ],
)
def test_terms_without_a_cell(workbook: Workbook, sheet: str, title: str, values: list[ox.Literal]) -> None:
    with pytest.raises(NotForCells):
        cell_of(values, column(workbook, sheet, title), {})
