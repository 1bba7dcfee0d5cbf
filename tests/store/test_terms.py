"""Our terms, and what becomes of them on the way to the engine and back."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pyoxigraph import BaseDirection, BlankNode, Literal, NamedNode, Triple

from firstoff.errors import EngineFailed, QueryRefused
from firstoff.store.converting import from_engine, to_engine
from firstoff.store.terms import XSD, Blank, Iri, Term, Text

LANG_STRING = "http://www.w3.org/1999/02/22-rdf-syntax-ns#langString"

#: Characters an RDF literal may hold: all but surrogates.
TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)


@pytest.mark.parametrize(
    ("iri", "slug"),
    [
        ("https://firstoff.example/ontology#needsOff", "needsOff"),
        ("https://firstoff.example/model/bm-20", "bm-20"),
        ("https://firstoff.example/a/b#c", "c"),
        ("https://firstoff.example/a#b/c", "b/c"),
        ("urn:x", "urn:x"),
    ],
)
def test_slug(iri: str, slug: str) -> None:
    assert Iri(iri).slug == slug


@pytest.mark.parametrize(
    "term",
    [
        Iri("https://firstoff.example/model/bm-20"),
        Iri("https://firstoff.example/grün"),
        Text("plain"),
        Text(""),
        Text("Lüfter", language="de"),
        Text("colour", language="en-GB"),
        Text("2.50", XSD + "decimal"),
        Text("1", XSD + "boolean"),
        Text("not a number", XSD + "integer"),
        Text('"\\\n\t\u2028\U0001f600', XSD + "string"),
    ],
)
def test_goes_to_the_engine_and_comes_back(term: Term) -> None:
    assert from_engine(to_engine(term)) == term


@given(TEXTS, st.sampled_from([None, "en", "de", "es-MX"]))
def test_any_text_comes_back(value: str, language: str | None) -> None:
    text = Text(value, language=language)
    assert from_engine(to_engine(text)) == text


def test_a_language_makes_the_datatype() -> None:
    assert Text("a", language="EN") == Text("a", LANG_STRING, "en")
    assert Text("a", language="en") != Text("a")


def test_unbound_and_blank_come_from_the_engine() -> None:
    assert from_engine(None) is None
    assert from_engine(BlankNode("b1")) == Blank("b1")


@pytest.mark.parametrize(
    "term",
    [
        Triple(NamedNode("http://a"), NamedNode("http://b"), Literal("c")),
        Literal("a", language="en", direction=BaseDirection.LTR),
    ],
    ids=["triple", "direction"],
)
def test_a_term_that_nothing_reads_is_refused(term: object) -> None:
    with pytest.raises(EngineFailed, match="unexpected kind"):
        from_engine(term)


@pytest.mark.parametrize(
    "term",
    [
        Blank("b1"),
        Iri("no scheme"),
        Iri(""),
        Iri("http://half\ud800"),
        Text("a", language="not a tag"),
        Text("a", "no scheme"),
        Text("half \ud800"),
    ],
    ids=repr,
)
def test_what_is_no_term_is_refused(term: Term) -> None:
    with pytest.raises(QueryRefused):
        to_engine(term)
