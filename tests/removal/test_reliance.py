"""Which acts rely on which: by hand, and by undoing one act's effect just before another."""

from __future__ import annotations

from dataclasses import replace

import pytest

from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.removal import Act, ActKind, Budget, Request, Target, Undecided, Unreachable, plan, reliance
from support.dishwasher import dishwasher
from support.full_model import Situation, start_of, steps
from support.instances import appliance, component, preparation, removal, small_case


def test_a_part_behind_two_covers() -> None:
    machine = appliance(
        [component(slug) for slug in ("core", "inner", "outer")],
        [
            removal("core", 1, 1, off=["inner"], states=["supply=1"]),
            removal("inner", 1, 1, off=["outer"]),
            removal("outer", 1, 1),
        ],
        variables={"supply": 2},
        preparations=[preparation("supply=1", "supply=0", 1, 1)],
    )
    acts = plan(machine, Request((Target("core", Purpose.REPLACE),))).acts
    name = [f"{act.kind} {act.component or act.way}" for act in acts]
    found = {
        name[n]: ([name[k] for k in each.makes_possible], [name[k] for k in each.goes_before])
        for n, each in enumerate(reliance(machine, acts))
    }
    isolate, restore = "prepare supply=0>supply=1-0", "undo supply=0>supply=1-0"
    assert found["remove outer"] == (["remove inner", "refit inner"], [])
    assert found["remove inner"][0] == ["remove core", "refit core"]
    assert set(found[isolate][0]) == {"remove core", "refit core", restore}
    assert found["remove core"][0] == ["serve core"]
    assert set(found["refit core"][1]) == {"refit inner", restore}
    assert found["refit inner"] == ([], ["refit outer"])
    assert found["refit outer"] == ([], [])
    assert found[restore] == ([], [])


def carried_out(machine: Appliance, request: Request, acts: tuple[Act, ...]) -> list[Situation]:
    """The situation before each act."""
    now = start_of(machine, request)
    found = []
    for act in acts:
        found.append(now)
        target = act.needed_for[0] if act.kind is ActKind.SERVE else None
        step = (act.kind, act.component, act.way, target, act.minutes)
        now = next(after for able, after in steps(machine, request, now) if able == step)
    return found


def without(machine: Appliance, now: Situation, act: Act) -> Situation:
    """``now`` as if the effect of ``act`` had not been brought about."""
    if act.kind is ActKind.REMOVE:
        return Situation(now.off - {(act.component or "", act.way or "")}, now.states, now.served)
    if act.kind is ActKind.REFIT:
        return Situation(now.off | {(act.component or "", act.way or "")}, now.states, now.served)
    each = machine.preparations[act.way or ""]
    variable = machine.states[each.gives].variable
    goal, source = (each.gives, each.from_state) if act.kind is ActKind.PREPARE else (each.from_state, each.gives)
    return Situation(now.off, (now.states - {(variable, goal)}) | {(variable, source)}, now.served)


def compare(machine: Appliance, request: Request) -> int:
    """Assert that an act is said to make another possible just where that cannot be done without it."""
    acts = plan(machine, request, Budget(nodes=2_000)).acts
    before = carried_out(machine, request, acts)
    relied = reliance(machine, acts)
    compared = 0
    for n, act in enumerate(acts):
        touched = act.component or machine.states[machine.preparations[act.way or ""].gives].variable
        for k in range(n + 1, len(acts)):
            later = acts[k]
            if act.kind is ActKind.SERVE:
                assert k not in relied[n].makes_possible
                continue
            if later.kind is ActKind.REFIT and later.component == act.component:
                break
            target = later.needed_for[0] if later.kind is ActKind.SERVE else None
            step = (later.kind, later.component, later.way, target, later.minutes)
            able = any(can == step for can, _ in steps(machine, request, without(machine, before[k], act)))
            if later.kind is ActKind.REMOVE and later.component == act.component:
                break
            if later.kind is not ActKind.SERVE:
                assert able != (k in relied[n].makes_possible), (act, later)
            elif not able:
                assert k in relied[n].makes_possible, (act, later)
            compared += 1
            changed = later.component or machine.states[machine.preparations[later.way or ""].gives].variable
            if later.kind is not ActKind.SERVE and changed == touched:
                break
    return compared


@pytest.mark.parametrize(
    "target", [("motor", Purpose.TEST), ("sensor", Purpose.REPLACE), ("capacitor", Purpose.REPLACE)]
)
def test_the_dishwasher(target: tuple[str, Purpose]) -> None:
    assert compare(dishwasher(), Request((Target(*target),), alternatives=0)) > 10


def test_random_appliances() -> None:
    compared = 0
    for seed in range(150):
        machine, request = small_case(seed)
        request = replace(request, off=frozenset(), alternatives=0)
        try:
            compared += compare(machine, request)
        except (Unreachable, Undecided):
            continue
    assert compared > 300
