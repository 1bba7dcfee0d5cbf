"""The app by keyboard alone: Tab reaches every button and shows where the focus is, Enter does its work."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from support.phone import Phone


def _tab_to(page: Page, wanted: str) -> None:
    """Press Tab until ``wanted`` has the focus, and see that it shows.

    :raises AssertionError: it was not reached within two hundred presses.
    """
    for _ in range(200):
        page.keyboard.press("Tab")
        if page.evaluate("(wanted) => document.activeElement.matches(wanted)", wanted):
            outline = "() => getComputedStyle(document.activeElement).outlineStyle"
            box = "() => getComputedStyle(document.activeElement.nextElementSibling ?? document.body).outlineStyle"
            assert "solid" in (page.evaluate(outline), page.evaluate(box))
            return
    raise AssertionError(f"{wanted} is not reached by Tab")


def test_from_a_symptom_to_the_first_steps_by_keyboard(page: Page, phone: Phone) -> None:
    phone.show("", "#q")
    _tab_to(page, "#q")
    page.keyboard.type("drum does not turn")
    page.locator("#found .row").first.wait_for()
    _tab_to(page, "#found .row")
    page.keyboard.press("Enter")
    page.locator("#found .inner a").first.wait_for()
    _tab_to(page, "#found .inner a")
    page.keyboard.press("Enter")
    page.locator("#start, #serial").first.wait_for()
    phone.show("#/machine/tgd27-460-s//parts?part=drum-belt", ".inner")
    _tab_to(page, ".inner .main")
    page.keyboard.press("Enter")
    page.locator(".tally").wait_for()
    _tab_to(page, "[id^='open-']")
    page.keyboard.press("Space")
    expect(page.locator("[id^='open-']").first).to_be_checked()
    _tab_to(page, "a[href$='/open']")
    page.keyboard.press("Enter")
    page.locator("#done").wait_for()
    _tab_to(page, "#done")
    page.keyboard.press("Enter")
    expect(page.locator(".step > .count")).to_contain_text("Step 2")
