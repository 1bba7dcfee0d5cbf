"""The order in which a machine found open is served and closed, and what a chain of plans does with it."""

from __future__ import annotations

from collections import Counter
from random import Random
from typing import NoReturn

import pytest

from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.removal import ActKind, Budget, Plan, Request, Target, Undecided, Unreachable, plan, planner
from firstoff.removal.closing import closed_up, early, opening
from firstoff.removal.compiled import compile_appliance
from firstoff.removal.moves import Move, cost_of
from firstoff.removal.outcome import relaxed
from firstoff.removal.problem import Problem
from firstoff.removal.prune import feasible, prune
from firstoff.removal.request import Meter
from support.dishwasher import ISOLATED, ON_BACK, OPEN, SHUT, dishwasher
from support.full_model import cheapest, check
from support.instances import Shape, access, appliance, component, one_phase, preparation, removal

REPLACE, TEST = Purpose.REPLACE, Purpose.TEST
WET = {"supply": ISOLATED, "water": SHUT, "posture": ON_BACK}


def problem_of(machine: Appliance, request: Request) -> Problem:
    return Problem(compile_appliance(machine), request, request.banned)


BASE, DOOR = frozenset({"kickplate", "hose", "tray"}), {"supply": ISOLATED, "door": OPEN}


def to(slug: str, purpose: Purpose = REPLACE) -> tuple[Target, ...]:
    return (Target(slug, purpose),)


CLOSED = [
    # what the row shows, the request; whether h+ can be put in order
    ("closed up from its back", Request((), BASE, states=WET), True),
    ("a target behind what is off", Request(to("pump"), BASE, states=WET), True),
    ("a target off already", Request(to("board"), frozenset({"panel", "board"}), states=DOOR), True),
    ("nothing in force yet", Request(to("latch"), frozenset({"panel", "side"})), True),
    ("a part needed off for a refit", Request((), frozenset({"motor-way1"})), True),
    ("the supply on for a test on its back", Request(to("motor", TEST), BASE, states=WET), False),
    ("a guard to be fitted first", Request(to("board", TEST), frozenset({"panel", "guard"}), states=DOOR), False),
]


@pytest.mark.parametrize(("request_", "in_order"), [row[1:] for row in CLOSED], ids=[row[0] for row in CLOSED])
def test_where_the_picks_can_be_put_in_order_they_are_the_plan(request_: Request, in_order: bool) -> None:
    machine = dishwasher()
    problem = problem_of(machine, request_)
    solution = relaxed(problem, Meter(Budget()))
    assert solution is not None
    moves = closed_up(problem, solution.picks)
    assert (moves is not None) is in_order
    if moves is not None:
        assert feasible(problem, moves)
        assert cost_of(moves) == solution.cost + problem.constant
    found = plan(machine, request_)
    check(machine, request_, found)
    assert found.optimal


def test_nearly_all_machines_of_one_phase_are_closed_by_the_picks() -> None:
    """There the plan told backwards is the whole of it: only what comes off twice is left to the search."""
    kinds: Counter[bool] = Counter()
    for seed in range(60):
        rng = Random(f"closing {seed}")
        machine = one_phase(rng, Shape(60, 100, 2, 0.3))
        slugs = sorted(machine.components)
        request = Request((Target(rng.choice(slugs), REPLACE),), frozenset(rng.sample(slugs, 3)))
        problem = problem_of(machine, request)
        solution = relaxed(problem, Meter(Budget()))
        if solution is not None:
            kinds[closed_up(problem, solution.picks) is not None] += 1
    assert kinds[True] > 20
    assert kinds[False] == 0


def two_covers() -> Appliance:
    """A guard that anyone can lift, a core behind a cover, a supply to isolate for both to be touched but the guard."""
    return appliance(
        [component(slug) for slug in ("guard", "cover", "core")],
        [removal("guard", 1, 1), removal("cover", 2, 2, states={"supply=1"}), removal("core", 3, 3, off={"cover"})],
        [access("core", TEST, 1, states={"supply=0"}, fitted={"guard"})],
        {"supply": 2},
        [preparation("supply=1", "supply=0", 1, 1)],
    )


