"""The page of addresses in a real browser at the size of a phone."""

from __future__ import annotations

import subprocess
from collections.abc import Callable
from pathlib import Path

from fastapi.testclient import TestClient

from support.chromium import chromium, headless

_PROBE = """
<script>addEventListener('load', () => {
  document.body.dataset.wide = document.documentElement.scrollWidth > innerWidth;
  document.body.dataset.small = [...document.querySelectorAll('input, button')]
    .filter((each) => each.getBoundingClientRect().height < 48).length;
});</script>
"""


def test_page_of_addresses_fits_a_phone(
    client: TestClient, tmp_path: Path, needed: Callable[[object, str], None]
) -> None:
    browser = chromium()
    needed(browser, "Chromium")
    page = tmp_path / "start.html"
    page.write_text(client.get("/addresses").text.replace("</body>", _PROBE + "</body>"), encoding="utf-8")
    done = subprocess.run(
        [
            *headless(str(browser), tmp_path / "profile"),
            "--window-size=500,800",
            "--virtual-time-budget=2000",
            "--dump-dom",
            page.as_uri(),
        ],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert 'data-wide="false"' in done.stdout, done.stderr[-500:]
    assert 'data-small="0"' in done.stdout
