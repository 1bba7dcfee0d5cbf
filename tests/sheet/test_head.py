"""The head of a job sheet."""

from __future__ import annotations

from typing import Any

import pytest

from firstoff.answers.desk import Desk
from firstoff.sheet.head import given_of, proof_of, time_of
from firstoff_contract.removal import PlanFigures, PlanRequest, RemovalPlan

FIGURES = PlanFigures(minutes=53, parts=3, single_use=1, exposures=2)


@pytest.fixture(scope="module")
def plan(desk: Desk) -> RemovalPlan:
    return desk.removal_plan("tgd27-460-s", PlanRequest(reach=["drum-belt"]))


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({}, "Proved: no plan takes less work."),
        ({"optimal": False, "bound": 41.5}, "Not proved the least: no plan is under 41.5 min."),
        (
            {"minimise": "parts"},
            "Fewest parts taken off: 3. Proved: no plan has fewer, and none that has as few takes less work.",
        ),
        (
            {"minimise": "single-use", "optimal": False, "bound": 0.0},
            "Fewest single-use parts broken found: 1. Not proved the least: no plan has under 0.",
        ),
        (
            {"minimise": "exposure"},
            "Fewest exposures to a hazard: 2. Proved: no plan has fewer, and none that has as few takes less work.",
        ),
    ],
)
def test_what_is_proved(plan: RemovalPlan, changes: dict[str, Any], said: str) -> None:
    assert proof_of(plan.model_copy(update={"figures": FIGURES, "bound": 53.0, **changes})) == said


def test_work_and_waiting(plan: RemovalPlan) -> None:
    busy = plan.model_copy(update={"minutes": 53.0, "waiting_minutes": 5.5})
    assert time_of(busy) == "53 min of work out and back, and up to 5.5 min of waiting"
    assert time_of(busy.model_copy(update={"waiting_minutes": 0.0})) == "53 min of work out and back"


def test_what_it_was_made_for(desk: Desk, plan: RemovalPlan) -> None:
    assert given_of(plan) == []
    given = desk.removal_plan(
        "tgd27-460-s",
        PlanRequest(reach=["drum-belt"], off=["transition-duct"], states=["supply-isolated"], limits=["alone"]),
    )
    assert given_of(given) == [
        "Off already: flexible exhaust duct.",
        "At the start: pulled out 70 cm; unplugged and proved dead.",
        "Limits: working alone.",
    ]
