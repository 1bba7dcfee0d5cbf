"""A service that takes outcomes, and what is sent to it."""

from __future__ import annotations

import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from fastapi.testclient import TestClient
from httpx2 import Response

from firstoff.api.application import create_app
from firstoff.collection.opening import Opened
from firstoff.settings import Settings
from support.keys import key_file

KEY, OTHER_KEY = "k-of-the-first-van", "k-of-the-second-van"
HEATER: dict[str, Any] = {"model": "tgd27-460-s", "fault": "fault-heater-open", "on": "2026-11-27"}


@contextmanager
def serving(opened: Opened, state: Path, **given: Any) -> Iterator[TestClient]:
    """A client of a service that keeps outcomes in ``state``; two keys may tell them."""
    keys = key_file(state.parent / f"{state.name}-keys", {"one": (KEY, "outcomes"), "two": (OTHER_KEY, "outcomes")})
    settings = Settings(**{"state": state, "keys": keys, **given})
    with TestClient(create_app(opened, settings), raise_server_exceptions=False) as client:
        yield client


def headers(once: str | None = None, key: str = KEY) -> dict[str, str]:
    return {"authorization": f"Bearer {key}", "idempotency-key": once or str(uuid.uuid4())}


def tell(client: TestClient, once: str | None = None, **told: Any) -> Response:
    """Send the outcome of a job on which a heater was broken, but for what is ``told``."""
    return client.post("/v1/outcomes", json=HEATER | told, headers=headers(once))


def told(client: TestClient, once: str | None = None, **more: Any) -> dict[str, Any]:
    """The good answer to ``tell``."""
    response = tell(client, once, **more)
    assert response.status_code == 200, response.text
    found: dict[str, Any] = response.json()
    return found
