"""The embedded engine: graphs are whole, pointers move, values are bound and errors are ours."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from typing import Any

import pyoxigraph as ox
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.errors import ContentSyntax, EngineFailed, QueryRefused, StoreError
from firstoff.store import embedded
from firstoff.store.embedded import CATALOGUE, EmbeddedStore, translated
from firstoff.store.queries import query_text
from firstoff.store.terms import XSD, Blank, Iri, Row, Term, Text

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


def test_a_graph_holds_what_was_put() -> None:
    store = EmbeddedStore()
    assert store.put_graph(ONE, PREFIX + ":a :b :c, :d . :a :b :c .", file="one.ttl") == 2
    assert Counter(values(store, ONE)) == Counter([Iri("http://x/c"), Iri("http://x/d")])


def test_graphs_do_not_mix() -> None:
    store = EmbeddedStore()
    store.put_graph(ONE, PREFIX + ":a :b 1 .", file="one.ttl")
    store.put_graph(TWO, PREFIX + ":a :b 2 .", file="two.ttl")
    assert values(store, ONE) == [Text("1", XSD + "integer")]
    assert values(store, TWO) == [Text("2", XSD + "integer")]


@pytest.mark.parametrize("after", [":a :b 2 .", ":a :b 1, 2, 3 .", ":a :b [ :c 4 ] .", ""], ids=repr)
def test_a_graph_put_again_holds_the_new_triples_only(after: str) -> None:
    store, fresh = EmbeddedStore(), EmbeddedStore()
    store.put_graph(ONE, PREFIX + ":a :b 1 . :old :b [ :c 9 ] .", file="one.ttl")
    count = store.put_graph(ONE, PREFIX + after, file="one.ttl")
    assert count == fresh.put_graph(ONE, PREFIX + after, file="one.ttl")

    def without_labels(of: EmbeddedStore) -> Counter[tuple[object, ...]]:
        return Counter(tuple("_" if isinstance(t, Blank) else t for t in triple) for triple in triples(of, ONE))

    assert without_labels(store) == without_labels(fresh)
    assert len(triples(store, ONE)) == count


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
    reader = store._engine.query("SELECT ?o WHERE { GRAPH ?g { ?s ?p ?o } }")
    assert isinstance(reader, ox.QuerySolutions)
    seen = [next(reader)[0].value]
    store.put_graph(ONE, PREFIX + ":a :b 4 .", file="one.ttl")
    seen += [solution[0].value for solution in reader]
    assert sorted(seen) == ["1", "2", "3"]
    assert values(store, ONE) == [Text("4", XSD + "integer")]


def test_terms_of_every_kind_come_back() -> None:
    store = EmbeddedStore()
    turtle = PREFIX + ':a :b :c, "x", "x"@de, 42, true, "P1D"^^<http://x/t>, [] .'
    store.put_graph(ONE, turtle, file="one.ttl")
    found = values(store, ONE)
    assert sum(isinstance(value, Blank) for value in found) == 1
    assert {value for value in found if not isinstance(value, Blank)} == {
        Iri("http://x/c"),
        Text("x"),
        Text("x", language="de"),
        Text("42", XSD + "integer"),
        Text("true", XSD + "boolean"),
        Text("P1D", "http://x/t"),
    }


@pytest.mark.parametrize(("written", "datatype"), [("2.50", "decimal"), ("1e-3", "double"), ("-0.10", "decimal")])
def test_numbers_keep_their_value_though_not_their_spelling(written: str, datatype: str) -> None:
    store = EmbeddedStore()
    store.put_graph(ONE, PREFIX + f":a :b {written} .", file="one.ttl")
    (found,) = values(store, ONE)
    assert isinstance(found, Text)
    assert (float(found.value), found.datatype) == (float(written), XSD + datatype)


def test_blank_nodes_keep_their_identity_within_an_answer() -> None:
    store = EmbeddedStore()
    store.put_graph(ONE, PREFIX + ":a :part [ :size 1 ; :depth 2 ], [ :size 3 ; :depth 4 ] .", file="one.ttl")
    said: dict[Term | None, set[str]] = {}
    for subject, _, value in triples(store, ONE):
        if isinstance(value, Text):
            said.setdefault(subject, set()).add(value.value)
    parts = {value for value in values(store, ONE) if isinstance(value, Blank)}
    assert set(said) == parts
    assert sorted(map(sorted, said.values())) == [["1", "2"], ["3", "4"]]


def test_blank_nodes_of_two_graphs_are_different() -> None:
    store = EmbeddedStore()
    for graph in (ONE, TWO):
        store.put_graph(graph, PREFIX + "_:same :b 1 .", file="one.ttl")
    assert triples(store, ONE)[0][0] != triples(store, TWO)[0][0]


# --- pointers --------------------------------------------------------------------------------------


def current(store: EmbeddedStore) -> list[Row]:
    return sorted(store.select("platforms"), key=repr)


def test_the_pointer_moves_to_a_new_version() -> None:
    store = EmbeddedStore()
    store.point(PLATFORM, ONE, "r1")
    assert current(store) == [{"platform": PLATFORM, "graph": ONE, "revision": Text("r1")}]
    store.point(PLATFORM, TWO, "r2")
    assert current(store) == [{"platform": PLATFORM, "graph": TWO, "revision": Text("r2")}]
    store.point(PLATFORM, ONE, "r1")
    assert current(store) == [{"platform": PLATFORM, "graph": ONE, "revision": Text("r1")}]


def test_the_same_graph_has_one_revision() -> None:
    store = EmbeddedStore()
    store.point(PLATFORM, ONE, "r1")
    store.point(PLATFORM, ONE, "r2")
    assert current(store) == [{"platform": PLATFORM, "graph": ONE, "revision": Text("r2")}]


def test_a_pointer_moves_alone() -> None:
    store, other = EmbeddedStore(), Iri("https://firstoff.example/platform/other")
    store.point(PLATFORM, ONE, "r1")
    store.point(other, ONE, "r1")
    store.point(PLATFORM, TWO, "r2")
    assert {(row["platform"], row["graph"]) for row in current(store)} == {(PLATFORM, TWO), (other, ONE)}


def test_a_revision_is_text_whatever_stands_in_it() -> None:
    store = EmbeddedStore()
    store.point(PLATFORM, ONE, 'a" . <http://x/a> <http://x/b> "c')
    assert [row["revision"] for row in current(store)] == [Text('a" . <http://x/a> <http://x/b> "c')]
    assert len(triples(store, CATALOGUE)) == 2


# --- binding ---------------------------------------------------------------------------------------


def test_a_binding_is_a_value_and_no_text(monkeypatch: pytest.MonkeyPatch) -> None:
    query = "SELECT ?s ?o WHERE { GRAPH ?g { ?s ?p ?o } }"
    monkeypatch.setattr(embedded, "query_text", lambda _: query)
    store = EmbeddedStore()
    store.put_graph(ONE, PREFIX + ':a :b "} UNION { ?s ?p ?o" . :c :d "other" .', file="one.ttl")
    found = store.select("any", {"o": Text("} UNION { ?s ?p ?o")})
    assert [row["s"] for row in found] == [Iri("http://x/a")]
    with pytest.raises(QueryRefused):
        store.select("any", {"s": Iri("http://x/a> ?p ?o . <http://x/c")})


def test_the_text_of_a_query_reaches_the_engine_unchanged() -> None:
    seen: list[Any] = []
    store = EmbeddedStore()
    held_back(store, lambda *call: seen.append(call))
    store.select("statements", {"graph": ONE})
    bound = {ox.Variable("graph"): ox.NamedNode(ONE.value)}
    assert seen == [("query", (query_text("statements"), bound))]


@pytest.mark.parametrize(
    "bindings",
    [{"nobody": ONE}, {"no variable": ONE}, {"graph": Blank("b")}, {"graph": Iri("no scheme")}],
    ids=repr,
)
def test_a_binding_that_cannot_be_is_refused(bindings: dict[str, Term]) -> None:
    with pytest.raises(StoreError):
        EmbeddedStore().select("statements", bindings)


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
    held_back(store, fail)
    loads = call == "put_graph, new" and isinstance(raised, SyntaxError)  # then it is the document that is wrong
    with pytest.raises(ContentSyntax if loads else ours) as caught:
        CALLS[call](store)
    assert caught.value.__cause__ is raised
    assert type(translated(raised)) is ours


@pytest.mark.parametrize(
    ("text", "ours"),
    [
        ("SELECT * {", QueryRefused),
        ("SELECT ?x WHERE { ?x <relative> ?y }", QueryRefused),
        ("ASK { ?s ?p ?o }", QueryRefused),
        ("CONSTRUCT { ?s ?p ?o } WHERE { ?s ?p ?o }", QueryRefused),
        ("DESCRIBE <http://x/a>", QueryRefused),
        ("DELETE WHERE { ?s ?p ?o }", QueryRefused),
    ],
)
def test_a_query_that_cannot_be_answered(text: str, ours: type[StoreError], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(embedded, "query_text", lambda _: text)
    with pytest.raises(ours):
        EmbeddedStore().select("any")


def test_a_query_that_is_not_there() -> None:
    with pytest.raises(QueryRefused, match="no query 'none'"):
        EmbeddedStore().select("none")


@pytest.mark.parametrize(
    "call",
    [
        lambda store: store.put_graph(BAD_IRI, "", file="x.ttl"),
        lambda store: store.point(BAD_IRI, ONE, "r"),
        lambda store: store.point(PLATFORM, BAD_IRI, "r"),
        lambda store: store.point(PLATFORM, ONE, "half \ud800"),
        lambda store: store.select("statements", {"graph": BAD_IRI}),
    ],
    ids=["put_graph", "platform", "graph", "revision", "binding"],
)
def test_what_is_no_term_is_refused(call: Callable[[EmbeddedStore], object]) -> None:
    with pytest.raises(QueryRefused):
        call(EmbeddedStore())
