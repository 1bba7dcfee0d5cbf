"""How long an outcome takes to be kept, many take to be read, and learned frequencies take for each answer.

    python tests/benchmarks/outcomes.py

Beside each stands what it cannot do without: a bare append forced to disk, the parsing of the same lines, the
authored frequencies alone. Prints medians in milliseconds and their ratios; asserts nothing.
"""

from __future__ import annotations

import json
import os
import statistics
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

from firstoff.answers.learning import learned_of
from firstoff.collection.opening import open_content
from firstoff.diagnosis import authored_frequencies
from firstoff.outcomes import Outcome, OutcomeLog, digest
from firstoff.outcomes.record import line_of
from firstoff.settings import Settings

MODEL, SYMPTOM = "tgd27-460-s", "no-heat"
ADDED, READ, ASKED = 200, 100_000, 200


def median(times: int, act: Callable[[int], object]) -> float:
    """Milliseconds."""
    took = []
    for n in range(times):
        start = time.perf_counter()
        act(n)
        took.append(1000 * (time.perf_counter() - start))
    return statistics.median(took)


def told(name: str, ours: float, bare: float, beside: str) -> None:
    print(f"{name}: {ours:.2f} ms; {beside}: {bare:.2f} ms; ratio {ours / bare:.2f}")


def main() -> None:
    settings = Settings()
    opened = open_content(settings.data)
    faults = sorted(opened.collection.appliances(MODEL)[0].faults)
    one = Outcome("", "", "2026-11-27", MODEL, (SYMPTOM,), (), (), (), faults[0], None, "0" * 16)
    every = [replace(one, key=digest(str(n)), body=digest(f"b{n}"), fault=faults[n % len(faults)]) for n in range(READ)]
    with TemporaryDirectory() as folder:
        state = Path(folder)
        log = OutcomeLog(state / "few")
        ours = median(ADDED, lambda n: log.add(every[n].key, every[n].body, lambda: every[n]))
        file = os.open(state / "bare", os.O_WRONLY | os.O_APPEND | os.O_CREAT)
        bare = median(ADDED, lambda n: (os.write(file, line_of(every[n])), os.fsync(file)))
        os.close(file)
        told("an outcome kept", ours, bare, "a bare append forced to disk")

        (state / "many").mkdir()
        many = OutcomeLog(state / "many")
        many.path.write_bytes(b"".join(map(line_of, every)))
        ours = median(3, lambda _: OutcomeLog(state / "many").counted())
        bare = median(3, lambda _: [json.loads(line) for line in many.path.read_bytes().splitlines()])
        told(f"{READ} outcomes read", ours, bare, "the same lines parsed")

        appliance = opened.collection.appliances(MODEL)[0]
        many.counted()
        ours = median(ASKED, lambda _: learned_of(opened.collection, appliance, many.counted(), 50))
        bare = median(ASKED, lambda _: authored_frequencies(appliance, 50))
        told(f"frequencies of a machine after {READ} jobs", ours, bare, "as authored")


if __name__ == "__main__":
    main()
