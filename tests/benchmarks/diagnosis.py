"""Expected minutes to repair: exact, look-ahead and P-over-C, on random machines and the demo's, with milliseconds.

Run: python tests/benchmarks/diagnosis.py [ACTIONS ...]. It prints means over the situations that were solved exactly;
it asserts nothing. The demo's are the symptoms that the most faults list, with as many of the likeliest faults as make
no more than ACTIONS remedies and checks; dear and rarely failing parts wait for their checks under every policy, so
that P-over-C makes these checks and no other.
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from firstoff.answers.bench import Bench, laid_out
from firstoff.answers.diagnosis_access import access_of, actions_of
from firstoff.collection.opening import open_content
from firstoff.diagnosis import Access, Action, Findings, Strategy, situation, weighed
from firstoff.settings import Settings

MACHINES = 10
#: Symptoms of each demo machine.
SYMPTOMS = 3
OPENINGS = ("k", "l", "m", "n")
INSIDE = {"l": frozenset({"k"}), "n": frozenset({"m"})}


Game = tuple[dict[str, float], list[Action], Access]


class Row(NamedTuple):
    """Expected minutes, and seconds of the exact search and of the look-ahead."""

    exact: float
    ahead: float
    plain: float
    seconds: float
    ahead_seconds: float


def machine(actions: int, seed: int) -> Game:
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


def benches() -> list[Bench]:
    """Every model of the demo, the first serial range of each."""
    collection = open_content(Settings().data).collection
    return [laid_out(collection.appliances(model.id, None)[0]) for model in collection.models]


def of_the_demo(every: Iterable[Bench], most: int) -> Iterator[Game]:
    for bench in every:
        faults = bench.appliance.faults.values()
        listed = {
            s: sum(s in {effect.symptom for effect in f.effects} for f in faults) for s in bench.appliance.symptoms
        }
        for symptom in sorted(listed, key=lambda each: (-listed[each], each))[:SYMPTOMS]:
            yield _asked(bench, symptom, most)


def _asked(bench: Bench, symptom: str, most: int) -> Game:
    shares = weighed(bench.appliance, Findings(present=frozenset({symptom}))).shares
    ordered = sorted(shares.items(), key=lambda each: (-each[1], each[0]))
    likely, actions = dict(ordered[:2]), list[Action]()
    for count in range(2, most):
        found = actions_of(bench, dict(ordered[:count]), frozenset(), None, most_checks=most // 3)
        if actions and len(found) > most:
            break
        likely, actions = dict(ordered[:count]), found
    return likely, actions, access_of(bench.appliance)


def solved(game: Game) -> Row | None:
    """None where the nodes of the exact search ran out."""
    shares, actions, access = game
    start, strategy = situation(shares), Strategy(actions, access)
    began = time.perf_counter()
    found = strategy.choose(start)
    middle = time.perf_counter()
    if not found.exact:
        return None
    ahead = Strategy(actions, access).look_ahead(start)[0]
    ended = time.perf_counter()
    return Row(found.expected, ahead, strategy.p_over_c(start)[0], middle - began, ended - middle)


def line(name: str, size: int, games: Iterable[Game]) -> str:
    tried = [solved(game) for game in games]
    rows = [row for row in tried if row]
    if not rows:
        return f"{name:6}  {size:7}  none of {len(tried)} solved exactly"
    exact, ahead, plain = (sum(row[n] for row in rows) / len(rows) for n in range(3))
    gap, plain_gap = (max(row[n] / row.exact - 1 for row in rows) for n in (1, 2))
    slow, slow_ahead = (max(row[n] for row in rows) * 1000 for n in (3, 4))
    return (
        f"{name:6}  {size:7}  {exact:5.1f}  {ahead:10.1f}  {ahead / exact - 1:5.1%} {gap:6.1%}  {plain:8.1f}  "
        f"{plain / exact - 1:6.1%} {plain_gap:7.1%}  {len(rows):2}/{len(tried):2}  {slow:8.0f}  {slow_ahead:13.0f}"
    )


def main(sizes: list[int]) -> None:
    print("of      actions  exact  look-ahead    gap  worst  P-over-C     gap   worst  solved  exact ms  look-ahead ms")
    every = benches()
    for size in sizes:
        print(line("random", size, (machine(size, seed) for seed in range(MACHINES))), flush=True)
        print(line("demo", size, of_the_demo(every, size)), flush=True)


if __name__ == "__main__":
    main([int(each) for each in sys.argv[1:]] or [6, 9, 12])
