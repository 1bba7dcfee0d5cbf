"""A question asked of a store: the same rows as other engines find, over the dataset that was meant."""

from __future__ import annotations

import json
from collections import Counter
from functools import cache

import pyoxigraph as ox
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from rdflib import Dataset as Graphs
from rdflib import URIRef

from firstoff.errors import AnswerTooLarge, BadRequest, NotAcceptable, QueryMalformed, QueryNotAllowed
from firstoff.sparql.asking import CSV_RESULTS, JSON_RESULTS, N_TRIPLES, TURTLE, Answer, Dataset, Limits, Question
from firstoff.sparql.evaluation import answered

ONE, TWO, THREE = "http://g/1", "http://g/2", "http://g/3"
#: Two triples stand in two graphs: what is merged must not have them twice.
QUADS = f"""<x:a> <x:p> <x:b> <{ONE}> .
<x:b> <x:p> <x:c> <{ONE}> .
<x:a> <x:q> "1"^^<http://www.w3.org/2001/XMLSchema#integer> <{ONE}> .
<x:a> <x:p> <x:b> <{TWO}> .
<x:c> <x:p> <x:a> <{TWO}> .
<x:b> <x:q> "zwei"@de <{TWO}> .
<x:c> <x:q> "2"^^<http://www.w3.org/2001/XMLSchema#integer> <{TWO}> .
<x:c> <x:p> <x:a> <{THREE}> .
<x:d> <x:q> "three" <{THREE}> .
"""
PLENTY = Limits(1.0, 1, 100_000, 10_000_000)


@cache
def store() -> ox.Store:
    """The graphs, and their union as the default graph, as a snapshot has it."""
    made = ox.Store()
    made.load(QUADS.encode(), format=ox.RdfFormat.N_QUADS)
    made.extend([ox.Quad(each.subject, each.predicate, each.object) for each in made])
    return made


def ask(text: str, dataset: Dataset | None = None, limits: Limits = PLENTY) -> Answer:
    question = Question(text, dataset or Dataset(), JSON_RESULTS, N_TRIPLES)
    return answered(store(), {ONE, TWO, THREE}, question, limits)


def rows(answer: Answer) -> Counter[frozenset[tuple[str, str]]]:
    bindings = json.loads(answer.body)["results"]["bindings"]
    return Counter(frozenset((name, term["value"]) for name, term in row.items()) for row in bindings)


# --- datasets --------------------------------------------------------------------------------------

#: dataset of the request, FROM of the query, how many triples are in the default graph, how many in the named ones
DATASETS = [
    (Dataset(), "", 7, 9),
    (Dataset((ONE,)), "", 3, 0),
    (Dataset((ONE, TWO)), "", 6, 0),
    (Dataset((ONE, TWO, THREE)), "", 7, 0),
    (Dataset(named=(TWO, THREE)), "", 0, 6),
    (Dataset((THREE,), (ONE,)), "", 2, 3),
    (Dataset((ONE, TWO), (TWO, THREE)), "", 6, 6),
    (Dataset(), f"FROM <{ONE}>", 3, 0),
    (Dataset(), f"FROM <{ONE}> FROM <{TWO}>", 6, 0),
    (Dataset(), f"FROM NAMED <{ONE}>", 0, 3),
    (Dataset(), f"BASE <http://g/> FROM <1> FROM <{TWO}> FROM NAMED <3>", 6, 2),
    (Dataset((THREE,)), f"FROM <{ONE}> FROM NAMED <{ONE}>", 2, 0),  # that of the request alone counts
]


@pytest.mark.parametrize(("dataset", "clause", "default", "named"), DATASETS)
def test_datasets(dataset: Dataset, clause: str, default: int, named: int) -> None:
    base, clause = ("BASE <http://g/>", clause.removeprefix("BASE <http://g/>")) if "BASE" in clause else ("", clause)
    for pattern, expected in (("?s ?p ?o", default), ("GRAPH ?g { ?s ?p ?o }", named)):
        answer = ask(f"{base} SELECT * {clause} {{ {pattern} }}", dataset)
        assert answer.rows == sum(rows(answer).values()) == expected
        counted = ask(f"{base} SELECT (COUNT(*) AS ?n) {clause} {{ {pattern} }}", dataset)
        assert rows(counted) == Counter([frozenset([("n", str(expected))])])


@pytest.mark.parametrize(
    ("text", "dataset"),
    [
        ("ASK FROM <http://localhost:9/data.ttl> {}", Dataset()),
        ("ASK FROM NAMED <file:///etc/passwd> {}", Dataset()),
        ("ASK {}", Dataset(("http://localhost:9/",))),
        ("ASK {}", Dataset((ONE,), ("not an IRI",))),
    ],
)
def test_a_graph_that_is_not_here_is_not_fetched(text: str, dataset: Dataset) -> None:
    with pytest.raises(BadRequest, match="none is fetched"):
        ask(text, dataset)


# --- answers ---------------------------------------------------------------------------------------


