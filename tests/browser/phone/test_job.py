"""A whole job on a phone, the network cut half-way: the rest of it is done with what is kept."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from support.phone import Phone

#: Model, symptom and its name, the outcomes that lead to the remedy, and the plan on whose way in the network is cut; 0
#: cuts it before any.
_JOBS = [
    pytest.param("tgd27-460-s", "drum-does-not-turn", "drum does not turn", ["spins freely", "whole and hooked in"], 0),
    pytest.param("mdr60-560-z", "no-heat", "turns but does not heat", ["t1 to t4: temperature", "no continuity"], 2),
]


@pytest.mark.parametrize(("model", "symptom", "name", "outcomes", "cut"), _JOBS, ids=["dryer", "dishwasher"])
def test_a_whole_job_with_the_network_cut_half_way(
    phone: Phone, model: str, symptom: str, name: str, outcomes: list[str], cut: int
) -> None:
    page = phone.page
    phone.begin(model, symptom, name)
    phone.until_kept(model)
    _carry(phone)
    phone.station(0)
    expect(page.locator("#ahead")).to_contain_text("kept", timeout=90_000)
    _find_the_fault(phone, outcomes, cut)
    phone.service.stop()
    _make_safe_for_the_remedy(phone)
    phone.station(3)
    assert phone.carry_out(".step") > 1
    phone.station(0)
    page.locator("#helped").click()
    page.locator("#turn").click()
    page.locator("#done").wait_for()
    assert phone.carry_out(".checks") > 1
    expect(page.get_by_role("heading", name="Everything is back")).to_be_visible()
    phone.tick_all(".checks")
    _hand_over(phone, model)


def _carry(phone: Phone) -> None:
    """Tick the list off; it stays ticked over a reload."""
    page = phone.page
    phone.station(1)
    assert page.locator(".ticks .tick").count() > 3
    phone.tick_all("main")
    page.reload()
    page.locator(".ticks .tick").first.wait_for()
    assert page.locator("main input:not(:checked)").count() == 0


def _find_the_fault(phone: Phone, outcomes: list[str], cut: int) -> None:
    """Make the checks that are asked for until a remedy is named, each by its plan."""
    page = phone.page
    shares = page.locator(".shares .share").first
    first, plans = shares.inner_text(), 0
    while page.locator("#helped").count() == 0:
        if cut == plans == 0:
            phone.service.stop()
        if page.locator("#plan").count():
            plans += 1
            if 0 < plans <= cut:
                expect(page.locator("#ahead")).to_contain_text("kept", timeout=90_000)
            page.locator("#plan").click()
            page.locator("#done, .tally").first.wait_for()
            phone.station(3)
            if plans == cut:
                phone.service.stop()
            phone.carry_out(".step")
            phone.station(0)
        known = page.locator(".chips li").count()
        wanted = next((each for each in outcomes if page.locator(".outcome", has_text=each).count()), "")
        page.locator(".outcome", has_text=wanted).last.click()
        expect(page.locator(".chips li")).to_have_count(known + 1)
        phone.settled()
        assert known < 10
    assert plans >= cut
    assert shares.inner_text() != first


def _make_safe_for_the_remedy(phone: Phone) -> None:
    page = phone.page
    page.locator("#plan").click()
    page.locator(".tally").wait_for()
    expect(page.locator("#banners .dated")).to_contain_text("As of")
    expect(page.locator("#head .signal")).to_contain_text("no signal")
    phone.tick_all("ol.ticks:has([id^='open-'])")
    phone.settled()
    live = page.locator(".tally .live strong")
    opened = int(live.inner_text())
    isolating = page.locator("[id^='open-']").first.get_attribute("id")
    page.locator(f"label[for='{isolating}']").click()
    expect(page.locator(f"[id='{isolating}']")).not_to_be_checked()
    phone.settled()
    closed = live.inner_text()
    assert int(closed) > opened
    page.locator(f"label[for='{isolating}']").click()
    expect(live).not_to_have_text(closed)
    phone.tick_all("ol.ticks:has([id^='prove-'])")
    expect(page.locator(".verdict.closed")).to_be_visible()


def _hand_over(phone: Phone, model: str) -> None:
    page = phone.page
    phone.station(5)
    page.locator("#verdict").wait_for()
    expect(page.locator("#end")).to_be_disabled()
    _prove_safe(phone)
    expect(page.locator("#verdict.closed")).to_be_visible()
    sheet = page.locator("#sheet").inner_text()
    assert model[:5].upper() in sheet
    assert "passed" in sheet
    page.locator("#end").click()
    page.locator("#q").wait_for()
    phone.show("#/kept", ".choices")
    expect(page.locator("main")).to_contain_text("Ended")


def _prove_safe(phone: Phone) -> None:
    """Enter a reading well within its limit for every measurement, and confirm what is confirmed."""
    page = phone.page
    for number in range(page.locator(".line").count()):
        line = page.locator(".line").nth(number)
        if line.locator("input[name=value]").count():
            line.locator("input[name=value]").fill("0.01" if "≤" in line.inner_text() else "500")
            line.locator("form button").click()
            expect(line.locator(".chips li")).to_have_count(1)
        elif line.locator("input[name=by]").count():
            line.locator("input[name=by]").fill("A. Larkfield, licence 1")
            line.locator("form button").click()
            expect(line.locator("form")).to_have_count(0)
