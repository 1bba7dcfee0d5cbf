"""Traces by OpenTelemetry: off unless asked for, of the request that came in, and with nothing of what it said."""

from __future__ import annotations

import builtins
from collections.abc import Iterator
from typing import Any

import pytest
from fastapi.testclient import TestClient
from opentelemetry.sdk.trace import TracerProvider
from opentelemetry.sdk.trace.export import SimpleSpanProcessor
from opentelemetry.sdk.trace.export.in_memory_span_exporter import InMemorySpanExporter
from opentelemetry.trace import SpanKind, StatusCode

from firstoff.api.application import create_app
from firstoff.api.telemetry import provider_from
from firstoff.collection.opening import Opened
from firstoff.errors import BadRequest
from firstoff.settings import Settings

#: Of the recommendation Trace Context (W3C, 2021-11-23), 3.2.2.
TRACE, PARENT = "4bf92f3577b34da6a3ce929d0e0e4736", "00f067aa0ba902b7"
ENDPOINT = {"OTEL_EXPORTER_OTLP_ENDPOINT": "http://127.0.0.1:9"}


@pytest.mark.parametrize(
    "environment",
    [
        {},
        {"OTEL_EXPORTER_OTLP_ENDPOINT": " "},
        {**ENDPOINT, "OTEL_SDK_DISABLED": "true"},
        {**ENDPOINT, "OTEL_TRACES_EXPORTER": "none"},
    ],
)
def test_off_unless_asked_for(environment: dict[str, str]) -> None:
    assert provider_from(environment) is None


@pytest.mark.parametrize(
    "environment",
    [ENDPOINT, {"OTEL_EXPORTER_OTLP_TRACES_ENDPOINT": "http://127.0.0.1:9"}, {"OTEL_TRACES_EXPORTER": "otlp"}],
)
def test_made_where_asked_for(environment: dict[str, str]) -> None:
    provider = provider_from(environment)
    assert isinstance(provider, TracerProvider)
    assert provider.resource.attributes["service.name"] == "firstoff"
    provider.shutdown()


@pytest.mark.parametrize(
    ("more", "mend"),
    [
        ({"OTEL_TRACES_EXPORTER": "console"}, "otlp or none"),
        ({"OTEL_EXPORTER_OTLP_PROTOCOL": "grpc"}, "http/protobuf"),
    ],
)
def test_what_is_not_offered_is_refused(more: dict[str, str], mend: str) -> None:
    with pytest.raises(BadRequest) as refused:
        provider_from({**ENDPOINT, **more})
    assert mend in refused.value.mend


def test_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    found = builtins.__import__

    def missing(name: str, *others: Any) -> Any:
        if name.startswith("opentelemetry.exporter"):
            raise ImportError(name)
        return found(name, *others)

    monkeypatch.setattr(builtins, "__import__", missing)
    with pytest.raises(BadRequest) as refused:
        provider_from(ENDPOINT)
    assert "firstoff[telemetry]" in refused.value.mend


@pytest.fixture
def spans() -> InMemorySpanExporter:
    return InMemorySpanExporter()


@pytest.fixture
def traced(opened: Opened, spans: InMemorySpanExporter) -> Iterator[TestClient]:
    provider = TracerProvider()
    provider.add_span_processor(SimpleSpanProcessor(spans))
    with TestClient(create_app(opened, Settings(), provider), raise_server_exceptions=False) as client:
        yield client


def test_a_request_is_one_trace(traced: TestClient, spans: InMemorySpanExporter) -> None:
    headers = {
        "traceparent": f"00-{TRACE}-{PARENT}-01",
        "authorization": "Bearer a-secret-key",
        "x-request-id": "job-9",
    }
    for _ in range(2):
        assert traced.get("/v1/search?q=drum+customer", headers=headers).status_code == 200
    computed, first, kept = spans.get_finished_spans()
    assert {format(each.context.trace_id, "032x") for each in (computed, first, kept)} == {TRACE}
    assert computed.name == "compute"
    assert computed.parent is not None
    assert computed.parent.span_id == first.context.span_id
    for each in (first, kept):
        assert (each.name, each.kind) == ("GET /v1/search", SpanKind.SERVER)
        assert each.parent is not None
        assert format(each.parent.span_id, "016x") == PARENT
        assert each.attributes["http.response.status_code"] == 200
        assert each.attributes["firstoff.request_id"] == "job-9"
    for each in (computed, first, kept):
        assert "a-secret-key" not in each.to_json()
        assert "customer" not in each.to_json()


def test_an_error_is_told_without_its_text(
    traced: TestClient, spans: InMemorySpanExporter, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("the inside of the service")

    monkeypatch.setattr(traced.app.state.desk, "model", broken)  # type: ignore[attr-defined]
    assert traced.get("/v1/models/tgd27-460-s").status_code == 500
    request = spans.get_finished_spans()[-1]
    assert request.name == "GET /v1/models/{model}"
    assert request.status.status_code is StatusCode.ERROR
    assert "inside" not in request.to_json()


def test_what_is_no_traceparent_begins_a_trace(traced: TestClient, spans: InMemorySpanExporter) -> None:
    assert traced.get("/healthz", headers={"traceparent": "00-zz"}).status_code == 200
    (request,) = spans.get_finished_spans()
    assert request.parent is None
