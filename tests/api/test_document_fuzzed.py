"""Random requests made from the OpenAPI document: no 5xx, and no answer that the document does not have.

Requests come from schemathesis, half of them valid by the document and half broken. Names that a demo machine has are
put in place of random ones now and then, or nearly every request would end at an unknown model.
"""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from fastapi import FastAPI
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from schemathesis import GenerationMode
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    allow_header_conformance,
    content_type_conformance,
    response_headers_conformance,
    response_schema_conformance,
    status_code_conformance,
    unsupported_method,
)
from starlette.types import ASGIApp, Receive, Scope, Send

from firstoff.api.application import create_app
from firstoff.api.examples import IDEMPOTENCY_KEY
from firstoff.collection.opening import open_content
from firstoff.content import data_folder
from firstoff.settings import Settings
from support.keys import key_file

CHECKS: list[Any] = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_headers_conformance,
    response_schema_conformance,
    unsupported_method,
    allow_header_conformance,
]
KEY = "a key for random requests"
PLATFORM = "tolvane-galewood"
#: What the dryer has, by the name of the parameter; of a list one or two are taken.
NAMES: dict[str, list[Any]] = {
    "model": ["tgd27-460-s", "tgd27/46O s"],
    "component": ["drum-belt", "drive-motor", "cycling-thermistor", "back-panel"],
    "platform": [PLATFORM],
    "number": [1],
    "code": ["e 5"],
    "refrigerant": ["r600a"],
    "serial": ["24200000", "1"],
    "reach": [["drum-belt"], ["drive-motor:live-test", "drum-belt"]],
    "off": [["top-panel"], ["top-panel", "back-panel"]],
    "states": [["supply-isolated", "pulled-out"]],
    "opened": [["supply-plug"], ["power-control", "supply-plug"]],
    "released": [["bus-capacitor", "filter-capacitor"]],
    "touch": [["drive-motor"]],
    "between": ["heater-1,heater-2"],
    "quantity": ["resistance"],
    "symptoms": [["no-heat"]],
    "q": ["drum wont turn", "drumm"],
    "if-match": ["*"],
    "idempotency-key": [IDEMPOTENCY_KEY],
}


def service(folder: Path) -> FastAPI:
    """A service that takes and keeps all it can be sent, below ``folder``."""
    content = folder / "content"
    content.mkdir()
    for name in (f"{PLATFORM}.ttl", "checked.json"):
        shutil.copy(data_folder() / name, content)
    keys = key_file(folder, {"bench": (KEY, "publish outcomes")})
    own = Settings(data=content, state=folder / "state", keys=keys)
    return create_app(open_content(content), own)


def standing(app: FastAPI) -> ASGIApp:
    """``app`` without start and end, which each request would have for itself, with all that is started for queries."""

    async def only_requests(scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "lifespan":
            await app(scope, receive, send)
            return
        for moment in ("startup", "shutdown"):
            await receive()
            await send({"type": f"lifespan.{moment}.complete"})

    return only_requests


def _operations() -> dict[str, tuple[str, str]]:
    kept = Path(__file__).resolve().parents[2] / "shared" / "openapi.json"
    paths = json.loads(kept.read_text(encoding="utf-8"))["paths"]
    return {f"{method.upper()} {path}": (path, method) for path, methods in paths.items() for method in methods}


@pytest.fixture(scope="module")
def reading(tmp_path_factory: pytest.TempPathFactory) -> FastAPI:
    """The service that all requests share that change nothing."""
    return service(tmp_path_factory.mktemp("reading"))


@pytest.mark.parametrize("label", sorted(_operations()))
def test_random_requests_get_documented_answers(reading: FastAPI, tmp_path: Path, label: str) -> None:
    path, method = _operations()[label]
    app = reading if method == "get" else service(tmp_path)
    operation = schemathesis.openapi.from_asgi("/openapi.json", standing(app))[path][method]
    headers = {"authorization": f"Bearer {KEY}"}
    sound = operation.as_strategy(generation_mode=GenerationMode.POSITIVE)
    broken = operation.as_strategy(generation_mode=GenerationMode.NEGATIVE)

    @given(case=sound | broken, data=st.data())
    @settings(
        max_examples=40,
        phases=[Phase.explicit, Phase.generate],
        suppress_health_check=list(HealthCheck),
        database=None,
    )
    def ask(case: Any, data: st.DataObject) -> None:
        for place in (case.path_parameters, case.query, case.headers):
            for name in list(place or {}):
                if name.lower() in NAMES and data.draw(st.integers(0, 3)):
                    place[name] = data.draw(st.sampled_from(NAMES[name.lower()]))
        case.call_and_validate(headers=headers, checks=CHECKS)

    try:
        ask()
    finally:
        app.state.sparql.close()
