"""Told to stop: it says so, ends what it began, and is gone within its time with exit code 0."""

from __future__ import annotations

import os
import signal
import threading
import time
from pathlib import Path

import pytest

from support.workshop import PLAN, Said, Workshop


def until(seconds: float, met: object) -> bool:
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if met():  # type: ignore[operator]
            return True
        time.sleep(0.02)
    return False


def test_sigterm_with_requests_in_flight(tmp_path: Path) -> None:
    workshop = Workshop(tmp_path, {"FIRSTOFF_GRACE_SECONDS": "2"})
    workshop.service.start()
    try:
        published: list[Said] = []
        publishing = threading.Thread(target=lambda: published.append(workshop.publish(1)))
        publishing.start()
        in_flight = "firstoff_requests_in_flight 2.0"
        assert until(10, lambda: in_flight in workshop.ask("GET", "/metrics").body or not publishing.is_alive())
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
