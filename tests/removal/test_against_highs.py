"""Plans against HiGHS on machines of 40 to 300 parts with mutual needs, within one phase and with frames around it.

The optimum of delete-free planning is h+ (Haslum, Slaney, Thiebaux, ICAPS 2012; Imai and Fukunaga, JAIR 54, 2015);
``support.milp`` finds it with a solver of others, and ``support.full_model.check`` carries every plan out.
"""

from __future__ import annotations

from collections import Counter
from random import Random

import pytest

from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.removal import Planner, Request, Target, Unreachable
from support.full_model import check
from support.instances import Shape, one_phase, one_phase_with_states
from support.milp import program, solve

# Parts, ways, parts that a way needs at the most, share of mutual needs, reach of the others; cases.
SHAPES = {
    "40 parts, many ways": (Shape(40, 80, 2, 0.3), 60),
    "40 parts, dense needs": (Shape(40, 60, 4, 0.15), 60),
    "90 parts, mutual needs everywhere": (Shape(90, 180, 2, 0.5), 30),
    "150 parts, near needs": (Shape(150, 220, 2, 0.05, 12), 14),
    "300 parts": (Shape(300, 360, 3, 0.05), 40),
    "300 parts, long plans": (Shape(300, 360, 2, 0.02, 20), 30),
    "300 parts, mutual needs": (Shape(300, 420, 2, 0.05, 60), 15),
}


def request_on(rng: Random, machine: Appliance) -> Request:
    """One to three parts to replace; now and then parts off, a tool missing, ways ruled out."""
    slugs = sorted(machine.components)
    targets = tuple(Target(slug, Purpose.REPLACE) for slug in rng.sample(slugs, rng.choice((1, 1, 2, 3))))
    off = frozenset(rng.sample(slugs, rng.choice((0, 0, 0, 2))))
    tools = frozenset(f"t{i}" for i in range(1, 5)) if rng.random() < 0.1 else None
    banned = frozenset(rng.sample(sorted(machine.removals), rng.choice((0, 0, 3))))
    return Request(targets, off, tools, 0, banned=banned)


def compare(machine: Appliance, request: Request) -> str:
    """Assert that the plan takes the minutes that HiGHS finds. What kind of case it was."""
    least = solve(program(machine, request))
    try:
        found = Planner(machine).plan(request)
    except Unreachable:
        assert least is None
        return "unreachable"
    check(machine, request, found)
    assert least is not None
    assert found.optimal
    assert found.minutes == found.bound == least[0]
    return "long" if len(found.removed) > 10 else "short"


@pytest.mark.parametrize("name", SHAPES)
def test_one_phase(name: str) -> None:
    shape, cases = SHAPES[name]
    kinds: Counter[str] = Counter()
    for seed in range(cases):
        rng = Random(f"{name} {seed}")
        machine = one_phase(rng, shape)
        kinds[compare(machine, request_on(rng, machine))] += 1
    assert kinds["long"] > 0
    assert kinds["short"] > 0


@pytest.mark.parametrize("parts", [40, 120, 300])
def test_frames_around_one_phase(parts: int) -> None:
    """Three variables, each needed in one state besides its initial one: set once, taken back once."""
    kinds: Counter[str] = Counter()
    for seed in range(20):
        rng = Random(f"frames {parts} {seed}")
        machine = one_phase_with_states(rng, Shape(parts, parts * 6 // 5, 2, 0.02, 20), 3)
        kinds[compare(machine, request_on(rng, machine))] += 1
    assert kinds["long"] > 0
    assert kinds["short"] > 0
