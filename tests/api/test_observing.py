"""Request ids, the line in the log, and metrics, read back by the library's own parser."""

from __future__ import annotations

import io
import json
import logging
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient
from hypothesis import given
from hypothesis import strategies as st
from prometheus_client.parser import text_string_to_metric_families

from firstoff.api.application import create_app
from firstoff.api.noted import present_id, request_id
from firstoff.api.templates import OTHER, template_of
from firstoff.collection.opening import Opened
from firstoff.logs import write_logs
from firstoff.settings import Settings
from support.keys import key_file

PLAN = "/v1/models/tgd27-460-s/removal-plan?reach=drum-belt"
TEMPLATE = "/v1/models/{model}/removal-plan"


@pytest.fixture
def own(opened: Opened) -> Iterator[TestClient]:
    """A service of its own, so that what it counts is of one test."""
    with TestClient(create_app(opened, Settings()), raise_server_exceptions=False) as client:
        yield client


@pytest.fixture
def logged() -> Iterator[io.StringIO]:
    """What is logged in JSON."""
    before = logging.getLogger().handlers[:], logging.getLogger().level, logging.getLogger("firstoff").level
    stream = io.StringIO()
    write_logs("json", "info", present_id, stream)
    yield stream
    logging.getLogger().handlers[:] = before[0]
    logging.getLogger().setLevel(before[1])
    logging.getLogger("firstoff").setLevel(before[2])


def lines(stream: io.StringIO) -> list[dict[str, Any]]:
    return [json.loads(line) for line in stream.getvalue().splitlines()]


def samples(client: TestClient) -> dict[tuple[str, frozenset[tuple[str, str]]], float]:
    """Every sample of a scrape, by its name and labels."""
    families = text_string_to_metric_families(client.get("/metrics").text)
    return {(each.name, frozenset(each.labels.items())): each.value for family in families for each in family.samples}


def test_an_id_is_taken_over_or_made(own: TestClient) -> None:
    assert own.get("/healthz", headers={"x-request-id": "van-2.job_7"}).headers["x-request-id"] == "van-2.job_7"
    made = {own.get("/healthz").headers["x-request-id"] for _ in range(3)}
    assert len(made) == 3
    assert all(re.fullmatch("[0-9a-f]{32}", each) for each in made)


@given(st.text())
def test_an_id_is_of_few_letters(sent: str) -> None:
    taken = request_id(sent)
    assert re.fullmatch(r"[A-Za-z0-9._-]{1,64}", taken)
    assert taken == sent or not re.fullmatch(r"[A-Za-z0-9._-]{1,64}", sent)


def test_an_unexpected_error_tells_its_id_and_no_more(own: TestClient, logged: io.StringIO, monkeypatch: Any) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("the inside of the service")

    monkeypatch.setattr(own.app.state.desk, "model", broken, raising=True)  # type: ignore[attr-defined]
    answer = own.get("/v1/models/tgd27-460-s", headers={"x-request-id": "job-8"})
    assert answer.status_code == 500
    assert answer.headers["x-request-id"] == answer.json()["request_id"] == "job-8"
    assert "inside" not in answer.text
    traced = [each for each in lines(logged) if "inside of the service" in each.get("traceback", "")]
    assert [each["request_id"] for each in traced] == ["job-8"]
    counted = samples(own)
    labels = {("method", "GET"), ("route", "/v1/models/{model}"), ("status", "500")}
    assert counted["firstoff_requests_total", frozenset(labels)] == 1


def test_a_line_for_each_request(own: TestClient, logged: io.StringIO) -> None:
    answer = own.get(PLAN + "&serial=1", headers={"x-request-id": "job-9", "authorization": "Bearer a-secret-key"})
    (line,) = (each for each in lines(logged) if each["logger"] == "firstoff.requests")
    assert answer.status_code == 200
    assert (line["method"], line["route"], line["status"]) == ("GET", TEMPLATE, 200)
    assert (line["request_id"], line["bytes"]) == ("job-9", int(answer.headers["content-length"]))
    assert line["ms"] > 0
    assert "drum-belt" not in logged.getvalue()
    assert "a-secret-key" not in logged.getvalue()


