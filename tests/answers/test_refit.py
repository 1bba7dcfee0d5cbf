"""Putting back on the demo machines: torques, new parts, checks before the part that hides them, waits, the finish."""

from __future__ import annotations

import pytest

from firstoff.answers.desk import Desk
from firstoff.appliance.model import (
    Appliance,
    Purpose,
    Removal,
)
from firstoff.errors import TargetUnreachable
from firstoff_contract.removal import PlanRequest, RemovalPlan, Step

MODELS = ("flb-316-k", "flb-316-t", "tgd27-410-k", "tgd27-460-s")
KINDS = {"orientation", "routing", "seal", "earth", "latch", "fit", "function"}


def appliance_of(desk: Desk, model: str) -> Appliance:
    return desk.opened.collection.appliances(model, "1")[0]


def ask(desk: Desk, model: str, *reach: str) -> RemovalPlan:
    return desk.removal_plan(model, PlanRequest(reach=list(reach), serial="1"))


@pytest.fixture(scope="module")
def plans(desk: Desk) -> dict[tuple[str, str], RemovalPlan]:
    """A plan to replace every component of every model that can be replaced."""
    found = {}
    for model in MODELS:
        for component in appliance_of(desk, model).components:
            for purpose in (Purpose.REPLACE, Purpose.TEST):
                try:
                    found[model, f"{component}:{purpose.value}"] = ask(desk, model, f"{component}:{purpose.value}")
                except TargetUnreachable:
                    continue
    return found


def every(plan: RemovalPlan) -> list[Step]:
    return [*plan.steps, *plan.refit]


def removal_of(appliance: Appliance, plan: RemovalPlan, refit: Step) -> Removal:
    """The way by which the part of a refit step went off, told by its step out."""
    assert refit.component is not None
    label = next(
        step.label
        for step in reversed(every(plan)[: every(plan).index(refit)])
        if step.action == "remove" and step.component == refit.component
    )
    return next(
        each for each in appliance.removals.values() if each.component == refit.component.id and each.label == label
    )


def test_every_check_of_the_demo_machines_is_of_a_kind(desk: Desk) -> None:
    for model in MODELS:
        checks = [check for removal in appliance_of(desk, model).removals.values() for check in removal.checks]
        assert {check.kind.id for check in checks if check.kind} == KINDS
        assert all(check.kind for check in checks)


def test_a_refit_says_torques_new_parts_checks_and_waits(desk: Desk, plans: dict[tuple[str, str], RemovalPlan]) -> None:
    seen = 0
    for (model, target), plan in plans.items():
        for step in every(plan):
            if step.action != "refit":
                continue
            seen += 1
            removal = removal_of(appliance_of(desk, model), plan, step)
            for fastening, noted in zip(removal.fastenings, step.fastenings, strict=True):
                assert noted.torque_nm == fastening.torque
                if fastening.torque is not None:
                    assert f"to {fastening.torque:g} N m" in step.instruction, (model, target, step.label)
            new = [each.label for each in (*step.renew, *step.consumables)]
            assert all(label in step.instruction for label in new), (model, target, step.label)
            single = sum(each.single_use for each in (*removal.fastenings, *removal.connections)) + removal.single_use
            assert (len(step.renew), len(step.consumables)) == (single, len(removal.consumables))
            assert [check.text for check in step.checks if check.before_cover] == [
                check.text for check in removal.checks if check.before_cover
            ]
            assert {check.text for check in step.checks} == {
                check.text for check in removal.checks if not check.after_supply
            }
            cover_first = [check.before_cover for check in step.checks]
            assert cover_first == sorted(cover_first, reverse=True)
            waits = [check.wait_minutes for check in removal.checks if check.wait_minutes]
            assert step.wait_minutes == (max(waits) if waits else None)
    assert seen > 300


def test_a_check_stands_before_the_step_that_hides_it(desk: Desk, plans: dict[tuple[str, str], RemovalPlan]) -> None:
    """For every part of every machine, told from the steps alone.

    A part's checks are hidden by the first later step that puts a part on which its removal needed off. That step
    comes after the part's own refit and names every one of them; no other part goes on between that hides them.
    """
    hiding = 0
    for (model, target), plan in plans.items():
        appliance, steps = appliance_of(desk, model), every(plan)
        for index, step in enumerate(steps):
            if step.action != "refit" or not any(check.before_cover for check in step.checks):
                continue
            covers = removal_of(appliance, plan, step).needs_off
            closing = [
                n for n, each in enumerate(steps) if each.action == "refit" and each.component and n != index
                and each.component.id in covers
            ]  # fmt: skip
            on_again = [n for n in closing if n > index]
            off_meanwhile = {each.component.id for each in steps[:index] if each.action == "remove" and each.component}
            assert covers & off_meanwhile <= {
                steps[n].component.id
                for n in on_again
                if steps[n].component is not None  # type: ignore[union-attr]
            }, (model, target, step.label)
            texts = {check.text for check in step.checks if check.before_cover}
            told = [n for n in range(index + 1, len(steps)) if texts & hidden_of(steps[n], step)]
            if on_again:
                hiding += 1
                assert told, (model, target, step.label)
                assert told[0] <= on_again[0], (model, target, step.label)
            if told:
                assert texts <= hidden_of(steps[told[0]], step)
                assert step.component is not None
                assert step.component.label in steps[told[0]].instruction
    assert hiding > 100


def hidden_of(step: Step, refit: Step) -> set[str]:
    return {each.text for each in step.hides_checks if each.component == refit.component}


