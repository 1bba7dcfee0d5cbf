"""`/sparql` as others see it: representations, headers, the description of itself, and its problems."""

from __future__ import annotations

import json
from urllib.parse import quote

import pytest
from fastapi.testclient import TestClient
from rdflib import RDF, Graph, Namespace, URIRef

from firstoff.api.application import create_app
from firstoff.collection.opening import Opened
from firstoff.settings import Settings
from firstoff.sparql.asking import GRAPH_TYPES, JSON_RESULTS, RESULT_TYPES, TURTLE, XML_RESULTS
from support.problems import assert_problem

SD = Namespace("http://www.w3.org/ns/sparql-service-description#")
VOID = Namespace("http://rdfs.org/ns/void#")
MODELS = quote(
    "SELECT ?model ?number { ?model a <https://firstoff.example/ontology#Model> ;"
    " <https://firstoff.example/ontology#modelNumber> ?number } ORDER BY ?number"
)
DIRECT = {"content-type": "application/sparql-query"}


# --- representations -------------------------------------------------------------------------------

#: Accept, what a SELECT is answered in, what a CONSTRUCT is answered in; None for 406
ACCEPTED = [
    (None, JSON_RESULTS, TURTLE),
    ("*/*", JSON_RESULTS, TURTLE),
    ("application/*", JSON_RESULTS, "application/n-triples"),
    ("text/*", "text/csv", TURTLE),
    *((each, each, None) for each in RESULT_TYPES),
    *((each, None, each) for each in GRAPH_TYPES),
    ("text/csv;q=0.5, application/sparql-results+xml;q=0.6", XML_RESULTS, None),
    ("text/csv, */*;q=0.1", "text/csv", TURTLE),
    ("application/sparql-results+json;q=0, text/tab-separated-values;q=0.1", "text/tab-separated-values", None),
    ("text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8", "application/xml", TURTLE),  # a browser
    ("application/rdf+xml;q=0.2, application/ld+json;q=0.3", None, "application/ld+json"),
    ("image/png", None, None),
    ("application/n-quads", None, None),  # a graph without a name is no dataset
]


@pytest.mark.parametrize(("accept", "result", "graph"), ACCEPTED)
def test_representations(client: TestClient, accept: str | None, result: str | None, graph: str | None) -> None:
    for text, expected in (("SELECT (1 AS ?x) {}", result), ("CONSTRUCT { <x:y> <x:p> 1 } WHERE {}", graph)):
        headers = {**DIRECT, **({"accept": accept} if accept else {"accept": ""})}
        response = client.post("/sparql", content=text, headers=headers)
        if expected is None:
            assert_problem(response, 406, "not-acceptable")
        else:
            assert response.status_code == 200
            assert response.headers["content-type"].partition(";")[0] == expected


def test_headers_of_an_answer(client: TestClient) -> None:
    response = client.get(f"/sparql?query={MODELS}")
    assert response.headers["vary"].startswith("Accept")
    assert response.headers["cache-control"] == "no-cache"
    assert response.headers["x-content-type-options"] == "nosniff"
    assert response.headers["firstoff-revision"] == client.get("/readyz").json()["revision"]
    etag = response.headers["etag"]
    again = client.get(f"/sparql?query={MODELS}", headers={"if-none-match": etag})
    assert (again.status_code, again.content, again.headers["etag"]) == (304, b"", etag)
    other = client.get(f"/sparql?query={MODELS}", headers={"if-none-match": etag, "accept": "text/csv"})
    assert other.status_code == 200
    posted = client.post("/sparql", data={"query": "ASK {}"})
    assert "etag" not in posted.headers


def test_head_and_options(client: TestClient) -> None:
    asked, head = client.get("/sparql?query=ASK%7B%7D"), client.head("/sparql?query=ASK%7B%7D")
    assert (head.status_code, head.content) == (200, b"")
    assert {**head.headers, "x-request-id": ""} == {**asked.headers, "x-request-id": ""}
    options = client.options("/sparql")
    assert options.status_code == 204
    assert options.headers["allow"] == "GET, HEAD, POST, OPTIONS"


