"""The module in a real browser, on a page whose policy forbids eval, inline script and text as markup."""

from __future__ import annotations

import html
import json
import re
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from fastapi.responses import FileResponse, HTMLResponse
from fastapi.staticfiles import StaticFiles

from firstoff.api.application import create_app
from firstoff.collection.opening import Opened
from firstoff.settings import Settings
from support.chromium import chromium, headless
from support.listening import serving

CLIENT = Path(__file__).resolve().parents[3] / "clients" / "javascript"
POLICY = (
    "default-src 'none'; script-src 'self'; connect-src 'self'; base-uri 'none'; "
    "require-trusted-types-for 'script'; trusted-types 'none'"
)


@pytest.fixture(scope="module")
def said(
    opened: Opened, settings: Settings, needed: Callable[[object, str], None], tmp_path_factory: pytest.TempPathFactory
) -> dict[str, Any]:
    """What the page wrote."""
    browser = chromium()
    needed(browser, "Chromium")
    app = create_app(opened, settings)
    app.mount("/module", StaticFiles(directory=CLIENT))

    @app.get("/page.js")
    def script() -> FileResponse:
        return FileResponse(Path(__file__).with_name("page.js"), media_type="text/javascript")

    @app.get("/page")
    def page() -> HTMLResponse:
        text = "<!doctype html><title>Page</title><output></output><script type=module src=/page.js></script>"
        return HTMLResponse(text, headers={"content-security-policy": POLICY})

    with serving(app) as address:
        done = subprocess.run(
            [
                *headless(str(browser), tmp_path_factory.mktemp("browser") / "profile"),
                "--virtual-time-budget=30000",
                "--dump-dom",
                f"{address}/page",
            ],
            capture_output=True,
            text=True,
            timeout=120,
            check=False,
        )
    found = re.search(r'<output data-done="yes">(.*?)</output>', done.stdout, re.S)
    assert found, done.stdout + done.stderr[-2000:]
    told: dict[str, Any] = json.loads(html.unescape(found[1]))
    return told


def test_page_asks_and_is_answered(said: dict[str, Any]) -> None:
    assert "error" not in said, said["error"]
    assert said["models"] == 10
    assert said["minutes"] > 0
    assert said["faults"] > 1
    assert said["live"] == ["live"]
    assert said["picture"] is True
    assert said["again"] is True
    assert said["outcome"] == "writing-off"


def test_policy_holds_and_the_module_keeps_to_it(said: dict[str, Any]) -> None:
    assert said["strict"] is True
    assert said["violated"] == []


def test_markup_in_an_answer_is_text(said: dict[str, Any]) -> None:
    assert "<img src=x onerror=alert(1)>" in said["hostile"]
