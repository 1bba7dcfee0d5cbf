"""Every answer as JSON-LD is the same graph to two independent readers, and nothing of it is lost on the way.

The readers are rdflib's parser and pyld's implementation of the W3C algorithms (JSON-LD 1.1 Processing Algorithms and
API, 5.1 expansion, 8.2 to RDF). Neither may ask a network: the context is given to both.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

import pytest
from fastapi.testclient import TestClient
from pyld import jsonld
from rdflib import BNode, Graph, Literal, URIRef
from rdflib.compare import isomorphic
from rdflib.namespace import RDF

from firstoff.api.examples import ADDRESSES
from firstoff.content import context_file, ontology_folder

#: rdflib's own reader of JSON-LD uses what rdflib calls deprecated.
pytestmark = pytest.mark.filterwarnings("ignore::DeprecationWarning:rdflib")

#: Above so many statements blank nodes take too long to match one by one.
SMALL = 250
BASE = "https://firstoff.example/"
CONTEXT = json.loads(context_file().read_text(encoding="utf-8"))["@context"]
ONTOLOGY = "https://firstoff.example/ontology#"


@pytest.fixture(scope="module", params=sorted(each for each in ADDRESSES.values() if each.startswith("/v1/")))
def document(request: pytest.FixtureRequest, client: TestClient) -> dict[str, Any]:
    """An answer as JSON-LD, with its context in place and its address made absolute."""
    answer = client.get(request.param, headers={"accept": "application/ld+json"})
    if not answer.headers["content-type"].startswith("application/ld+json"):
        pytest.fail(f"{request.param} has no JSON-LD: {answer.text[:200]}")
    told: dict[str, Any] = answer.json()
    assert told["@context"] == "/v1/context.jsonld"
    return {**told, "@context": CONTEXT, "@id": BASE + told["@id"].lstrip("/")}


def test_two_readers_see_one_graph(document: dict[str, Any]) -> None:
    mine, theirs = _by_rdflib(document), _by_pyld(document)
    assert _statements(mine) == _statements(theirs)
    assert len(mine) > 3
    if len(mine) < SMALL:
        assert isomorphic(mine, theirs)


def test_nothing_is_lost(document: dict[str, Any]) -> None:
    """Each value of the document is a literal of the graph, as often as it is there; none is added."""
    told = Counter(_leaves({key: value for key, value in document.items() if not key.startswith("@")}))
    graph = _by_pyld(document)
    predicates = {_predicate(name): name for name in told}
    found: Counter[str] = Counter()
    for _, predicate, value in graph:
        if isinstance(value, Literal):
            found[_holder(graph, predicate, predicates)] += 1
    listed = found.pop("", 0)
    lost = told - found
    assert sum(lost.values()) == listed
    assert found - told == Counter()
    assert {name for name in lost if _rule(name).get("@container") != "@list"} == set()


def test_lists_keep_their_order(document: dict[str, Any]) -> None:
    graph = _by_pyld(document)
    subject = URIRef(document["@id"])
    for name, rule in CONTEXT.items():
        if isinstance(rule, dict) and rule.get("@container") == "@list" and document.get(name):
            heads = list(graph.objects(subject, URIRef(_predicate(name))))
            assert len(heads) == 1, name
            assert len(list(graph.items(heads[0]))) == len(document[name])


def test_words_of_the_ontology_are_its_own() -> None:
    ontology = Graph().parse(ontology_folder() / "core.ttl")
    used = {_predicate(name) for name in CONTEXT if not name.startswith("@") and name != "fo"}
    ours = {word for word in used if word.startswith(ONTOLOGY)}
    assert len(ours) > 15
    assert {word for word in ours if (URIRef(word), None, None) not in ontology} == set()


def _statements(graph: Graph) -> Counter[tuple[str, str]]:
    """What is said, and how often, whatever the blank nodes are called."""
    return Counter((str(predicate), "" if isinstance(value, BNode) else value.n3()) for _, predicate, value in graph)


def _by_rdflib(document: dict[str, Any]) -> Graph:
    return _levelled(Graph().parse(data=json.dumps(document), format="json-ld"))


def _by_pyld(document: dict[str, Any]) -> Graph:
    quads = jsonld.to_rdf(document, {"format": "application/n-quads", "documentLoader": _refusing})
    return _levelled(Graph().parse(data=quads, format="nt"))  # nothing is in a named graph


def _levelled(graph: Graph) -> Graph:
    """With every number a double of twelve figures.

    50.0 is an integer to one reader (JSON-LD 1.1 API, 8.2.2) and a double to the other; and one writes fifteen figures.
    """
    levelled = Graph()
    for subject, predicate, value in graph:
        levelled.add((subject, predicate, _plain(value) if isinstance(value, Literal) else value))
    return levelled


def _plain(value: Literal) -> Literal:
    if value.datatype == RDF.JSON:
        return Literal(json.dumps(json.loads(str(value), parse_int=float), sort_keys=True))
    number = isinstance(value.value, int | float | Decimal) and not isinstance(value.value, bool)
    return Literal(float(f"{value.value:.12g}")) if number else value


def _refusing(address: str, _: object) -> Any:
    raise AssertionError(f"{address} was asked for: the context is here")


def _leaves(value: Any, name: str = "") -> Iterator[str]:
    """The key of every value that is neither an object nor null."""
    if isinstance(value, dict):
        for key, each in value.items():
            yield from [key] if _rule(key).get("@type") == "@json" else _leaves(each, key)
    elif isinstance(value, list):
        # What is no list is a set: a value that is there twice says nothing more.
        listed = _rule(name).get("@container") == "@list" or any(isinstance(each, dict | list) for each in value)
        for each in value if listed else set(value):
            yield from _leaves(each, name)
    elif value is not None:
        yield name


def _rule(name: str) -> dict[str, str]:
    rule = CONTEXT.get(name, {})
    return rule if isinstance(rule, dict) else {}


def _predicate(name: str) -> str:
    rule = CONTEXT.get(name, f"https://firstoff.example/answer#{name}")
    address: str = rule["@id"] if isinstance(rule, dict) else rule
    prefix, _, rest = address.partition(":")
    return CONTEXT[prefix] + rest if prefix in ("fo", "rdfs", "dcterms", "xsd") else address


def _holder(graph: Graph, predicate: object, predicates: dict[str, str]) -> str:
    """The key that a literal came from; blank for one in a list."""
    return "" if predicate == RDF.first else predicates[str(predicate)]
