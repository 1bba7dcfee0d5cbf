"""Findings told of a workbook name sheets and columns, and nothing of RDF."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from rdflib.namespace import SH

from firstoff.authoring.workbook.sheets import described, load_workbook
from firstoff.authoring.workbook.wording import in_cells
from firstoff.content import ontology_folder

WORKBOOK = load_workbook()
#: What no one who fills in a workbook should have to read. Addresses of platforms and models are told by their names.
RDF = re.compile(r"\bfo:|@en\b|\[ a |\.ttl\b|\b(?:link|component|symptom|tool|check|purpose|fastening):\S")


@pytest.mark.parametrize(
    ("turtle", "cells"),
    [
        # a property
        ("Take the component out of fo:needsOff.", "Take the component out of 'needs off'."),
        # a property with a row to name
        (
            "Write fo:needsState with the state in which the supply is isolated.",
            "Name under 'needs state' the state in which the supply is isolated.",
        ),
        # yes and no
        ("Write fo:healthy true or fo:healthy false.", "Write yes under 'healthy' or no under 'healthy'."),
        # a part in square brackets is a row of a sheet of its own
        (
            "Write fo:fastening [ a fo:Fastening ; … ]; it has fo:kind fastening:gravity or fastening:tab.",
            "Write a row of the sheet 'fastenings'; it has 'kind' gravity or tab.",
        ),
        ('Write fo:reassemblyCheck [ a fo:ReassemblyCheck ; fo:text "…"@en ].',
         "Write a row of the sheet 'reassembly checks'."),
        # a class
        ("Describe a fo:AccessPath that reaches it with fo:purpose purpose:test.",
         "Describe a row of the sheet 'ways in' that reaches it with 'purpose' test."),
        # a word of a vocabulary
        ("Write fo:kind component:… once; append it to ontology/vocabularies/component-kinds.ttl if it is not there.",
         "Write 'kind' a word of its list once; the sheet 'choices' lists them all."),
        # texts
        ('Write fo:release "…"@en.', "Write 'release' …."),
        # plain words stay
        ("The part sits inside: itself (pump: no).", "The part sits inside: itself (pump: no)."),
    ],
)  # fmt: skip
def test_in_cells(turtle: str, cells: str) -> None:
    assert in_cells(turtle, WORKBOOK) == cells


def test_every_mend_of_the_shapes_can_be_told() -> None:
    graph = described(ontology_folder())
    mends = {str(text) for text in graph.objects(None, SH.description)} | {
        str(text) for text in graph.objects(None, SH.message)
    }
    assert len(mends) > 200
    assert [told for told in (in_cells(each, WORKBOOK) for each in mends) if RDF.search(told)] == []


def test_every_mend_of_the_rules_can_be_told() -> None:
    import firstoff.authoring

    folder = Path(firstoff.authoring.__file__).parent
    sources = "".join(file.read_text(encoding="utf-8") for file in sorted(folder.glob("*.py")))
    texts = [re.sub(r"\{.*?\}", "test", text) for text in re.findall(r'"([^"\n]*\bfo:[A-Za-z][^"\n]*)"', sources)]
    assert len(texts) > 15
    assert [told for told in (in_cells(each, WORKBOOK) for each in texts) if RDF.search(told)] == []
