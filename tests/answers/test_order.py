"""The order of a plan's steps on the demo machines: dead work dead, and a live check as a block of its own."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from firstoff.answers.desk import Desk
from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.errors import BadRequest, TargetUnreachable
from firstoff_contract.removal import PlanRequest, RemovalPlan, Step

MODELS = ("flb-316-k", "tgd27-460-s")
# Steps that are not done by hand on the machine with the supply on.
HANDS_OFF = {"restore_supply", "read_hands_off", "isolate", "isolate_again"}
PULLED_OUT = {"pull the machine out", "Pull the appliance out of its niche"}


def appliance_of(desk: Desk, model: str) -> Appliance:
    return desk.opened.collection.appliances(model, "1")[0]


def ask(desk: Desk, model: str, *reach: str) -> RemovalPlan:
    return desk.removal_plan(model, PlanRequest(reach=list(reach), serial="1"))


def live_blocks(plan: RemovalPlan) -> Iterator[list[Step]]:
    """The steps from each return of the supply to the next isolation after it; the last return has none."""
    block: list[Step] | None = None
    for step in (*plan.steps, *plan.refit):
        if step.action == "restore_supply":
            block = []
        elif step.action in ("isolate", "isolate_again"):
            if block is not None:
                yield block
            block = None
        elif block is not None:
            block.append(step)


def with_supply_on(plan: RemovalPlan) -> list[str]:
    """The labels of the steps done by hand with the supply on."""
    on = True
    found = []
    for step in (*plan.steps, *plan.refit):
        if step.action in ("isolate", "isolate_again"):
            on = False
        if on and step.action not in HANDS_OFF:
            found.append(step.label)
        if step.action == "restore_supply":
            on = True
    return found


def test_a_live_check_and_a_dead_job_in_one_plan(desk: Desk) -> None:
    plan = ask(desk, "tgd27-460-s", "terminal-block:live-test", "drum-belt")
    assert [[step.action for step in block] for block in live_blocks(plan)] == [["read_hands_off"]]
    assert with_supply_on(plan) == ["pull the machine out", "Undo: pull the machine out"]
    assert plan.order_proved


@pytest.mark.parametrize("model", MODELS)
def test_nothing_but_the_reading_comes_between_restoring_and_isolating_again(desk: Desk, model: str) -> None:
    appliance = appliance_of(desk, model)
    live = sorted(
        {path.component for path in appliance.access_paths.values() if path.live and path.purpose is Purpose.TEST}
    )
    others = sorted({removal.component for removal in appliance.removals.values()})
    blocks = 0
    for number, component in enumerate(live):
        for other in (None, *others[number :: len(live) * 12]):
            reach = [f"{component}:live-test", *([f"{other}:replace"] if other else [])]
            try:
                plan = ask(desk, model, *reach)
            except (TargetUnreachable, BadRequest):
                continue
            for block in live_blocks(plan):
                blocks += 1
                assert {step.action for step in block} <= {"read_hands_off"}, reach
    assert blocks >= 3


@pytest.mark.parametrize("model", MODELS)
def test_only_what_the_plug_is_behind_is_done_with_the_supply_on(desk: Desk, model: str) -> None:
    """Both machines stand before their plugs: where they are isolated, they are pulled out first, pushed back last."""
    isolated = 0
    for component in sorted({removal.component for removal in appliance_of(desk, model).removals.values()}):
        plan = ask(desk, model, f"{component}:replace")
        if any(step.action == "isolate" for step in plan.steps):
            isolated += 1
            assert len(with_supply_on(plan)) <= 2, component
            assert {label.removeprefix("Undo: ") for label in with_supply_on(plan)} <= PULLED_OUT, component
    assert isolated >= 20
