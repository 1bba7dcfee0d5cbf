"""The simulation that every plan goes through refuses plans that cannot be carried out as written."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import pytest

from firstoff.appliance.model import Purpose
from firstoff.removal import Act, ActKind, BrokenPlan, Plan, Request, Target, plan
from firstoff.removal.simulate import simulate
from support.dishwasher import dishwasher

REQUEST = Request((Target("board", Purpose.TEST), Target("guard", Purpose.REPLACE)), alternatives=0)
Change = Callable[[Sequence[Act]], Sequence[Act]]


@pytest.fixture(scope="module")
def found() -> Plan:
    return plan(dishwasher(), REQUEST)


def without(kind: ActKind, component: str | None = None) -> Change:
    """Leave out the first act of this kind, and component if one is named."""

    def change(acts: Sequence[Act]) -> Sequence[Act]:
        left_out = next(act for act in acts if act.kind is kind and component in (None, act.component))
        return [act for act in acts if act is not left_out]

    return change


def as_another(kind: ActKind, **fields: object) -> Change:
    """Change fields of the first act of this kind."""

    def change(acts: Sequence[Act]) -> Sequence[Act]:
        first = next(act for act in acts if act.kind is kind)
        return [replace(act, **fields) if act is first else act for act in acts]  # type: ignore[arg-type]

    return change


BROKEN: dict[str, Change] = {
    "a part is not taken off": without(ActKind.REMOVE, "panel"),
    "a part is left off": without(ActKind.REFIT, "guard"),
    "a state is not brought about": without(ActKind.PREPARE),
    "a state is not taken back": without(ActKind.UNDO),
    "a target is not served": without(ActKind.SERVE, "guard"),
    "the order is turned round": lambda acts: acts[::-1],
    "a part comes off twice": lambda acts: [*acts[:4], *acts[3:]],
    "minutes are wrong": as_another(ActKind.REMOVE, minutes=99.0),
    "the removal is another part's": as_another(ActKind.REMOVE, way="tray-way0"),
    "the access path is another part's": as_another(ActKind.SERVE, way="latch-inspect0"),
}


def test_a_plan_that_holds_is_priced(found: Plan) -> None:
    assert simulate(dishwasher(), REQUEST, found.acts) == found.minutes


@pytest.mark.parametrize("change", BROKEN.values(), ids=BROKEN.keys())
def test_a_plan_that_does_not_hold_is_refused(found: Plan, change: Change) -> None:
    with pytest.raises(BrokenPlan):
        simulate(dishwasher(), REQUEST, change(found.acts))


@pytest.mark.parametrize(
    "request_", [replace(REQUEST, tools=frozenset()), replace(REQUEST, banned=frozenset({"panel-way0"}))]
)
def test_ways_that_are_not_allowed_are_refused(found: Plan, request_: Request) -> None:
    machine = dishwasher()
    kit = {way.id: replace(way, tools=(way_tool,)) for way in machine.removals.values() for way_tool in [machine.kind]}
    with pytest.raises(BrokenPlan):
        simulate(replace(machine, removals=kit), request_, found.acts)
