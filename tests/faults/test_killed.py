"""Killed while it is published to, told outcomes and asked: what was acknowledged is there, and all of it is whole."""

from __future__ import annotations

import threading
import time
import uuid
from pathlib import Path

from support.workshop import PLAN, PLATFORM, Said, Workshop

ROUNDS = 4
#: Seconds for which the last round lets the others work before it strikes, if nothing else gives it a moment.
PATIENCE = 60.0


class Load:
    """One that publishes, one that tells outcomes and two that ask, until the service is gone."""

    def __init__(self, workshop: Workshop, first: int) -> None:
        self.published: list[int] = []
        self.tried = first
        self.told: list[str] = []
        self.wrong: list[Said] = []
        self._workshop = workshop
        self._over = threading.Event()
        self._threads = [threading.Thread(target=each) for each in (self._publish, self._tell, self._ask, self._ask)]
        for thread in self._threads:
            thread.start()

    def end(self) -> None:
        self._over.set()
        for thread in self._threads:
            thread.join()

    def _publish(self) -> None:
        while not self._over.is_set():
            said = self._workshop.publish(self.tried)
            if said.status == 0:
                return
            if said.status != 200:
                self.wrong.append(said)
                return
            self.published.append(self.tried)
            self.tried += 1

    def _tell(self) -> None:
        while not self._over.is_set():
            once = str(uuid.uuid4())
            said = self._workshop.tell(once)
            if said.status == 0:
                return
            if said.status != 200:
                self.wrong.append(said)
                return
            self.told.append(once)
            time.sleep(0.05)

    def _ask(self) -> None:
        while not self._over.is_set():
            said = self._workshop.ask("GET", PLAN)
            if said.status == 0:
                return
            if said.status != 200:
                self.wrong.append(said)


def strike(workshop: Workshop, load: Load, after: int, writing: bool) -> None:
    """Kill it after some publications: in the middle of the next write, or at whatever it is doing then."""
    history = workshop.content / "history" / PLATFORM
    end = time.monotonic() + PATIENCE
    while len(load.published) < after and time.monotonic() < end:
        time.sleep(0.01)
    while writing and time.monotonic() < end and not any(each.name.endswith(".new") for each in history.iterdir()):
        pass
    workshop.service.stop()


def test_killed_under_load(tmp_path: Path) -> None:
    workshop = Workshop(tmp_path)
    published: list[int] = [0]
    told: list[str] = []
    try:
        workshop.service.start()
        for turn in range(ROUNDS):
            load = Load(workshop, first=published[-1] + 100)
            strike(workshop, load, after=1 + turn % 2, writing=turn % 2 == 0)
            load.end()
            assert load.wrong == []
            assert load.published
            published += load.published
            told += load.told
            workshop.service.start()

            ready = workshop.ask("GET", "/readyz")
            assert (ready.status, ready.json["status"]) == (200, "ready")
            assert workshop.served_number() in (published[-1], load.tried)
            assert workshop.ask("GET", PLAN).status == 200
            outcomes = tmp_path / "state" / "outcomes.jsonl"
            kept = outcomes.read_bytes()
            assert len(told) <= kept.count(b"\n") <= len(told) + turn + 1
            assert all(workshop.tell(once).status == 200 for once in told)  # known by their keys: none counts twice
            assert outcomes.read_bytes() == kept
        last = published[-1] + 1_000
        assert workshop.publish(last).status == 200
        versions = workshop.versions()
        whys = [each["why"] for each in versions]
        assert [each["number"] for each in versions] == list(range(1, len(versions) + 1))
        assert [f"number {number}" for number in published[1:]] == [
            why for why in whys if why.startswith("number ") and int(why.split()[1]) in published
        ]
        assert not list(workshop.content.glob("**/*.new"))
    finally:
        workshop.service.stop()
