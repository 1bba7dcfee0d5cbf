"""Every screen: nothing wider than the phone, nothing too small for a glove, nothing that axe finds.

Targets of 48 CSS pixels are our own measure, well above WCAG 2.2, 2.5.8 (24). Text at 200 % is WCAG 2.2, 1.4.4.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from support.phone import DESK, PHONE, Phone
from support.served import Served

_LOOKS = [
    pytest.param(("en-GB", "light", PHONE), id="en-light-phone"),
    pytest.param(("es-ES", "dark", PHONE), id="es-dark-phone"),
    pytest.param(("de-DE", "light", PHONE), id="de-light-phone"),
    pytest.param(("en-GB", "dark", DESK), id="en-dark-desk"),
    pytest.param(("de-DE", "light", DESK), id="de-light-desk"),
]

_FITS = """() => {
  const wide = document.documentElement.scrollWidth > innerWidth ? document.documentElement.scrollWidth : 0
  const shown = (each) => each.getClientRects().length > 0 && getComputedStyle(each).visibility !== 'hidden'
  const pressed = 'a, button, input:not([type=checkbox]), select, textarea, summary, label.tick'
  const targets = [...document.querySelectorAll(pressed)]
  const small = targets.filter((each) => shown(each) && each.getBoundingClientRect().height < 47.5)
  const spilt = [...document.querySelectorAll('main *, #head *, #path *')].filter((each) => {
    if (!shown(each) || each.closest('details:not([open]) > :not(summary)')) return false
    const box = each.getBoundingClientRect()
    return box.right > innerWidth + 1 || box.left < -1
  })
  const told = (each) => `${each.tagName}.${each.className} ${each.textContent.slice(0, 40)}`
  return { wide, small: small.map(told), spilt: spilt.map(told) }
}"""


@pytest.fixture(scope="module", params=_LOOKS)
def looked(request: pytest.FixtureRequest, browser: Browser, service: Served, axe: str) -> Iterator[Phone]:
    """A phone of a language, light or dark, with a job that has come half-way."""
    language, scheme, size = request.param
    context = browser.new_context(viewport=size, locale=language, color_scheme=scheme, has_touch=True)
    context.add_init_script(axe)
    phone = Phone(context.new_page(), service)
    phone.begin("tgd27-460-s", "drum-does-not-turn", "drum does not turn")
    yield phone
    assert phone.errors == []
    context.close()


def _screens(phone: Phone) -> Iterator[str]:
    """Go from screen to screen of one job, and name each once it is there."""
    page = phone.page
    yield "fault"
    phone.station(1)
    yield "carry"
    phone.station(0)
    page.locator("#more-findings-title").click()
    page.locator("#reading-title").click()
    page.locator("#red").wait_for()
    yield "fault, with a reading to enter"
    phone.show("#/machine/tgd27-460-s//parts?part=drum-belt", ".inner")
    yield "parts"
    page.locator(".inner .main").click()
    page.locator(".tally").wait_for()
    page.locator("#supply-title").click()
    yield "safe"
    phone.station(3)
    page.locator("#done").wait_for()
    yield "open"
    page.locator("#all-steps-title").click()
    yield "open, with all steps"
    phone.carry_out(".step")
    yield "open, there"
    phone.station(4)
    yield "close, before the way back"
    page.locator("#turn").click()
    page.locator("#done").wait_for()
    yield "close"
    phone.station(5)
    page.locator("#verdict").wait_for()
    yield "handover"
    for hash_, waiting, name in (
        ("", "#q", "find"),
        ("#/kept", ".choices", "kept"),
        ("#/machine/tgd27-460-s", "#symptom", "machine"),
        ("#/machine/qmh60-450-b//live", ".supply", "live"),
        ("#/machine/tem34-210-c", "#serial", "machine, by its serial number"),
        ("#/machine/none-such", ".always", "no such machine"),
    ):
        phone.show(hash_, waiting)
        yield name


def test_every_screen_fits_and_is_accessible(looked: Phone) -> None:
    page = looked.page
    found: dict[str, Any] = {}
    seen = []
    for name in _screens(looked):
        seen.append(name)
        for size in ("", "200%"):
            page.evaluate("(size) => { document.documentElement.style.fontSize = size }", size)
            page.wait_for_timeout(50)
            fits = page.evaluate(_FITS)
            if fits != {"wide": 0, "small": [], "spilt": []}:
                found[f"{name} {size}"] = fits
        page.evaluate("() => { document.documentElement.style.fontSize = '' }")
        if violations := _violations(page):
            found[f"{name}, axe"] = violations
    assert len(seen) == 17
    assert found == {}


def _violations(page: Page) -> list[str]:
    done = page.evaluate(
        "(rules) => axe.run(document, {runOnly: rules})",
        ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    )
    return [f"{each['id']}: {node['html'][:120]}" for each in done["violations"] for node in each["nodes"]]
