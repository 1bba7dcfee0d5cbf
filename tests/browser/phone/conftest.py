"""The phone app in Debian's Chromium, against a service in a process of its own."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, expect, sync_playwright

from support.chromium import FLAGS, chromium
from support.phone import PHONE, Phone
from support.served import Served

# A machine under load is slow; what does not come at all fails all the same.
expect.set_options(timeout=30_000)


@pytest.fixture(scope="session")
def chromium_path(needed: Callable[[object, str], None]) -> str:
    found = chromium()
    needed(found, "Chromium")
    return str(found)


# Playwright runs an event loop in this thread: it ends with the module, or no later test could run one of its own.
@pytest.fixture(scope="module")
def playwright_started() -> Iterator[Playwright]:
    with sync_playwright() as started:
        yield started


@pytest.fixture(scope="module")
def browser(playwright_started: Playwright, chromium_path: str) -> Iterator[Browser]:
    browser = playwright_started.chromium.launch(executable_path=chromium_path, args=FLAGS)
    yield browser
    browser.close()


@pytest.fixture(scope="session")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A service that all tests share; who stops it starts it again."""
    served = Served(tmp_path_factory.mktemp("service") / "log")
    served.start()
    yield served
    served.stop()


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport=PHONE, locale="en-GB", has_touch=True)
    yield context
    context.close()


@pytest.fixture
def page(context: BrowserContext) -> Page:
    return context.new_page()


@pytest.fixture
def phone(page: Page, service: Served, request: pytest.FixtureRequest) -> Iterator[Phone]:
    """The app on a phone; every error that the page itself reports fails the test.

    With ``FIRSTOFF_SCREENSHOTS`` the last screen of each test is kept in that folder.
    """
    phone = Phone(page, service)
    yield phone
    if folder := os.environ.get("FIRSTOFF_SCREENSHOTS"):
        page.screenshot(path=Path(folder) / f"{request.node.name}.png")
    service.start_again()
    assert phone.errors == []


@pytest.fixture(scope="session")
def axe() -> str:
    """The text of axe-core, as its Python package carries it."""
    import axe_playwright_python

    return (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
