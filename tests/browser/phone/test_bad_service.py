"""A service that is gone, slow, answers nonsense or another version, and content that is hostile."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, Route, expect

from support.phone import Phone

_LOG_IN = "<!doctype html><title>Guest network</title><script>alert(1)</script><p>Log in"

_BROKEN: dict[str, Callable[[Route], None]] = {
    "gone": lambda route: route.abort("connectionrefused"),
    "a log-in page": lambda route: route.fulfill(status=200, content_type="text/html", body=_LOG_IN),
    "a redirect": lambda route: route.fulfill(status=302, headers={"location": "/addresses"}),
    "broken JSON": lambda route: route.fulfill(status=200, content_type="application/json", body='{"revision": "'),
    "another version": lambda route: route.fulfill(status=200, json={"hello": "world"}),
    "an error of a proxy": lambda route: route.fulfill(status=502, content_type="text/html", body="<h1>Bad gateway"),
    "no page": lambda route: route.fulfill(status=404, content_type="text/html", body="<h1>Not found"),
}


@pytest.mark.parametrize("broken", _BROKEN)
def test_a_machine_not_kept_is_not_made_up(page: Page, phone: Phone, broken: str) -> None:
    page.route("**/v1/**", _BROKEN[broken])
    phone.show("#/machine/tgd27-460-s//live", ".always")
    said = "treat everything as live" if broken in ("gone", "an error of a proxy") else "no answer of this service"
    expect(page.locator("main")).to_contain_text(said)
    expect(page.locator("main .always")).to_be_visible()
    assert page.locator(".tally").count() == 0
    page.unroute("**/v1/**")
    page.get_by_role("button", name="Try again").click()
    expect(page.locator(".tally")).to_be_visible()


@pytest.mark.parametrize("broken", _BROKEN)
def test_a_kept_machine_is_answered_and_dated(page: Page, phone: Phone, broken: str) -> None:
    phone.show("#/machine/qmh60-420-n//live", ".tally")
    phone.show("#/machine/qmh60-420-n", "#symptom")
    phone.until_kept("qmh60-420-n")
    page.route("**/v1/**", _BROKEN[broken])
    phone.show("#/kept", ".choices")
    phone.show("#/machine/qmh60-420-n//live", ".tally")
    expect(page.locator("#banners .dated")).to_contain_text("As of")
    page.unroute("**/v1/**")
    page.locator("#banners .dated button").click()
    expect(page.locator("#banners .dated")).to_have_count(0)


def _unanswered(_: Route) -> None:
    """Leave the question without an answer."""


def test_a_slow_service_is_not_waited_for_where_an_answer_is_kept(page: Page, phone: Phone) -> None:
    phone.show("#/machine/qmh60-420-n", "#symptom")
    phone.until_kept("qmh60-420-n")
    page.route("**/v1/**", _unanswered)
    phone.show("#/kept", ".choices")
    phone.show("#/machine/qmh60-420-n//live", ".tally")
    expect(page.locator("#banners .dated")).to_be_visible()


_HOSTILE = '<img src=x onerror=alert(1)><script>alert(2)</script>" onclick="alert(3)'


def _hostile(value: Any, key: str = "") -> Any:
    """The same answer with every text for people made hostile."""
    if isinstance(value, dict):
        return {name: _hostile(each, name) for name, each in value.items()}
    if isinstance(value, list):
        return [_hostile(each, key) for each in value]
    told = {"label", "text", "instruction", "detail", "matched", "release", "hazard", "protection", "because", "number"}
    return f"{value} {_HOSTILE}" if isinstance(value, str) and key in told else value


def test_hostile_content_is_shown_as_text(page: Page, phone: Phone) -> None:
    def spoilt(route: Route) -> None:
        answer = route.fetch()
        route.fulfill(response=answer, body=json.dumps(_hostile(answer.json())))

    page.route("**/v1/**", spoilt)
    phone.show("#/machine/tgd27-460-s", "#symptom")
    expect(page.locator("main")).to_contain_text("<img src=x")
    phone.show("#/machine/tgd27-460-s//parts?part=drum-belt", ".inner")
    page.locator(".inner .main").click()
    page.locator(".tally").wait_for()
    expect(page.locator("main")).to_contain_text("<script>")
    phone.station(3)
    page.locator("#done").wait_for()
    expect(page.locator("main")).to_contain_text("onerror=alert(1)")
    phone.show("", "#q")
    page.fill("#q", _HOSTILE)
    page.wait_for_timeout(600)
    assert page.locator("img, main script, [onclick]").count() == 0
