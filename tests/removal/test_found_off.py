"""Plans from where a job stands: what is off is put back, and nothing that is done is done again."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from math import fsum
from random import Random

import pytest

from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.removal import Act, ActKind, Budget, Plan, Planner, Request, Target, Unreachable, plan
from support.dishwasher import ISOLATED, ON_BACK, SHUT, dishwasher
from support.full_model import Situation, cheapest, check, start_of, steps
from support.instances import Shape, found_off, one_phase, one_phase_with_states, small_case
from support.milp import cheapest_removals
from support.opened import opened_case

REPLACE, TEST = Purpose.REPLACE, Purpose.TEST
BUDGET = Budget(nodes=10_000)


@pytest.mark.parametrize("first", range(0, 1000, 50))
def test_opened_machines_against_every_situation(first: int) -> None:
    kinds: Counter[str] = Counter()
    for seed in range(first, first + 50):
        machine, request = opened_case(seed)
        least = cheapest(machine, request)
        try:
            found = plan(machine, replace(request, alternatives=0), BUDGET)
        except Unreachable:
            assert least is None
            kinds["unreachable"] += 1
            continue
        check(machine, request, found)
        assert found.optimal
        assert found.minutes == least
        if request.off:
            kinds["comes off again" if set(found.removed) & start_of(machine, request).gone else "goes back"] += 1
    assert min(kinds["unreachable"], kinds["goes back"]) > 0


SHAPES = {
    "40 parts, many ways": (Shape(40, 80, 2, 0.3), 40),
    "60 parts, mutual needs everywhere": (Shape(60, 120, 2, 0.5), 40),
    "150 parts, near needs": (Shape(150, 220, 2, 0.05, 12), 20),
    "300 parts": (Shape(300, 360, 3, 0.05), 20),
}


@pytest.mark.parametrize("name", SHAPES)
def test_one_phase_against_highs(name: str) -> None:
    """The oracle puts the way out and the way back in order each for itself."""
    shape, cases = SHAPES[name]
    kinds: Counter[str] = Counter()
    for seed in range(cases):
        rng = Random(f"found off {name} {seed}")
        machine = one_phase(rng, shape)
        slugs = sorted(machine.components)
        targets = tuple(Target(slug, REPLACE) for slug in rng.sample(slugs, rng.choice((0, 1, 2))))
        off = frozenset(rng.sample(slugs, rng.choice((1, 2, 4, 8))))
        kinds[against_highs(machine, Request(targets, off, alternatives=0))] += 1
    assert kinds["planned"] > 0


@pytest.mark.parametrize("parts", [40, 120])
def test_frames_against_highs(parts: int) -> None:
    kinds: Counter[str] = Counter()
    for seed in range(40):
        rng = Random(f"found off in frames {parts} {seed}")
        machine = one_phase_with_states(rng, Shape(parts, parts * 6 // 5, 2, 0.02, 20), 3)
        slugs = sorted(machine.components)
        targets = tuple(Target(slug, REPLACE) for slug in rng.sample(slugs, rng.choice((1, 2))))
        kinds[against_highs(machine, Request(targets, frozenset(rng.sample(slugs, 3)), alternatives=0))] += 1
    assert kinds["planned"] > 0


def against_highs(machine: Appliance, request: Request) -> str:
    least = cheapest_removals(machine, request)
    try:
        found = plan(machine, request)
    except Unreachable:
        assert least is None
        return "unreachable"
    check(machine, request, found)
    assert found.optimal
    assert found.minutes == found.bound == least
    return "planned"


# --- stopping in the middle of the work ------------------------------------------------------------------


def after(machine: Appliance, request: Request, acts: Iterable[Act]) -> tuple[Request, Situation]:
    """The request for what is left once ``acts`` are done: off by the removals used, states in force, targets left."""
    now = start_of(machine, request)
    for act in acts:
        target = act.needed_for[0] if act.kind is ActKind.SERVE else None
        step = (act.kind, act.component, act.way, target, act.minutes)
        (now,) = {then for able, then in steps(machine, request, now) if able == step}
    off = frozenset(way or part for part, way in now.off)
    left = tuple(target for target in dict.fromkeys(request.targets) if target not in now.served)
    return replace(request, targets=left, off=off, states=dict(now.states), alternatives=0), now


def goes_on(machine: Appliance, request: Request, found: Plan, done: int) -> Plan:
    """Assert that the plan asked for after ``done`` acts is what was left of ``found``, and repeats nothing."""
    rest, now = after(machine, request, found.acts[:done])
    again = plan(machine, rest, Budget(nodes=40_000))
    check(machine, rest, again)
    left = found.acts[done:]
    assert again.optimal
    assert again.minutes == pytest.approx(fsum(act.minutes for act in left), abs=1e-9)
    for act in again.acts:
        if act.kind is ActKind.REMOVE and act.component in now.gone:
            assert any(each.kind is ActKind.REMOVE and each.component == act.component for each in left)
        assert act.kind is not ActKind.SERVE or act.needed_for[0] not in now.served
    return again


def test_replanning_at_any_time_is_what_was_left_of_the_plan() -> None:
    """Optimal substructure: what is left of a cheapest plan is a cheapest plan from there."""
    stopped = 0
    for seed in range(300):
        machine, request = opened_case(seed) if seed % 2 else small_case(seed)
        try:
            found = plan(machine, replace(request, alternatives=0), BUDGET)
        except Unreachable:
            continue
        if not found.optimal:
            continue
        done = Random(seed).randint(0, len(found.acts))
        goes_on(machine, request, found, done)
        stopped += 0 < done < len(found.acts)
    assert stopped > 60


JOBS = {
    "a motor": [("motor", REPLACE)],
    "a pump": [("pump", REPLACE)],
    "a live test": [("board", TEST), ("guard", REPLACE)],
    "two jobs": [("sensor", REPLACE), ("latch", REPLACE)],
}


@pytest.mark.parametrize("name", JOBS)
def test_replanning_after_every_act_by_hand(name: str) -> None:
    machine = dishwasher()
    request = Request(tuple(Target(*target) for target in JOBS[name]), alternatives=0)
    found = plan(machine, request)
    for done in range(len(found.acts) + 1):
        again = goes_on(machine, request, found, done)
        assert len(again.acts) == len(found.acts) - done


@pytest.mark.parametrize("shape", [Shape(120, 150, 2, 0.02, 20), Shape(300, 360, 3, 0.02, 20)])
def test_replanning_on_large_machines(shape: Shape) -> None:
    """Every part is off by the removal that took it off, so that one order back is left."""
    for seed in range(6):
        rng = Random(f"stopped {seed}")
        machine = one_phase_with_states(rng, shape, 3)
        slugs = sorted(machine.components)
        request = Request(tuple(Target(slug, REPLACE) for slug in rng.sample(slugs, 2)), alternatives=0)
        try:
            found = plan(machine, request)
        except Unreachable:
            continue
        for done in {0, 1, len(found.acts) // 3, len(found.acts) // 2, len(found.acts) * 2 // 3, len(found.acts) - 1}:
            goes_on(machine, request, found, done)


def test_more_work_on_an_open_machine_costs_less() -> None:
    """On its back with the tray off: the pump costs its own removal and refit, and what closes the machine."""
    machine = dishwasher()
    planner = Planner(machine)
    off = frozenset({"kickplate", "hose", "tray"})
    states = {"supply": ISOLATED, "water": SHUT, "posture": ON_BACK}
    closing = planner.plan(Request((), off, states=states))
    pump = planner.plan(Request((Target("pump", REPLACE),), off, states=states))
    assert closing.minutes == 3 + 5 + 3 + 1 + 1 + 1
    assert pump.minutes == closing.minutes + 8
    assert closing.acts[-1].after_off == frozenset()


def test_the_act_that_comes_first_comes_first_and_counts() -> None:
    machine = dishwasher()
    isolate = "supply=0>supply=1-0"
    request = Request((Target("latch", Purpose.INSPECT),), frozenset({"side"}), first=isolate, alternatives=2)
    found = plan(machine, request)
    check(machine, replace(request, first=None), found)
    assert found.acts[0].way == isolate
    assert found.minutes == found.bound == 1 + (0.25 + 1 + 0.25) + (2 + 3 + 2) + 1
    assert all(other.acts[0].way == isolate for other in found.alternatives)
    with pytest.raises(Unreachable, match="first"):
        plan(machine, replace(request, states={"supply": ISOLATED}))


def test_large_machines_that_stand_open_are_named_in_any_mixture() -> None:
    """By component or by removal, it comes to the same where a component has one removal."""
    machine = one_phase(Random(7), Shape(80, 80, 2, 0.0, 10))
    parts = ["p10", "p30", "p50"]
    said = {plan(machine, Request((), found_off(Random(seed), machine, parts))).minutes for seed in range(6)}
    assert len(said) == 1
