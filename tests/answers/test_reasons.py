"""Why each step is there: a sentence for every step, and the numbers of the steps that rely on it."""

from __future__ import annotations

import pytest

from firstoff.answers.desk import Desk
from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.errors import TargetUnreachable
from firstoff_contract.removal import PlanRequest, RemovalPlan, Step

MODELS = ("flb-316-t", "tgd27-460-s")


def plans(desk: Desk, model: str) -> list[RemovalPlan]:
    """A plan for every component and purpose that can be reached."""
    found = []
    for part in desk.opened.collection.appliances(model, "1")[0].components:
        for purpose in Purpose:
            try:
                found.append(desk.removal_plan(model, PlanRequest(reach=[f"{part}:{purpose.value}"], serial="1")))
            except TargetUnreachable:
                continue
    return found


@pytest.fixture(scope="module", params=MODELS)
def asked(request: pytest.FixtureRequest, desk: Desk) -> tuple[Appliance, list[RemovalPlan]]:
    return desk.opened.collection.appliances(request.param, "1")[0], plans(desk, request.param)


def test_every_step_has_a_reason(asked: tuple[Appliance, list[RemovalPlan]]) -> None:
    for plan in asked[1]:
        for steps in (plan.steps, plan.refit):
            assert [step.n for step in steps] == list(range(1, len(steps) + 1))
            for step in steps:
                assert step.because.endswith("."), (step.label, step.because)
                assert all(step.n < later <= len(steps) for later in step.makes_possible)
                assert list(step.makes_possible) == sorted(set(step.makes_possible))


def test_what_a_removal_needs_off_makes_it_possible(asked: tuple[Appliance, list[RemovalPlan]]) -> None:
    """Written against the model: of two removals on the way out, the one that the other needs says so."""
    appliance, found = asked
    compared = 0
    for plan in found:
        off: dict[str, Step] = {}
        for step in plan.steps:
            part = step.component.id if step.component else ""
            if step.action == "refit":
                off.pop(part)
            if step.action != "remove":
                continue
            way = next(each for each in appliance.removals.values() if each.label == step.label)
            for need in way.needs_off & off.keys():
                assert step.n in off[need].makes_possible
                compared += 1
            off[part] = step
    assert compared > 50


def test_the_refit_waits_for_what_is_behind(asked: tuple[Appliance, list[RemovalPlan]]) -> None:
    """On the way back a cover names nothing that goes back before it, and what it covers names it."""
    for plan in asked[1]:
        back = [step for step in plan.refit if step.action == "refit"]
        for step in back:
            assert step.because.startswith(("So that the ", "So that the supply", "So that it can"))
        if any(step.action == "restore_supply" for step in plan.refit):
            supply = next(step.n for step in plan.refit if step.action == "restore_supply")
            assert all(supply in step.makes_possible for step in back if step.n < supply and not step.makes_possible)


def test_sentences(desk: Desk) -> None:
    plan = desk.removal_plan("tgd27-460-s", PlanRequest(reach=["drum-belt"], serial="1"))
    said = {step.label: step.because for step in (*plan.steps, *plan.refit)}
    assert said["pull the machine out"] == "So that the supply can be isolated."
    assert said["isolate at the plug"] == "So that nothing within reach is live while parts are off."
    assert said["Prove dead"] == "An open plug or switch does not prove that nothing is live."
    assert said["take off the back panel (nine screws)"] == "So that the drum belt can come off."
    assert said["Release: idler spring"] == "So that no hand meets the energy held in the idler spring."
    assert said["Replace: drum belt"] == "This is what was asked for."
    assert said["Refit: drum belt"] == "So that the back panel can go back."
    assert said["Refit: flexible exhaust duct"] == "So that the supply can return."
    assert said["Verify before the supply returns"] == "So that the supply can return."
    assert said["Restore the supply"] == "So that the position in the room can be brought to: in its place."
    assert said["Undo: pull the machine out"] == "So that the machine is left as it was found."


def test_a_live_reading(desk: Desk) -> None:
    plan = desk.removal_plan("flb-316-k", PlanRequest(reach=["freezer-connector:test"], serial="1"))
    hang = next(step for step in plan.steps if step.label.startswith("Hang the test leads"))
    reading = next(step for step in plan.steps if step.action == "read_hands_off")
    lid = next(step for step in plan.steps if step.action == "refit")
    restore = next(step for step in plan.steps if step.action == "restore_supply")
    assert reading.n in hang.makes_possible
    assert lid.because == "So that the supply can return."
    assert {restore.n, reading.n} <= set(lid.makes_possible)


def test_steps_of_a_way_name_its_sources(asked: tuple[Appliance, list[RemovalPlan]]) -> None:
    """Removals, access paths, preparations and releases say where they were taken from (design, guarantee 8)."""
    added = {"prove_dead", "attach_probes", "verify"}
    for plan in asked[1]:
        for step in (*plan.steps, *plan.refit):
            in_hand = step.label.startswith(("Replace: ", "Test: ", "Inspect: "))
            assert bool(step.sources) == (step.action not in added and not in_hand), step.label
