"""Traces by OpenTelemetry, where the variables of that standard ask for them; off otherwise.

FastAPI makes the spans: one for a request, with the W3C ``traceparent`` it came with, and one for what computes the
answer. They go where ``OTEL_EXPORTER_OTLP_ENDPOINT`` (or ``…_TRACES_ENDPOINT``) says. What was sent in a request, and
what was answered, stands in none of them.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from importlib.util import find_spec

from fastapi.telemetry import TelemetryConfig

from firstoff.errors import BadRequest

_ENDPOINTS = ("OTEL_EXPORTER_OTLP_ENDPOINT", "OTEL_EXPORTER_OTLP_TRACES_ENDPOINT")


def telemetry(environment: Mapping[str, str] = os.environ) -> TelemetryConfig:
    """What FastAPI is to trace.

    :raises BadRequest: traces are asked for, and the libraries that send them are not installed.
    """
    disabled = environment.get("OTEL_SDK_DISABLED", "").strip().lower() == "true"
    wanted = any(environment.get(name, "").strip() for name in _ENDPOINTS) and not disabled
    if wanted and find_spec("opentelemetry.sdk") is None:
        raise BadRequest(
            "OTEL_EXPORTER_OTLP_ENDPOINT asks for traces, and what sends them is not installed.",
            mend="Install it with: pip install 'firstoff[telemetry]', or take the variable away.",
        )
    return TelemetryConfig(tracing=wanted, operation_spans=wanted, metrics=False, logs=False, auto_configure=wanted)
