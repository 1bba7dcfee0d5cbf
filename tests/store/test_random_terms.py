"""Whatever the model may hold comes back from a server as from the embedded engine, and is verified on its way."""

from __future__ import annotations

from collections.abc import Iterator

import pyoxigraph as ox
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from firstoff.errors import ContentSyntax, NotHeld, QueryRefused
from firstoff.store.canonical import canonical
from firstoff.store.embedded import EmbeddedStore
from firstoff.store.remote import RemoteStore
from firstoff.store.skolem import GENID
from firstoff.store.terms import XSD, Blank, Iri, Row, Term, Text
from support import engines

GRAPH = Iri("https://firstoff.example/graph/random/1")

letters = st.characters(exclude_categories=["Cs", "Cc"]) | st.sampled_from("\n\t\r\"'\\{}<>?$#é😀")
texts = st.text(letters, max_size=20)
slugs = st.from_regex(r"[a-z][a-z0-9-]{0,8}", fullmatch=True)
iris = slugs.map(lambda slug: ox.NamedNode(f"https://firstoff.example/x/{slug}"))
decimals = st.decimals(-(10**6), 10**6, places=4).map(str)
literals = st.one_of(
    texts.map(ox.Literal),
    st.builds(lambda text, tag: ox.Literal(text, language=tag), texts, st.sampled_from(["en", "de", "es", "en-GB"])),
    st.booleans().map(ox.Literal),
    st.sampled_from("01").map(lambda said: ox.Literal(said, datatype=ox.NamedNode(XSD + "boolean"))),
    st.integers(-(2**31), 2**31 - 1).map(ox.Literal),
    decimals.map(lambda said: ox.Literal(said, datatype=ox.NamedNode(XSD + "decimal"))),
)
blanks = st.sampled_from([ox.BlankNode(name) for name in "abc"])
documents = st.lists(st.builds(ox.Triple, iris | blanks, iris, iris | blanks | literals), max_size=12)


@pytest.fixture(scope="module", params=["oxigraph", "virtuoso"])
def remote(request: pytest.FixtureRequest) -> Iterator[RemoteStore]:
    server: engines.Server = request.getfixturevalue(f"{request.param}_server")
    store = server.store()
    yield store
    store.close()


def shape(rows: list[Row]) -> list[tuple[object, ...]]:
    """The triples, each blank node by what is said of it and where it is named, whatever its label."""

    def told(term: Term | None, depth: int = 2) -> object:
        if not isinstance(term, Blank):
            return repr(term)
        if not depth:
            return "a blank node"
        said = [("of", row["property"], told(row["value"], depth - 1)) for row in rows if row["subject"] == term]
        named = [("in", row["property"], told(row["subject"], depth - 1)) for row in rows if row["value"] == term]
        return tuple(sorted(map(repr, [*said, *named])))

    return sorted(((told(row["subject"]), repr(row["property"]), told(row["value"])) for row in rows), key=repr)


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(triples=documents)
def test_a_server_gives_back_what_the_embedded_engine_does(remote: RemoteStore, triples: list[ox.Triple]) -> None:
    turtle = "\n".join(f"{triple} ." for triple in triples)
    embedded = EmbeddedStore()
    assert remote.put_graph(GRAPH, turtle, file="random.ttl") == embedded.put_graph(GRAPH, turtle, file="random.ttl")
    found, wanted = (store.select("statements", {"graph": GRAPH}) for store in (remote, embedded))
    assert shape(found) == shape(wanted)


def test_the_shape_of_triples_tells_them_apart() -> None:
    """The comparison above is able to fail."""
    one, two = EmbeddedStore(), EmbeddedStore()
    one.put_graph(GRAPH, "<x:a> <x:b> _:n , _:m . _:n <x:c> 1 . _:m <x:c> 2 .", file="one.ttl")
    two.put_graph(GRAPH, "<x:a> <x:b> _:n , _:m . _:n <x:c> 1, 2 .", file="two.ttl")
    assert shape(one.select("statements", {"graph": GRAPH})) != shape(two.select("statements", {"graph": GRAPH}))


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(value=literals)
def test_a_bound_value_finds_itself_alone(remote: RemoteStore, value: ox.Literal) -> None:
    """Whatever stands in it, it ends nothing in the text of the query."""
    term = Text(value.value, value.datatype.value, value.language)
    remote.put_graph(GRAPH, f"<x:a> <x:b> {value}, <x:other>, 'other'@fr .", file="one.ttl")
    rows = remote.rows("SELECT ?graph ?s ?o WHERE { GRAPH ?graph { ?s <x:b> ?o } }", {"graph": GRAPH, "o": term})
    assert [row["s"] for row in rows] == [Iri("x:a")]


