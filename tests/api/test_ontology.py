"""The ontology at its address: media types, the same triples in each, tags, and what is refused."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

import pyoxigraph as ox
import pytest
import rdflib
from fastapi.testclient import TestClient
from typer.testing import CliRunner

from firstoff.api.ontology_routes import OFFERED, RDF_TYPES
from firstoff.authoring.ontology_documents import RDF_TYPES as WRITTEN
from firstoff.authoring.ontology_documents import ontology_document
from firstoff.cli import app
from firstoff.content import ontology_folder
from support.problems import assert_problem

FORMATS = {
    "text/turtle": ("turtle", ox.RdfFormat.TURTLE),
    "application/ld+json": ("json-ld", ox.RdfFormat.JSON_LD),
    "application/rdf+xml": ("xml", ox.RdfFormat.RDF_XML),
    "application/n-triples": ("nt", ox.RdfFormat.N_TRIPLES),
}


def by_rdflib(text: str | bytes, name: str) -> set[ox.Quad]:
    """The triples as rdflib reads them, every literal as it is written."""
    before, rdflib.NORMALIZE_LITERALS = rdflib.NORMALIZE_LITERALS, False
    try:
        return canonical(rdflib.Graph().parse(data=text, format=name).serialize(format="nt"), ox.RdfFormat.N_TRIPLES)
    finally:
        rdflib.NORMALIZE_LITERALS = before


def canonical(text: str | bytes, name: ox.RdfFormat) -> set[ox.Quad]:
    """The triples with blank nodes named by what is said of them (W3C RDF Dataset Canonicalization, 2024)."""
    found = ox.Dataset(ox.parse(text, format=name))
    found.canonicalize(ox.CanonicalizationAlgorithm.RDFC_1_0)
    return set(found)


@cache
def of_the_files() -> set[ox.Quad]:
    found: list[ox.Quad] = []
    for path in sorted(ontology_folder().rglob("*.ttl")):
        found.extend(ox.parse(path=path, format=ox.RdfFormat.TURTLE))
    whole = ox.Dataset(found)
    whole.canonicalize(ox.CanonicalizationAlgorithm.RDFC_1_0)
    return set(whole)


def test_types_offered_are_those_written() -> None:
    assert set(RDF_TYPES) == set(WRITTEN) == set(FORMATS)


# rdflib's own reader of JSON-LD makes what rdflib deprecates
@pytest.mark.filterwarnings("ignore:ConjunctiveGraph is deprecated:DeprecationWarning")
@pytest.mark.parametrize("media_type", RDF_TYPES)
def test_every_format_holds_the_triples_of_the_files(client: TestClient, media_type: str) -> None:
    response = client.get("/ontology", headers={"accept": media_type})
    assert response.status_code == 200
    assert response.headers["content-type"].partition(";")[0] == media_type
    name, other = FORMATS[media_type]
    assert len(of_the_files()) > 9_000
    assert canonical(response.content, other) == of_the_files()
    assert by_rdflib(response.content, name) == of_the_files()


@pytest.mark.parametrize(
    ("accept", "expected"),
    [
        (None, "text/html"),
        ("*/*", "text/html"),
        ("text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8", "text/html"),  # a browser
        ("text/turtle;q=0.9, application/rdf+xml;q=0.5", "text/turtle"),
        ("text/html;q=0.1, application/ld+json", "application/ld+json"),
        ("application/n-triples, */*;q=0.1", "application/n-triples"),
    ],
)
def test_accept_chooses(client: TestClient, accept: str | None, expected: str) -> None:
    response = client.get("/ontology", headers={"accept": accept or ""})
    assert response.headers["content-type"].partition(";")[0] == expected


@pytest.mark.parametrize("accept", ["image/png", "application/json", "text/turtle;q=0"])
def test_what_is_not_offered_is_a_problem(client: TestClient, accept: str) -> None:
    response = client.get("/ontology", headers={"accept": accept})
    assert_problem(response, 406, "not-acceptable")
    assert "text/turtle" in response.json()["mend"]


@pytest.mark.parametrize("media_type", OFFERED)
def test_tags_and_head(client: TestClient, media_type: str) -> None:
    headers = {"accept": media_type}
    whole = client.get("/ontology", headers=headers)
    assert whole.headers["vary"] == "Accept, Accept-Encoding"
    tag = whole.headers["etag"]
    known = client.get("/ontology", headers={**headers, "if-none-match": tag})
    assert (known.status_code, known.content, known.headers["etag"]) == (304, b"", tag)
    head = client.head("/ontology", headers=headers)
    assert (head.status_code, head.content, head.headers["etag"]) == (200, b"", tag)
    assert head.headers["content-length"] == whole.headers["content-length"]


def test_tags_differ_by_media_type(client: TestClient) -> None:
    assert len({client.get("/ontology", headers={"accept": each}).headers["etag"] for each in OFFERED}) == len(OFFERED)


def test_documents_are_the_same_each_time() -> None:
    for media_type in RDF_TYPES:
        assert ontology_document(media_type) == ontology_document(media_type)


def test_page_may_show_itself_and_nothing_else(client: TestClient) -> None:
    response = client.get("/ontology")
    policy = response.headers["content-security-policy"]
    assert policy.startswith("default-src 'none'; style-src 'sha256-")
    assert "script" not in policy
    assert response.headers["x-content-type-options"] == "nosniff"


def test_openapi_names_every_type(client: TestClient) -> None:
    operation = json.loads(client.get("/openapi.json").content)["paths"]["/ontology"]["get"]
    assert set(operation["responses"]["200"]["content"]) == set(OFFERED)
    assert list(operation["responses"]["406"]["content"]) == ["application/problem+json"]


def test_command_writes_the_same_page(client: TestClient, tmp_path: Path) -> None:
    page = client.get("/ontology").text
    out = tmp_path / "ontology.html"
    runner = CliRunner()
    assert runner.invoke(app, ["ontology", "--out", str(out)]).exit_code == 0
    assert out.read_text(encoding="utf-8") == page
    assert runner.invoke(app, ["ontology"]).stdout.strip() == page.strip()
