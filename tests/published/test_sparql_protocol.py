"""The W3C's test cases of the SPARQL 1.1 Protocol, those that query; those that update are refused here.

Source: https://www.w3.org/2009/sparql/docs/tests/data-sparql11/protocol/ (manifest.ttl, approved 2012-11-20). The
requests are those of the cases. Their graphs of another host are two of ours, since nothing is fetched: a graph of
theirs holds a statement about itself, ours a statement about its platform.
"""

from __future__ import annotations

from typing import Any
from urllib.parse import quote, urlencode

import pytest
from fastapi.testclient import TestClient

from support.problems import assert_problem

DRYER = "https://firstoff.example/graph/tolvane-galewood"
OVEN = "https://firstoff.example/graph/tolvane-emberlow"
HOB = "https://firstoff.example/graph/marrowby-quillmoor"
IN_DRYER = "<https://firstoff.example/platform/tolvane-galewood>"
IN_OVEN = "<https://firstoff.example/platform/tolvane-emberlow>"

FORM = {"content-type": "application/x-www-form-urlencoded"}
DIRECT = {"content-type": "application/sparql-query"}
UPDATE = {"content-type": "application/sparql-update"}
ASKED = ("application/sparql-results+json", "application/sparql-results+xml")
GRAPHS = ("text/turtle", "application/rdf+xml", "application/n-triples")


def graphs(**named: tuple[str, ...]) -> str:
    """Dataset parameters: ``default=`` and ``named=``."""
    return urlencode([(f"{kind}-graph-uri", each) for kind, names in named.items() for each in names])


def said(response: Any) -> bool:
    assert response.status_code == 200, response.text
    assert response.headers["content-type"] in ASKED
    found: bool = response.json()["boolean"]
    return found


def test_query_get(client: TestClient) -> None:
    assert said(client.get("/sparql?query=ASK%20%7B%7D"))


def test_query_post_form(client: TestClient) -> None:
    assert said(client.post("/sparql", content="query=ASK%20%7B%7D", headers=FORM))


def test_query_post_direct(client: TestClient) -> None:
    assert said(client.post("/sparql", content="ASK {}", headers=DIRECT))


BOTH = f"ASK {{ {IN_DRYER} ?p ?o . {IN_OVEN} ?q ?r }}"


@pytest.mark.parametrize(("default", "expected"), [((DRYER, OVEN), True), ((DRYER,), False), ((OVEN, HOB), False)])
def test_query_dataset_default_graphs(client: TestClient, default: tuple[str, ...], expected: bool) -> None:
    """query_dataset_default_graphs_get and _post; with one of the two the answer is no."""
    dataset = graphs(default=default)
    assert said(client.get(f"/sparql?query={quote(BOTH)}&{dataset}")) is expected
    assert said(client.post(f"/sparql?{dataset}", content=BOTH, headers=DIRECT)) is expected
    assert said(client.post("/sparql", content=f"{dataset}&query={quote(BOTH)}", headers=FORM)) is expected


def test_query_dataset_named_graphs(client: TestClient) -> None:
    """query_dataset_named_graphs_get and _post; then the default graph is empty."""
    dataset = graphs(named=(DRYER, OVEN))
    for text, expected in (("ASK { GRAPH ?g { ?s ?p ?o } }", True), ("ASK { ?s ?p ?o }", False)):
        assert said(client.get(f"/sparql?{dataset}&query={quote(text)}")) is expected
        assert said(client.post(f"/sparql?{dataset}", content=text, headers=DIRECT)) is expected


def test_query_dataset_full(client: TestClient) -> None:
    dataset = graphs(default=(HOB,), named=(DRYER, OVEN))
    text = "SELECT DISTINCT ?g { ?x ?y ?o GRAPH ?g { ?s a ?type } { SELECT ?x { ?x ?y ?o } LIMIT 1 } }"
    response = client.post(f"/sparql?{dataset}", content=text, headers=DIRECT)
    assert response.status_code == 200
    found = {row["g"]["value"] for row in response.json()["results"]["bindings"]}
    assert found == {DRYER, OVEN}


def test_query_multiple_dataset(client: TestClient) -> None:
    """That of the request counts, not that of the query."""
    text = f"ASK FROM <{DRYER}> {{ {IN_DRYER} ?p ?o }}"
    assert said(client.post(f"/sparql?{graphs(default=(OVEN,))}", content=text, headers=DIRECT)) is False
    assert said(client.post("/sparql", content=text, headers=DIRECT)) is True


