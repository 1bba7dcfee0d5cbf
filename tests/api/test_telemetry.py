"""Traces by OpenTelemetry: off unless asked for, of the request that came in, and with nothing of what it said."""

from __future__ import annotations

import pytest
from fastapi.testclient import TestClient
from opentelemetry.sdk.trace import TracerProvider
from opentelemetry.sdk.trace.export import SimpleSpanProcessor
from opentelemetry.sdk.trace.export.in_memory_span_exporter import InMemorySpanExporter

from firstoff.api import application
from firstoff.api.application import create_app
from firstoff.api.telemetry import telemetry
from firstoff.collection.opening import Opened
from firstoff.errors import BadRequest
from firstoff.settings import Settings

#: Of the recommendation Trace Context (W3C, 2021-11-23), 3.2.2.
TRACE, PARENT = "4bf92f3577b34da6a3ce929d0e0e4736", "00f067aa0ba902b7"


@pytest.mark.parametrize(
    ("environment", "wanted"),
    [
        ({}, False),
        ({"OTEL_EXPORTER_OTLP_ENDPOINT": " "}, False),
        ({"OTEL_EXPORTER_OTLP_ENDPOINT": "http://localhost:4318"}, True),
        ({"OTEL_EXPORTER_OTLP_TRACES_ENDPOINT": "http://localhost:4318/v1/traces"}, True),
        ({"OTEL_EXPORTER_OTLP_ENDPOINT": "http://localhost:4318", "OTEL_SDK_DISABLED": "true"}, False),
    ],
)
def test_off_unless_asked_for(environment: dict[str, str], wanted: bool) -> None:
    asked = telemetry(environment)
    assert asked["tracing"] is asked["auto_configure"] is wanted


def test_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("firstoff.api.telemetry.find_spec", lambda _: None)
    with pytest.raises(BadRequest) as refused:
        telemetry({"OTEL_EXPORTER_OTLP_ENDPOINT": "http://localhost:4318"})
    assert "firstoff[telemetry]" in refused.value.mend


def test_a_request_is_one_trace(opened: Opened, monkeypatch: pytest.MonkeyPatch) -> None:
    spans = InMemorySpanExporter()
    provider = TracerProvider()
    provider.add_span_processor(SimpleSpanProcessor(spans))
    asked = {**telemetry({}), "tracing": True, "operation_spans": True, "tracer_provider": provider}
    monkeypatch.setattr(application, "telemetry", lambda: asked)
    with TestClient(create_app(opened, Settings())) as client:
        answer = client.get(
            "/v1/search?q=what+the+customer+said",
            headers={"traceparent": f"00-{TRACE}-{PARENT}-01", "authorization": "Bearer a-secret-key"},
        )
    assert answer.status_code == 200
    ended = spans.get_finished_spans()
    assert {format(each.context.trace_id, "032x") for each in ended} == {TRACE}
    (request,) = (each for each in ended if each.parent is not None and format(each.parent.span_id, "016x") == PARENT)
    assert request.name == "GET /v1/search"
    assert any("firstoff.api.routes" in str(each.attributes.get("code.function.name")) for each in ended)
    for each in ended:
        assert "a-secret-key" not in each.to_json()
