"""The job sheet in a real browser: on a phone, and printed on A4 paper."""

from __future__ import annotations

import re
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from support.chromium import chromium, headless

_JOBS = {
    "short": ("/v1/models/tgd27-460-s/job-sheet?reach=lint-filter:inspect", 1),
    "middling": ("/v1/models/tgd27-460-s/job-sheet?reach=drum-belt", 3),
    "live": ("/v1/models/tgd27-460-s/job-sheet?reach=terminal-block:live-test", 2),
    "long": ("/v1/models/flb-316-t/job-sheet?reach=compressor-high-capacity", 4),
}

#: Looks at the page in a frame of 360 CSS pixels, since a headless window is never narrower than 500.
_FRAME = """<!doctype html><body style="margin:0">
<iframe id="phone" srcdoc="{page}" style="border:0;width:360px;height:800px"></iframe>
<script>addEventListener('load', () => {{
  const page = document.getElementById('phone').contentDocument;
  const root = page.documentElement;
  const out = document.body.dataset;
  out.wide = root.scrollWidth > 360;
  out.small = [...page.querySelectorAll('p, li, h3, span, strong')]
    .filter((each) => parseFloat(getComputedStyle(each).fontSize) < 14).length;
  out.narrow = [...page.querySelectorAll('a, summary')]
    .filter((each) => each.getBoundingClientRect().height < 48).length;
  const picture = page.querySelector('.fo-picture');
  out.spilt = [...picture.querySelectorAll('g:has(> rect.box)')].filter((group) => {{
    const box = group.querySelector('rect.box').getBBox();
    return [...group.querySelectorAll('text')].some((text) => {{
      const line = text.getBBox();
      return line.x < box.x || line.x + line.width > box.x + box.width || line.y + line.height > box.y + box.height + 2;
    }});
  }}).length;
  const view = picture.viewBox.baseVal;
  out.outside = [...picture.querySelectorAll('text')].filter((text) => {{
    const line = text.getBBox();
    return line.x < 0 || line.x + line.width > view.width || line.y + line.height > view.height;
  }}).length;
  out.shown = picture.getBoundingClientRect().width >= view.width - 1;
}});</script></body>"""


@pytest.fixture(scope="module")
def browser(needed: Callable[[object, str], None]) -> str:
    found = chromium()
    needed(found, "Chromium")
    return str(found)


def run(browser: str, folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [
            *headless(browser, folder / "profile"),
            "--virtual-time-budget=2000",
            *arguments,
        ],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


@pytest.mark.parametrize("job", _JOBS)
def test_sheet_fits_a_phone_and_its_picture_is_whole(
    browser: str, client: TestClient, tmp_path: Path, job: str
) -> None:
    page = client.get(_JOBS[job][0]).text
    # The frame's own script reads the page; its policy allows no script of its own.
    framed = tmp_path / "frame.html"
    escaped = page.replace("&", "&amp;").replace('"', "&quot;")
    framed.write_text(_FRAME.format(page=escaped), encoding="utf-8")
    done = run(browser, tmp_path, "--window-size=800,900", "--dump-dom", framed.as_uri())
    found = dict(re.findall(r'data-(\w+)="(\w+)"', done.stdout.rpartition("<body")[2]))
    assert found == {"wide": "false", "small": "0", "narrow": "0", "spilt": "0", "outside": "0", "shown": "true"}, (
        done.stderr[-500:]
    )


@pytest.mark.parametrize("job", _JOBS)
def test_sheet_prints_on_a_few_a4_pages(browser: str, client: TestClient, tmp_path: Path, job: str) -> None:
    address, most = _JOBS[job]
    page, printed = tmp_path / "sheet.html", tmp_path / "sheet.pdf"
    page.write_text(client.get(address).text, encoding="utf-8")
    done = run(browser, tmp_path, "--no-pdf-header-footer", f"--print-to-pdf={printed}", page.as_uri())
    assert printed.is_file(), done.stderr[-500:]
    sizes = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", printed.read_bytes())
    assert 1 <= len(sizes) <= most
    for width, height in sizes:
        assert (round(float(width)), round(float(height))) in {(595, 842), (596, 842), (595, 841), (596, 843)}
