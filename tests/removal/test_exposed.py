"""What is within reach, against a walk through every situation of the full model."""

from __future__ import annotations

from collections import Counter

import pytest

from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.removal import ActKind, Request, Target
from firstoff.removal.exposed import Standing, exposed
from support.full_model import Situation, start_of, steps
from support.instances import access, appliance, component, preparation, removal, small_case

STATE_CHANGES = (ActKind.PREPARE, ActKind.UNDO)


def standing_of(machine: Appliance, request: Request) -> Standing:
    initial = {state.variable: state.id for state in machine.states.values() if state.initial}
    return Standing(start_of(machine, request).gone, {**initial, **request.states}, request.tools, request.banned)


def settled(machine: Appliance, request: Request, starts: set[Situation]) -> set[Situation]:
    """All situations that changes of state alone lead to."""
    found, waiting = set(starts), list(starts)
    while waiting:
        for (kind, *_), after in steps(machine, request, waiting.pop()):
            if kind in STATE_CHANGES and after not in found:
                found.add(after)
                waiting.append(after)
    return found


def removed(machine: Appliance, request: Request, situations: set[Situation], parts: set[str]) -> set[Situation]:
    """The situations after one removal of any of ``parts``."""
    return {
        after
        for now in situations
        for (kind, part, *_), after in steps(machine, request, now)
        if kind is ActKind.REMOVE and part in parts
    }


def served(machine: Appliance, request: Request, situations: set[Situation]) -> set[Target]:
    return {
        target
        for now in situations
        for (kind, _, _, target, _), _ in steps(machine, request, now)
        if kind is ActKind.SERVE and target is not None
    }


def within(machine: Appliance, request: Request, starts: set[Situation]) -> set[Target]:
    """What is within reach by brute force: seen as it stands, or replaced with no more off than the part or its unit.

    Purposes without a way in of their own are left out.
    """
    still = settled(machine, request, starts)
    seen = served(machine, request, still)
    for part in machine.components.values():
        own = {part.id, part.replaced_as or part.id}
        after = settled(machine, request, removed(machine, request, still, own))
        seen |= {each for each in served(machine, request, after) if each == Target(part.id, Purpose.REPLACE)}
    own_ways = {Target(path.component, path.purpose) for path in machine.access_paths.values()}
    return {target for target in seen if target.purpose is Purpose.REPLACE or target in own_ways}


@pytest.mark.parametrize("first", range(0, 400, 100))
def test_small_machines(first: int) -> None:
    kinds: Counter[str] = Counter()
    for seed in range(first, first + 100):
        machine, asked = small_case(seed)
        every = tuple(Target(slug, purpose) for slug in machine.components for purpose in Purpose)
        request = Request(every, asked.off, asked.tools, 0, asked.states, asked.banned)
        now, after = exposed(machine, standing_of(machine, request))
        start = {start_of(machine, request)}
        expected = within(machine, request, start)
        assert {Target(each.component, each.purpose) for each in now} == expected
        still = settled(machine, request, start)
        able = {act[2] for each in still for act, _ in steps(machine, request, each) if act[0] is ActKind.REMOVE}
        assert {each.removal for each in after} == able
        for each in after:
            done = {
                then
                for situation in still
                for act, then in steps(machine, request, situation)
                if act[0] is ActKind.REMOVE and act[2] == each.removal
            }
            fresh = {x for x in within(machine, request, done) if x not in expected and x.component != each.component}
            assert {Target(opened.component, opened.purpose) for opened in each.opens} == fresh
            kinds["opens" if each.opens else "opens nothing"] += 1
        kinds["within"] += len(now)
    assert min(kinds["opens"], kinds["opens nothing"], kinds["within"]) > 0


def test_states_still_to_be_brought_about_are_said() -> None:
    machine = appliance(
        [component("cover"), component("fan")],
        [removal("cover", 1, states={"v=1"}), removal("fan", 1, off={"cover"})],
        [access("fan", Purpose.TEST, off={"cover"}, states={"v=1"}), access("fan", Purpose.INSPECT)],
        {"v": 2},
        [preparation("v=1", "v=0", 2, 1)],
    )
    now, after = exposed(machine, Standing(frozenset(), {"v": "v=0"}))
    assert [(each.component, each.purpose, each.states) for each in now] == [
        ("cover", Purpose.REPLACE, {"v=1"}),
        ("fan", Purpose.INSPECT, frozenset()),
    ]
    assert [(each.removal, each.states) for each in after] == [("cover-way0", {"v=1"})]
    assert [(each.component, each.purpose, each.states) for each in after[0].opens] == [
        ("fan", Purpose.TEST, {"v=1"}),
        ("fan", Purpose.REPLACE, frozenset()),
    ]