def test_checks_without_a_cover_are_told_before_the_supply_or_the_place(desk: Desk) -> None:
    """The union nuts of the supply hose: nothing covers them, and pushing the appliance back hides them."""
    plan = ask(desk, "flb-316-k", "supply-hose")
    told = [step for step in plan.refit if step.hides_checks]
    assert [each.component.id for step in told for each in step.hides_checks] == ["supply-hose"]
    assert told[0].action in ("undo", "restore_supply")


def test_oil_runs_back_before_the_fridge_is_plugged_in(desk: Desk) -> None:
    plan = ask(desk, "flb-316-k", "rear-castor")
    labels = [step.label for step in plan.refit]
    upright = next(n for n, label in enumerate(labels) if label == "Undo: Tilt the appliance back")
    (wait,) = (n for n, step in enumerate(plan.refit) if step.action == "verify" and step.wait_minutes)
    restored = next(n for n, step in enumerate(plan.refit) if step.action == "restore_supply")
    assert upright < wait < restored
    assert plan.refit[wait].wait_minutes == 15.0
    assert plan.waiting_minutes >= 15.0


def test_adhesive_sets_before_the_bulkhead_goes_on(desk: Desk) -> None:
    plan = ask(desk, "tgd27-460-s", "front-drum-seal")
    step = next(each for each in plan.refit if each.component and each.component.id == "front-drum-seal")
    assert step.wait_minutes == 30.0
    assert "rest for 30 minutes" in step.instruction
    assert plan.minutes < plan.minutes + plan.waiting_minutes  # waiting is told beside the work, not in it
    assert sum(each.minutes for each in every(plan)) == pytest.approx(plan.minutes, abs=0.5)


#: model, target, texts that must be in the finish, texts that must not
FINISH = [
    ("flb-316-k", "bottle-rack", ("Both doors shut",), ("stop tap", "detector", "anti-tip", "stand upright")),
    ("flb-316-k", "water-filter", (), ("detector", "stand upright")),
    ("flb-316-k", "supply-hose", ("stop tap", "anti-tip", "Level the appliance"), ("detector", "stand upright")),
    ("flb-316-k", "compressor", ("detector", "anti-tip"), ("stand upright",)),
    ("flb-316-k", "rear-castor", ("stand upright", "anti-tip", "stop tap"), ("detector",)),
    ("tgd27-460-s", "lint-filter", (), ("Flexible duct", "turn the drum", "Machine level")),
    ("tgd27-460-s", "drum-belt", ("Flexible duct", "turn the drum", "Machine level"), ("heater reading",)),
    ("tgd27-460-s", "heater-element", ("heater reading", "Flexible duct"), ()),
    ("tgd27-460-s", "drum-lamp", ("Lamp lights",), ("heater reading",)),
]


@pytest.mark.parametrize(("model", "target", "there", "absent"), FINISH)
def test_the_finish_is_what_the_plan_gives_cause_for(
    desk: Desk, model: str, target: str, there: tuple[str, ...], absent: tuple[str, ...]
) -> None:
    plan = ask(desk, model, target)
    texts = [each.text for each in plan.finish] + [s.instruction for s in every(plan) if s.action == "verify"]
    for text in there:
        assert any(text in each for each in texts), (text, texts)
    for text in absent:
        assert not any(text in each for each in texts), (text, texts)
    assert [each.order for each in plan.finish] == sorted(each.order for each in plan.finish)


def test_what_was_off_already_counts_as_done(desk: Desk) -> None:
    off, states = ["heater-housing", "back-panel", "transition-duct"], ["supply-isolated", "pulled-out"]
    plan = desk.removal_plan("tgd27-460-s", PlanRequest(reach=["lint-filter"], off=off, states=states))
    assert any("heater reading" in each.text for each in plan.finish)
    assert any(each.why and "flexible exhaust duct" in each.why for each in plan.finish)


def test_a_leak_check_is_for_licensed_hands_and_recorded(desk: Desk) -> None:
    plan = ask(desk, "flb-316-k", "compressor")
    (leak,) = (each for each in plan.finish if "detector" in each.text)
    assert leak.competence == "licensed refrigeration technician"
    assert leak.recorded
    assert leak.why is not None
    assert plan.record is not None
    (line,) = (each for each in plan.record.lines if each.kind == "confirmation")
    assert (line.verdict, line.competence) == ("not_measured", "licensed refrigeration technician")


def test_checks_that_need_the_supply_are_not_asked_for_without_it(
    plans: dict[tuple[str, str], RemovalPlan], desk: Desk
) -> None:
    seen = 0
    for plan in plans.values():
        assert not any(check.after_supply for step in every(plan) for check in step.checks)
        seen += any(each.why and each.why.startswith("Refitted") for each in plan.finish)
    assert seen > 5


def test_earth_and_insulation_are_measured_before_the_supply_returns(
    plans: dict[tuple[str, str], RemovalPlan],
) -> None:
    for key, plan in plans.items():
        steps = every(plan)
        restored = [n for n, step in enumerate(steps) if step.action == "restore_supply"]
        if not restored:
            continue
        verified = [step.instruction for step in steps[: restored[-1]] if step.action == "verify"]
        assert any(text.startswith("Measure earth continuity: at most") for text in verified), key
        assert any(text.startswith("Measure insulation resistance: at least") for text in verified), key
        assert any(each.text.startswith("Measure leakage current: at most") for each in plan.finish), key
        assert not any(each.text.startswith("Measure earth") for each in plan.finish), key
