"""The OpenAPI document: kept equal to the running service, with a real example for each answer."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient

from firstoff.api.application import create_app
from firstoff.api.authoring_examples import authored
from firstoff.api.examples import ADDRESSES, BODIES, file_name, keeping, sent
from firstoff.collection.opening import Opened

SHARED = Path(__file__).resolve().parents[2] / "shared"
REWRITE = "Run `python -m firstoff.api.examples` and look at what changed."


@pytest.fixture(scope="module")
def document(client: TestClient) -> dict[str, Any]:
    found: dict[str, Any] = client.get("/openapi.json").json()
    return found


def test_kept_document_is_the_running_one(document: dict[str, Any]) -> None:
    kept = json.loads((SHARED / "openapi.json").read_text(encoding="utf-8"))
    assert kept == document, REWRITE


@pytest.mark.parametrize("path", sorted(ADDRESSES))
def test_example_is_what_the_service_answers(client: TestClient, path: str) -> None:
    kept = json.loads((SHARED / "firstoff_contract" / "examples" / file_name(path)).read_text(encoding="utf-8"))
    assert client.get(ADDRESSES[path]).json() == kept, REWRITE


@pytest.mark.parametrize("path", sorted(BODIES))
def test_example_is_what_the_service_answers_to_a_body(opened: Opened, tmp_path: Path, path: str) -> None:
    kept = json.loads((SHARED / "firstoff_contract" / "examples" / file_name(path)).read_text(encoding="utf-8"))
    with TestClient(create_app(opened, keeping(tmp_path))) as client:
        assert sent(client, path) == kept, REWRITE


def test_examples_of_authoring_are_what_the_service_answers(tmp_path: Path) -> None:
    for path, answer in authored(tmp_path).items():
        kept = json.loads((SHARED / "firstoff_contract" / "examples" / file_name(path)).read_text(encoding="utf-8"))
        assert answer == kept, REWRITE


def test_every_answer_has_an_example_and_a_summary(document: dict[str, Any]) -> None:
    for path, methods in document["paths"].items():
        for method, operation in methods.items():
            assert operation["summary"], (method, path)
            content = operation["responses"]["200"]["content"]
            if "application/json" in content and path != "/v1/context.jsonld":
                assert "example" in content["application/json"], (method, path)


def test_every_error_is_documented_as_a_problem(document: dict[str, Any]) -> None:
    for path, methods in document["paths"].items():
        if not path.startswith("/v1/") or path.endswith(".jsonld"):
            continue
        for operation in methods.values():
            for status, response in operation["responses"].items():
                if status >= "400":
                    assert list(response["content"]) == ["application/problem+json"], (path, status)
