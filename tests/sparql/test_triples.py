"""Lines of N-Triples are read back as the triples that a store has, whichever way they are written."""

from __future__ import annotations

import pyoxigraph as ox
from hypothesis import given
from hypothesis import strategies as st

from firstoff.sparql.triples import n_triples, written_term
from firstoff.store.converting import from_engine
from firstoff.store.embedded import EmbeddedStore
from firstoff.store.interface import Store
from firstoff.store.terms import XSD, Iri, Row, Term, Text

GRAPH = Iri("https://firstoff.example/graph/one/1")
TURTLE = """@prefix : <http://x/> .
:a :b [ :c [ :d "e\\tf\\"g\\\\\\r\\n" ], "h"@EN-gb ; :i 1.50 ] , :a .
"""

texts = st.text(st.characters(exclude_categories=("Cs",)), max_size=12)
terms = (
    st.sampled_from(["http://x/a#é", "urn:x"]).map(Iri)
    | texts.map(Text)
    | texts.map(lambda text: Text(text, language="de-CH"))
    | texts.map(lambda text: Text(text, XSD + "token"))
)


class Selecting:
    """A store that does not write its graphs itself."""

    def __init__(self, store: Store) -> None:
        self._store = store

    def select(self, query: str, bindings: dict[str, Term] | None = None) -> list[Row]:
        return self._store.select(query, bindings)


@given(terms)
def test_terms(term: Term) -> None:
    line = f"<x:s> <x:p> {written_term(term)} ."
    (quad,) = ox.parse(line, format=ox.RdfFormat.N_TRIPLES)
    assert from_engine(quad.object) == term


def test_every_engine_writes_the_same_graph(any_store: Store) -> None:
    """By itself, or read row by row."""
    store = EmbeddedStore()
    count = store.put_graph(GRAPH, TURTLE, file="one.ttl")
    assert any_store.put_graph(GRAPH, TURTLE, file="one.ttl") == count
    datasets = []
    for each in (store, Selecting(store), any_store, Selecting(any_store)):
        lines = n_triples(each, GRAPH, "g1")  # type: ignore[arg-type]
        assert lines.count(b"\n") == count
        found = ox.Dataset(ox.parse(lines, format=ox.RdfFormat.N_TRIPLES))
        found.canonicalize(ox.CanonicalizationAlgorithm.UNSTABLE)
        datasets.append(found)
    assert all(each == datasets[0] for each in datasets)
    assert b"_:g1n0" in n_triples(Selecting(store), GRAPH, "g1")  # type: ignore[arg-type]


def test_no_graph_has_no_line() -> None:
    assert n_triples(EmbeddedStore(), GRAPH, "g") == b""