def test_a_graph_that_goes_in_many_requests_keeps_its_blank_nodes(remote: RemoteStore) -> None:
    lines = "\n".join(f"_:n{n} <x:next> _:n{n + 1} . _:n{n} <x:size> {n} ." for n in range(1_200))
    assert remote.put_graph(GRAPH, lines, file="many.ttl") == 2_400
    rows = remote.select("statements", {"graph": GRAPH})
    size = {row["subject"]: int(row["value"].value) for row in rows if isinstance(row["value"], Text)}
    following = {row["subject"]: row["value"] for row in rows if isinstance(row["value"], Blank)}
    assert {size.get(after, 1_200) - size[before] for before, after in following.items()} == {1}


@pytest.mark.parametrize(
    "value",
    ["99999999999999999999", "3.141592653589793e0", "'a'^^<http://www.w3.org/2001/XMLSchema#integer>"],
)
def test_a_value_is_kept_as_it_is_or_refused(remote: RemoteStore, value: str) -> None:
    """One of the two servers keeps none of these as it is written; a large number for one comes back as another."""
    turtle, embedded = f"<x:a> <x:b> {value} .", EmbeddedStore()
    embedded.put_graph(GRAPH, turtle, file="one.ttl")
    try:
        remote.put_graph(GRAPH, turtle, file="one.ttl")
    except (NotHeld, QueryRefused):
        assert remote.select("statements", {"graph": GRAPH}) == []
    else:
        assert shape(remote.select("statements", {"graph": GRAPH})) == shape(
            embedded.select("statements", {"graph": GRAPH})
        )


def test_what_was_kept_as_something_else_is_told(remote: RemoteStore, monkeypatch: pytest.MonkeyPatch) -> None:
    change = remote._transport.change
    monkeypatch.setattr(remote._transport, "change", lambda text: change(text.replace('"heavy"', '"light"')))
    with pytest.raises(NotHeld, match=r"one\.ttl: .* 1 statements are missing and 1 .*heavy"):
        remote.put_graph(GRAPH, "<x:a> <x:b> 'heavy' .", file="one.ttl")
    assert remote.select("statements", {"graph": GRAPH}) == []


def test_an_address_that_stands_for_a_blank_node_is_refused(remote: RemoteStore) -> None:
    with pytest.raises(ContentSyntax, match="stands for a blank node"):
        remote.put_graph(GRAPH, f"<x:a> <x:b> <{GENID}1> .", file="one.ttl")


@pytest.mark.parametrize(
    ("said", "datatype", "one_way"),
    [
        ("1", "boolean", "true"),
        ("0", "boolean", "false"),
        ("maybe", "boolean", "maybe"),
        ("+007", "integer", "7"),
        ("-0", "integer", "0"),
        ("9" * 5000, "integer", "9" * 5000),
        ("7.", "integer", "7."),
        ("1.50", "decimal", "1.5"),
        ("-0.0", "decimal", "0"),
        (".5", "decimal", "0.5"),
        ("5.", "decimal", "5"),
        ("1e-3", "double", "1.0E-3"),
        ("-0", "double", "-0.0E0"),
        ("12345678.9e2", "double", "1.23456789E9"),
        ("+INF", "double", "INF"),
        ("1e999", "double", "1e999"),
        ("1.50", "string", "1.50"),
    ],
)
def test_one_spelling_for_each_value(said: str, datatype: str, one_way: str) -> None:
    assert canonical(said, XSD + datatype) == one_way
    assert canonical(one_way, XSD + datatype) == one_way
