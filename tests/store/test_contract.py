"""What every engine does alike: in memory, in a folder, and two servers on the network."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable

import pytest

from firstoff.errors import QueryRefused, StoreError
from firstoff.store import embedded, remote
from firstoff.store.embedded import EmbeddedStore
from firstoff.store.interface import Store
from firstoff.store.pointing import CATALOGUE
from firstoff.store.terms import XSD, Blank, Iri, Term, Text

ONE = Iri("https://firstoff.example/graph/one/1")
TWO = Iri("https://firstoff.example/graph/one/2")
PLATFORM = Iri("https://firstoff.example/platform/one")
BAD_IRI = Iri("no scheme")
PREFIX = "@prefix : <http://x/> .\n"


@pytest.fixture
def store(any_store: Store) -> Store:
    return any_store


def named(monkeypatch: pytest.MonkeyPatch, text: str) -> None:
    """Every named query is ``text``."""
    for engine in (embedded, remote):
        monkeypatch.setattr(engine, "query_text", lambda _: text)


def triples(store: Store, graph: Iri) -> list[tuple[Term | None, ...]]:
    rows = store.select("statements", {"graph": graph})
    return [(row["subject"], row["property"], row["value"]) for row in rows]


def values(store: Store, graph: Iri) -> list[Term | None]:
    return [value for _, _, value in triples(store, graph)]


def test_a_graph_holds_what_was_put(store: Store) -> None:
    assert store.put_graph(ONE, PREFIX + ":a :b :c, :d . :a :b :c .", file="one.ttl") == 2
    assert Counter(values(store, ONE)) == Counter([Iri("http://x/c"), Iri("http://x/d")])


def test_graphs_do_not_mix(store: Store) -> None:
    store.put_graph(ONE, PREFIX + ":a :b 1 .", file="one.ttl")
    store.put_graph(TWO, PREFIX + ":a :b 2 .", file="two.ttl")
    assert values(store, ONE) == [Text("1", XSD + "integer")]
    assert values(store, TWO) == [Text("2", XSD + "integer")]


@pytest.mark.parametrize("after", [":a :b 2 .", ":a :b 1, 2, 3 .", ":a :b [ :c 4 ] .", ""], ids=repr)
def test_a_graph_put_again_holds_the_new_triples_only(store: Store, after: str) -> None:
    fresh = EmbeddedStore()
    store.put_graph(ONE, PREFIX + ":a :b 1 . :old :b [ :c 9 ] .", file="one.ttl")
    count = store.put_graph(ONE, PREFIX + after, file="one.ttl")
    assert count == fresh.put_graph(ONE, PREFIX + after, file="one.ttl")

    def without_labels(of: Store) -> Counter[tuple[object, ...]]:
        return Counter(tuple("_" if isinstance(t, Blank) else t for t in triple) for triple in triples(of, ONE))

    assert without_labels(store) == without_labels(fresh)
    assert len(triples(store, ONE)) == count


def test_terms_of_every_kind_come_back(store: Store) -> None:
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
def test_numbers_keep_their_value_though_not_their_spelling(store: Store, written: str, datatype: str) -> None:
    store.put_graph(ONE, PREFIX + f":a :b {written} .", file="one.ttl")
    (found,) = values(store, ONE)
    assert isinstance(found, Text)
    assert (float(found.value), found.datatype) == (float(written), XSD + datatype)


def test_blank_nodes_keep_their_identity_within_an_answer(store: Store) -> None:
    store.put_graph(ONE, PREFIX + ":a :part [ :size 1 ; :depth 2 ], [ :size 3 ; :depth 4 ] .", file="one.ttl")
    said: dict[Term | None, set[str]] = {}
    for subject, _, value in triples(store, ONE):
        if isinstance(value, Text):
            said.setdefault(subject, set()).add(value.value)
    parts = {value for value in values(store, ONE) if isinstance(value, Blank)}
    assert set(said) == parts
    assert sorted(map(sorted, said.values())) == [["1", "2"], ["3", "4"]]


def test_blank_nodes_of_two_graphs_are_different(store: Store) -> None:
    for graph in (ONE, TWO):
        store.put_graph(graph, PREFIX + "_:same :b 1 .", file="one.ttl")
    assert triples(store, ONE)[0][0] != triples(store, TWO)[0][0]


def current(store: Store) -> list[tuple[Term | None, ...]]:
    return sorted(((row["platform"], row["graph"], row["revision"]) for row in store.select("platforms")), key=repr)


def test_the_pointer_moves_to_a_new_version(store: Store) -> None:
    store.point(PLATFORM, ONE, "r1")
    assert current(store) == [(PLATFORM, ONE, Text("r1"))]
    store.point(PLATFORM, TWO, "r2")
    assert current(store) == [(PLATFORM, TWO, Text("r2"))]
    store.point(PLATFORM, ONE, "r1")
    assert current(store) == [(PLATFORM, ONE, Text("r1"))]


def test_the_same_graph_has_one_revision(store: Store) -> None:
    store.point(PLATFORM, ONE, "r1")
    store.point(PLATFORM, ONE, "r2")
    assert current(store) == [(PLATFORM, ONE, Text("r2"))]


def test_a_pointer_moves_alone(store: Store) -> None:
    other = Iri("https://firstoff.example/platform/other")
    store.point(PLATFORM, ONE, "r1")
    store.point(other, ONE, "r1")
    store.point(PLATFORM, TWO, "r2")
    assert {(platform, graph) for platform, graph, _ in current(store)} == {(PLATFORM, TWO), (other, ONE)}


def test_a_revision_is_text_whatever_stands_in_it(store: Store) -> None:
    store.point(PLATFORM, ONE, 'a" . <http://x/a> <http://x/b> "c')
    assert [revision for _, _, revision in current(store)] == [Text('a" . <http://x/a> <http://x/b> "c')]
    assert len(triples(store, CATALOGUE)) == 4  # the pointer; revision, size and number of the graph


def test_a_binding_is_a_value_and_no_text(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    store.put_graph(ONE, PREFIX + ':a :b "} UNION { ?s ?p ?o" . :c :d "other" .', file="one.ttl")
    named(monkeypatch, "SELECT ?s ?o WHERE { GRAPH ?g { ?s ?p ?o } }")
    found = store.select("any", {"o": Text("} UNION { ?s ?p ?o")})
    assert [row["s"] for row in found] == [Iri("http://x/a")]
    with pytest.raises(QueryRefused):
        store.select("any", {"s": Iri("http://x/a> ?p ?o . <http://x/c")})


@pytest.mark.parametrize(
    "bindings",
    [{"nobody": ONE}, {"no variable": ONE}, {"graph": Blank("b")}, {"graph": Iri("no scheme")}],
    ids=repr,
)
def test_a_binding_that_cannot_be_is_refused(store: Store, bindings: dict[str, Term]) -> None:
    with pytest.raises(StoreError):
        store.select("statements", bindings)


@pytest.mark.parametrize(
    ("text", "ours"),
    [
        ("SELECT * {", QueryRefused),
        ("ASK { ?s ?p ?o }", QueryRefused),
        ("CONSTRUCT { ?s ?p ?o } WHERE { ?s ?p ?o }", QueryRefused),
        ("DESCRIBE <http://x/a>", QueryRefused),
        ("DELETE WHERE { ?s ?p ?o }", QueryRefused),
    ],
)
def test_a_query_that_cannot_be_answered(
    store: Store, text: str, ours: type[StoreError], monkeypatch: pytest.MonkeyPatch
) -> None:
    named(monkeypatch, text)
    with pytest.raises(ours):
        store.select("any")


def test_a_query_that_is_not_there(store: Store) -> None:
    with pytest.raises(QueryRefused, match="no query 'none'"):
        store.select("none")


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
def test_what_is_no_term_is_refused(store: Store, call: Callable[[Store], object]) -> None:
    with pytest.raises(QueryRefused):
        call(store)
