"""Plans from where a machine stands: what is off is put back, safely, and a job that was broken off goes on."""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random

import pytest

from firstoff.answers.as_found import as_found, isolating_first, live_inside
from firstoff.answers.desk import Desk
from firstoff.appliance.circuit import LinkKind
from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.errors import BadRequest, NotFound, OutOfTime, TargetUnreachable
from firstoff_contract.removal import PlanRequest, RemovalPlan, Step

DRYER, FRIDGE = "tgd27-460-s", "flb-316-k"
ISOLATED = ["pulled-out", "supply-isolated"]


def appliance_of(desk: Desk, model: str) -> Appliance:
    return desk.opened.collection.appliances(model, "1")[0]


def ask(desk: Desk, model: str, **asked: object) -> RemovalPlan:
    return desk.removal_plan(model, PlanRequest.model_validate({"serial": "1", **asked}))


def every(plan: RemovalPlan) -> list[Step]:
    return [*plan.steps, *plan.refit]


# --- what is off, and by what ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("off", "error", "said"),
    [
        (["door-switch-off"], NotFound, "door-switch-off-front"),
        (["door-switch-off-front", "door-switch-off-above"], BadRequest, "cannot have come off by both"),
        (["wall-socket"], TargetUnreachable, "wall socket, found off, cannot be put back"),
        (["wall-socket", "back-panel"], TargetUnreachable, "wall socket, found off, cannot be put back"),
    ],
)
def test_what_cannot_be_off_is_said(desk: Desk, off: list[str], error: type[Exception], said: str) -> None:
    with pytest.raises(error, match=said):
        ask(desk, DRYER, reach=["drum-belt"], off=off, states=ISOLATED)


def test_a_part_is_off_by_the_removal_named(desk: Desk) -> None:
    """By name of the removal it goes back that way; by its own name by the cheapest."""
    states = [*ISOLATED, "door-open"]
    free = ask(desk, DRYER, off=["door-switch"], states=states)
    front = ask(desk, DRYER, off=["door-switch-off-front"], states=states)
    above = ask(desk, DRYER, off=["door-switch-off-above"], states=states)
    assert free.minutes == min(front.minutes, above.minutes) < max(front.minutes, above.minutes)
    for plan, way in ((front, "door-switch-off-front"), (above, "door-switch-off-above")):
        assert [ref.id for ref in plan.off] == [way]
        used = [step.way for step in every(plan) if step.way and step.component and step.component.id == "door-switch"]
        assert used == [way]


def test_live_points_take_removals_too(desk: Desk) -> None:
    """Only what that removal opens counts as open, where the part's removals differ in it."""
    by_part = desk.live_points(DRYER, "1", opened=[], off=["door-switch"], released=[])
    by_way = desk.live_points(DRYER, "1", opened=[], off=["door-switch-off-front"], released=[])
    assert by_way.off == by_part.off == ["door-switch"]
    assert [point.id for point in by_way.points] == [point.id for point in by_part.points]


# --- closing up ------------------------------------------------------------------------------------------


def test_without_targets_a_machine_is_closed_up(desk: Desk) -> None:
    plan = ask(desk, DRYER, off=["back-panel", "transition-duct"], states=ISOLATED)
    assert (plan.reach, plan.steps) == ([], [])
    actions = [step.action for step in plan.refit if step.action not in ("release", "verify")]
    assert actions == ["prove_dead", "refit", "refit", "restore_supply", "undo"]
    assert plan.optimal
    assert plan.record is not None
    assert not any(step.needed_for for step in plan.refit)


def test_without_targets_states_go_home(desk: Desk) -> None:
    plan = ask(desk, DRYER, states=ISOLATED)
    assert [step.action for step in plan.refit if step.minutes] == ["restore_supply", "undo"]
    assert plan.minutes > 0


@pytest.mark.parametrize("asked", [{}, {"states": ["supply-on"]}, {"tools": []}])
def test_nothing_to_reach_and_nothing_to_put_back(desk: Desk, asked: dict[str, object]) -> None:
    with pytest.raises(BadRequest, match="nothing to reach and nothing to put back") as caught:
        ask(desk, DRYER, **asked)
    assert "reach=" in caught.value.mend


# --- what the refits need --------------------------------------------------------------------------------


def test_refits_of_what_was_off_have_their_checks_and_new_parts(desk: Desk) -> None:
    """Of every part with a removal: its single-use parts are at the refit and in the kit."""
    renewed = 0
    for model in (DRYER, FRIDGE):
        appliance = appliance_of(desk, model)
        for removal in appliance.removals.values():
            states = sorted({*removal.needs_states, *ISOLATED})
            try:
                plan = ask(desk, model, off=[removal.id], states=states)
            except (TargetUnreachable, BadRequest, OutOfTime):
                continue
            step = next(each for each in every(plan) if each.action == "refit" and each.way == removal.id)
            now = [check for check in removal.checks if not check.after_supply]
            assert sorted(check.text for check in step.checks) == sorted(check.text for check in now)
            carried = {each.label: each.count for each in plan.kit.consumables}
            assert all(carried[each.label] >= each.count for each in step.renew)
            assert {tool.id for tool in removal.all_tools} <= {tool.id for tool in plan.kit.tools}
            renewed += bool(step.renew)
    assert renewed > 5


