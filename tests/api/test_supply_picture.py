"""The single-line drawing of a supply over HTTP and from the command line."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import pytest
from fastapi.testclient import TestClient

from firstoff.api.representation import SVG, offered
from firstoff.cli import main
from firstoff.drawing import picture_style
from firstoff.sheet import content_security_policy
from support.problems import assert_problem

ADDRESS = "/v1/models/tgd27-460-s/supply-picture"


def test_it_is_an_image(client: TestClient) -> None:
    response = client.get(f"{ADDRESS}?opened=power-control", headers={"accept": "image/svg+xml"})
    assert response.status_code == 200
    assert response.headers["content-type"] == SVG
    assert response.headers["content-security-policy"] == content_security_policy(picture_style())
    assert "script" not in response.headers["content-security-policy"]
    assert response.headers["x-content-type-options"] == "nosniff"
    root = ElementTree.fromstring(response.text)
    assert "Open: power button contact." in (root.findtext("{http://www.w3.org/2000/svg}title") or "")
    again = client.get(f"{ADDRESS}?opened=power-control", headers={"if-none-match": response.headers["etag"]})
    assert again.status_code == 304
    assert offered(ADDRESS) == (SVG,)


def test_all_that_is_asked_counts(client: TestClient) -> None:
    plain = client.get(ADDRESS).text
    for asked in ("opened=supply-plug", "off=top-panel", "released=bus-capacitor", "at=heater-element", "columns=2"):
        response = client.get(f"{ADDRESS}?{asked}")
        assert response.status_code == 200, asked
        assert response.text != plain, asked


def test_what_is_off_is_said(client: TestClient) -> None:
    root = ElementTree.fromstring(client.get(f"{ADDRESS}?off=top-panel").text)
    said = root.findtext("{http://www.w3.org/2000/svg}title") or ""
    assert said.endswith("Nothing is open. Off the machine: top panel.")


@pytest.mark.parametrize(
    ("asked", "status", "kind"),
    [
        ("opened=power-controll", 404, "not-found"),
        ("off=top-panell", 404, "not-found"),
        ("released=nothing", 404, "not-found"),
        ("at=nowhere", 404, "not-found"),
        ("columns=0", 422, "invalid-request"),
        ("columns=9", 422, "invalid-request"),
    ],
)
def test_bad_questions_are_refused(client: TestClient, asked: str, status: int, kind: str) -> None:
    assert_problem(client.get(f"{ADDRESS}?{asked}"), status, kind)


def test_no_other_representation_is_offered(client: TestClient) -> None:
    assert_problem(client.get(ADDRESS, headers={"accept": "application/json"}), 406, "not-acceptable")


def test_the_command_writes_it(tmp_path: Path) -> None:
    out = tmp_path / "supply.svg"
    with pytest.raises(SystemExit, match=r"^0$"):
        main(["supply", "flb-316-k", "--opened", "plug", "--serial", "241700001", "--out", str(out)])
    root = ElementTree.fromstring(out.read_text(encoding="utf-8"))
    assert "Open: plug in the wall socket." in (root.findtext("{http://www.w3.org/2000/svg}title") or "")