def test_it_answers_what_the_models_address_does(client: TestClient) -> None:
    rows = client.get(f"/sparql?query={MODELS}").json()["results"]["bindings"]
    models = client.get("/v1/models?limit=200").json()["models"]
    assert {row["model"]["value"].rpartition("/")[2]: row["number"]["value"] for row in rows} == {
        each["id"]: each["number"] for each in models
    }


def test_each_platform_is_a_graph_of_the_same_name_in_every_version(client: TestClient) -> None:
    text = (
        "SELECT ?platform ?graph ?revision { ?platform <https://firstoff.example/ontology#currentGraph> ?graph ."
        " ?graph <https://firstoff.example/ontology#revision> ?revision FILTER EXISTS { GRAPH ?graph { ?s ?p ?o } } }"
    )
    rows = client.get("/sparql", params={"query": text}).json()["results"]["bindings"]
    platforms = {row["platform"]["value"].rpartition("/")[2]: row["graph"]["value"] for row in rows}
    assert platforms == {name: f"https://firstoff.example/graph/{name}" for name in platforms}
    assert len(platforms) == client.get("/readyz").json()["platforms"]


# --- the description -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("media_type", "name"), [(TURTLE, "turtle"), ("application/rdf+xml", "xml"), ("application/ld+json", "json-ld")]
)
@pytest.mark.filterwarnings("ignore::DeprecationWarning")  # the JSON-LD reader's own use of old names
def test_the_service_describes_itself(client: TestClient, media_type: str, name: str) -> None:
    response = client.get("/sparql", headers={"accept": media_type})
    assert response.headers["content-type"].partition(";")[0] == media_type
    found = Graph().parse(data=response.text, format=name)
    (service,) = found.subjects(RDF.type, SD.Service)
    assert list(found.objects(service, SD.endpoint)) == [URIRef("http://testserver/sparql")]
    assert list(found.objects(service, SD.supportedLanguage)) == [SD.SPARQL11Query]
    assert list(found.objects(service, SD.feature)) == [SD.UnionDefaultGraph]
    dataset = found.value(service, SD.defaultDataset)
    counts = {
        str(found.value(each, SD.name)): int(str(found.value(found.value(each, SD.graph), VOID.triples)))
        for each in found.objects(dataset, SD.namedGraph)
    }
    for graph, count in counts.items():
        text = f"SELECT (COUNT(*) AS ?n) {{ GRAPH <{graph}> {{ ?s ?p ?o }} }}"
        rows = client.get("/sparql", params={"query": text}).json()["results"]["bindings"]
        assert int(rows[0]["n"]["value"]) == count
    rows = client.get("/sparql", params={"query": "SELECT (COUNT(*) AS ?n) { ?s ?p ?o }"}).json()["results"]["bindings"]
    assert str(found.value(found.value(dataset, SD.defaultGraph), VOID.triples)) == rows[0]["n"]["value"]
    assert len(counts) == client.get("/readyz").json()["platforms"] + 2  # the vocabulary and the catalogue


def test_a_host_that_is_none_gets_into_no_document(client: TestClient) -> None:
    response = client.get("/sparql", headers={"host": 'x> . <y:z> a "<'})
    assert response.status_code == 200
    Graph().parse(data=response.text, format="turtle")
    assert "y:z" not in response.text


def test_a_browser_gets_a_page_whose_query_is_answered(client: TestClient) -> None:
    page = client.get("/sparql", headers={"accept": "text/html"})
    assert page.headers["content-type"] == "text/html; charset=utf-8"
    assert "form-action 'self'" in page.headers["content-security-policy"]
    assert "<script" not in page.text
    text = page.text.partition("<textarea")[2].partition(">")[2].partition("</textarea>")[0]
    text = text.replace("&lt;", "<").replace("&gt;", ">")
    assert client.get("/sparql", params={"query": text}).json()["results"]["bindings"]