@pytest.mark.parametrize(
    ("text", "types"),
    [
        ("SELECT (1 AS ?value) {}", (*ASKED, "text/csv", "text/tab-separated-values")),
        ("ASK {}", ASKED),
        ("DESCRIBE <http://example.org/>", GRAPHS),
        ("CONSTRUCT { <s> <p> 1 } WHERE {}", GRAPHS),
    ],
)
def test_query_content_type(client: TestClient, text: str, types: tuple[str, ...]) -> None:
    """query_content_type_select, _ask, _describe, _construct."""
    response = client.post("/sparql", content=text, headers=DIRECT)
    assert response.status_code == 200
    assert response.headers["content-type"].partition(";")[0] in types


#: name of the case, method, what follows the address, headers, body, status and kind of the problem
BAD: list[tuple[str, str, str, dict[str, str], str | bytes, int, str]] = [
    ("bad_query_method", "PUT", "?query=ASK%20%7B%7D", {}, "", 405, "method-not-allowed"),
    ("bad_multiple_queries", "GET", "?query=ASK%20%7B%7D&query=SELECT%20*%20%7B%7D", {}, "", 400, "malformed-query"),
    ("bad_query_wrong_media_type", "POST", "", {"content-type": "text/plain"}, "ASK {}", 415, "unsupported-media"),
    ("bad_query_missing_form_type", "POST", "", {}, "query=ASK%20%7B%7D", 415, "unsupported-media"),
    ("bad_query_missing_direct_type", "POST", "", {}, "ASK {}", 415, "unsupported-media"),
    (
        "bad_query_non_utf8",
        "POST",
        "",
        {"content-type": "application/sparql-query; charset=UTF-16"},
        "ASK {}".encode("utf-16"),
        415,
        "unsupported-media",
    ),
    ("bad_query_non_utf8, not told", "POST", "", DIRECT, "ASK {}".encode("utf-16"), 400, "malformed-query"),
    ("bad_query_syntax", "GET", "?query=ASK%20%7B", {}, "", 400, "malformed-query"),
    ("bad_update_get", "GET", "?update=CLEAR%20ALL", {}, "", 403, "query-not-allowed"),
    (
        "bad_multiple_updates",
        "POST",
        "",
        FORM,
        "update=CLEAR%20NAMED&update=CLEAR%20DEFAULT",
        403,
        "query-not-allowed",
    ),
    (
        "bad_update_wrong_media_type",
        "POST",
        "",
        {"content-type": "text/plain"},
        "CLEAR NAMED",
        415,
        "unsupported-media",
    ),
    ("bad_update_missing_form_type", "POST", "", {}, "update=CLEAR%20NAMED", 415, "unsupported-media"),
    ("bad_update_non_utf8", "POST", "", UPDATE, "CLEAR NAMED".encode("utf-16"), 403, "query-not-allowed"),
    ("bad_update_syntax", "POST", "", FORM, "update=CLEAR%20XYZ", 403, "query-not-allowed"),
    ("update_post_form", "POST", "", FORM, "update=CLEAR%20ALL", 403, "query-not-allowed"),
    ("update_post_direct", "POST", "", UPDATE, "CLEAR ALL", 403, "query-not-allowed"),
    (
        "update_dataset_default_graph",
        "POST",
        f"?using-graph-uri={quote(DRYER)}",
        UPDATE,
        "INSERT { GRAPH <x:y> { ?s a ?o } } WHERE { ?s a ?o }",
        403,
        "query-not-allowed",
    ),
    ("an update sent as a query", "POST", "", DIRECT, "CLEAR ALL", 403, "query-not-allowed"),
]


@pytest.mark.parametrize(
    ("method", "address", "headers", "body", "status", "kind"),
    [case[1:] for case in BAD],
    ids=[case[0] for case in BAD],
)
def test_bad_requests(
    client: TestClient, method: str, address: str, headers: dict[str, str], body: str | bytes, status: int, kind: str
) -> None:
    before = client.get("/sparql").headers["firstoff-revision"]
    assert_problem(client.request(method, f"/sparql{address}", headers=headers, content=body), status, kind)
    assert client.get("/sparql").headers["firstoff-revision"] == before