def test_a_tool_for_the_refit_is_asked_for(desk: Desk) -> None:
    with pytest.raises(TargetUnreachable) as caught:
        ask(desk, DRYER, off=["back-panel"], states=ISOLATED, tools=["multimeter"])
    assert "back panel, found off, cannot be put back" in caught.value.detail
    assert caught.value.target == "back panel, found off"
    assert caught.value.missing_tools


# --- live points -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("off", "states", "live"),
    [
        ([], [], False),
        (["back-panel"], ["pulled-out"], True),
        (["back-panel"], ISOLATED, False),
        (["lint-filter"], [], False),  # nothing electric behind it
        (["drum-earth-contact"], ["pulled-out"], True),  # an earth bond undone
    ],
)
def test_whether_live_points_are_bare(desk: Desk, off: list[str], states: list[str], live: bool) -> None:
    appliance = appliance_of(desk, DRYER)
    assert live_inside(appliance, as_found(appliance, off, states)) is live


def test_isolating_comes_first_where_it_can_be_done_as_the_machine_stands(desk: Desk) -> None:
    appliance = appliance_of(desk, DRYER)
    out, in_place = (as_found(appliance, ["back-panel"], [state]) for state in ("pulled-out", "in-place"))
    assert isolating_first(appliance, out, None, frozenset()) == ["isolate-at-plug"]
    assert isolating_first(appliance, in_place, None, frozenset()) == []
    assert isolating_first(appliance, out, frozenset({"multimeter"}), frozenset()) == []
    assert isolating_first(appliance, out, None, frozenset({"isolate-at-plug"})) == []


def opened_at_random(desk: Desk, model: str, count: int) -> list[tuple[PlanRequest, RemovalPlan]]:
    """Plans on machines of which up to three parts are off, isolated or not, for a target or to be closed up."""
    appliance, rng = appliance_of(desk, model), Random(f"opened {model}")
    removals = sorted(appliance.removals)
    found: list[tuple[PlanRequest, RemovalPlan]] = []
    while len(found) < count:
        off = {appliance.removals[way].component: way for way in rng.sample(removals, rng.choice((1, 2, 3)))}
        said = [way if rng.random() < 0.5 else part for part, way in sorted(off.items())]
        states = ISOLATED if rng.random() < 0.5 else ["pulled-out"]
        targets = targets_of(appliance, rng)[: rng.choice((0, 1))]
        asked = PlanRequest(reach=targets, off=said, states=states, serial="1")
        try:
            found.append((asked, desk.removal_plan(model, asked)))
        except (TargetUnreachable, BadRequest, OutOfTime):
            continue
    return found


@pytest.mark.parametrize("model", [DRYER, FRIDGE])
def test_an_opened_machine_is_never_energised_with_its_protection_undone(desk: Desk, model: str) -> None:
    """The steps alone are followed: what is off, whether the supply is on, and which earth bonds are undone."""
    appliance = appliance_of(desk, model)
    bonds = {slug for slug, link in appliance.circuit.links.items() if link.kind is LinkKind.EARTH_BOND}
    restored = 0
    for asked, plan in opened_at_random(desk, model, 40):
        off = as_found(appliance, asked.off, asked.states).off
        on = "supply-isolated" not in asked.states
        for step in every(plan):
            part = {step.component.id} if step.component else set()
            if step.action in ("isolate", "isolate_again"):
                on = False
            elif step.action == "remove":
                off |= part
            elif step.action == "refit":
                assert part <= off
                off -= part
            elif step.action == "restore_supply":
                on = True
                restored += 1
                undone = {slug for each in appliance.removals.values() if each.component in off for slug in each.opens}
                assert not undone & bonds, (asked, step.label)
                assert not {appliance.circuit.links[slug].component for slug in bonds} & off, (asked, step.label)
        assert not off
        assert on
    assert restored > 20


@pytest.mark.parametrize("model", [DRYER, FRIDGE])
def test_hands_work_on_an_opened_machine_only_once_it_is_isolated(desk: Desk, model: str) -> None:
    """Where live points are bare at the start, isolating comes first; where it is isolated, it is proved dead first."""
    appliance = appliance_of(desk, model)
    begun = 0
    for asked, plan in opened_at_random(desk, model, 40):
        found = as_found(appliance, asked.off, asked.states)
        first = every(plan)[0]
        if live_inside(appliance, found):
            assert first.action == "isolate", asked
            assert next(each for each in plan.cautions if each.id == "already-off").signal_word == "DANGER"
            begun += 1
        elif "supply-isolated" in asked.states:
            assert first.action in ("prove_dead", "release", "restore_supply") or not plan.make_safe.prove_dead, asked
    assert begun > 3


