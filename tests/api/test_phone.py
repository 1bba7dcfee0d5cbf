"""The app as the service sends it: small, of this address alone, and whole for the worker that keeps it."""

from __future__ import annotations

import gzip
import re
import shutil
from pathlib import Path

from fastapi.testclient import TestClient

from firstoff.api.phone_routes import CONTENT_SECURITY_POLICY, phone_files
from firstoff.content import clients_folder


def test_the_page_is_sent_under_a_strict_policy(client: TestClient) -> None:
    page = client.get("/")
    assert page.headers["content-type"] == "text/html; charset=utf-8"
    assert page.headers["content-security-policy"] == CONTENT_SECURITY_POLICY
    assert "unsafe" not in CONTENT_SECURITY_POLICY
    assert re.findall("default-src '([a-z]+)'", CONTENT_SECURITY_POLICY) == ["none"]
    assert client.get("/", headers={"if-none-match": page.headers["etag"]}).status_code == 304
    assert client.head("/").status_code == 200


def test_everything_that_the_page_names_is_there(client: TestClient) -> None:
    named = re.findall(r'(?:href|src)="([^"]+)"', client.get("/").text)
    assert len(named) > 4
    for address in named:
        assert client.get(f"/{address}").status_code == 200, address


def test_every_module_that_a_module_imports_is_sent(client: TestClient) -> None:
    imports = 0
    for name, file in phone_files().items():
        text = file.body.decode() if name.endswith(".js") else ""
        for wanted in re.findall(r"""(?:from|import) '(\.[^']+)'""", text):
            imports += 1
            address = "/".join(_joined(name.split("/")[:-1], wanted.split("/")))
            assert client.get(f"/{address}").headers["content-type"].startswith("text/javascript"), (name, wanted)
    assert imports > 50


def _joined(folder: list[str], steps: list[str]) -> list[str]:
    for step in steps:
        folder = folder[:-1] if step == ".." else folder if step == "." else [*folder, step]
    return folder


def test_the_worker_keeps_every_file(client: TestClient) -> None:
    worker = client.get("/phone/worker.js")
    assert worker.headers["service-worker-allowed"] == "/"
    kept = set(re.findall(r'"([^"]+)"', worker.text.splitlines()[0]))
    assert kept == (set(phone_files()) - {"phone/worker.js", "phone/index.html"}) | {"./"}


def test_a_changed_file_is_another_version(tmp_path: Path) -> None:
    def version() -> bytes:
        return phone_files(tmp_path)["phone/worker.js"].body.splitlines()[1]

    for room in ("phone", "javascript"):
        shutil.copytree(clients_folder() / room, tmp_path / room, ignore=shutil.ignore_patterns("node_modules"))
    assert version() == phone_files()["phone/worker.js"].body.splitlines()[1]
    before = version()
    with (tmp_path / "phone" / "parts" / "dom.js").open("a", encoding="utf-8") as file:
        file.write("// changed")
    assert version() != before


def test_nothing_but_the_app_is_sent(client: TestClient) -> None:
    for address in ("/phone/none.js", "/javascript/package.json", "/javascript/types.d.ts", "/phone/../pyproject.toml"):
        assert client.get(address).status_code == 404, address


def test_the_app_is_small_and_names_no_other_address() -> None:
    files = phone_files()
    assert sum(len(gzip.compress(file.body)) for file in files.values()) < 150_000
    text = "".join(file.body.decode() for name, file in files.items() if not name.endswith(".png"))
    addresses = set(re.findall(r"https?://[\w.:-]+", text))
    assert addresses <= {
        "http://firstoff.invalid",
        "http://www.w3.org",
        "http://localhost:8080",
        "https://firstoff.example",
    }
