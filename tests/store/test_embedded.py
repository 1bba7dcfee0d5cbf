"""The embedded engine: graphs are whole, pointers move, values are bound and errors are ours."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pyoxigraph as ox
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.errors import ContentSyntax, EngineFailed, QueryRefused, StoreError
from firstoff.store.embedded import EmbeddedStore, translated
from firstoff.store.queries import query_text
from firstoff.store.terms import XSD, Iri, Term, Text

ONE = Iri("https://firstoff.example/graph/one/1")
TWO = Iri("https://firstoff.example/graph/one/2")
PLATFORM = Iri("https://firstoff.example/platform/one")
PREFIX = "@prefix : <http://x/> .\n"


def triples(store: EmbeddedStore, graph: Iri) -> list[tuple[Term | None, ...]]:
    rows = store.select("statements", {"graph": graph})
    return [(row["subject"], row["property"], row["value"]) for row in rows]


def values(store: EmbeddedStore, graph: Iri) -> list[Term | None]:
    return [value for _, _, value in triples(store, graph)]


# --- graphs ----------------------------------------------------------------------------------------


@given(st.lists(st.text(st.characters(exclude_categories=["Cs"]), max_size=12), max_size=4))
def test_any_text_survives_being_put_twice(texts: list[str]) -> None:
    """The second time the triples go through the text of an update: quotes and escapes must hold."""
    store = EmbeddedStore()
    node = ox.NamedNode("http://x/a")
    turtle = "\n".join(f"{node} {node} {ox.Literal(text)} ." for text in texts)
    for _ in range(2):
        store.put_graph(ONE, turtle, file="one.ttl")
        assert {value.value for value in values(store, ONE) if isinstance(value, Text)} == set(texts)


class Engine:
    """The engine of a store, which a test can hold back: ``before`` is told of each call and may raise."""

    def __init__(self, engine: ox.Store, before: Callable[[str, Any], None], ending: str = "") -> None:
        self._engine, self._before, self._ending = engine, before, ending

    def contains_named_graph(self, name: ox.NamedNode) -> bool:
        return self._engine.contains_named_graph(name)

    def load(self, content: bytes, *, format: ox.RdfFormat, to_graph: ox.NamedNode) -> None:  # noqa: A002
        self._before("load", content)
        self._engine.load(content, format=format, to_graph=to_graph)

    def update(self, text: str) -> None:
        self._before("update", text)
        self._engine.update(text + self._ending)

    def query(self, text: str, *, substitutions: Any = None) -> Any:
        self._before("query", (text, substitutions))
        return self._engine.query(text, substitutions=substitutions)


def held_back(store: EmbeddedStore, before: Callable[[str, Any], None], ending: str = "") -> None:
    store._engine = Engine(store._engine, before, ending)  # type: ignore[assignment]


def test_a_graph_that_fails_to_be_replaced_stays() -> None:
    store = EmbeddedStore()
    store.put_graph(ONE, PREFIX + ":a :b 1 .", file="one.ttl")
    held_back(store, lambda *_: None, ending=f" ; CREATE GRAPH <{ONE.value}>")
    with pytest.raises(EngineFailed):
        store.put_graph(ONE, PREFIX + ":a :b 2 .", file="one.ttl")
    assert values(store, ONE) == [Text("1", XSD + "integer")]


def test_a_reader_in_the_middle_keeps_the_old_graph() -> None:
    store = EmbeddedStore()
    store.put_graph(ONE, PREFIX + ":a :b 1, 2, 3 .", file="one.ttl")
    reader = store._engine.query(f"SELECT ?o WHERE {{ GRAPH <{ONE.value}> {{ ?s ?p ?o }} }}")
    assert isinstance(reader, ox.QuerySolutions)
    seen = [next(reader)[0].value]
    store.put_graph(ONE, PREFIX + ":a :b 4 .", file="one.ttl")
    seen += [solution[0].value for solution in reader]
    assert sorted(seen) == ["1", "2", "3"]
    assert values(store, ONE) == [Text("4", XSD + "integer")]


# --- binding ---------------------------------------------------------------------------------------


def test_the_text_of_a_query_reaches_the_engine_unchanged() -> None:
    seen: list[Any] = []
    store = EmbeddedStore()
    held_back(store, lambda *call: seen.append(call))
    store.select("statements", {"graph": ONE})
    bound = {ox.Variable("graph"): ox.NamedNode(ONE.value)}
    assert seen == [("query", (query_text("statements"), bound))]


# --- errors ----------------------------------------------------------------------------------------

BAD_IRI = Iri("no scheme")
CALLS: dict[str, Callable[[EmbeddedStore], object]] = {
    "put_graph, new": lambda store: store.put_graph(TWO, PREFIX + ":a :b 1 .", file="one.ttl"),
    "put_graph, again": lambda store: store.put_graph(ONE, PREFIX + ":a :b 2 .", file="one.ttl"),
    "point": lambda store: store.point(PLATFORM, ONE, "r1"),
    "select": lambda store: store.select("platforms"),
}


@pytest.mark.parametrize("call", CALLS)
@pytest.mark.parametrize(
    ("raised", "ours"),
    [
        (SyntaxError("s"), QueryRefused),
        (ValueError("v"), QueryRefused),
        (UnicodeEncodeError("utf-8", "\ud800", 0, 1, "u"), QueryRefused),
        (RuntimeError("r"), EngineFailed),
        (OSError("o"), EngineFailed),
        (FileNotFoundError("f"), EngineFailed),
        (MemoryError("m"), EngineFailed),
        (TypeError("t"), EngineFailed),
    ],
    ids=lambda value: type(value).__name__ if isinstance(value, Exception) else value.__name__,
)
def test_no_exception_of_the_engine_comes_through(call: str, raised: Exception, ours: type[StoreError]) -> None:
    def fail(*_: Any) -> None:
        raise raised

    store = EmbeddedStore()
    store.put_graph(ONE, PREFIX + ":a :b 1 .", file="one.ttl")
    store.point(PLATFORM, ONE, "r0")
    engine = store._engine
    held_back(store, fail)
    loads = call == "put_graph, new" and isinstance(raised, SyntaxError)  # then it is the document that is wrong
    if loads:
        store._engine = engine
        held_back(store, lambda what, _: fail() if what == "load" else None)
    with pytest.raises(ContentSyntax if loads else ours) as caught:
        CALLS[call](store)
    assert caught.value.__cause__ is raised
    assert type(translated(raised)) is ours
