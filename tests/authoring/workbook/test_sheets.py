"""The sheets say all that the shapes take."""

from __future__ import annotations

import rdflib
from rdflib.collection import Collection
from rdflib.namespace import RDF, SH

from firstoff.authoring.ontology import FO, Ontology
from firstoff.authoring.workbook.sheets import Holds, Workbook


def test_every_class_is_a_sheet_and_every_property_a_column(workbook: Workbook, ontology: Ontology) -> None:
    said = {sheet.of: {column.iri for column in sheet.columns} for sheet in workbook.sheets}
    for sheet in workbook.sheets:
        if sheet.owner is not None:
            said[sheet.owner].add(str(sheet.owned_by))
    taken = {}
    for shape in ontology.shapes.subjects(SH.closed, rdflib.Literal(True)):
        of = str(ontology.shapes.value(shape, SH.targetClass)).removeprefix(FO)
        listed = ontology.shapes.value(shape, SH.ignoredProperties)
        assert listed is not None
        taken[of] = {str(each) for each in Collection(ontology.shapes, listed)} - {str(RDF.type)}
    assert said == taken


def test_titles_are_told_apart(workbook: Workbook) -> None:
    for sheet in workbook.sheets:
        titles = [sheet.key, *(column.title for column in sheet.columns)]
        assert len({title.casefold() for title in titles}) == len(titles), sheet.title
        assert len(sheet.title) <= 31, "a spreadsheet takes no longer title"


def test_what_columns_hold(workbook: Workbook) -> None:
    def holds(sheet: str, title: str) -> tuple[Holds, bool, bool]:
        column = next(each for each in workbook.titled[sheet].columns if each.title == title)
        return column.holds, column.needed, column.many

    assert holds("components", "kind") == (Holds.TERM, True, False)
    assert holds("components", "label") == (Holds.TEXT, True, False)
    assert holds("components", "supersedes") == (Holds.PLAIN, False, True)
    assert holds("removals", "needs off") == (Holds.NAME, False, True)
    assert holds("removals", "minutes out") == (Holds.NUMBER, True, False)
    assert holds("fastenings", "count") == (Holds.WHOLE, True, False)
    assert holds("outcomes", "healthy") == (Holds.YES_NO, True, False)
    assert holds("links", "current kind") == (Holds.CHOICE, False, False)
    assert holds("links", "see also") == (Holds.ADDRESS, False, True)
    assert holds("cautions", "applies to") == (Holds.NAME, True, True)
