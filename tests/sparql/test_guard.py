"""What is refused before it runs, however it is hidden; what a query is found to be."""

from __future__ import annotations

import pytest

from firstoff.errors import QueryMalformed, QueryNotAllowed
from firstoff.sparql.asking import QUERY_CHARACTERS, Dataset
from firstoff.sparql.guard import inspected

ELSEWHERE = "SERVICE <http://localhost:9/sparql> { ?a ?b ?c }"

#: queries that ask another service
SERVICES = [
    f"SELECT * {{ {ELSEWHERE} }}",
    f"select * where {{ ?s ?p ?o . {ELSEWHERE.lower()} }}",
    "SELECT * { SERVICE SILENT <http://localhost:9/> { ?a ?b ?c } }",
    "SELECT * { ?where ?p ?o SERVICE ?where { ?a ?b ?c } }",  # the address from the data
    "PREFIX x: <http://localhost:9/> SELECT * { SERVICE x:y { } }",
    f"SELECT * {{ ?s ?p ?o FILTER EXISTS {{ {ELSEWHERE} }} }}",
    f"SELECT * {{ ?s ?p ?o FILTER NOT EXISTS {{ {ELSEWHERE} }} }}",
    f"SELECT * {{ ?s ?p ?o FILTER (1 = 1 || EXISTS {{ {ELSEWHERE} }}) }}",
    f"SELECT * {{ ?s ?p ?o BIND (EXISTS {{ {ELSEWHERE} }} AS ?x) }}",
    f"SELECT (EXISTS {{ {ELSEWHERE} }} AS ?x) {{ }}",
    f"SELECT * {{ ?s ?p ?o }} ORDER BY (EXISTS {{ {ELSEWHERE} }})",
    f"SELECT ?s {{ ?s ?p ?o }} GROUP BY ?s HAVING (EXISTS {{ {ELSEWHERE} }})",
    f"SELECT (SUM(IF(EXISTS {{ {ELSEWHERE} }}, 1, 0)) AS ?n) {{ ?s ?p ?o }}",
    f"SELECT * {{ {{ SELECT * {{ {ELSEWHERE} }} }} }}",
    f"SELECT * {{ OPTIONAL {{ {ELSEWHERE} }} }}",
    f"SELECT * {{ {{ }} UNION {{ {ELSEWHERE} }} }}",
    f"SELECT * {{ ?s ?p ?o MINUS {{ {ELSEWHERE} }} }}",
    f"SELECT * {{ GRAPH ?g {{ {ELSEWHERE} }} }}",
    f"ASK {{ {ELSEWHERE} }}",
    f"CONSTRUCT {{ ?a ?b ?c }} WHERE {{ {ELSEWHERE} }}",
    f"DESCRIBE ?a {{ {ELSEWHERE} }}",
    "SELECT * { SERVICE#a comment\n<http://localhost:9/> { ?a ?b ?c } }",
    f"SELECT * {{ # nothing\n {ELSEWHERE} }}",
    f"SELECT * {{ # nothing\r\n {ELSEWHERE} }}",
    "SELECT * { S\\u0045RVICE <http://localhost:9/> { ?a ?b ?c } }",  # escapes (SPARQL 1.1, 19.2)
    "SELECT * { \\U00000053ERVICE <http://localhost:9/> { ?a ?b ?c } }",
    f"SELECT * {{ # \\u000A {ELSEWHERE} }}",  # the escape ends the comment
]

UPDATES = [
    "INSERT DATA { <a:b> <c:d> 1 }",
    "DELETE WHERE { ?s ?p ?o }",
    "DELETE { ?s ?p ?o } INSERT { ?s ?p 1 } WHERE { ?s ?p ?o }",
    "LOAD <http://localhost:9/data.ttl>",
    "LOAD SILENT <file:///etc/passwd> INTO GRAPH <x:y>",
    "CLEAR ALL",
    "drop silent all",
    "CREATE GRAPH <x:y>",
    "COPY DEFAULT TO <x:y>",
    "MOVE <x:y> TO DEFAULT",
    "ADD <x:y> TO <x:z>",
    "PREFIX x: <y:> INSERT DATA { x:a x:b x:c } ; DROP ALL",
]