def test_what_was_off_is_back_before_the_supply_though_it_could_go_back_later() -> None:
    machine = two_covers()
    request = Request((Target("core", REPLACE),), frozenset({"guard"}), alternatives=0)
    found = plan(machine, request)
    check(machine, request, found)
    kinds = [(act.kind, act.component) for act in found.acts]
    assert kinds.index((ActKind.REFIT, "guard")) < kinds.index((ActKind.UNDO, None))


def test_brought_forward_moves_stay_a_plan_at_the_same_cost() -> None:
    moved = 0
    for seed in range(80):
        rng = Random(f"early {seed}")
        machine = one_phase(rng, Shape(30, 50, 2, 0.2))
        slugs = sorted(machine.components)
        request = Request((Target(rng.choice(slugs), REPLACE),), frozenset(rng.sample(slugs, 3)))
        problem = problem_of(machine, request)
        solution = relaxed(problem, Meter(Budget()))
        moves = None if solution is None else closed_up(problem, solution.picks)
        if moves is None:
            continue
        brought = early(problem, moves)
        assert feasible(problem, brought)
        assert sorted(map(id, brought)) == sorted(map(id, moves))
        served = next(step for step, move in enumerate(brought) if move.option.kind is ActKind.SERVE)
        assert not any(move.option.puts_back for move in brought[:served])
        moved += brought != moves
    assert moved > 5


@pytest.mark.parametrize(
    ("request_", "able"),
    [
        (Request(()), True),
        (Request((), states={"supply": ISOLATED}), False),  # it is done already
        (Request((), banned=frozenset({"supply=0>supply=1-0"})), False),
    ],
)
def test_the_first_act_has_to_be_possible(request_: Request, able: bool) -> None:
    problem = problem_of(dishwasher(), request_)
    if able:
        assert opening(problem, "supply=0>supply=1-0").way == "supply=0>supply=1-0"
        return
    with pytest.raises(Unreachable):
        opening(problem, "supply=0>supply=1-0")


def test_what_needs_a_part_off_can_come_first_where_it_is_off() -> None:
    tilt = "posture=0>posture=1-0"
    ready = {"supply": ISOLATED, "water": SHUT}
    assert opening(problem_of(dishwasher(), Request((), frozenset({"hose"}), states=ready)), tilt).way == tilt
    with pytest.raises(Unreachable):
        opening(problem_of(dishwasher(), Request((), states=ready)), tilt)


def test_a_chain_does_not_put_back_what_the_next_plan_takes_off(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each plan of the chain closes the machine; the refit and the removal after it are dropped again."""

    def spent(*_: object) -> NoReturn:
        raise Undecided(0.0)

    machine = dishwasher()
    off = frozenset({"kickplate", "hose", "tray"})
    request = Request((Target("pump", REPLACE), Target("sensor", REPLACE)), off, states=WET, alternatives=0)
    best = plan(machine, request)
    monkeypatch.setattr(planner, "best", spent)
    chain = plan(machine, request)
    check(machine, request, chain)
    assert chain.minutes == best.minutes
    assert not set(chain.removed) & off


def test_pruning_keeps_a_plan_a_plan() -> None:
    """A plan that puts a part back, takes it off by the same removal and puts it back again does the first twice."""
    machine = two_covers()
    problem = problem_of(machine, Request((), frozenset({"guard"})))
    (refit,) = problem.refits[problem.compiled.number["guard"]]
    (off,) = problem.compiled.by_head[problem.compiled.number["guard"]]
    once = [Move(refit, back=True)]
    twice = [*once, Move(off), Move(off, back=True)]
    assert feasible(problem, twice)
    assert [(move.option, move.back) for move in prune(problem, twice)] == [(refit, True)]
    assert not feasible(problem, [Move(off, back=True)])
    assert not feasible(problem, [*once, *once])


def plan_of(machine: Appliance, request: Request) -> Plan:
    found = plan(machine, request)
    check(machine, request, found)
    assert found.minutes == cheapest(machine, request)
    return found


def test_a_target_off_already_is_served_before_anything_else() -> None:
    machine = two_covers()
    found = plan_of(machine, Request((*to("core"), *to("guard")), frozenset({"cover", "core"})))
    assert (found.acts[0].kind, found.acts[0].component) == (ActKind.SERVE, "core")
