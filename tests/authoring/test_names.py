from __future__ import annotations

import pytest

from firstoff.authoring import names
from firstoff.authoring.ontology import Ontology
from support.drafts import told
from support.small_platform import TURTLE, changed, with_more

PLATFORM = "<https://firstoff.example/platform/small-box>"
SECOND = '<https://firstoff.example/platform/second> a fo:Platform ; rdfs:label "second"@en .'


@pytest.mark.parametrize(
    ("turtle", "name", "expected"),
    [
        (TURTLE, "small-box.ttl", []),
        (TURTLE, "data/small-box.ttl", []),
        (TURTLE, "big-box.ttl", [("file-name", "small-box")]),
        (with_more(SECOND), "small-box.ttl", [("file-name", "second"), ("one-platform", None)]),
        (TURTLE.replace("a fo:Platform", "a fo:Zone"), "small-box.ttl", [("one-platform", None)]),
        (TURTLE.replace("a fo:Model", "a fo:Zone"), "small-box.ttl", [("no-model", "small-box")]),
    ],
)
def test_one_platform(turtle: str, name: str, expected: list[tuple[str, str | None]], ontology: Ontology) -> None:
    assert told(names.one_platform, turtle, ontology, name) == expected


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (with_more("p:lamp a fo:Zone ."), [("two-classes", "lamp")]),
        (with_more('p:stray rdfs:label "stray"@en .'), [("no-class", "stray")]),
        (changed("p:tray a fo:Component", "p:tray a fo:Compnent"), [("no-class", "tray")]),
        # a blank node is told under the resource it is part of
        (
            changed("[ a fo:Fastening ; fo:kind fastening:gravity", "[ fo:kind fastening:gravity"),
            [("no-class", "tray-off")],
        ),
    ],
)
def test_classes(turtle: str, expected: list[tuple[str, str | None]], ontology: Ontology) -> None:
    assert told(names.classes, turtle, ontology) == expected


@pytest.mark.parametrize(
    ("more", "expected"),
    [
        ("", []),
        (
            '<https://firstoff.example/platform/other-box/knob> a fo:Zone ; rdfs:label "knob"@en .',
            [("another-platform", "knob")],
        ),
        ('<https://firstoff.example/model/lamp> a fo:Model ; rdfs:label "lamp"@en .', [("name-used-twice", "lamp")]),
    ],
)
def test_addresses(more: str, expected: list[tuple[str, str | None]], ontology: Ontology) -> None:
    assert told(names.addresses, with_more(more), ontology) == expected


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (with_more('p:inside rdfs:comment "innen"@de, "inside"@en-GB .'), []),
        (changed('rdfs:label "inside"@en', 'rdfs:label "innen"@de'), [("not-in-english", "inside")]),
        (changed('fo:text "The tray sits level."@en', 'fo:text "Eben."@de'), [("not-in-english", "tray-off")]),
    ],
)
def test_in_english(turtle: str, expected: list[tuple[str, str | None]], ontology: Ontology) -> None:
    assert told(names.in_english, turtle, ontology) == expected


@pytest.mark.parametrize(
    ("number", "expected"),
    [
        ("BOX 10", []),
        ("B0X-10", []),  # the letter O and the digit 0 read alike
        ("BOX 11", [("model-slug", "box-10")]),
    ],
)
def test_model_slugs(number: str, expected: list[tuple[str, str | None]], ontology: Ontology) -> None:
    turtle = changed('fo:modelNumber "BOX 10"', f'fo:modelNumber "{number}"')
    assert told(names.model_slugs, turtle, ontology) == expected
