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


OPEN = Request((Target("latch", Purpose.INSPECT),), off=frozenset({"side", "motor-way1"}), alternatives=0)


@pytest.fixture(scope="module")
def closing() -> Plan:
    return plan(dishwasher(), OPEN)


CLOSED_WRONGLY: dict[str, Change] = {
    "what was off is left off": without(ActKind.REFIT, "side"),
    "it is put back by another removal than took it off": as_another(ActKind.REFIT, way="motor-way0"),
    "what its refit needs off is on": without(ActKind.REMOVE, "top"),
    "it is put back twice": lambda acts: [
        *acts, *(act for act in acts if act.kind is ActKind.REFIT and act.component == "side")
    ],
}  # fmt: skip


def test_a_machine_found_open_is_closed(closing: Plan) -> None:
    assert simulate(dishwasher(), OPEN, closing.acts) == closing.minutes


@pytest.mark.parametrize("change", CLOSED_WRONGLY.values(), ids=CLOSED_WRONGLY.keys())
def test_a_machine_that_is_not_closed_as_it_was_opened_is_refused(closing: Plan, change: Change) -> None:
    with pytest.raises(BrokenPlan):
        simulate(dishwasher(), OPEN, change(closing.acts))


def test_tools_for_the_refit_of_what_was_found_off_have_to_be_at_hand(closing: Plan) -> None:
    machine = dishwasher()
    kit = {
        way.id: replace(way, tools=(machine.kind,) if way.id == "motor-way1" else ())
        for way in machine.removals.values()
    }
    with pytest.raises(BrokenPlan, match="tool"):
        simulate(replace(machine, removals=kit), replace(OPEN, tools=frozenset()), closing.acts)


@pytest.mark.parametrize(
    "request_", [replace(REQUEST, tools=frozenset()), replace(REQUEST, banned=frozenset({"panel-way0"}))]
)
def test_ways_that_are_not_allowed_are_refused(found: Plan, request_: Request) -> None:
    machine = dishwasher()
    kit = {way.id: replace(way, tools=(way_tool,)) for way in machine.removals.values() for way_tool in [machine.kind]}
    with pytest.raises(BrokenPlan):
        simulate(replace(machine, removals=kit), request_, found.acts)
