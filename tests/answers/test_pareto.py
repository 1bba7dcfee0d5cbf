"""The answer of plans that no other beats: figures, words, limits."""

from __future__ import annotations

import pytest

from firstoff.answers.desk import Desk
from firstoff.errors import BadRequest, TargetUnreachable
from firstoff_contract.removal import Minimise, ParetoAnswer, PlanRequest


def ask(desk: Desk, *reach: str, **more: object) -> ParetoAnswer:
    return desk.pareto("flb-316-k", PlanRequest(reach=list(reach), serial="1", **more))  # type: ignore[arg-type]


def test_each_plan_says_what_it_is_best_at(desk: Desk) -> None:
    found = ask(desk, "damper:test")
    quick, safe = found.plans
    assert found.complete
    assert quick.best_at == ["minutes", "parts"]
    assert quick.text == "The fewest minutes and parts taken off."
    assert quick.instead == []
    assert safe.best_at == ["exposure"]
    assert safe.text == (
        "The fewest exposures. Beside the quickest: 1 fewer exposure, 8.4 more minutes, 2 more parts taken off."
    )
    assert "Fridge air duct cover off" in safe.instead
    assert set(safe.instead) <= set(safe.steps)


@pytest.mark.parametrize("measure", ["minutes", "parts", "single-use", "exposure"])
def test_the_plan_that_is_asked_for_is_among_them(desk: Desk, measure: Minimise) -> None:
    reach = ["damper:test", "compressor", "ice-maker"]
    plan = desk.removal_plan("flb-316-k", PlanRequest(reach=reach, serial="1", minimise=measure))
    assert plan.figures in [each.figures for each in ask(desk, *reach).plans]


def test_a_plan_that_is_best_in_everything_is_alone(desk: Desk) -> None:
    found = ask(desk, "compressor")
    assert [(each.text, each.best_at) for each in found.plans] == [("No other plan is better in anything.", [])]


def test_limits_hold_and_are_shown(desk: Desk) -> None:
    found = ask(desk, "drip-tray", limits=["alone"], tools=None)
    assert [limit.id for limit in found.limits] == ["alone"]
    with pytest.raises(TargetUnreachable) as error:
        ask(desk, "compressor", limits=["no-refrigerant-licence"])
    assert error.value.limits == ("no-refrigerant-licence",)
    with pytest.raises(BadRequest, match="no limit"):
        ask(desk, "compressor", limits=["refrigerant"])
