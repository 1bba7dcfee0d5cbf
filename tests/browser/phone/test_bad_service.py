"""A service that is gone, slow, answers nonsense or another version, and content that is hostile."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

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


def test_a_machine_not_kept_is_not_made_up(page: Page, phone: Phone) -> None:
    for broken, answer in _BROKEN.items():
        page.route("**/v1/**", answer)
        phone.show("#/kept", ".choices")
        phone.show("#/machine/tgd27-460-s//live", ".always")
        said = "treat everything as live" if broken in ("gone", "an error of a proxy") else "no answer of this service"
        expect(page.locator("main")).to_contain_text(said)
        assert page.locator(".tally").count() == 0
        page.unroute("**/v1/**")
    page.get_by_role("button", name="Try again").click()
    expect(page.locator(".tally")).to_be_visible()


def test_a_kept_machine_is_answered_and_dated(page: Page, phone: Phone) -> None:
    phone.show("#/machine/qmh60-450-b//live", ".tally")
    phone.until_kept("qmh60-450-b")
    dated = page.locator("#banners .dated")
    for answer in [*_BROKEN.values(), _unanswered]:
        page.route("**/v1/**", answer)
        phone.show("#/kept", ".choices")
        phone.show("#/machine/qmh60-450-b//live", ".tally")
        expect(dated).to_contain_text("As of")
        page.unroute("**/v1/**")
        dated.get_by_role("button").click()
        expect(dated).to_have_count(0)


def _unanswered(_: Route) -> None:
    """Leave the question without an answer: a service too slow to wait for."""


def test_no_point_counts_as_known_while_it_is_asked_about(page: Page, phone: Phone) -> None:
    phone.show("#/machine/qmh60-450-b//live", ".tally")
    points = sum(int(each) for each in page.locator(".tally strong").all_inner_texts())
    page.route("**/live-points?opened=*", _unanswered)
    page.locator(".device").first.click()
    expect(page.locator(".tally .unknown strong")).to_have_text(str(points))
    page.unroute_all(behavior="ignoreErrors")


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
        if answer.status != 200:
            return route.fulfill(response=answer)
        return route.fulfill(response=answer, body=json.dumps(_hostile(answer.json())))

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
    page.unroute_all(behavior="ignoreErrors")
