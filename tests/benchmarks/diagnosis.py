"""Expected minutes to repair: exact, look-ahead and P-over-C, on random machines, with milliseconds.

Run: python tests/benchmarks/diagnosis.py [ACTIONS ...]. It prints means over the machines that were solved exactly; it
asserts nothing.
"""

from __future__ import annotations

import random
import sys
import time

from firstoff.diagnosis import Access, Action, Strategy, situation

MACHINES = 10
OPENINGS = ("k", "l", "m", "n")
INSIDE = {"l": frozenset({"k"}), "n": frozenset({"m"})}


def machine(actions: int, seed: int) -> tuple[dict[str, float], list[Action], Access]:
    """Two thirds remedies, one fault each; the rest checks that split the faults by chance."""
    dice = random.Random(seed)
    faults = [f"f{n}" for n in range(actions - actions // 3)]
    ways = lambda: (frozenset(dice.sample(OPENINGS, dice.randint(0, 2))),)  # noqa: E731
    found = [Action(f"r-{f}", dice.randint(2, 30), ways(), ends=frozenset({f})) for f in faults]
    for number in range(actions // 3):
        yes = {fault: float(dice.random() < 0.5) for fault in faults}
        no = {fault: 1 - part for fault, part in yes.items()}
        found.append(Action(f"c{number}", dice.randint(1, 5), ways(), outcomes=(yes, no)))
    return {f: dice.uniform(0.2, 5) for f in faults}, found, Access({o: dice.randint(1, 10) for o in OPENINGS}, INSIDE)


def main(sizes: list[int]) -> None:
    print("actions  exact  look-ahead  P-over-C  worst gap  solved  exact ms (worst)  look-ahead ms (worst)")
    for size in sizes:
        rows = []
        for seed in range(MACHINES):
            shares, actions, access = machine(size, seed)
            start, strategy = situation(shares), Strategy(actions, access)
            began = time.perf_counter()
            found = strategy.choose(start)
            middle = time.perf_counter()
            ahead = Strategy(actions, access).look_ahead(start)[0]
            ended = time.perf_counter()
            if found.exact:
                plain = strategy.p_over_c(start)[0]
                rows.append((found.expected, ahead, plain, ahead / found.expected - 1, middle - began, ended - middle))
        if rows:
            exact, ahead, plain = (sum(row[n] for row in rows) / len(rows) for n in range(3))
            gap, slow, slow_ahead = (max(row[n] for row in rows) for n in (3, 4, 5))
            print(
                f"{size:7}  {exact:5.1f}  {ahead:10.1f}  {plain:8.1f}  {gap:9.1%}  {len(rows):2}/{MACHINES}  "
                f"{slow * 1000:16.0f}  {slow_ahead * 1000:21.0f}"
            )


if __name__ == "__main__":
    main([int(each) for each in sys.argv[1:]] or [6, 9, 12])
