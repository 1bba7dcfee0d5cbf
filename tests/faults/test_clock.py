"""A clock that jumps, forty years on and thirty back: versions keep their order, answers stay what they are.

The library faketime moves the clock of the process while it runs.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import UTC, datetime
from email.utils import parsedate_to_datetime
from pathlib import Path

from support.workshop import GRAPH, PLAN, Workshop

LIBRARIES = sorted(Path("/usr/lib").glob("*/faketime/libfaketime.so.1"))


def wait_for(workshop: Workshop, year: int) -> None:
    """Until the service dates its answers in that year, give or take one."""
    end = time.monotonic() + 30
    while time.monotonic() < end:
        dated = parsedate_to_datetime(workshop.ask("GET", "/healthz").headers["date"])
        if abs(dated.year - year) <= 1:
            return
        time.sleep(0.1)
    raise AssertionError(f"the clock is not in {year}")


def test_the_clock_jumps(tmp_path: Path, needed: Callable[[object, str], None]) -> None:
    needed(LIBRARIES, "the library faketime")
    clock = tmp_path / "clock"
    clock.write_text("+0\n")
    workshop = Workshop(
        tmp_path,
        {
            "LD_PRELOAD": str(LIBRARIES[0]),
            "FAKETIME_TIMESTAMP_FILE": str(clock),
            "FAKETIME_CACHE_DURATION": "1",
            "NO_FAKE_STAT": "1",
            "FAKETIME_DONT_FAKE_MONOTONIC": "1",
        },
    )
    try:
        workshop.service.start()
        years = []
        for number, (jump, by) in enumerate({"+0": 0, "+40y": 40, "-30y": -30}.items(), start=1):
            clock.write_text(f"{jump}\n")
            wait_for(workshop, datetime.now(UTC).year + by)
            before = workshop.ask("GET", PLAN)
            assert before.status == 200
            assert workshop.ask("GET", PLAN, if_none_match=before.headers["etag"]).status == 304
            assert workshop.publish(number).status == 200
            assert workshop.served_number() == number
            assert workshop.tell().status == 200
            graph = workshop.ask("GET", GRAPH)
            assert workshop.ask("GET", GRAPH, if_none_match=graph.headers["etag"]).status == 304
            years.append(int(workshop.versions()[-1]["when"][:4]))
        assert years[1] >= years[0] + 39
        assert years[2] <= years[0] - 29
        versions = workshop.versions()
        assert [each["number"] for each in versions] == list(range(1, len(versions) + 1))
        assert [each["why"] for each in versions[-3:]] == [f"number {number}" for number in range(1, 4)]
        assert workshop.ask("GET", "/readyz").json["status"] == "ready"
    finally:
        workshop.service.stop()
