"""What is exposed and what is hidden, on the demo machines."""

from __future__ import annotations

import pytest

from firstoff.answers.desk import Desk
from firstoff.errors import BadRequest, NotFound, TargetUnreachable
from firstoff_contract.reach import WithinReach
from firstoff_contract.removal import PlanRequest

DRYER, FRIDGE = "tgd27-460-s", "flb-316-t"
OPENED = {
    DRYER: (["top-panel", "transition-duct", "back-panel"], ["supply-isolated", "pulled-out"]),
    FRIDGE: (["rear-cover"], ["supply-isolated", "pulled-out"]),
}


def taken_off(desk: Desk, model: str, target: str, off: list[str], states: list[str]) -> set[str]:
    plan = desk.removal_plan(model, PlanRequest(reach=[target], off=off, states=states))
    return {step.component.id for step in plan.steps if step.action == "remove" and step.component}


@pytest.mark.parametrize("model", [DRYER, FRIDGE])
def test_what_is_within_reach_needs_no_part_off_but_itself(desk: Desk, model: str) -> None:
    """The plan for each may be quicker by another way; so each says what the fewest removals are."""
    off, states = OPENED[model]
    answer = desk.exposed(model, None, off=off, states=states)
    components = desk.opened.collection.appliances(model, "1")[0].components
    assert len(answer.now) > 20
    for each in answer.now:
        if each.purpose in ("inspect", "replace"):
            own = {each.component.id, components[each.component.id].replaced_as}
            found = taken_off(desk, model, f"{each.component.id}:{each.purpose}", off, states)
            assert found <= own, each


@pytest.mark.parametrize("model", [DRYER, FRIDGE])
def test_one_more_removal_opens_what_it_says(desk: Desk, model: str) -> None:
    off, states = OPENED[model]
    answer = desk.exposed(model, None, off=off, states=states)
    assert any(each.opens for each in answer.next)
    assert {each.component.id for each in answer.next}.isdisjoint(off)

    def said(found: list[WithinReach]) -> set[tuple[str, str]]:
        return {(each.component.id, each.purpose) for each in found}

    for each in answer.next:
        needed = {state.id for state in each.states}
        after = desk.exposed(model, None, off=[*off, each.component.id], states=[*states, *sorted(needed)])
        opened = said(each.opens)
        assert opened <= said(after.now)
        assert opened.isdisjoint(said(answer.now))


def test_bare_points_say_whether_they_are_live(desk: Desk) -> None:
    off = ["terminal-cover"]
    on = desk.exposed(DRYER, None, off=off, states=["pulled-out"])
    assert {each.state for each in on.bare} == {"live"}
    isolated = desk.exposed(DRYER, None, off=off, states=["pulled-out", "supply-isolated"])
    assert [each.id for each in isolated.bare] == [each.id for each in on.bare]
    assert any("terminal cover" in each.text for each in on.cautions)


def test_tools_narrow_what_comes_next(desk: Desk) -> None:
    free = desk.exposed(DRYER, None, off=[])
    bound = desk.exposed(DRYER, None, off=[], tools=[])
    assert {each.way.id for each in bound.next} < {each.way.id for each in free.next}


@pytest.mark.parametrize(
    ("changes", "error"),
    [
        ({"off": ["no-such-part"]}, NotFound),
        ({"states": ["no-such-state"]}, NotFound),
        ({"tools": ["no-such-tool"]}, NotFound),
        ({"states": ["supply-on", "supply-isolated"]}, BadRequest),
    ],
)
def test_bad_names(desk: Desk, changes: dict[str, list[str]], error: type[Exception]) -> None:
    with pytest.raises(error):
        desk.exposed(DRYER, None, **{"off": [], **changes})


@pytest.mark.parametrize("model", [DRYER, FRIDGE])
def test_every_plan_takes_off_what_hides_its_target(desk: Desk, model: str) -> None:
    hidden: dict[str, set[str]] = {}
    for part in desk.opened.collection.appliances(model, "1")[0].components:
        answer = desk.hidden(model, part, "1")
        assert answer.complete
        for each in answer.always:
            for purpose in each.purposes:
                hidden.setdefault(f"{each.component.id}:{purpose}", set()).add(part)
    assert len(hidden) > 50
    for target, front in sorted(hidden.items()):
        try:
            assert front <= taken_off(desk, model, target, [], []), target
        except TargetUnreachable:
            pytest.fail(f"{target} is said to be hidden and cannot be reached at all")


def test_a_way_round_is_told_from_no_way(desk: Desk) -> None:
    answer = desk.hidden(DRYER, "back-panel", None)
    always, usually = ({ref.component.id for ref in group} for group in (answer.always, answer.usually))
    assert "heater-element" in always
    assert "drum-belt" in usually
    with pytest.raises(NotFound):
        desk.hidden(DRYER, "no-such-part", None)


@pytest.mark.parametrize(("model", "reach"), [(DRYER, ["drum-belt"]), (FRIDGE, ["evaporator-fan"]), (DRYER, ["drum"])])
def test_what_is_worth_doing_adds_what_it_says(desk: Desk, model: str, reach: list[str]) -> None:
    """Each costs what it adds to a plan for both, needs no other part off, and has a fault that comes with use."""
    answer = desk.while_open(model, PlanRequest(reach=reach))
    appliance = desk.opened.collection.appliances(model, None)[0]
    off = taken_off(desk, model, reach[0], [], [])
    assert answer.complete
    assert answer.worth
    for each in answer.worth:
        slug = each.component.id
        both = desk.removal_plan(model, PlanRequest(reach=[*reach, slug]))
        alone = desk.removal_plan(model, PlanRequest(reach=[slug]))
        assert each.minutes_more == pytest.approx(both.minutes - answer.minutes)
        assert each.minutes_alone == alone.minutes
        assert each.saves == pytest.approx(each.minutes_alone - each.minutes_more)
        assert each.saves > 0
        own = {slug, appliance.components[slug].replaced_as or slug}
        assert {step.component.id for step in both.steps if step.action == "remove" and step.component} <= off | own
        assert {appliance.faults[note.id].component for note in each.wear} == {slug}
    frequencies = [sum(note.relative_frequency for note in each.wear) for each in answer.worth]
    assert frequencies == sorted(frequencies, reverse=True)


def test_a_part_that_is_replaced_anyway_is_not_offered(desk: Desk) -> None:
    answer = desk.while_open(DRYER, PlanRequest(reach=["drum-belt", "idler-pulley"]))
    assert {"drum-belt", "idler-pulley"}.isdisjoint(each.component.id for each in answer.worth)
