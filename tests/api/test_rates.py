"""Rates over HTTP: who is counted as whom, what is told, and clocks that jump."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
import uvicorn
from fastapi.testclient import TestClient

from firstoff.api import stopping
from firstoff.api.application import create_app
from firstoff.collection.opening import Opened
from firstoff.commands import serving
from firstoff.settings import Settings
from support.keys import key_file
from support.problems import assert_problem

MODELS = "/v1/models"


@contextmanager
def served(opened: Opened, folder: Path, client: str = "192.0.2.1", **given: Any) -> Iterator[TestClient]:
    keys = key_file(folder, {"van": ("of the van", "read"), "bench": ("of the bench", "read publish")})
    app = create_app(opened, Settings(keys=keys, **given))
    with TestClient(app, client=(client, 50000)) as service:
        yield service


def bearer(key: str) -> dict[str, str]:
    return {"authorization": f"Bearer {key}"}


def test_without_a_setting_nothing_is_counted_or_told(client: TestClient) -> None:
    assert "ratelimit" not in client.get(MODELS).headers


def test_too_many_are_refused_and_told_when_to_come_back(opened: Opened, tmp_path: Path) -> None:
    with served(opened, tmp_path, rate_reading=3) as service:
        left = [service.get(MODELS).headers["ratelimit"].partition(";t=")[0] for _ in range(3)]
        assert left == [f'"reading";r={number}' for number in (2, 1, 0)]
        answer = service.get(MODELS)
        assert_problem(answer, 429, "too-many-requests")
        assert 1 <= int(answer.headers["retry-after"]) <= 20
        assert answer.headers["ratelimit-policy"] == '"reading";q=3;w=60'
        # Keys are counted by their names, whoever has the address.
        assert service.get(MODELS, headers=bearer("of the van")).headers["ratelimit"].startswith('"reading";r=2;')
        assert service.get(MODELS, headers=bearer("of the bench")).headers["ratelimit"].startswith('"reading";r=2;')
        # An unknown key is nobody's: whoever makes keys up has no more.
        assert service.get(MODELS, headers=bearer("made up")).status_code == 429
        # Whoever looks after the service sees it still.
        assert {service.get(each).status_code for each in ("/healthz", "/readyz")} == {200}


def test_writing_is_counted_apart(opened: Opened, tmp_path: Path) -> None:
    with served(opened, tmp_path, rate_writing=2, rate_reading=100) as service:
        sent = bearer("of the bench")
        for _ in range(2):
            assert service.delete("/v1/graphs/none?why=x", headers=sent).status_code == 428
        assert_problem(service.delete("/v1/graphs/none?why=x", headers=sent), 429, "too-many-requests")
        assert service.get(MODELS, headers=sent).status_code == 200


def test_attempts_with_the_wrong_key_are_counted_and_never_lock_out_the_right_one(
    opened: Opened, tmp_path: Path
) -> None:
    with served(opened, tmp_path, reading="key", rate_failing=3) as service:
        for _ in range(3):
            assert_problem(service.get(MODELS, headers=bearer("guessed")), 401, "key-needed")
        answer = service.get(MODELS, headers=bearer("guessed again"))
        assert_problem(answer, 429, "too-many-requests")
        assert service.get(MODELS, headers=bearer("of the van")).status_code == 200


@pytest.mark.parametrize("jump", [-1e9, 1e9])
def test_a_clock_that_is_set_locks_nobody_out(
    opened: Opened, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, jump: float
) -> None:
    with served(opened, tmp_path, rate_reading=5) as service:
        service.get(MODELS)
        plain = time.time
        monkeypatch.setattr(time, "time", lambda: plain() + jump)
        left = service.get(MODELS).headers["ratelimit"]
        assert left.startswith('"reading";r=3;')
        assert int(left.partition(";t=")[2]) <= 60


@pytest.mark.parametrize(("proxies", "heard"), [((), "192.0.2.1"), (("192.0.2.0/24",), "198.51.100.7")])
def test_only_a_trusted_proxy_says_who_the_client_is(
    monkeypatch: pytest.MonkeyPatch, opened: Opened, tmp_path: Path, proxies: tuple[str, ...], heard: str
) -> None:
    """As ``serve`` sets the server up: what it would count."""
    made: list[uvicorn.Config] = []

    def stop(config: uvicorn.Config, **_: Any) -> Any:
        made.append(config)
        raise KeyboardInterrupt

    monkeypatch.setattr(stopping, "Graceful", stop)
    monkeypatch.setattr(serving, "settings_for", lambda *_, **__: Settings(trusted_proxies=proxies))
    monkeypatch.setattr(serving, "write_logs", lambda *_: None)
    monkeypatch.setattr(serving, "opened_for", lambda *_, **__: opened)
    with pytest.raises(KeyboardInterrupt):
        serving.serve(port=0)
    (config,) = made
    seen: list[Any] = []

    async def asked(scope: Any, receive: Any, send: Any) -> None:
        seen.append(scope["client"][0])
        await send({"type": "http.response.start", "status": 204, "headers": []})
        await send({"type": "http.response.body"})

    config.app = asked
    config.load()
    service = TestClient(config.loaded_app, client=("192.0.2.1", 50000))
    service.get("/", headers={"x-forwarded-for": "198.51.100.7"})
    assert seen == [heard]
