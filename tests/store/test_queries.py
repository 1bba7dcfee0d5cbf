"""Every named query: parsed by a second engine, SELECT only, over named graphs only, with what it binds projected."""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib import resources

import pytest
from rdflib.plugins.sparql.algebra import translateQuery
from rdflib.plugins.sparql.parser import parseQuery
from rdflib.plugins.sparql.parserutils import CompValue
from rdflib.plugins.sparql.sparql import Query

from firstoff.store import queries
from firstoff.store.embedded import EmbeddedStore
from firstoff.store.queries import query_names, query_text
from firstoff.store.terms import Iri, Term

NAMES = query_names()


def parsed(text: str) -> Query:
    return translateQuery(parseQuery(text))


def bound_variables(text: str) -> list[str]:
    """The variables of the comment ``# Bound: ?a ?b``."""
    found = re.search(r"^# Bound: (.*)$", text, re.MULTILINE)
    return re.findall(r"\?(\w+)", found[1]) if found else []


def outside_graphs(node: object) -> Iterator[object]:
    """Every triple pattern of the algebra that lies in no GRAPH."""
    if isinstance(node, CompValue):
        if node.name == "Graph":
            return
        if node.name == "BGP":
            yield from node.triples
        for child in node.values():
            yield from outside_graphs(child)
    elif isinstance(node, (list, tuple)):
        for child in node:
            yield from outside_graphs(child)


def test_there_are_queries() -> None:
    assert {"concepts", "models", "platforms", "statements"} <= set(NAMES)


def test_every_file_of_the_folder_is_a_named_query() -> None:
    files = {entry.name for entry in resources.files(queries).iterdir() if not entry.name.startswith("__")}
    assert files == {f"{name}.rq" for name in NAMES}


@pytest.mark.parametrize("name", NAMES)
def test_is_a_select_of_named_graphs(name: str) -> None:
    query = parsed(query_text(name))
    assert query.algebra.name == "SelectQuery"
    assert list(outside_graphs(query.algebra)) == []
    assert not re.search(r"\bFROM\b|\bSERVICE\b", query_text(name))


def test_a_pattern_outside_every_graph_is_seen() -> None:
    """The walk above is able to fail."""
    loose = "SELECT * WHERE { GRAPH <http://g> { ?a ?b ?c } OPTIONAL { ?c ?d ?e } { SELECT ?f WHERE { ?f ?g ?h } } }"
    assert len(list(outside_graphs(parsed(loose).algebra))) == 2


@pytest.mark.parametrize("name", NAMES)
def test_says_first_what_it_is_for(name: str) -> None:
    assert re.match(r"# \S.*\.\n", query_text(name))


@pytest.mark.parametrize("name", NAMES)
def test_projects_what_it_binds(name: str) -> None:
    text = query_text(name)
    projected = {str(variable) for variable in parsed(text).algebra.PV}
    assert set(bound_variables(text)) <= projected
    bindings: dict[str, Term] = {variable: Iri("https://firstoff.example/x") for variable in bound_variables(text)}
    assert EmbeddedStore().select(name, bindings) == []


def test_statements_and_models_of_a_graph_are_asked_by_graph() -> None:
    for name in ("statements", "graph_models"):
        assert bound_variables(query_text(name)) == ["graph"]


def test_an_unknown_name_is_said() -> None:
    with pytest.raises(FileNotFoundError):
        query_text("no-such-query")
