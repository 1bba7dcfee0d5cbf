"""Median time of exact isolation sets with 25 isolating devices, by shape of the circuit, beside plain enumeration.

Enumeration tries every set of devices by rising size until some do, as the property tests do; it is run where it ends
in reasonable time, and its size is told. All smallest sets are compared.

Run: python tests/benchmarks/isolation.py. It prints milliseconds and ratios; it asserts nothing.
"""

from __future__ import annotations

import sys
import time
from itertools import combinations
from pathlib import Path
from statistics import median, quantiles

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from firstoff.appliance.circuit import Circuit
from firstoff.energy import Situation, isolation
from support.circuits import Oracle, isolators_of
from support.isolation_shapes import DEVICES, SHAPES

SEEDS = 12
ENUMERATED = 2_000
"""Sets that enumeration may try before it is given up."""


def enumerated(of: Circuit) -> tuple[set[frozenset[str]], float] | None:
    """All smallest sets by trying every set, and the seconds it took; None where that is too many."""
    devices, tried = sorted(isolators_of(of)), 0
    began = time.perf_counter()
    for size in range(len(devices) + 1):
        found = set()
        for chosen in combinations(devices, size):
            tried += 1
            if tried > ENUMERATED:
                return None
            oracle = Oracle(of, Situation(opened=frozenset(chosen)))
            if "p" not in oracle.reached(oracle.roots(), controls_closed=True):
                found.add(frozenset(chosen))
        if found:
            return found, time.perf_counter() - began
    return set(), time.perf_counter() - began


def main() -> None:
    heads = ("shape", "sets", "size", "median ms", "90 % ms", "enumeration ms", "ratio", "differ")
    print(" ".join(f"{head:>14}" for head in heads))
    for name, shape in SHAPES.items():
        times, sizes, counts, ratios, plain, differ = [], [], [], [], [], 0
        for seed in range(SEEDS):
            of = shape(DEVICES, seed)
            runs = []
            for _ in range(5):
                began = time.perf_counter()
                sets = isolation(of, {"p"}, Situation()).sets
                runs.append(time.perf_counter() - began)
            times.append(median(runs))
            found = {frozenset(each.devices) for each in sets}
            counts.append(len(found))
            sizes.append(len(next(iter(found), ())))
            by_force = enumerated(of)
            if by_force is not None:
                plain.append(by_force[1])
                ratios.append(by_force[1] / times[-1])
                differ += by_force[0] != found
        slow = (f"{median(plain) * 1e3:.1f}", f"{median(ratios):.0f}") if plain else ("too many", "")
        quick = (f"{median(times) * 1e3:.2f}", f"{quantiles(times, n=10)[-1] * 1e3:.2f}")
        row = (name, f"{median(counts):.0f}", f"{median(sizes):.0f}", *quick, *slow, str(differ))
        print(" ".join(f"{cell:>14}" for cell in row), flush=True)


if __name__ == "__main__":
    main()