# --- problems --------------------------------------------------------------------------------------

#: body of a direct query, status and kind of the problem, what is said
REFUSED = [
    ("SELECT * { SERVICE <http://localhost:9/> {} }", 403, "query-not-allowed", "another service"),
    ("DROP ALL", 403, "query-not-allowed", "only reads"),
    ("ASK FROM <http://localhost:9/> {}", 422, "bad-request", "none is fetched"),
    ("SELECT * { ?s ?p ?o }", 422, "answer-too-large", "10,000 rows"),
    ("CONSTRUCT WHERE { ?s ?p ?o }", 422, "answer-too-large", "10,000 rows"),
    ("ASK", 400, "malformed-query", "column"),
    ("", 400, "malformed-query", "empty"),
    ("#" * 20_001, 400, "malformed-query", "20,000"),
]


@pytest.mark.parametrize(("body", "status", "kind", "told"), REFUSED)
def test_refused(client: TestClient, body: str, status: int, kind: str, told: str) -> None:
    response = client.post("/sparql", content=body, headers=DIRECT)
    assert told in assert_problem(response, status, kind)["detail"]


@pytest.mark.parametrize(
    ("address", "content_type", "body", "status"),
    [
        ("?query=", None, None, 400),  # nothing is asked
        ("?query=ASK%FF", None, None, 400),  # no UTF-8
        ("?query=ASK%20%7B%7D&query=ASK%20%7B%7D", None, None, 400),
        ("?" + "&".join(f"a{each}=1" for each in range(1001)), None, None, 400),
        ("?query=ASK%7B%7D&default-graph-uri=http://localhost:9/", None, None, 422),
        ("?query=ASK%7B%7D", "application/sparql-query", "ASK {}", 400),  # two queries
        ("?query=ASK%7B%7D", "application/x-www-form-urlencoded", "query=ASK%7B%7D", 400),
        ("?default-graph-uri=x:y", "application/x-www-form-urlencoded", "query=ASK%7B%7D", 400),  # in the wrong place
        ("", "application/x-www-form-urlencoded", "", 400),
        ("", "application/x-www-form-urlencoded; charset=latin-1", "query=ASK%7B%7D", 415),
        ("", "application/sparql-query; charset=UTF-8", "ASK {}", 200),
        ("?output=json&format=json&results=json&query=ASK%7B%7D", None, None, 200),  # what clients add
    ],
)  # fmt: skip
def test_requests(client: TestClient, address: str, content_type: str | None, body: str | None, status: int) -> None:
    if body is None:
        response = client.get(f"/sparql{address}")
    else:
        response = client.post(f"/sparql{address}", content=body, headers={"content-type": content_type or ""})
    assert response.status_code == status
    if status != 200:
        assert_problem(response, status, response.json()["type"].rpartition("/")[2])


def test_turned_off(opened: Opened) -> None:
    with TestClient(create_app(opened, Settings(sparql_workers=0))) as client:
        for response in (client.get("/sparql"), client.post("/sparql", content="ASK {}", headers=DIRECT)):
            assert "FIRSTOFF_SPARQL_WORKERS" in assert_problem(response, 503, "queries-off")["mend"]


def test_too_large_a_content(opened: Opened) -> None:
    with TestClient(create_app(opened, Settings(sparql_triples=1000))) as client:
        body = assert_problem(client.get("/sparql?query=ASK%7B%7D"), 503, "queries-off")
        assert "1,000 triples" in body["detail"]
        assert "FIRSTOFF_SPARQL_TRIPLES" in body["mend"]


def test_without_a_lifespan_it_answers_as_well(opened: Opened) -> None:
    """As under a test client that does not start the application: each request may have an event loop of its own."""
    app = create_app(opened, Settings(sparql_workers=1))
    try:
        for _ in range(2):
            assert json.loads(TestClient(app).get("/sparql?query=ASK%7B%7D").content)["boolean"] is True
    finally:
        app.state.sparql.close()
