"""Examples in the OpenAPI document: real answers on the demo data, kept as files and checked against the service.

``python -m firstoff.api.examples`` asks the service again and rewrites them and ``shared/openapi.json`` in a checkout.
The types of ``clients/javascript`` are made from that document: ``npm run types`` there follows where addresses or
models have changed.
"""

from __future__ import annotations

import json
from importlib import resources
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from fastapi.testclient import TestClient

    from firstoff.settings import Settings

#: For each path of the OpenAPI document that answers in JSON, an address that shows it at work on the demo data.
ADDRESSES: dict[str, str] = {
    "/v1/search": "/v1/search?q=drum+wont+turn&limit=2&model=tgd27-460-s",
    "/v1/suggest": "/v1/suggest?q=drumm+do&limit=3&model=tgd27-460-s",
    "/v1/models": "/v1/models?number=tgd27+46o+s",
    "/v1/models/{model}": "/v1/models/tgd27-460-s",
    "/v1/models/{model}/components": "/v1/models/tgd27-460-s/components?limit=3",
    "/v1/models/{model}/components/{component}": "/v1/models/tgd27-460-s/components/drum-belt",
    "/v1/models/{model}/removal-plan": "/v1/models/tgd27-460-s/removal-plan?reach=drum-belt",
    "/v1/models/{model}/removal-plan/pareto": "/v1/models/flb-316-k/removal-plan/pareto?reach=damper:test&serial=1",
    "/v1/models/{model}/while-open": "/v1/models/tgd27-460-s/while-open?reach=drum-belt",
    "/v1/models/{model}/exposed": "/v1/models/tgd27-460-s/exposed?off=top-panel&states=supply-isolated,pulled-out",
    "/v1/models/{model}/components/{component}/hidden": "/v1/models/tgd27-460-s/components/back-panel/hidden",
    "/v1/models/{model}/safety-record": "/v1/models/tgd27-460-s/safety-record",
    "/v1/models/{model}/live-points": "/v1/models/tgd27-460-s/live-points?opened=power-control",
    "/v1/models/{model}/pocket": "/v1/models/tgd27-460-s/pocket",
    "/v1/models/{model}/isolation": "/v1/models/tgd27-460-s/isolation?touch=drive-motor",
    "/v1/models/{model}/make-safe": "/v1/models/tgd27-460-s/make-safe?reach=terminal-block:live-test",
    "/v1/models/{model}/reading": "/v1/models/tgd27-460-s/reading?between=heater-1,heater-2&quantity=resistance"
    "&opened=supply-plug&released=bus-capacitor,filter-capacitor&measured=OL",
    "/v1/models/{model}/energies": "/v1/models/flb-316-k/energies?serial=1",
    "/v1/models/{model}/components/{component}/curve": "/v1/models/tgd27-460-s/components/cycling-thermistor/curve"
    "?ohms=5000",
    "/v1/refrigerants/{refrigerant}/saturation": "/v1/refrigerants/r600a/saturation?celsius=-20",
    "/v1/models/{model}/socket-check": "/v1/models/tgd27-460-s/socket-check?measured=line1-neutral:118,line2-neutral:3",
    "/v1/models/{model}/diagnosis": "/v1/models/flb-316-k/diagnosis?symptoms=fridge-warm&absent=freezer-warm&serial=1",
    "/v1/models/{model}/carry": "/v1/models/flb-316-k/carry?symptoms=fridge-warm&parts=3&serial=1",
    "/v1/models/{model}/outcomes": "/v1/models/tgd27-460-s/outcomes",
    "/v1/models/{model}/codes": "/v1/models/tgd27-460-s/codes?limit=3",
    "/v1/models/{model}/codes/{code}": "/v1/models/tgd27-460-s/codes/e%205",
    "/v1/models/{model}/service-modes": "/v1/models/tgd27-460-s/service-modes?kind=component-test",
    "/healthz": "/healthz",
    "/readyz": "/readyz",
}

