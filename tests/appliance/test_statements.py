"""Typed access to statements: what is read, in which order, and what is refused."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.appliance.model import Purpose
from firstoff.appliance.statements import FO, RDF_TYPE, RDFS_LABEL, Resource, Statements, sources
from firstoff.appliance.terms import (
    Concept,
    Source,
)
from firstoff.errors import ContentBroken
from firstoff.store.terms import XSD, Blank, Iri, Row, Term, Text
from support.small_machine import TURTLE, changed, compiled, rows_of

HERE = "https://firstoff.example/platform/x/"
FAN = Iri(HERE + "fan")
GUARD, COVER = Iri(HERE + "guard"), Iri(HERE + "cover")


def row(subject: Term, name: str, value: Term) -> Row:
    return {"subject": subject, "property": Iri(name if ":" in name else FO + name), "value": value}


def fan(*values: Term, name: str = "it", more: tuple[Row, ...] = ()) -> Resource:
    """The fan with these values of one property."""
    rows = [row(FAN, RDF_TYPE, Iri(FO + "Component")), *(row(FAN, name, value) for value in values), *more]
    return Resource(Statements.gather(rows, {"https://v/k#relay": "relay"}), FAN)


def en(text: str) -> Text:
    return Text(text, language="en")


def number(text: str, kind: str = "decimal") -> Text:
    return Text(text, XSD + kind)


#: values, how they are read, the answer
READ: list[tuple[tuple[Term, ...], Callable[[Resource], Any], Any]] = [
    # slugs
    ((), lambda r: r.slugs("it"), frozenset()),
    ((GUARD, COVER), lambda r: r.slugs("it"), frozenset({"guard", "cover"})),
    ((), lambda r: r.slug("it"), None),
    ((GUARD,), lambda r: r.slug("it"), "guard"),
    ((GUARD,), lambda r: r.needed_slug("it"), "guard"),
    ((Iri("https://v/p#test"),), lambda r: r.member("it", Purpose), Purpose.TEST),
    # concepts
    ((), lambda r: r.concept("it"), None),
    ((Iri("https://v/k#relay"),), lambda r: r.needed_concept("it"), Concept("relay", "relay")),
    ((Iri("https://v/k#b"), Iri("https://v/k#a")), lambda r: r.concepts("it"), (Concept("a", "a"), Concept("b", "b"))),
    # texts
    ((), lambda r: r.text("it"), None),
    ((Text("b"), Text("a")), lambda r: r.texts("it"), ("a", "b")),
    (
        (Text("Deckel", language="de"), Text("plain"), en("cover")),
        lambda r: r.texts("it"),
        ("cover", "plain", "Deckel"),
    ),
    ((Text("Deckel", language="de"), en("cover")), lambda r: r.text("it"), "cover"),
    ((Text("cover", language="en-GB"), Text("a")), lambda r: r.text("it"), "cover"),
    ((Text("Deckel", language="de"), Text("plain")), lambda r: r.text("it"), "plain"),
    ((Text("tapa", language="es"), Text("Deckel", language="de")), lambda r: r.text("it"), "Deckel"),
    # numbers
    ((), lambda r: r.number("it"), None),
    ((number("2.50"),), lambda r: r.number("it"), 2.5),
    ((number("2e-6", "double"),), lambda r: r.number("it"), 2e-6),
    ((number("-3", "integer"),), lambda r: r.needed_number("it"), -3.0),
    ((Text("+.5"),), lambda r: r.number("it"), 0.5),
    ((number("0"),), lambda r: r.number("it"), 0.0),
    ((), lambda r: r.count("it"), None),
    ((number("4", "integer"),), lambda r: r.count("it"), 4),
    ((number("4.0"),), lambda r: r.count("it"), 4),
    # flags, as one engine and as another spells them
    ((), lambda r: r.flag("it"), False),
    ((number("true", "boolean"),), lambda r: r.flag("it"), True),
    ((number("1", "boolean"),), lambda r: r.flag("it"), True),
    ((number("1", "integer"),), lambda r: r.flag("it"), True),
    ((number("false", "boolean"),), lambda r: r.flag("it"), False),
    ((number("0", "boolean"),), lambda r: r.flag("it"), False),
    # parts
    ((), lambda r: r.parts("it"), []),
]


@pytest.mark.parametrize(("values", "read", "answer"), READ)
def test_read(values: tuple[Term, ...], read: Callable[[Resource], Any], answer: Any) -> None:
    assert read(fan(*values)) == answer
    assert read(fan(*reversed(values))) == answer


#: values, how they are read, a word of the complaint
REFUSED: list[tuple[tuple[Term, ...], Callable[[Resource], Any], str]] = [
    ((), lambda r: r.needed_slug("it"), "fan has no it"),
    ((GUARD, COVER), lambda r: r.slug("it"), "more than one it: cover, guard"),
    ((GUARD, COVER), lambda r: r.needed_slug("it"), "more than one"),
    ((Text("guard"),), lambda r: r.slugs("it"), "must name a resource, not 'guard'"),
    ((Blank("b0"),), lambda r: r.slugs("it"), "must name a resource"),
    (
        (Iri("https://v/p#polish"),),
        lambda r: r.member("it", Purpose),
        "polish, which is none of inspect, test, replace",
    ),
    ((), lambda r: r.member("it", Purpose), "has no it"),
    ((), lambda r: r.needed_concept("it"), "has no it"),
    ((Iri("https://v/k#a"), Iri("https://v/k#b")), lambda r: r.concept("it"), "more than one it: a, b"),
    ((Iri("https://v/k#a"), Iri("https://w/k#a")), lambda r: r.concept("it"), "more than one"),
    ((Text("relay"),), lambda r: r.concepts("it"), "must name a resource"),
    ((en("a"), en("b")), lambda r: r.text("it"), "more than one it: 'a' and 'b'"),
    ((Text("a"), Text("b")), lambda r: r.text("it"), "more than one"),
    ((GUARD,), lambda r: r.texts("it"), "must be a text"),
    ((number("1"), number("2")), lambda r: r.number("it"), "more than one"),
    ((), lambda r: r.needed_number("it"), "has no it"),
    *(
        ((Text(text),), lambda r: r.number("it"), "no number")
        for text in ("ten", "", "nan", "INF", "inf", "1_0", " 1", "1e999", "0x1", "1,5", "٣")
    ),
    *(((number(text),), lambda r: r.count("it"), "whole number from 1") for text in ("0", "-1", "2.5")),
    *(((Text(text),), lambda r: r.flag("it"), "neither true nor false") for text in ("yes", "True", "")),
    ((number("true", "boolean"), number("false", "boolean")), lambda r: r.flag("it"), "more than one"),
    ((Text("note"),), lambda r: r.parts("it"), "must name a resource"),
    ((Iri(HERE + "nothing"),), lambda r: r.parts("it"), "names nothing, of which nothing is said"),
    ((Blank("b0"),), lambda r: r.parts("it"), "of which nothing is said"),
]


@pytest.mark.parametrize(("values", "read", "told"), REFUSED)
def test_refused(values: tuple[Term, ...], read: Callable[[Resource], Any], told: str) -> None:
    with pytest.raises(ContentBroken) as caught:
        read(fan(*values))
    assert told in caught.value.detail
    assert caught.value.detail.startswith("fan")


def test_resources_of_a_class_by_slug() -> None:
    rows = [row(Iri(HERE + slug), RDF_TYPE, Iri(FO + "Component")) for slug in ("c", "a", "b")]
    rows.append(row(Iri(HERE + "x"), RDF_TYPE, Iri(FO + "Device")))
    statements = Statements.gather(rows, {})
    assert [resource.id for resource in statements.of_class("Component")] == ["a", "b", "c"]
    assert list(statements.of_class("Caution")) == []


@pytest.mark.parametrize(
    ("labels", "found"),
    [
        ((), "fan"),
        ((Text("Lüfter", language="de"), en("fan motor")), "fan motor"),
        ((Text("Lüfter", language="de"), Text("plain")), "plain"),
        ((Text("Lüfter", language="de"),), "Lüfter"),
    ],
)
def test_label(labels: tuple[Text, ...], found: str) -> None:
    rows = tuple(row(FAN, RDFS_LABEL, label) for label in labels)
    assert fan(more=rows).label == fan(more=rows[::-1]).label == found


def test_labels_of_concepts_and_of_blank_nodes() -> None:
    graph = fan().graph
    assert graph.label(Iri("https://v/k#relay")) == "relay"
    assert graph.label(Iri("https://v/k#unknown")) == "unknown"
    assert graph.label(Blank("b")) == ""


def test_rows_with_something_unbound_are_passed_over() -> None:
    unbound: list[Row] = [{"subject": FAN, "property": Iri(FO + "it"), "value": None}]
    assert Statements.gather(unbound, {}).by_subject == {}


def test_sources() -> None:
    page, plain = Iri(HERE + "page"), Iri(HERE + "book")
    more = (
        row(page, RDFS_LABEL, en("Notes")),
        row(page, "locator", Text("page 4")),
        row(plain, RDFS_LABEL, en("Book")),
    )
    assert sources(fan(page, plain, name="source", more=more)) == (
        Source("book", "Book"),
        Source("page", "Notes", "page 4"),
    )


# --- order of parts --------------------------------------------------------------------------------


def with_labels(names: list[str], order: list[int]) -> Resource:
    """The fan with three blank parts, two of which differ only in a blank part of their own."""
    one, two, three, four, five = (Blank(name) for name in names)
    said = [
        row(FAN, "it", one),
        row(FAN, "it", two),
        row(FAN, "it", three),
        row(one, "size", Text("2")),
        row(two, "size", Text("1")),
        row(two, "holds", four),
        row(three, "size", Text("1")),
        row(three, "holds", five),
        row(four, "depth", Text("9")),
        row(four, "inside", two),
        row(five, "depth", Text("8")),
        row(five, "inside", three),
    ]
    return Resource(Statements.gather([said[at] for at in order], {}), FAN)


@given(st.permutations(["a", "b", "c", "d", "e"]), st.permutations(range(12)))
def test_order_of_parts_does_not_depend_on_blank_labels(names: list[str], order: list[int]) -> None:
    parts = with_labels(names, order).parts("it")
    assert [part.text("size") for part in parts] == ["1", "1", "2"]
    depths = [part.parts("holds")[0].text("depth") for part in parts[:2]]
    assert depths == ["8", "9"]


def test_order_of_named_parts_is_by_slug() -> None:
    more = (row(GUARD, "size", Text("1")), row(COVER, "size", Text("2")))
    assert [part.id for part in fan(GUARD, COVER, more=more).parts("it")] == ["cover", "guard"]


def test_a_platform_compiles_alike_every_time_it_is_loaded() -> None:
    """Labels of blank nodes are new with each load; with them nothing of the read model changes."""
    assert rows_of(TURTLE) != rows_of(TURTLE)
    assert compiled() == compiled()
    assert compiled(changed('"T-310"', '"T-311"')) != compiled()
