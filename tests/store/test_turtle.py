"""Turtle with a mistake in it: what is told, and that nothing of it is loaded."""

from __future__ import annotations

import pytest

from firstoff.errors import ContentSyntax
from firstoff.store.embedded import EmbeddedStore
from firstoff.store.terms import Iri
from firstoff.store.turtle import triples_of

GRAPH = Iri("https://firstoff.example/graph/x/1")
GOOD = "@prefix : <http://x/> .\n:a :b :c .\n"

#: Turtle, line, column, a word of what is told. Lines and columns count from 1.
BROKEN = [
    pytest.param(GOOD + ':d   4 "s" .\n', 3, 6, "4 is not a valid predicate", id="number as a predicate"),
    pytest.param(GOOD + "q:d :b :c .\n", 3, 1, "prefix q:", id="unknown prefix"),
    pytest.param(GOOD + ":a :b <relative> .\n", 3, 7, "No scheme", id="relative IRI"),
    pytest.param(GOOD + ':a :b "x"\n', 4, 1, "followed by a dot", id="no full stop"),
    pytest.param('"é" :b :c .\n', 1, 1, "not a valid subject", id="text as a subject"),
    pytest.param(GOOD + ':a :b "half \ud800" .\n', 3, None, "surrogate", id="surrogate"),
    pytest.param(GOOD + ':a :b <<( :a :b "x" )>> .\n', None, None, "triple about a triple", id="triple term"),
    pytest.param(GOOD + '<< :a :b "x" >> :said :d .\n', None, None, "triple about a triple", id="reified triple"),
    pytest.param(GOOD + ':a :b "x"@en--ltr .\n', None, None, "direction", id="direction"),
]


@pytest.mark.parametrize(("turtle", "line", "column", "told"), BROKEN)
def test_says_where_and_what(turtle: str, line: int | None, column: int | None, told: str) -> None:
    with pytest.raises(ContentSyntax) as caught:
        triples_of(turtle, file="x.ttl")
    error = caught.value
    assert (error.file, error.line, error.column) == ("x.ttl", line, column)
    assert told in error.expected
    assert "Parser error" not in error.expected
    assert error.detail == (f"x.ttl, line {line}: {error.expected}" if line else f"x.ttl: {error.expected}")


@pytest.mark.parametrize(("turtle", "line", "column", "told"), BROKEN)
def test_nothing_is_loaded(turtle: str, line: int | None, column: int | None, told: str) -> None:
    store = EmbeddedStore()
    with pytest.raises(ContentSyntax):
        store.put_graph(GRAPH, turtle, file="x.ttl")
    assert store.select("statements", {"graph": GRAPH}) == []
    store.put_graph(GRAPH, GOOD, file="x.ttl")
    with pytest.raises(ContentSyntax):
        store.put_graph(GRAPH, turtle, file="x.ttl")
    assert len(store.select("statements", {"graph": GRAPH})) == 1


def test_each_triple_once() -> None:
    assert len(triples_of(GOOD + ":a :b :c .\n", file="x.ttl")) == 1
