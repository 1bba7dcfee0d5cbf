"""Health, readiness and the page of addresses."""

from __future__ import annotations

import re
from pathlib import Path

from fastapi.testclient import TestClient

from firstoff import __version__
from firstoff.api.application import create_app
from firstoff.collection.opening import open_content
from firstoff.content import data_folder
from firstoff.settings import Settings


def test_health(client: TestClient) -> None:
    assert client.get("/healthz").json() == {"status": "ok", "version": __version__}


def test_ready_with_the_demo_content(client: TestClient) -> None:
    body = client.get("/readyz").json()
    assert body["status"] == "ready"
    assert body["refused"] == []
    assert body["platforms"] == len(list(data_folder().glob("*.ttl")))
    assert body["models"] >= body["platforms"]


def test_a_broken_file_is_named_and_the_rest_is_served(tmp_path: Path, settings: Settings) -> None:
    for file in settings.data.iterdir():
        (tmp_path / file.name).write_bytes(file.read_bytes())
    broken = tmp_path / "tolvane-galewood.ttl"
    lines = broken.read_text(encoding="utf-8").splitlines()
    place = next(n for n, line in enumerate(lines) if n > 100 and line.strip() == "")
    lines.insert(place, "p:loose a fo:Component ; rdfs:label .")
    broken.write_text("\n".join(lines), encoding="utf-8")
    with TestClient(create_app(open_content(tmp_path), Settings(data=tmp_path))) as client:
        body = client.get("/readyz").json()
        assert body["status"] == "degraded"
        assert [(each["file"], each["line"]) for each in body["refused"]] == [("tolvane-galewood.ttl", place + 1)]
        assert client.get("/v1/models/flb-316-t").status_code == 200
        assert client.get("/v1/models/tgd27-460-s").status_code == 404


def test_not_ready_where_nothing_is_served(tmp_path: Path) -> None:
    (tmp_path / "broken.ttl").write_text("this is no Turtle", encoding="utf-8")
    with TestClient(create_app(open_content(tmp_path), Settings(data=tmp_path))) as client:
        response = client.get("/readyz")
        assert response.status_code == 503
        assert response.json()["refused"][0]["file"] == "broken.ttl"
        assert client.get("/addresses").status_code == 200


def test_every_link_of_the_page_of_addresses_works(client: TestClient) -> None:
    page = client.get("/addresses")
    assert page.headers["content-type"].startswith("text/html")
    links = re.findall(r'href="([^"]+)"', page.text)
    assert len(links) >= 20
    for link in links:
        assert client.get(link.replace("&amp;", "&")).status_code == 200, link


def test_page_of_addresses_loads_nothing_from_elsewhere(client: TestClient) -> None:
    assert not re.search(r"https?://|src=", client.get("/addresses").text)
