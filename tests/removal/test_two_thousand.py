"""Plans on at least two thousand random instances against oracles that share nothing with the search.

``support.full_model`` looks at every situation there is (Dijkstra) where machines are small enough; ``support.milp`` is
solved by HiGHS (``scipy.optimize.milp``) where they are not. Each instance is compared with one of them: the minutes
of the plan, its proof, its bound, and whether there is a plan at all; and ``support.full_model.check`` carries it out.
``INSTANCES`` is counted, not said: every block has to compare as many as it stands for.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from random import Random

import pytest

from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.removal import Budget, Planner, Request, Target, Unreachable
from support.full_model import cheapest, check
from support.instances import Shape, live_case, one_phase, one_phase_with_states, small_case
from support.milp import cheapest_removals

BUDGET = Budget(nodes=10_000, order_nodes=0)
A_BLOCK = 100
Case = tuple[Appliance, Request]


def mixed(number: int) -> Case:
    """A machine of three or four parts where anything may need anything, be in any state and, of some, stand open."""
    machine, request = small_case(100_000 + number)
    if number % 3:
        request = replace(request, off=frozenset())
    return machine, replace(request, tools=None) if number % 3 == 2 else request


def checked_live(number: int) -> Case:
    """A machine worked on dead and tested live."""
    return live_case(number)


# Whether there is one phase, or frames around it: parts, ways, needs a way, share of mutual needs, reach.
SHAPES = (
    Shape(40, 80, 2, 0.3),
    Shape(40, 60, 4, 0.15),
    Shape(60, 120, 2, 0.5),
    Shape(90, 150, 3, 0.1, 30),
    Shape(150, 180, 2, 0.02, 20),
)


def one_phase_case(number: int) -> Case:
    """A machine of up to 150 parts without states, or with three variables that are set once and taken back once."""
    rng = Random(f"two thousand {number}")
    shape = SHAPES[number % len(SHAPES)]
    machine = one_phase_with_states(rng, shape, 3) if number % 3 == 0 else one_phase(rng, shape)
    slugs = sorted(machine.components)
    targets = tuple(Target(slug, Purpose.REPLACE) for slug in rng.sample(slugs, rng.choice((1, 1, 2, 3))))
    off = frozenset(rng.sample(slugs, 3)) if rng.random() < 0.2 else frozenset()
    tools = frozenset(f"t{i}" for i in range(1, 5)) if rng.random() < 0.2 else None
    banned = frozenset(rng.sample(sorted(machine.removals), 3)) if rng.random() < 0.3 else frozenset()
    return machine, Request(targets, off, tools, banned=banned)


# What makes the instances, what they are compared with, and how many there are.
KINDS: dict[str, tuple[Callable[[int], Case], Callable[[Appliance, Request], float | None], int]] = {
    "anything, every situation": (mixed, cheapest, 2_000),
    "live tests, every situation": (checked_live, cheapest, 400),
    "one phase and frames, HiGHS": (one_phase_case, cheapest_removals, 600),
}
INSTANCES = sum(count for _, _, count in KINDS.values())
# Instances that the budget is too small for: what is said of them has to be true all the same.
HARD = {"anything, every situation": {243}, "live tests, every situation": {141}}


def kinds_of(machine: Appliance, request: Request) -> set[str]:
    """What an instance has in it."""
    ways = [*machine.removals.values(), *machine.access_paths.values(), *machine.preparations.values()]
    needs = {(way.component, need) for way in machine.removals.values() for need in way.needs_off}
    at_hand = request.tools
    found = {
        "mutual needs": any((need, part) in needs for part, need in needs),
        "tools missing": at_hand is not None and any(tool.id not in at_hand for way in ways for tool in tools_of(way)),
        "ways banned": bool(request.banned),
        "other ways": len({way.component for way in machine.removals.values()}) < len(machine.removals),
        "states": bool(machine.variables),
        "states in force": bool(request.states),
        "fitted needs": any(getattr(way, "needs_fitted", ()) for way in ways),
        "several targets": len(set(request.targets)) > 1,
        "found off": bool(request.off),
    }
    return {kind for kind, has in found.items() if has}


def tools_of(way: object) -> tuple[object, ...]:
    """The tools of a removal, an access path or a preparation."""
    return getattr(way, "all_tools", None) or getattr(way, "tools", ())


def compared(machine: Appliance, request: Request, least: float | None, *, hard: bool) -> str:
    """Assert that the plan is the oracle's. What came of it."""
    try:
        found = Planner(machine).plan(replace(request, alternatives=0), BUDGET)
    except Unreachable:
        assert least is None
        return "unreachable"
    check(machine, request, found)
    assert least is not None
    if hard and not found.optimal:
        assert found.bound <= least <= found.minutes
        return "hard"
    assert found.optimal
    assert found.minutes == found.bound == least
    return "planned"


BLOCKS = [(kind, first) for kind, (_, _, count) in KINDS.items() for first in range(0, count, A_BLOCK)]


@pytest.mark.parametrize(("kind", "first"), BLOCKS)
def test_the_oracle_finds_the_same(kind: str, first: int) -> None:
    make, oracle, _ = KINDS[kind]
    came: Counter[str] = Counter()
    held: Counter[str] = Counter()
    for number in range(first, first + A_BLOCK):
        machine, request = make(number)
        hard = number in HARD.get(kind, ())
        came[compared(machine, request, oracle(machine, request), hard=hard)] += 1
        held.update(kinds_of(machine, request))
    assert sum(came.values()) == A_BLOCK
    assert came["planned"] >= A_BLOCK // 4
    print(f"{A_BLOCK} of {INSTANCES} compared; {kind}: {dict(came)}; with {dict(held)}")


def test_two_thousand_are_compared_and_nothing_is_left_out() -> None:
    assert len(BLOCKS) * A_BLOCK == INSTANCES >= 2_000
    held: Counter[str] = Counter()
    for make, _, count in KINDS.values():
        for number in range(0, count, 4):
            held.update(kinds_of(*make(number)))
    assert min(held.values()) >= 50
    assert len(held) == 9, held
