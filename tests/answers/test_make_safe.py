"""The procedure beside its plan, on the demo machines."""

from __future__ import annotations

import pytest

from firstoff.answers.desk import Desk
from firstoff.errors import NotFound
from firstoff_contract.removal import PlanRequest

TARGETS = [
    ("tgd27-460-s", ["drum-belt"], [], []),
    ("tgd27-460-s", ["terminal-block:live-test", "heater-element:test"], [], []),
    ("tgd27-460-s", [], ["top-panel"], ["supply-isolated", "pulled-out"]),
    ("flb-316-k", ["compressor"], [], []),
    ("flb-316-k", ["water-inlet-valve"], [], []),
    ("flb-316-k", ["fridge-gasket:inspect"], [], []),
]


@pytest.mark.parametrize(("model", "reach", "off", "states"), TARGETS)
def test_the_procedure_is_the_plan_and_no_other(
    desk: Desk, model: str, reach: list[str], off: list[str], states: list[str]
) -> None:
    """Every step of the plan stands in the procedure once or, where it is verified besides, twice, in its order."""
    asked = PlanRequest(reach=reach, off=off, states=states, serial="1")
    plan, found = desk.removal_plan(model, asked), desk.make_safe(model, asked)
    told = [(ref.way, ref.n) for step in found.steps for ref in step.plan_steps]
    assert list(dict.fromkeys(told)) == [("steps", s.n) for s in plan.steps] + [("refit", s.n) for s in plan.refit]
    assert found.minutes == plan.minutes
    assert found.prove_dead == plan.make_safe.prove_dead
    assert [step.n for step in found.steps] == list(range(1, len(found.steps) + 1))


def test_every_device_that_the_plan_opens_is_locked(desk: Desk) -> None:
    found = desk.make_safe("flb-316-k", PlanRequest(reach=["water-inlet-valve"], serial="1"))
    opened = {ref.id for step in found.steps if step.stage == "isolate" for ref in step.devices}
    assert "plug" in opened
    assert {ref.id for step in found.steps if step.stage == "lock_and_tag" for ref in step.devices} == opened
    assert {ref.id for step in found.steps if step.stage == "take_locks_off" for ref in step.devices} == opened


def test_water_shut_off_besides_ends_the_plug_in_hand(desk: Desk) -> None:
    """The stop tap is isolated as well, and a plug in hand holds no tap."""
    found = desk.make_safe("flb-316-k", PlanRequest(reach=["water-inlet-valve"], serial="1"))
    assert len({ref.id for step in found.steps if step.stage == "isolate" for ref in step.devices}) > 1
    assert not found.sole_control.will_do


def test_nothing_within_reach_needs_no_procedure(desk: Desk) -> None:
    found = desk.make_safe("flb-316-k", PlanRequest(reach=["fridge-gasket:inspect"], serial="1"))
    assert not found.needed
    assert {step.stage for step in found.steps} <= {"work"}
    assert not found.sole_control.will_do


def test_names_are_looked_up(desk: Desk) -> None:
    with pytest.raises(NotFound, match="door-gasket"):
        desk.make_safe("flb-316-k", PlanRequest(reach=["door-gasket"], serial="1"))
