"""Spans of OpenTelemetry: one for each request, and one in it where an answer is computed.

FastAPI would make spans of its own; they hold the query of the address, in which people search in their own words, and
know no route where an answer was kept. So they are turned off (``NO_OTHER``), and these are made. W3C ``traceparent``
is taken over. Attributes are named by the semantic conventions for HTTP servers.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager

from fastapi.telemetry import TelemetryConfig
from opentelemetry.trace import SpanKind, StatusCode, TracerProvider
from opentelemetry.trace.propagation.tracecontext import TraceContextTextMapPropagator
from starlette.types import Scope

from firstoff.errors import BadRequest

NO_OTHER = TelemetryConfig(tracing=False, metrics=False, logs=False, auto_configure=False)
"""For ``FastAPI(telemetry=…)``."""

_NAME = "firstoff"
_ENDPOINTS = ("OTEL_EXPORTER_OTLP_ENDPOINT", "OTEL_EXPORTER_OTLP_TRACES_ENDPOINT")
_propagator = TraceContextTextMapPropagator()


class Tracing:
    """Spans by the tracers of ``provider``; without one there are none."""

    def __init__(self, provider: TracerProvider | None = None) -> None:
        self._tracer = provider.get_tracer(_NAME) if provider is not None else None

    @contextmanager
    def request(
        self, scope: Scope, method: str, route: str, request_id: str, status: Callable[[], int]
    ) -> Iterator[None]:
        """A span around a request; ``status`` is asked at its end."""
        if self._tracer is None:
            yield
            return
        carried = {name.decode("latin-1"): value.decode("latin-1") for name, value in scope["headers"]}
        attributes = {
            "http.request.method": method if method != "other" else "_OTHER",
            "http.route": route,
            "url.scheme": scope.get("scheme", "http"),
            "firstoff.request_id": request_id,
        }
        with self._tracer.start_as_current_span(
            f"{method} {route}",
            context=_propagator.extract(carried),
            kind=SpanKind.SERVER,
            attributes=attributes,
            record_exception=False,  # its text may quote what was asked; the log has it
            set_status_on_exception=False,
        ) as span:
            try:
                yield
            finally:
                answered = status()
                if answered:
                    span.set_attribute("http.response.status_code", answered)
                if not answered or answered >= 500:
                    span.set_attribute("error.type", str(answered or "no answer"))
                    span.set_status(StatusCode.ERROR)

    @contextmanager
    def computation(self) -> Iterator[None]:
        """A span around the computation of an answer that was not kept."""
        if self._tracer is None:
            yield
            return
        with self._tracer.start_as_current_span("compute", record_exception=False, set_status_on_exception=False):
            yield


def provider_from(environment: Mapping[str, str]) -> TracerProvider | None:
    """What exports spans as the standard variables say, None where none of them asks for it.

    :raises BadRequest: the libraries are not installed, or another exporter is asked for.
    """
    exporter = environment.get("OTEL_TRACES_EXPORTER", "otlp").strip().lower()
    asked = any(environment.get(name, "").strip() for name in _ENDPOINTS) or "OTEL_TRACES_EXPORTER" in environment
    off = environment.get("OTEL_SDK_DISABLED", "").strip().lower() == "true"
    if not asked or off or exporter == "none":
        return None
    if exporter != "otlp":
        raise BadRequest(f"OTEL_TRACES_EXPORTER is {exporter!r}.", mend="Set it to otlp or none.")
    protocol = environment.get(
        "OTEL_EXPORTER_OTLP_TRACES_PROTOCOL", environment.get("OTEL_EXPORTER_OTLP_PROTOCOL", "http/protobuf")
    )
    if protocol != "http/protobuf":
        raise BadRequest(f"The protocol of OTLP is {protocol!r}.", mend="Set it to http/protobuf.")
    try:
        from opentelemetry.exporter.otlp.proto.http.trace_exporter import OTLPSpanExporter
        from opentelemetry.sdk.resources import Resource
        from opentelemetry.sdk.trace import TracerProvider as Exporting
        from opentelemetry.sdk.trace.export import BatchSpanProcessor
    except ImportError as error:
        raise BadRequest(
            "OTEL variables ask for traces, and the libraries for them are missing.",
            mend="pip install 'firstoff[telemetry]', or take the variables away.",
        ) from error
    named = {} if environment.get("OTEL_SERVICE_NAME") else {"service.name": _NAME}
    provider = Exporting(resource=Resource.create(named))
    provider.add_span_processor(BatchSpanProcessor(OTLPSpanExporter()))
    return provider
