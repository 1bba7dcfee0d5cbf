"""Turtle as written: what it says, and how it reads."""

from __future__ import annotations

from firstoff.authoring.importing import exported
from firstoff.authoring.turtle import read_turtle
from firstoff.authoring.turtle_writing import write_turtle
from firstoff.authoring.workbook.reading import read_tables
from firstoff.authoring.workbook.sheets import load_workbook
from support.small_platform import TURTLE
from support.workbooks import said


def test_the_same_statements_in_a_stable_order() -> None:
    workbook = load_workbook()
    triples = read_turtle(TURTLE, "small-box.ttl").triples
    text = write_turtle(triples, "small-box", workbook)
    again = read_turtle(text, "small-box.ttl").triples
    assert said(again) == said(triples)
    assert write_turtle(again, "small-box", workbook) == text


def test_odd_texts_and_foreign_words() -> None:
    odd = """@prefix p: <https://firstoff.example/platform/x/> . @prefix fo: <https://firstoff.example/ontology#> .
    p:a a fo:Zone ; fo:label "quote \\" back \\\\ line \\n tab \\t \\u0001 Ünï"@de-at ;
        <https://example.org/own%20word> "2026"^^<http://www.w3.org/2001/XMLSchema#gYear>, 1.5e3, [], [ a fo:Odd ] .
    <https://example.org/elsewhere> a <https://example.org/Thing> ."""
    triples = read_turtle(odd, "x.ttl").triples
    assert said(read_turtle(write_turtle(triples, "x", load_workbook()), "x.ttl").triples) == said(triples)


def test_a_changed_cell_changes_its_line_alone() -> None:
    workbook = load_workbook()
    tables = exported(TURTLE, "small-box.ttl", workbook)
    before = read_tables(tables, workbook)
    removals = next(table for table in tables if table.title == "removals")
    at = removals.header.index("minutes out")
    removals.lines[0].cells[at] = 7.25  # type: ignore[index]
    after = read_tables(tables, workbook)
    old = write_turtle(before.triples, before.platform, workbook).splitlines()
    new = write_turtle(after.triples, after.platform, workbook).splitlines()
    assert len(old) == len(new)
    assert [line.strip() for line, was in zip(new, old, strict=True) if line != was] == ["fo:minutesOut 7.25 ;"]
