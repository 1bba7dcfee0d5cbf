"""Every fault of four machines walked from what the customer says to a repaired machine.

Run: ``python tests/benchmarks/walks.py``. Prints for each complaint how many faults end repaired, for how many help is
called, and the steps taken. Nothing is asserted beyond that a walk ends, condemns no good part and repeats nothing.
"""

from __future__ import annotations

import statistics
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from fastapi.testclient import TestClient

from firstoff.api.application import create_app
from firstoff.collection.opening import open_content
from firstoff.settings import Settings
from support.walks import ENTRIES, SERIAL, asking, start_with, walk


def main() -> None:
    settings = Settings()
    opened = open_content(settings.data)
    with TestClient(create_app(opened, settings)) as client:
        print(f"{'complaint':<30}{'faults':>8}{'repaired':>10}{'help':>6}{'steps median':>14}{'most':>6}{'s':>8}")
        for words, model, kind, found in ENTRIES:
            began = time.perf_counter()
            appliance = opened.collection.appliances(model, SERIAL)[0]
            ask = asking(client, model)
            walks = [walk(ask, appliance, fault, start_with(kind, found)) for fault in appliance.faults]
            steps = [len(each.made) + len(each.tried) for each in walks]
            repaired = sum(each.end == "repaired" for each in walks)
            print(
                f"{words:<30}{len(walks):>8}{repaired:>10}{len(walks) - repaired:>6}"
                f"{statistics.median(steps):>14.0f}{max(steps):>6}{time.perf_counter() - began:>8.0f}"
            )


if __name__ == "__main__":
    main()
