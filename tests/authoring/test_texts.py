from __future__ import annotations

import pytest

from firstoff.authoring import texts
from firstoff.authoring.ontology import Ontology
from support.drafts import problems, told
from support.small_platform import TURTLE, changed, with_more

Told = list[tuple[str, str | None]]


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        # one of two zones
        (changed('"inside"@en', '"inside"@en, "innen"@de'), [("lacks-language", "outside")]),
        (changed('"inside"@en', '"inside"@en, "innen"@de-CH'), [("lacks-language", "outside")]),
        # both
        (changed('"inside"@en', '"inside"@en, "innen"@de').replace('"outside"@en', '"outside"@en, "außen"@de'), []),
        # a kind of English is English
        (changed('"inside"@en', '"inside"@en, "inside"@en-GB'), []),
        # one of ten components: it is the exception, and told once
        (changed('"drip tray"@en', '"drip tray"@en, "bandeja"@es', start="p:tray a"), [("lacks-language", "tray")]),
        # a text of the only bulletin, an alternative name and a comment ask for nothing
        (changed('"The lamp has a new number."@en', '"The lamp has a new number."@en, "Neue Nummer."@de'), []),
        (with_more('p:lamp <http://www.w3.org/2004/02/skos/core#altLabel> "Birne"@de .'), []),
        (with_more('p:lamp rdfs:comment "gut"@de .'), []),
        # a text of a blank node is told at the resource it is part of
        (changed('"about 3.5 kilohms"@en', '"about 3.5 kilohms"@en, "etwa 3,5 Kiloohm"@de'),
         [("lacks-language", "lamp-look"), ("lacks-language", "lamp-look"), ("lacks-language", "lamp-ohms")]),
    ],
    ids=["passes", "one", "region", "both", "English", "exception", "alone", "other name", "comment", "blank node"],
)  # fmt: skip
def test_languages_lacking(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(texts.languages_lacking, turtle, ontology) == expected


def test_a_rare_language_is_told_with_its_count(ontology: Ontology) -> None:
    turtle = changed('"drip tray"@en', '"drip tray"@en, "bandeja"@es', start="p:tray a")
    (problem,) = problems(texts.languages_lacking, turtle, ontology)
    count = TURTLE.count(" a fo:Component ")
    assert f"rdfs:label is told in es here and in 1 of {count} resources of fo:Component" in problem.message


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (with_more('p:lamp fo:status "reviewed" .'), [("reviewed-without-source", "lamp")]),
        (with_more('p:lamp fo:status "reviewed" ; fo:source p:notes .'), []),
        (with_more('p:lamp fo:status "draft" .'), []),
        # a reviewed platform stands on the sources of its statements; where there is none, on nothing
        (changed("p:notes a fo:Source", "p:notes a fo:Zone"), [("reviewed-without-source", "small-box")]),
    ],
    ids=["passes", "none", "named", "draft", "platform"],
)
def test_reviewed_has_source(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(texts.reviewed_has_source, turtle, ontology) == expected
