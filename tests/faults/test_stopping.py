"""Told to stop: it says so, ends what it began, and is gone within its time with exit code 0."""

from __future__ import annotations

import os
import signal
import threading
import time
from pathlib import Path
from urllib.parse import quote

import pytest
from prometheus_client.parser import text_string_to_metric_families

from support.queries import ENDLESS, children_of, is_running
from support.workshop import PLAN, Said, Workshop


def until(seconds: float, met: object) -> bool:
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if met():  # type: ignore[operator]
            return True
        time.sleep(0.02)
    return False


def in_flight(workshop: Workshop) -> float:
    """How many requests are being answered, the one that asks among them."""
    said = workshop.ask("GET", "/metrics")
    assert said.status == 200, said
    families = text_string_to_metric_families(said.body)
    return next(each.samples[0].value for each in families if each.name == "firstoff_requests_in_flight")


def test_sigterm_with_requests_in_flight(tmp_path: Path) -> None:
    workshop = Workshop(tmp_path, {"FIRSTOFF_GRACE_SECONDS": "2"})
    workshop.service.start()
    try:
        published: list[Said] = []
        publishing = threading.Thread(target=lambda: published.append(workshop.publish(1)))
        publishing.start()
        assert until(10, lambda: in_flight(workshop) == 2)
        os.kill(workshop.service.process, signal.SIGTERM)
        assert until(1.5, lambda: workshop.ask("GET", "/readyz").status == 503)
        assert workshop.ask("GET", PLAN).status == 200  # who has not seen it yet is answered
        publishing.join()
        assert [each.status for each in published] == [200]
        assert workshop.service.ended(within=30) == 0
        assert workshop.ask("GET", "/healthz").status == 0
        workshop.service.start()
        assert workshop.served_number() == 1
    finally:
        workshop.service.stop()


@pytest.mark.parametrize("signals", [[signal.SIGINT], [signal.SIGTERM, signal.SIGTERM]])
def test_at_once(tmp_path: Path, signals: list[signal.Signals]) -> None:
    """A person's SIGINT, or a second signal, ends it without the grace."""
    workshop = Workshop(tmp_path, {"FIRSTOFF_GRACE_SECONDS": "600"})
    workshop.service.start()
    try:
        process = workshop.service.process
        for each in signals:
            os.kill(process, each)
            time.sleep(0.3)  # two signals of a kind that come together are one
        assert workshop.service.ended(within=30) == 0
    finally:
        workshop.service.stop()


@pytest.mark.parametrize("signals", [[signal.SIGTERM], [signal.SIGTERM, signal.SIGTERM]])
def test_what_it_started_ends_with_it(tmp_path: Path, signals: list[signal.Signals]) -> None:
    """A process that answers queries, busy with one that takes longer than the service may, ends with it."""
    variables = {"FIRSTOFF_GRACE_SECONDS": "0.2", "FIRSTOFF_STOP_SECONDS": "1", "FIRSTOFF_SPARQL_SECONDS": "600"}
    workshop = Workshop(tmp_path, variables)
    workshop.service.start()
    try:
        process = workshop.service.process
        asked = threading.Thread(target=workshop.ask, args=("GET", f"/sparql?query={quote(ENDLESS)}"))
        asked.start()
        assert until(60, lambda: children_of(process) and in_flight(workshop) == 2)
        started = children_of(process)
        for each in signals:
            os.kill(process, each)
            time.sleep(0.1)
        assert workshop.service.ended(within=30) == 0
        asked.join()
        assert until(10, lambda: not any(map(is_running, started)))
    finally:
        workshop.service.stop()
