"""Random workbooks, and what graphs say, for comparison."""

from __future__ import annotations

import string
from collections import Counter
from collections.abc import Iterable
from decimal import Decimal

import pyoxigraph as ox
from hypothesis import strategies as st

from firstoff.authoring.workbook.cells import Cell
from firstoff.authoring.workbook.sheets import Column, Holds, Sheet, Workbook
from firstoff.authoring.workbook.tables import Line, Table

#: What a spreadsheet's cell can hold besides line ends; a text says something and neither begins nor ends with a space.
_LETTERS = string.ascii_letters + string.digits + " =+-@'\"\\,;[]<>#&%äñ°µ{}\n漢"
_TEXTS = st.text(_LETTERS, min_size=1, max_size=30).filter(lambda text: text == text.strip() and text)
_XSD = "http://www.w3.org/2001/XMLSchema#"
_NUMERIC = (f"{_XSD}decimal", f"{_XSD}integer")
_SLUGS = st.from_regex(r"[a-z][a-z0-9]{0,5}(-[a-z0-9]{1,4}){0,2}", fullmatch=True)


def said(triples: Iterable[ox.Triple]) -> Counter[object]:
    """Every statement with how often it is made: equal numbers alike, a blank node by all that is said of it.

    Two graphs whose blank nodes hang in trees, as here, are isomorphic just where this is equal.
    """
    behind: dict[object, list[tuple[str, object]]] = {}
    for triple in triples:
        behind.setdefault(triple.subject, []).append((triple.predicate.value, triple.object))

    def told(node: object) -> object:
        if isinstance(node, ox.BlankNode):
            return frozenset(Counter((prop, told(value)) for prop, value in behind.get(node, [])).items())
        if isinstance(node, ox.Literal) and node.datatype.value in _NUMERIC:
            return Decimal(node.value)
        return node

    return Counter(
        (subject, prop, told(value))
        for subject, pairs in behind.items()
        if not isinstance(subject, ox.BlankNode)
        for prop, value in pairs
    )


@st.composite
def workbooks(draw: st.DrawFn, workbook: Workbook) -> list[Table]:
    """Tables of one machine in which every cell can be taken."""
    named = [sheet for sheet in workbook.sheets if sheet.owner is None]
    slugs = draw(st.lists(_SLUGS, min_size=len(named), max_size=2 * len(named), unique=True))
    rows = {sheet.of: [slug] for sheet, slug in zip(named, slugs, strict=False)}
    for slug in slugs[len(named) :]:
        rows[draw(st.sampled_from([sheet.of for sheet in named if sheet.of != "Platform"]))].append(slug)
    return [draw(_tables(sheet, rows, workbook)) for sheet in workbook.sheets]


@st.composite
def _tables(draw: st.DrawFn, sheet: Sheet, rows: dict[str, list[str]], workbook: Workbook) -> Table:
    columns = draw(st.lists(st.sampled_from(sheet.columns), unique=True, max_size=6))
    languages = [draw(st.sampled_from(["", " [es]", " [no language]"])) for _ in columns]
    header = [
        column.title + (language if column.holds is Holds.TEXT else "")
        for column, language in zip(columns, languages, strict=True)
    ]
    keys = rows[sheet.of] if sheet.owner is None else draw(st.lists(st.sampled_from(rows[sheet.owner]), max_size=2))
    lines = [
        Line(number, [key, *(draw(_cells(column, rows, workbook)) for column in columns)])
        for number, key in enumerate(keys, start=2)
    ]
    return Table(sheet.title, [sheet.key, *header], lines)


def _cells(column: Column, rows: dict[str, list[str]], workbook: Workbook) -> st.SearchStrategy[Cell]:
    one: st.SearchStrategy[Cell]
    if column.holds is Holds.YES_NO:
        one = st.sampled_from(["yes", "no"])
    elif column.holds is Holds.WHOLE:
        one = st.integers(-(10**9), 10**9)
    elif column.holds is Holds.NUMBER:
        one = st.one_of(
            st.integers(-(10**9), 10**9), st.floats(1e-12, 1e9), st.decimals(-(10**9), 10**9, places=20).map(str)
        )
    elif column.holds is Holds.NAME:
        one = st.sampled_from([name for of in column.classes for name in rows[of]])
    elif column.holds is Holds.TERM:
        one = st.sampled_from(column.choices or tuple(workbook.terms[column.vocabulary]))
    elif column.holds is Holds.CHOICE:
        one = st.sampled_from(column.choices)
    elif column.holds is Holds.ADDRESS:
        one = st.sampled_from(["https://example.org/a?b=c", "https://firstoff.example/x"])
    else:
        one = _TEXTS
    if not column.many:
        return st.one_of(st.none(), one)
    several = st.lists(one.map(str), max_size=3, unique=True)
    if column.holds in (Holds.TEXT, Holds.PLAIN):
        return several.map(lambda texts: "\n".join(t.replace("\\", "\\\\").replace("\n", "\\n") for t in texts))
    return several.map("; ".join)
