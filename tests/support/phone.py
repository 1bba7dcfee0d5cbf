"""The phone app as a technician uses it: screens by their addresses, steps by their buttons."""

from __future__ import annotations

import time
from typing import Any
from urllib.parse import quote

from playwright.sync_api import Page, expect

from support.served import Served

PHONE: Any = {"width": 360, "height": 740}
DESK: Any = {"width": 1280, "height": 800}

_KEPT_WHOLE = """async (model) => {
  const { openDatabase } = await import('/phone/keep/database.js')
  const { machines } = await openDatabase()
  return (await machines.all()).some((each) => each.model === model && each.whole)
}"""


class Phone:
    """A page with the app, and what may be done with it."""

    def __init__(self, page: Page, service: Served) -> None:
        self.page = page
        self.service = service
        self.errors: list[str] = []
        page.on("pageerror", lambda error: self.errors.append(str(error)))
        page.on("dialog", lambda dialog: self.errors.append(f"dialog: {dialog.message}"))

    def show(self, hash_: str = "", waiting: str = "main > *") -> None:
        """Go to a screen and wait until ``waiting`` is there."""
        self.page.goto(f"{self.service.address}/{hash_}")
        self.page.locator(waiting).first.wait_for()

    def until_kept(self, model: str, seconds: float = 180) -> None:
        """Wait until a machine is kept whole, and the app itself too.

        :raises AssertionError: they were not in time.
        """
        self.page.evaluate("() => navigator.serviceWorker.ready.then(() => null)")
        end = time.monotonic() + seconds
        while not self.page.evaluate(_KEPT_WHOLE, model):
            assert time.monotonic() < end, f"{model} was not kept"
            self.page.wait_for_timeout(250)

    def begin(self, model: str, symptom: str, name: str) -> None:
        """Begin a job on a machine with a symptom; ends at the station of the fault."""
        self.show(f"#/machine/{model}?symptom={symptom}&name={quote(name)}", "#start")
        self.page.click("#start")
        self.page.locator(".shares").wait_for()

    def station(self, number: int) -> None:
        """Go to a station of the job, counted from 0."""
        self.page.locator("#path a").nth(number).click()
        expect(self.page.locator("#path a").nth(number)).to_have_attribute("aria-current", "page")

    def settled(self) -> None:
        """Wait until the screen shows what was asked for last."""
        expect(self.page.locator("#screen")).not_to_have_attribute("aria-busy", "true")

    def title(self) -> str:
        return self.page.locator("#head h1").inner_text()

    def carry_out(self, boxes: str) -> int:
        """Do every step that is left, ticking the ``boxes`` a step waits for; the number of steps."""
        done = 0
        while self.page.locator("#done").count():
            count = self.page.locator(".step > .count").inner_text()
            self.tick_all(boxes)
            self.page.locator("#done").click()
            self.page.wait_for_function(
                "(before) => document.querySelector('.step > .count')?.innerText !== before", arg=count
            )
            done += 1
        return done

    def tick_all(self, boxes: str) -> None:
        """Tick what is not ticked yet."""
        unticked = self.page.locator(f"{boxes} input[type=checkbox]:not(:checked)")
        for name in unticked.evaluate_all("(all) => all.map((each) => each.id)"):
            self.page.locator(f"label[for='{name}']").click()
            expect(self.page.locator(f"[id='{name}']")).to_be_checked()
