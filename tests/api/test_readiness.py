"""Whether requests should be sent to a service: each check with what it finds."""

from __future__ import annotations

from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from firstoff.api.application import create_app
from firstoff.api.readiness import readiness
from firstoff.collection.opening import Opened, open_content
from firstoff.settings import Settings
from firstoff_contract.operation import ReadinessCheck
from support.small_platform import NAME, TURTLE


def asked(client: TestClient) -> tuple[int, str, dict[str, str]]:
    answer = client.get("/readyz")
    told = answer.json()
    return answer.status_code, told["status"], {each["name"]: each["status"] for each in told["checks"]}


def test_all_is_well(client: TestClient) -> None:
    status, worst, checks = asked(client)
    assert (status, worst) == (200, "ready")
    assert set(checks.values()) == {"ready"}
    assert {"running", "content", "state"} <= checks.keys()


def test_told_to_stop(opened: Opened) -> None:
    app = create_app(opened, Settings())
    with TestClient(app) as client:
        app.state.stopping = True
        status, worst, checks = asked(client)
        assert (status, worst, checks["running"]) == (503, "unavailable", "unavailable")
        assert client.get("/healthz").status_code == 200
        assert client.get("/v1/models").status_code == 200


def test_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / NAME).write_text(TURTLE, encoding="utf-8")
    (tmp_path / "broken.ttl").write_text("<a> <b", encoding="utf-8")
    with TestClient(create_app(open_content(tmp_path), Settings(data=tmp_path))) as client:
        status, worst, checks = asked(client)
        assert (status, worst, checks["content"]) == (200, "degraded", "degraded")


def test_nothing_is_served(tmp_path: Path) -> None:
    opened = open_content(tmp_path, may_be_empty=True)
    with TestClient(create_app(opened, Settings(data=tmp_path))) as client:
        status, worst, checks = asked(client)
        assert (status, worst, checks["content"]) == (503, "unavailable", "unavailable")


def test_the_folder_for_outcomes_is_gone(opened: Opened, tmp_path: Path) -> None:
    state = tmp_path / "state"
    with TestClient(create_app(opened, Settings(state=state))) as client:
        state.mkdir(exist_ok=True)
        assert asked(client)[2]["state"] == "ready"
        for each in state.iterdir():
            each.unlink()
        state.rmdir()
        status, worst, checks = asked(client)
        assert (status, worst, checks["state"]) == (200, "degraded", "degraded")


@pytest.mark.parametrize(
    ("found", "worst"),
    [
        ([], "ready"),
        (["ready", "ready"], "ready"),
        (["ready", "degraded"], "degraded"),
        (["degraded", "unavailable", "ready"], "unavailable"),
    ],
)
def test_the_worst_is_the_answer(opened: Opened, found: list[str], worst: str) -> None:
    checks = [lambda each=each: ReadinessCheck(name="one", status=each, said="Something.") for each in found]
    assert readiness(opened, checks).status == worst
