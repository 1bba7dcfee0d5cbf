"""A running service: real clients get what is there, and hostile queries are not felt beside them."""

from __future__ import annotations

import json
import threading
import urllib.error
import urllib.request
from collections.abc import Iterator
from urllib.parse import urlencode

import pyoxigraph as ox
import pytest
from rdflib import URIRef
from rdflib.plugins.stores.sparqlstore import SPARQLStore
from SPARQLWrapper import CSV, JSON, POST, POSTDIRECTLY, RDFXML, TSV, TURTLE, XML, SPARQLWrapper
from SPARQLWrapper.SPARQLExceptions import QueryBadFormed

from firstoff.content import data_folder
from support.queries import ENDLESS, GREEDY, QUICK
from support.served import Served

NUMBERS = "SELECT ?number { ?model <https://firstoff.example/ontology#modelNumber> ?number } ORDER BY ?number"
DRYER = "https://firstoff.example/graph/tolvane-galewood"
PLAN = "/v1/models/tgd27-460-s/removal-plan?reach=drum-belt&off="


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """One worker that has two seconds for a query."""
    own = {"FIRSTOFF_SPARQL_SECONDS": "2", "FIRSTOFF_SPARQL_WORKERS": "1"}
    service = Served(tmp_path_factory.mktemp("log") / "log", settings=own)
    service.start()
    yield service
    service.stop()


def expected() -> list[str]:
    """The numbers by the engine itself, of the files."""
    store = ox.Store()
    for file in data_folder().glob("*.ttl"):
        store.load(file.read_bytes(), format=ox.RdfFormat.TURTLE)
    return [row["number"].value for row in store.query(NUMBERS)]  # type: ignore[union-attr]


def get(served: Served, address: str) -> tuple[int, bytes]:
    try:
        with urllib.request.urlopen(served.address + address, timeout=60) as said:
            return said.status, said.read()
    except urllib.error.HTTPError as error:
        with error:
            return error.code, error.read()


def sparql(served: Served, text: str) -> tuple[int, bytes]:
    return get(served, "/sparql?" + urlencode({"query": text}))


# --- clients ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(("method", "direct"), [("GET", False), (POST, False), (POST, True)])
def test_sparqlwrapper(served: Served, method: str, direct: bool) -> None:
    client = SPARQLWrapper(f"{served.address}/sparql")
    client.setMethod(method)
    if direct:
        client.setRequestMethod(POSTDIRECTLY)
    client.setQuery(NUMBERS)
    client.setReturnFormat(JSON)
    rows = client.query().convert()["results"]["bindings"]
    assert [row["number"]["value"] for row in rows] == expected()
    client.setReturnFormat(XML)
    found = client.query().convert().getElementsByTagName("literal")
    assert [each.firstChild.data for each in found] == expected()
    client.setReturnFormat(CSV)
    assert client.query().convert().decode().splitlines() == ["number", *expected()]
    client.setReturnFormat(TSV)
    assert client.query().convert().decode().split("\n")[1] == f'"{expected()[0]}"'


@pytest.mark.filterwarnings("ignore::DeprecationWarning")  # its own use of rdflib's old names
def test_sparqlwrapper_gets_graphs_and_is_told_what_is_wrong(served: Served) -> None:
    client = SPARQLWrapper(f"{served.address}/sparql")
    client.addDefaultGraph(DRYER)
    client.setQuery("CONSTRUCT { ?s a ?type } WHERE { ?s a ?type }")
    client.setReturnFormat(RDFXML)
    graph = client.query().convert()
    client.setReturnFormat(TURTLE)
    assert client.query().convert().count(b" a ") <= len(graph)
    client.setReturnFormat(JSON)
    client.setQuery("SELECT (COUNT(*) AS ?n) { ?s a ?type }")
    assert client.query().convert()["results"]["bindings"][0]["n"]["value"] == str(len(graph))
    client.setQuery("SELECT")
    with pytest.raises(QueryBadFormed):
        client.query()


@pytest.mark.parametrize("method", ["GET", "POST", "POST_FORM"])
@pytest.mark.parametrize("form", ["json", "xml"])
def test_rdflibs_store(served: Served, method: str, form: str) -> None:
    store = SPARQLStore(f"{served.address}/sparql", method=method, returnFormat=form)
    rows = store.query(NUMBERS)
    assert [str(row[0]) for row in rows] == expected()
    assert bool(store.query("ASK { ?s ?p ?o }").askAnswer)
    model = URIRef("https://firstoff.example/model/tgd27-460-s")
    (found, _), *_ = store.triples((model, URIRef("https://firstoff.example/ontology#modelNumber"), None))
    assert str(found[2]) in expected()


def test_rdflibs_store_reads_one_graph(served: Served) -> None:
    store = SPARQLStore(f"{served.address}/sparql")
    (row,) = store.query("SELECT (COUNT(*) AS ?n) { ?s ?p ?o }", queryGraph=DRYER)
    assert 1_000 < int(row[0]) < 20_000


# --- hostile queries -------------------------------------------------------------------------------


def test_plans_are_made_beside_hostile_queries(served: Served) -> None:
    sparql(served, QUICK)
    hostile: list[tuple[int, str]] = []

    def attack(text: str) -> None:
        status, body = sparql(served, text)
        hostile.append((status, json.loads(body)["type"].rpartition("/")[2]))

    texts = (ENDLESS, GREEDY, ENDLESS, ENDLESS, ENDLESS)  # one runs, three wait, one is too many
    threads = [threading.Thread(target=attack, args=(text,)) for text in texts]
    for thread in threads:
        thread.start()
    beside = 0
    parts = ["top-panel", "back-panel", "transition-duct", ""]
    while any(thread.is_alive() for thread in threads):
        status, body = get(served, PLAN + parts[beside % len(parts)])
        assert (status, "steps" in json.loads(body)) == (200, True)
        beside += 1
    for thread in threads:
        thread.join()
    assert beside > len(threads)
    assert set(hostile) <= {(422, "query-stopped"), (503, "queries-busy")}
    assert {kind for _, kind in hostile} == {"query-stopped", "queries-busy"}
    assert sparql(served, QUICK)[0] == 200