#: texts that are no query of SPARQL 1.1, and those that only one of two parsers would read
MALFORMED = [
    "",
    " \n ",
    "SELECT",
    "ASK {",
    "ASK {} ASK {}",
    "SELECT * { ?s ?p ?o } ; DROP ALL",
    "SELECT * { ?s ?p ?o LATERAL { SELECT * { ?s ?q ?r } LIMIT 1 } }",
    "SELECT * { << ?s ?p ?o >> ?q ?r }",
    "SELECT * { <<( ?s ?p ?o )>> ?q ?r }",
    "SELECT (TRIPLE(1, 2, 3) AS ?x) { }",
    f"SELECT * {{ }} # a comment that ends for one parser alone\r {ELSEWHERE}",
    'SELECT * { ?s ?p "\\u005C" } ' + f"{ELSEWHERE} " + '# "',  # a backslash that makes the quote another
    'ASK { ?s ?p "\\u005Cu0022 }',
    "ASK { ?s ?p '\\uD800' }",  # half of a pair
    "ASK { ?s ?p '\\U00110000' }",
    "\x00",
    "\ufeff\u202e",
    "A" * QUERY_CHARACTERS,
    "ASK {}" + " " * QUERY_CHARACTERS,
    "SELECT (" + "(" * 300 + "1" + ")" * 300 + " AS ?x) {}",
    "ASK " + "{" * 300 + "}" * 300,
]


@pytest.mark.parametrize("text", SERVICES)
def test_another_service_is_not_asked(text: str) -> None:
    with pytest.raises(QueryNotAllowed, match="another service"):
        inspected(text)


@pytest.mark.parametrize("text", UPDATES)
def test_nothing_is_changed(text: str) -> None:
    with pytest.raises(QueryNotAllowed, match="only reads"):
        inspected(text)


@pytest.mark.parametrize("text", MALFORMED, ids=lambda text: repr(text[:50]))
def test_what_is_no_query(text: str) -> None:
    with pytest.raises(QueryMalformed) as caught:
        inspected(text)
    assert caught.value.mend


#: queries that look as if they did what they do not
HARMLESS = [
    "SELECT ?service { ?service ?load ?update }",
    'ASK { ?s ?p "SERVICE <http://localhost:9/> { ?a ?b ?c }" }',
    "ASK { } # SERVICE <http://localhost:9/> { }",
    "ASK { <http://localhost:9/SERVICE#LOAD> ?p ?o }",
    "PREFIX service: <http://localhost:9/> ASK { service:service service:load 1 }",
    'ASK { ?s ?p "caf\\u00e9", "\\U0001F600", "C:\\\\unit" }',
    "ASK {\r\n}",
]


@pytest.mark.parametrize("text", HARMLESS)
def test_what_looks_alike_is_let_through(text: str) -> None:
    assert not inspected(text).answers_graph


def test_escapes_are_replaced_for_both_parsers() -> None:
    assert inspected("\\u0041SK { ?s ?p '\\U0001F600' }").text == "ASK { ?s ?p '\U0001f600' }"


#: text, whether a graph is answered, default graphs, named graphs
FORMS = [
    ("SELECT * {}", False, (), ()),
    ("ASK {}", False, (), ()),
    ("CONSTRUCT WHERE {}", True, (), ()),
    ("DESCRIBE <x:y>", True, (), ()),
    ("ASK FROM <x:1> FROM <x:2> FROM <x:1> FROM NAMED <x:3> {}", False, ("x:1", "x:2"), ("x:3",)),
    ("PREFIX x: <y:> CONSTRUCT FROM NAMED x:1 WHERE {}", True, (), ("y:1",)),
    ("BASE <http://a/> DESCRIBE <b> FROM <c>", True, ("http://a/c",), ()),
    ("ASK FROM <graph/vocabulary> {}", False, ("https://firstoff.example/graph/vocabulary",), ()),
    ("SELECT * FROM <file:///etc/passwd> {}", False, ("file:///etc/passwd",), ()),
]


@pytest.mark.parametrize(("text", "graph", "default", "named"), FORMS)
def test_form_and_dataset(text: str, graph: bool, default: tuple[str, ...], named: tuple[str, ...]) -> None:
    found = inspected(text)
    assert (found.answers_graph, found.dataset) == (graph, Dataset(default, named))