def test_forms() -> None:
    assert json.loads(ask("ASK { <x:a> <x:p>/<x:p> <x:c> }").body)["boolean"] is True
    assert json.loads(ask("ASK { <x:a> <x:p> <x:c> }").body)["boolean"] is False
    assert ask("CONSTRUCT { ?o <x:r> ?s } WHERE { ?s <x:p> ?o }").rows == 3
    assert b'<x:d> <x:q> "three" .' in ask("DESCRIBE <x:d>").body


def test_a_relative_iri_is_read_below_our_own() -> None:
    body = ask("CONSTRUCT { <s> <p> 1 } WHERE {}").body
    assert body.startswith(b"<https://firstoff.example/s> <https://firstoff.example/p> ")


@pytest.mark.parametrize(
    ("text", "result_type", "graph_type"),
    [("ASK {}", None, TURTLE), ("SELECT * {}", None, TURTLE), ("DESCRIBE <x:a>", CSV_RESULTS, None)],
)
def test_a_form_that_cannot_be_written_as_asked(text: str, result_type: str | None, graph_type: str | None) -> None:
    with pytest.raises(NotAcceptable):
        answered(store(), {ONE}, Question(text, Dataset(), result_type, graph_type), PLENTY)


@pytest.mark.parametrize(
    "text",
    [
        "SELECT ?x { ?s x:y ?x }",  # a prefix that is not declared
        "SELECT ?s (COUNT(*) AS ?n) { ?s ?p ?o }",  # neither grouped nor counted
        "SELECT (1 AS ?x) (2 AS ?x) {}",
        "ASK { BIND (1 AS ?x) BIND (2 AS ?x) }",
    ],
)
def test_what_only_the_engine_finds_wrong(text: str) -> None:
    with pytest.raises(QueryMalformed):
        ask(text)


def test_refused_before_it_runs() -> None:
    with pytest.raises(QueryNotAllowed):
        ask("SELECT * { SERVICE <http://localhost:9/> {} }")


def test_more_than_is_given_out_is_refused() -> None:
    assert ask("SELECT * { ?s ?p ?o }", limits=Limits(1.0, 1, 7, 10_000)).rows == 7
    with pytest.raises(AnswerTooLarge):
        ask("SELECT * { ?s ?p ?o }", limits=Limits(1.0, 1, 6, 10_000))
    with pytest.raises(AnswerTooLarge):  # what comes is counted, not what the query has to look at
        ask("CONSTRUCT WHERE { ?s ?p ?o }", limits=Limits(1.0, 1, 6, 10_000))
    assert ask("SELECT (COUNT(*) AS ?n) { ?s ?p ?o . ?a ?b ?c }", limits=Limits(1.0, 1, 1, 10_000)).rows == 1


# --- beside another engine -------------------------------------------------------------------------

nodes = st.sampled_from(["?x", "?y", "?z", "<x:a>", "<x:b>"])
#: No path of no length: from a constant that is not in the graph the engine finds none (SPARQL 1.1, 18.4, has one).
links = st.sampled_from(["<x:p>", "<x:q>", "?l", "<x:p>+", "^<x:p>", "<x:p>/<x:q>", "(<x:p>|<x:q>)", "!<x:p>"])
triples = st.builds("{} {} {} .".format, nodes, links, nodes)


def group(inner: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    return (
        st.builds("{} {}".format, inner, inner)
        | st.builds("{} OPTIONAL {{ {} }}".format, inner, inner)
        | st.builds("{{ {} }} UNION {{ {} }}".format, inner, inner)
        | st.builds("{} FILTER NOT EXISTS {{ {} }}".format, inner, triples)
        | st.builds("{} MINUS {{ {} }}".format, inner, inner)
        | st.builds("GRAPH <http://g/1> {{ {} }}".format, triples)
        | st.builds("GRAPH ?g {{ {} }}".format, st.builds("{} <x:q> {} .".format, nodes, nodes))
        | st.builds("{{ SELECT DISTINCT ?x {{ {} }} }}".format, inner)
    )


#: What rdflib says of its own names.
old_names = pytest.mark.filterwarnings("ignore::DeprecationWarning")
groups = st.recursive(triples, group, max_leaves=3)


@cache
def other() -> Graphs:
    made = Graphs(default_union=True)
    made.parse(data=QUADS, format="nquads")
    return made


@old_names
@given(pattern=groups, distinct=st.sampled_from(["", "DISTINCT "]))
def test_rows_are_those_of_another_engine(pattern: str, distinct: str) -> None:
    """rdflib's own engine over the same graphs."""
    text = f"SELECT {distinct}* {{ {pattern} }}"
    expected = Counter(
        frozenset((str(name), str(value)) for name, value in row.items()) for row in other().query(text).bindings
    )
    assert rows(ask(text)) == expected


@old_names
@given(pattern=groups, default=st.sets(st.sampled_from([ONE, TWO, THREE]), min_size=1))
def test_a_merged_default_graph_is_that_of_another_engine(pattern: str, default: set[str]) -> None:
    merged = Graphs()
    for name in default:
        for triple in other().graph(URIRef(name)):
            merged.add(triple)
    assume("GRAPH" not in pattern)
    text = f"SELECT * {{ {pattern} }}"
    expected = Counter(
        frozenset((str(name), str(value)) for name, value in row.items()) for row in merged.query(text).bindings
    )
    assert rows(ask(text, Dataset(tuple(sorted(default))))) == expected
