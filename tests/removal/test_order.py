"""The order within a plan, against every order that can be carried out."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from random import Random

import pytest

from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.removal import Act, ActKind, Budget, Request, Target, Undecided, Unreachable, plan
from firstoff.removal.compiled import compile_appliance
from firstoff.removal.handling import handling_of, score
from firstoff.removal.moves import Move
from firstoff.removal.order import ordered
from firstoff.removal.outcome import best
from firstoff.removal.problem import Problem
from firstoff.removal.request import Meter
from firstoff.removal.simulate import simulate
from firstoff.removal.timeline import timeline
from support.full_model import check
from support.instances import (
    Shape,
    access,
    appliance,
    component,
    one_phase,
    one_phase_with_states,
    preparation,
    removal,
    small_case,
)
from support.opened import opened_case
from support.orders import cost_of, is_plain, least, least_mirrored, with_handling, with_live_reading

CASES, A_BLOCK = 600, 100
MOST_ORDERS = 6_000
# Any plan will do here, so that little time goes on finding the cheapest.
FOUND_SOON = Budget(nodes=300)
SEARCHED = Budget(nodes=300, order_nodes=100_000)


def some_case(seed: int) -> tuple[Appliance, Request]:
    """A small random machine with states, tools, zones and burdens.

    One in five is found open; every other request asks for a live reading too.
    """
    rng = Random(seed)
    found_open = seed % 5 == 0
    machine, request = opened_case(seed) if found_open else small_case(seed)
    machine = with_handling(rng, machine)
    if seed % 2:
        machine, target = with_live_reading(machine, rng)
        aims = tuple(dict.fromkeys((*request.targets[:1], target)))
        request = replace(request, targets=aims, states=request.states if found_open else {})
    off = request.off if found_open else frozenset()
    return machine, replace(request, off=off, tools=None, banned=frozenset(), alternatives=0)


def in_order(machine: Appliance, request: Request, budget: Budget) -> tuple[tuple[Act, ...], tuple[Act, ...], bool]:
    """The acts as the search gives them, the same acts in order, and whether that is proved."""
    compiled = compile_appliance(machine)
    problem = Problem(compiled, request, request.banned)
    outcome = best(problem, Meter(FOUND_SOON))
    order = ordered(problem, handling_of(compiled), outcome.moves, budget)
    return timeline(problem, outcome.moves), timeline(problem, order.moves), order.proved


def same_acts(some: tuple[Act, ...], others: tuple[Act, ...]) -> bool:
    return Counter((act.kind, act.way, act.component) for act in some) == Counter(
        (act.kind, act.way, act.component) for act in others
    )


@pytest.mark.parametrize("first", range(0, CASES, A_BLOCK))
def test_a_proved_order_is_the_best_of_all(first: int) -> None:
    seen: Counter[str] = Counter()
    for seed in range(first, first + A_BLOCK):
        machine, request = some_case(seed)
        try:
            given, found, proved = in_order(machine, request, SEARCHED)
        except (Unreachable, Undecided):
            continue
        assert proved, seed
        assert same_acts(given, found)
        simulate(machine, request, found)
        if not given:
            continue
        plain = is_plain(given, request, machine)
        oracle = least_mirrored if plain else least
        expected = oracle(machine, request, given, MOST_ORDERS)
        if expected is None:
            seen["too many"] += 1
            continue
        seen["plain" if plain else "blocks"] += 1
        seen["found open"] += bool(request.off)
        assert cost_of(machine, request, found) == expected, seed
        assert is_plain(found, request, machine) == plain
    assert seen["plain"] >= 20
    assert seen["blocks"] >= 4
    assert seen["found open"] >= 4
    assert seen["too many"] <= 10


@pytest.mark.parametrize("first", range(0, 60, 20))
def test_a_proved_order_of_a_plain_plan_is_the_best_of_all(first: int) -> None:
    looked = 0
    for seed in range(first, first + 20):
        rng = Random(seed)
        machine = one_phase_with_states(rng, Shape(7, 7, needs=2), 2, share=0.3)
        machine = with_handling(rng, machine)
        request = Request((Target("p0", Purpose.REPLACE), Target("p1", Purpose.REPLACE)))
        try:
            given, found, proved = in_order(machine, request, SEARCHED)
        except Unreachable:
            continue
        expected = least_mirrored(machine, request, given, MOST_ORDERS)
        assert proved
        if expected is not None:
            looked += 1
            assert cost_of(machine, request, found) == expected, seed
    assert looked >= 8


@pytest.mark.parametrize("nodes", [0, 10, 300])
def test_any_order_can_be_carried_out_and_is_no_worse_than_the_given(nodes: int) -> None:
    for seed in range(150):
        machine, request = some_case(seed)
        try:
            given, found, _ = in_order(machine, request, Budget(order_nodes=nodes))
        except (Unreachable, Undecided):
            continue
        assert same_acts(given, found)
        simulate(machine, request, found)
        assert cost_of(machine, request, found) <= cost_of(machine, request, given), seed


@pytest.mark.parametrize("seed", range(12))
def test_plans_of_many_removals(seed: int) -> None:
    rng = Random(seed)
    shape = Shape(200, 230, needs=2, reach=40)
    machine = with_handling(rng, one_phase(rng, shape))
    request = Request((Target(f"p{rng.randrange(100)}", Purpose.REPLACE),), alternatives=1)
    try:
        found = plan(machine, request)
    except (Unreachable, Undecided):
        return
    check(machine, request, found)
    given, _, _ = in_order(machine, request, Budget())
    assert cost_of(machine, request, found.acts) <= cost_of(machine, request, given)


@pytest.mark.parametrize("seed", range(40))
def test_plans_say_whether_their_order_is_proved(seed: int) -> None:
    machine, request = some_case(seed)
    try:
        found = plan(machine, replace(request, alternatives=2), SEARCHED)
    except (Unreachable, Undecided):
        return
    for each in (found, *found.alternatives):
        check(machine, request, each)
        assert each.order_proved


def test_the_supply_is_never_restored_for_nothing() -> None:
    """Also where the plan is not the cheapest: what it can do without in its new order is left out."""
    blocks = 0
    for seed in (*range(100), 1418):
        machine, request = some_case(seed)
        try:
            found = plan(machine, request, FOUND_SOON)
        except (Unreachable, Undecided):
            continue
        states = [act.states for act in found.acts]
        for before, now, after in zip(states, states[1:], states[2:], strict=False):
            changed = before != now != after
            blocks += changed and machine.energised(now.values()) and not machine.energised(before.values())
            assert not (changed and before == after), seed
    assert blocks >= 1


def bench(**changes: object) -> Appliance:
    """A machine that is pulled out, then isolated; a door to open, a panel with a heavy drum behind it, a fuse."""
    machine = appliance(
        [component(slug, zone=zone) for slug, zone in (("panel", "rear"), ("drum", "rear"), ("fuse", "front"))],
        [
            removal("panel", 2, 2, states=["supply=1"], tools=["driver"]),
            removal("drum", 4, 4, off=["panel"], states=["supply=1"]),
            removal("fuse", 1, 1, states=["door=1", "supply=1"], tools=["driver"]),
        ],
        [access("fuse", Purpose.TEST, 1, off=["panel"], fitted=["fuse"], states=["supply=0"], tools=["meter"])],
        {"supply": 2, "position": 2, "door": 2},
        [
            preparation("supply=1", "supply=0", 1, 1, states=["position=1"], tools=["lock"]),
            preparation("position=1", "position=0", 3, 3),
            preparation("door=1", "door=0", 0.2, 0.2),
        ],
    )
    variables = machine.variables | {"supply": replace(machine.variables["supply"], controls="mains")}
    states = machine.states | {
        "supply=1": replace(machine.states["supply=1"], devices_open=frozenset({"plug"})),
    }
    paths = {slug: replace(path, live=True) for slug, path in machine.access_paths.items()}
    return replace(machine, variables=variables, states=states, access_paths=paths, **changes)


def told(acts: tuple[Act, ...]) -> list[str]:
    return [f"{act.kind} {act.component or act.way}" for act in acts]


def test_isolating_comes_as_early_as_needs_allow_and_the_supply_returns_as_late() -> None:
    machine = bench()
    request = Request((Target("fuse", Purpose.REPLACE), Target("drum", Purpose.REPLACE)), alternatives=0)
    acts = told(plan(machine, request).acts)
    isolate, door = "prepare supply=0>supply=1-0", "prepare door=0>door=1-0"
    assert acts[:2] == ["prepare position=0>position=1-0", isolate]
    assert door in acts[2:]
    assert acts[-2:] == ["undo supply=0>supply=1-0", "undo position=0>position=1-0"]


def test_nothing_but_the_reading_between_restoring_and_isolating_again() -> None:
    machine = bench()
    request = Request((Target("fuse", Purpose.TEST), Target("drum", Purpose.REPLACE)), alternatives=0)
    found = plan(machine, request)
    acts = told(found.acts)
    read = acts.index("serve fuse")
    assert acts[read - 1] == "undo supply=0>supply=1-0"
    assert acts[read + 1] == "prepare supply=0>supply=1-0"
    assert found.order_proved


def test_heavy_parts_come_off_last_and_go_back_first() -> None:
    heavy = {"a": 1.0, "b": 20.0, "c": 5.0}
    machine = appliance(
        [*(replace(component(slug), kilograms=mass) for slug, mass in heavy.items()), component("d")],
        [*(removal(slug, 1) for slug in heavy), removal("d", 1, off=heavy)],
    )
    found = plan(machine, Request((Target("d", Purpose.REPLACE),)))
    assert found.removed == ("a", "c", "b", "d")
    assert [act.component for act in found.acts if act.kind is ActKind.REFIT] == ["d", "b", "c", "a"]


def test_a_part_for_two_counts_as_heavier_by_a_person() -> None:
    machine = appliance(
        [replace(component("a"), kilograms=20.0), component("b"), component("c")],
        [removal("a", 1), replace(removal("b", 1), persons=2), removal("c", 1, off="ab")],
    )
    assert plan(machine, Request((Target("c", Purpose.REPLACE),))).removed == ("a", "b", "c")


def test_tools_in_hand_matter_more_than_zones() -> None:
    machine = appliance(
        [component("a", zone="top"), component("b", zone="base"), component("c", zone="top"), component("d", zone="x")],
        [
            removal("a", 1, tools=["driver"]),
            removal("b", 1, tools=["driver"]),
            removal("c", 1, tools=["spanner"]),
            removal("d", 1, off="abc", tools=["spanner"]),
        ],
    )
    assert plan(machine, Request((Target("d", Purpose.REPLACE),))).removed == ("b", "a", "c", "d")


@pytest.mark.parametrize("nodes", [0, 1000])
def test_parts_found_off_are_refitted_where_that_is_best(nodes: int) -> None:
    """The moves of a plan that also puts back what it found off: dead, and before the supply returns."""
    machine = bench()
    request = Request(
        (Target("drum", Purpose.REPLACE),), off=frozenset({"panel", "fuse"}), states={"door": "door=1"}, alternatives=0
    )
    compiled = compile_appliance(machine)
    problem = Problem(compiled, request, frozenset())
    option = {slug: compiled.by_head[compiled.number[slug]][0] for slug in ("panel", "drum", "fuse")}
    to = {slug: compiled.by_head[compiled.state_number[slug]][0] for slug in machine.states}
    given = [
        Move(to["position=1"]), Move(to["supply=1"]), Move(option["drum"]), Move(problem.serves[0][0]),
        Move(option["fuse"], back=True), Move(option["drum"], back=True), Move(option["panel"], back=True),
        Move(to["supply=0"]), Move(to["door=0"]), Move(to["position=0"]),
    ]  # fmt: skip
    handling = handling_of(compiled)
    order = ordered(problem, handling, given, Budget(order_nodes=nodes))
    assert sorted(map(id, order.moves)) == sorted(map(id, given))
    assert order.proved == (nodes > 0)
    assert score(problem, handling, order.moves).supply_on == 2
    assert order.moves.index(given[8]) < order.moves.index(given[7])  # the door is shut dead