#: For each address that takes what is to be kept, a body to send. The key is for examples alone.
BODIES: dict[str, dict[str, Any]] = {
    "/v1/outcomes": {
        "model": "tgd27-460-s",
        "fault": "fault-heater-open",
        "remedy": "remedy-replace-heater",
        "symptoms": ["no-heat"],
        "on": "2026-11-27",
    },
}
KEY = "a key for examples"
IDEMPOTENCY_KEY = "7f3c2a90-5d1e-4b86-9c47-0e8d2b61a5f3"

#: The picture that the README shows.
PICTURE = "/v1/models/tgd27-460-s/removal-plan/picture?reach=drum-belt"


def file_name(path: str) -> str:
    """The name of the file that holds the example for ``path``."""
    return path.strip("/").replace("/", "_").replace("{", "").replace("}", "") + ".json"


def completed(document: dict[str, Any]) -> dict[str, Any]:
    """The OpenAPI document with the media type of problems, and the kept example beside each good answer."""
    for path, methods in document["paths"].items():
        if path == "/readyz":  # what is not ready says so in the same words
            continue
        for method in methods.values():
            for status, response in method["responses"].items():
                if status >= "400" and response.get("content"):
                    response["content"] = {"application/problem+json": next(iter(response["content"].values()))}
    folder = resources.files("firstoff_contract").joinpath("examples")
    for path, methods in document["paths"].items():
        kept = folder.joinpath(file_name(path))
        if not kept.is_file():
            continue
        example = json.loads(kept.read_text(encoding="utf-8"))
        for method in methods.values():
            for status in ("200", "201"):
                content = method["responses"].get(status, {}).get("content", {})
                if "application/json" in content:
                    content["application/json"]["example"] = example
            if path in BODIES:
                method["requestBody"]["content"]["application/json"]["example"] = BODIES[path]
    return document


def rewrite(shared: Path) -> None:
    """Write every example, then the OpenAPI document with them, below ``shared``."""
    from fastapi.testclient import TestClient

    from firstoff.api.application import create_app
    from firstoff.api.authoring_examples import authored
    from firstoff.collection.opening import open_content
    from firstoff.settings import Settings

    settings = Settings()
    opened = open_content(settings.data)
    app = create_app(opened, settings)
    folder = shared / "firstoff_contract" / "examples"
    folder.mkdir(parents=True, exist_ok=True)
    with TemporaryDirectory() as state, TestClient(create_app(opened, keeping(Path(state)))) as client:
        for path in BODIES:
            _write(folder / file_name(path), sent(client, path))
    with TemporaryDirectory() as content:
        for path, answer in authored(Path(content)).items():
            _write(folder / file_name(path), answer)
    with TestClient(app) as client:
        for path, address in ADDRESSES.items():
            response = client.get(address)
            response.raise_for_status()
            _write(folder / file_name(path), response.json())
        _write(shared / "openapi.json", client.get("/openapi.json").json())
        drawn = client.get(PICTURE)
        drawn.raise_for_status()
        (folder / "drum-belt.svg").write_text(drawn.text, encoding="utf-8")


def keeping(state: Path) -> Settings:
    """Settings of a service that takes what ``BODIES`` holds, and keeps it in ``state``."""
    from firstoff.access.key_file import add_key
    from firstoff.access.keys import Key, key_digest
    from firstoff.settings import Settings

    keys = state / "keys.toml"
    add_key(keys, Key("van", key_digest(KEY), frozenset({"outcomes"})))
    return Settings(state=state, keys=keys)


def sent(client: TestClient, path: str) -> Any:
    """The answer to the body of ``path``."""
    headers = {"authorization": f"Bearer {KEY}", "idempotency-key": IDEMPOTENCY_KEY}
    response = client.post(path, json=BODIES[path], headers=headers)
    response.raise_for_status()
    return response.json()


def _write(file: Path, content: Any) -> None:
    file.write_text(json.dumps(content, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    rewrite(Path(__file__).resolve().parents[3] / "shared")
