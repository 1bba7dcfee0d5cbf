"""What is kept: through a killed browser, without the service, where the store is full, where a machine is gone."""

from __future__ import annotations

import json
import os
import signal
import subprocess
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient
from playwright.sync_api import Page, Playwright, Route, expect

from support.chromium import FLAGS
from support.phone import PHONE, Phone
from support.served import Served

_FULL = """
  const put = IDBObjectStore.prototype.put
  let full = false
  addEventListener('fill', () => { full = true })
  IDBObjectStore.prototype.put = function (...given) {
    if (full) throw new DOMException('No room.', 'QuotaExceededError')
    return put.apply(this, given)
  }
"""


def test_a_job_outlives_a_killed_browser(
    playwright_started: Playwright, chromium_path: str, service: Served, tmp_path: Path
) -> None:
    def opened() -> Any:
        return playwright_started.chromium.launch_persistent_context(
            str(tmp_path / "profile"), executable_path=chromium_path, args=FLAGS, viewport=PHONE, locale="en-GB"
        )

    context = opened()
    phone = Phone(context.pages[0], service)
    phone.show("#/machine/tgd27-460-s//parts?part=drum-belt", ".inner")
    phone.page.locator(".inner .main").click()
    phone.page.locator(".tally").wait_for()
    phone.until_kept("tgd27-460-s")
    phone.station(3)
    for _ in range(2):
        phone.page.locator("#done").click()
    expect(phone.page.locator(".step > .count")).to_contain_text("Step 3")
    address, label = phone.page.url, phone.page.locator("#step").inner_text()
    phone.page.wait_for_timeout(300)
    for process in _processes(tmp_path / "profile"):
        os.kill(process, signal.SIGKILL)
    service.stop()
    try:
        context = opened()
        phone = Phone(context.pages[0], service)
        phone.page.goto(f"{service.address}/")
        phone.page.locator(".row", has_text="TGD27/460 S").first.click()
        expect(phone.page.locator("#step")).to_have_text(label)
        expect(phone.page.locator(".step > .count")).to_contain_text("Step 3")
        assert phone.page.url == address
        phone.page.locator("#done").wait_for()
        assert phone.errors == []
        context.close()
    finally:
        service.start_again()


def _processes(profile: Path) -> list[int]:
    """The browser's processes, by the profile that they were started with."""
    listed = subprocess.run(["pgrep", "-f", str(profile)], capture_output=True, text=True, check=False)
    return [int(each) for each in listed.stdout.split()]


def test_kept_answers_are_the_services_own(phone: Phone, client: TestClient) -> None:
    """Plans, isolation and live points without the service are, to the letter, what the service answers."""
    model = "/v1/models/flb-316-t"
    phone.show("#/machine/flb-316-t", "#symptom")
    phone.until_kept("flb-316-t")
    pocket = client.get(f"{model}/pocket").json()
    devices = [each["id"] for each in client.get(model).json()["devices"]]
    asked = [f"{model}/removal-plan?reach={target.replace(':', '%3A')}" for target in pocket["reach"]]
    asked += [f"{model}/isolation?touch={part}" for part in pocket["touch"]]
    asked += [f"{model}/live-points?opened={one}&opened={other}" for one in devices for other in devices[::4]]
    phone.service.stop()
    answered = phone.page.evaluate(
        """async (asked) => {
          const { keepingFetch } = await import('/phone/keep/answers.js')
          const { openDatabase } = await import('/phone/keep/database.js')
          const { answers } = await openDatabase()
          const kept = keepingFetch({ fetch: (...given) => fetch(...given), answers })
          return Promise.all(asked.map((address) => kept(address).then((answer) => answer.text()).catch(() => null)))
        }""",
        asked,
    )
    refused = []
    for address, text in zip(asked, answered, strict=True):
        online = client.get(address)
        if online.status_code != 200:
            refused.append(address)
            assert text is None, address
            continue
        assert text is not None, address
        assert json.loads(text) == online.json(), address
    assert len(refused) < len(asked) / 20


def test_a_full_phone_loses_nothing_and_says_so(page: Page, phone: Phone) -> None:
    page.add_init_script(_FULL)
    phone.show("#/machine/tgd27-460-s//parts?part=drum-belt", ".inner")
    page.locator(".inner .main").click()
    page.locator(".tally").wait_for()
    phone.station(3)
    page.evaluate("() => dispatchEvent(new Event('fill'))")
    page.locator("#done").click()
    expect(page.locator("#banners .trouble")).to_contain_text("No room left")
    expect(page.locator(".step > .count")).to_contain_text("Step 2")
    page.reload()
    expect(page.locator(".step > .count")).to_contain_text("Step 2")


def test_without_any_store_the_app_works_and_warns(page: Page, phone: Phone) -> None:
    page.add_init_script("Object.defineProperty(globalThis, 'indexedDB', { value: undefined })")
    phone.show("#/machine/tgd27-460-s//live", ".supply")
    expect(page.locator("#banners .trouble")).to_contain_text("keeps nothing")


def test_a_machine_removed_while_it_is_open_stays_usable_and_dated(page: Page, phone: Phone) -> None:
    phone.show("#/machine/qmh60-450-b//live", ".supply")
    phone.show("#/machine/qmh60-450-b", "#symptom")
    phone.until_kept("qmh60-450-b")

    def gone(route: Route) -> None:
        problem = {"type": "https://firstoff.example/problems/not-found", "title": "Not found", "status": 404}
        told = {**problem, "detail": "Gone.", "mend": "Look."}
        route.fulfill(status=404, content_type="application/problem+json", json=told)

    page.route("**/v1/models/qmh60-450-b**", gone)
    phone.show("#/kept", ".choices")
    phone.show("#/machine/qmh60-450-b//live", ".supply")
    expect(page.locator("#banners .dated")).to_contain_text("As of")
    expect(page.locator("#banners .trouble")).to_contain_text("no longer served")
    before = page.locator(".tally").inner_text()
    for device in page.locator(".device").evaluate_all("(all) => all.map((each) => each.id)"):
        page.locator(f"[id='{device}']").click()
        expect(page.locator(f"[id='{device}']")).to_have_attribute("aria-pressed", "true")
        phone.settled()
    assert page.locator(".tally").inner_text() != before


@pytest.mark.parametrize("language", ["es", "de"])
def test_the_language_is_kept(page: Page, phone: Phone, language: str) -> None:
    phone.show("#/kept", ".choices")
    page.locator(f"#language-{language}").click()
    expect(page.locator("html")).to_have_attribute("lang", language)
    page.reload()
    page.locator(".choices").wait_for()
    expect(page.locator("html")).to_have_attribute("lang", language)
