"""From any step of a plan the work can go on: what is off and the states after it are a question of their own."""

from __future__ import annotations

import pytest

from firstoff.answers.desk import Desk
from firstoff_contract.removal import PlanRequest

_JOBS = [
    ("tgd27-460-s", "drive-motor:replace", "drum-belt:replace"),
    ("tgd27-460-s", "heater-element:test", "heater-element:replace"),
    ("mdr60-560-z", "drain-pump:replace", "drain-pump:inspect"),
    ("qmh60-450-b", "power-board-a:replace", "power-board-b:replace"),
]


@pytest.mark.parametrize(("model", "reach", "next_reach"), _JOBS)
def test_every_step_says_from_where_the_work_goes_on(desk: Desk, model: str, reach: str, next_reach: str) -> None:
    plan = desk.removal_plan(model, PlanRequest(reach=[reach]))
    parts: dict[str, str] = {}
    states: list[str] = []
    asked = 0
    for step in plan.steps:
        if step.action == "remove" and step.component and step.way:
            parts[step.component.id] = step.way
        if step.states is None:
            continue
        states = step.states
        onward = desk.removal_plan(model, PlanRequest(reach=[next_reach], off=list(parts.values()), states=states))
        assert {ref.id for ref in onward.off} == set(parts.values())
        assert [ref.id for ref in onward.states] == states
        taken_again = {s.component.id for s in onward.steps if s.action == "remove" and s.component}
        refitted = {s.component.id for s in onward.steps if s.action == "refit" and s.component}
        assert taken_again & set(parts) <= refitted
        asked += 1
    assert asked > 2
    assert [step.states for step in plan.refit if step.states is not None][-1] == []