def test_the_key_is_told_by_its_name(opened: Opened, logged: io.StringIO, tmp_path: Path) -> None:
    keys = key_file(tmp_path, {"van-2": ("a-secret-key", "read metrics")})
    with TestClient(create_app(opened, Settings(keys=keys))) as client:
        for _ in range(2):  # computed, then kept
            assert client.get(PLAN, headers={"authorization": "Bearer a-secret-key"}).status_code == 200
        assert client.get("/metrics").status_code == 401
        assert client.get("/metrics", headers={"authorization": "Bearer a-secret-key"}).status_code == 200
    told = [each for each in lines(logged) if each.get("route") == TEMPLATE]
    assert [each["key"] for each in told] == ["van-2", "van-2"]
    assert "a-secret-key" not in logged.getvalue()


def test_those_who_watch_write_no_lines(own: TestClient, logged: io.StringIO) -> None:
    for address in ("/healthz", "/readyz", "/metrics"):
        assert own.get(address).status_code == 200
    assert logged.getvalue() == ""


@pytest.mark.parametrize("form", ["plain", "json"])
@given(text=st.text())
def test_no_text_makes_a_line_of_its_own(form: Any, text: str) -> None:
    stream = io.StringIO()
    handlers, level = logging.getLogger().handlers[:], logging.getLogger().level
    try:
        write_logs(form, "info", lambda: None, stream)
        logging.getLogger("firstoff.test").info("said %s", text, extra={"told": {"more": text}})
    finally:
        logging.getLogger().handlers[:] = handlers
        logging.getLogger().setLevel(level)
        logging.getLogger("firstoff").setLevel(logging.NOTSET)
    written = stream.getvalue()
    assert written.endswith("\n")
    assert written[:-1].isprintable()
    if form == "json":
        assert json.loads(written)["more"] == text


def test_metrics_count_what_was_asked(own: TestClient) -> None:
    for _ in range(3):
        assert own.get(PLAN).status_code == 200
    assert own.get("/v1/models/no-such-model").status_code == 404
    assert own.get("/no/such/address").status_code == 404
    found = samples(own)
    requests = {("method", "GET"), ("route", TEMPLATE), ("status", "200")}
    assert found["firstoff_requests_total", frozenset(requests)] == 3
    assert found["firstoff_request_seconds_count", frozenset({("route", TEMPLATE)})] == 3
    assert found["firstoff_problems_total", frozenset({("kind", "not-found")})] == 1
    assert found["firstoff_problems_total", frozenset({("kind", "no-such-address")})] == 1
    assert found["firstoff_kept_answers_total", frozenset({("found", "yes")})] == 2
    assert found["firstoff_requests_in_flight", frozenset()] == 1  # the scrape itself
    ready = own.get("/readyz").json()
    assert found["firstoff_models", frozenset()] == ready["models"]
    assert found["firstoff_platforms", frozenset()] == ready["platforms"]
    assert any(name == "firstoff_content" and ("revision", ready["revision"]) in labels for name, labels in found)
    assert found["process_resident_memory_bytes", frozenset()] > 0


def test_labels_stay_a_short_list(own: TestClient) -> None:
    for number in range(200):
        own.get(f"/v1/models/m{number}")
        own.get(f"/nothing/{number}")
        own.request("M" + "A" * number, "/v1/models")
    routes = {value for _, labels in samples(own) for name, value in labels if name == "route"}
    assert routes <= {"/v1/models/{model}", "/v1/models", OTHER, "/metrics"}


def test_the_document_is_the_list_of_routes(own: TestClient) -> None:
    kept = json.loads((Path(__file__).parents[2] / "shared" / "openapi.json").read_text(encoding="utf-8"))
    found = template_of(kept["paths"])
    for path in kept["paths"]:
        assert found(re.sub(r"\{\w+\}", "x", path)) == path or "{" in path
    assert found("/v1/models/x/removal-plan/pareto") == "/v1/models/{model}/removal-plan/pareto"
    assert found("/v1/models/x/y/z") == OTHER