def test_every_plan_that_no_other_beats_begins_by_isolating(desk: Desk) -> None:
    asked = PlanRequest(reach=["drum-belt"], off=["back-panel-off", "transition-duct"], serial="1")
    found = desk.pareto(DRYER, asked)
    assert found.plans
    assert all(plan.steps[0] == "isolate at the plug" for plan in found.plans)
    assert [ref.label.partition(":")[0] for ref in found.off] == ["back panel", "flexible exhaust duct"]
    with pytest.raises(BadRequest, match="live points"):
        desk.pareto(DRYER, PlanRequest(reach=["drum-belt"], off=["front-panel"], states=["in-place"], serial="1"))


# --- a job that was broken off ---------------------------------------------------------------------------


@dataclass(slots=True)
class Job:
    """A machine in the middle of a plan, by the steps done so far and nothing else."""

    appliance: Appliance
    targets: list[str]
    off: dict[str, str] = field(default_factory=dict)
    states: dict[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.states = {state.variable: state.id for state in self.appliance.states.values() if state.initial}

    def do(self, step: Step) -> None:
        way = step.way or ""
        part = step.component.id if step.component else ""
        if step.action == "remove":
            self.off[part] = way
        elif step.action == "refit":
            del self.off[part]
        elif step.action in ("inspect", "test", "replace", "read_hands_off"):
            self.targets.remove(step.needed_for[0].id)
        elif way in self.appliance.preparations:
            preparation = self.appliance.preparations[way]
            ends = {preparation.gives, preparation.from_state}
            variable = self.appliance.states[preparation.gives].variable
            (after,) = ends - {self.states[variable]}
            self.states[variable] = after

    def asked(self) -> PlanRequest:
        return PlanRequest(
            reach=self.targets, off=sorted(self.off.values()), states=sorted(self.states.values()), serial="1"
        )

    @property
    def begun(self) -> bool:
        return bool(self.off) or any(not self.appliance.states[slug].initial for slug in self.states.values())


def targets_of(appliance: Appliance, rng: Random) -> list[str]:
    parts = sorted(appliance.components)
    return [f"{rng.choice(parts)}:{rng.choice(list(Purpose)).value}" for _ in range(rng.choice((1, 1, 2)))]


@pytest.mark.parametrize("model", [DRYER, FRIDGE])
def test_a_job_broken_off_goes_on_where_it_stood(desk: Desk, model: str) -> None:
    """Asked again with what is off, the states in force and the targets left, the plan is what was left of it.

    Where a cover was off with the supply on, as for a live reading, it begins by isolating instead.
    """
    appliance = appliance_of(desk, model)
    rng = Random(f"broken off {model}")
    went_on = cut_short = 0
    while went_on < 60:
        targets = targets_of(appliance, rng)
        try:
            plan = ask(desk, model, reach=targets)
        except (TargetUnreachable, BadRequest):
            continue
        steps = every(plan)
        job = Job(appliance, [f"{target.component.id}:{target.purpose}" for target in plan.reach])
        done = rng.randint(1, len(steps))
        for step in steps[:done]:
            job.do(step)
        if not job.begun and not job.targets:
            continue
        left = sum(step.minutes for step in steps[done:])
        if live_inside(appliance, as_found(appliance, job.off.values(), job.states.values())):
            assert desk.removal_plan(model, job.asked()).steps[0].action == "isolate"
            continue
        try:
            again = desk.removal_plan(model, job.asked())
        except OutOfTime:
            cut_short += 1
            continue
        assert again.minutes == pytest.approx(left, abs=0.01 * len(steps)), (targets, done)
        taken = {step.component.id for step in every(again) if step.action == "remove" and step.component}
        assert not taken & job.off.keys() or taken & {s.component.id for s in steps[done:] if s.component}
        went_on += 1
    assert cut_short <= 2


def test_more_work_on_an_open_machine(desk: Desk) -> None:
    """The belt is off already: the pulley behind it costs less than it does on a closed machine."""
    off = ["transition-duct", "back-panel", "drum-belt"]
    again = ask(desk, DRYER, reach=["idler-spring"], off=off, states=ISOLATED)
    closing = ask(desk, DRYER, off=off, states=ISOLATED)
    alone = ask(desk, DRYER, reach=["idler-spring"])
    assert closing.minutes < again.minutes
    assert again.minutes - closing.minutes < alone.minutes
