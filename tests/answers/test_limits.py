"""Limits of the day: what they rule out and why, what lifting one is worth, and contradictions."""

from __future__ import annotations

from dataclasses import replace

import pytest

from firstoff.answers.bench import laid_out
from firstoff.answers.desk import Desk
from firstoff.answers.limits import LABELS, LIFTED_BY, Limit, day_of, refuse_contradictions
from firstoff.answers.plan import plan_answer
from firstoff.appliance.circuit import EnergySource
from firstoff.appliance.model import Appliance
from firstoff.appliance.terms import Concept
from firstoff.errors import BadRequest, TargetUnreachable
from firstoff.settings import Settings
from firstoff_contract.removal import Lifting, PlanRequest, RemovalPlan
from support.instances import appliance, component, preparation, removal


def machine() -> Appliance:
    """The core behind a door (two persons), a flap (a hook and a key) or a back (the machine pulled out).

    The tank is 40 kg and in the way of the sump; the circuit holds refrigerant until it is recovered.
    """
    made = appliance(
        [
            *(component(slug) for slug in ("core", "door", "flap", "back", "sump", "circuit")),
            replace(component("tank"), kilograms=40.0),
        ],
        [
            removal("core", 1, 1, off=["door"]),
            removal("core", 1, 1, off=["flap"], way=1),
            removal("core", 1, 1, off=["back"], way=2),
            replace(removal("door", 1, 1), persons=2),
            removal("flap", 2, 2, tools=["hook", "key"]),
            removal("back", 3, 3, states=["place=1"]),
            removal("sump", 1, 1, off=["tank"]),
            replace(removal("tank", 2, 2), persons=2),
            removal("circuit", 1, 1, states=["gas=1"]),
        ],
        variables={"place": 2, "gas": 2},
        preparations=[
            replace(preparation("place=1", "place=0", 2, 2), moves_machine=True),
            preparation("gas=1", "gas=0", 5, 9),
        ],
    )
    gas = EnergySource("gas", "refrigerant", Concept("refrigerant", "refrigerant"), held_by="circuit",
                       gone_in=frozenset({"gas=1"}), competence="licensed technician")  # fmt: skip
    return replace(made, circuit=replace(made.circuit, sources={"gas": gas}))


def ask(*reach: str, **more: object) -> RemovalPlan:
    return plan_answer(laid_out(machine()), Settings(), PlanRequest(reach=list(reach), **more))  # type: ignore[arg-type]


def refused(*reach: str, **more: object) -> TargetUnreachable:
    with pytest.raises(TargetUnreachable) as error:
        ask(*reach, **more)
    return error.value


@pytest.mark.parametrize(
    ("limit", "ways", "word"),
    [
        ("alone", {"door-way0", "tank-way0"}, "persons"),
        ("no-refrigerant-licence", {"circuit-way0", "gas=0>gas=1-0"}, "licence"),
        ("machine-fixed", {"place=0>place=1-0"}, "moves the machine"),
    ],
)
def test_what_a_limit_rules_out(limit: str, ways: set[str], word: str) -> None:
    day = day_of(machine(), [limit, limit])
    assert day.limits == (Limit(limit),)
    assert set(day.banned()) == ways
    assert all(word in reason for reason in day.reasons().values())
    assert day.banned(frozenset(Limit)) == frozenset()
    assert day.ruling_out(ways) == (Limit(limit),)


def test_a_weight_is_not_lifted_alone_though_nothing_says_two_persons() -> None:
    plain = machine()
    alone = replace(plain, removals={**plain.removals, "tank-way0": replace(plain.removals["tank-way0"], persons=1)})
    assert day_of(alone, ["alone"]).reasons()["tank-way0"] == "tank weighs 40 kg, and over 23 kg is not lifted alone"


def test_every_limit_is_in_words() -> None:
    assert set(LABELS) == set(LIFTED_BY) == set(Limit)


def test_without_limits_nothing_is_said_of_them() -> None:
    plan = ask("core")
    assert (plan.minutes, plan.limits, plan.liftings) == (4.0, [], [])


def test_a_way_ruled_out_by_two_limits_gives_both_reasons() -> None:
    plain = machine()
    moved = replace(plain.preparations["place=0>place=1-0"], persons=2)
    both = replace(plain, preparations={**plain.preparations, moved.id: moved})
    reason = day_of(both, ["alone", "machine-fixed"]).reasons()[moved.id]
    assert "2 persons" in reason
    assert "moves the machine" in reason


def test_the_answer_says_what_is_ruled_out_and_what_lifting_it_is_worth() -> None:
    plan = ask("core", limits=["alone", "machine-fixed", "no-refrigerant-licence"], tools=["hook", "key"])
    assert plan.minutes == 6.0
    noted = {limit.id: [each.way.id for each in limit.rules_out] for limit in plan.limits}
    # The tank and the refrigerant are not in the way of the core, so nothing is said of them.
    assert noted == {
        "alone": ["door-way0"],
        "no-refrigerant-licence": [],
        "machine-fixed": ["place=0>place=1-0"],
        "tools": [],
    }
    assert [limit.rules_out[0].reason for limit in plan.limits if limit.rules_out] == [
        "It takes 2 persons, and you work alone.",
        "It moves the machine, which cannot be moved today.",
    ]
    texts = {tuple(each.lifts): each.text for each in plan.liftings}
    assert texts == {
        ("alone",): "With a second person: 4 minutes, 2 minutes less.",
        ("machine-fixed",): "With room to move the machine nothing would change.",
    }
    assert all(each.proved for each in plan.liftings)


def test_tools_that_help_only_together_are_named_together() -> None:
    plan = ask("core", limits=["alone"], tools=[])
    assert plan.minutes == 12.0
    tools = next(limit for limit in plan.limits if limit.id == "tools")
    assert [each.reason for each in tools.rules_out] == ["It needs hook, key, not at hand."]
    lifted: dict[tuple[str, ...], Lifting] = {tuple(each.lifts): each for each in plan.liftings}
    assert set(lifted) == {("alone",)}
    only = ask("core", tools=[])
    assert only.liftings == []  # the door is better than the flap, so no tool would help
    without = replace(machine(), removals={k: v for k, v in machine().removals.items() if k != "door-way0"})
    found = plan_answer(laid_out(without), Settings(), PlanRequest(reach=["core"], tools=[]))
    assert [(each.lifts, each.text) for each in found.liftings] == [
        (["hook", "key"], "With hook, key: 6 minutes, 6 minutes less.")
    ]


def test_another_measure_is_said_in_its_unit() -> None:
    plan = ask("core", limits=["alone"], tools=[], minimise="parts")
    assert [each.text for each in plan.liftings] == [
        "With a second person: 2 parts taken off in 4 minutes, 8 minutes less."
    ]


def test_an_unreachable_target_says_which_limit_and_what_would_do() -> None:
    error = refused("core", limits=["machine-fixed", "alone"], tools=["hook"])
    assert set(error.limits) == {"alone", "machine-fixed"}
    assert error.missing_tools == ("key",)
    assert set(error.would_do) == {
        "With a second person: 4 minutes.",
        "With room to move the machine: 12 minutes.",
        "With key: 6 minutes.",
    }
    assert error.mend == " ".join(error.would_do)
    assert "you work alone" in error.detail


def test_where_no_single_lifting_would_do_a_smallest_set_is_named() -> None:
    error = refused("sump", "circuit", limits=["alone", "no-refrigerant-licence", "machine-fixed"])
    assert error.would_do == ("With a second person and a licensed refrigeration technician: 22 minutes.",)


def test_an_unknown_limit_names_the_nearest() -> None:
    with pytest.raises(BadRequest, match="Do you mean machine-fixed") as error:
        ask("core", limits=["machine-fix"])
    assert "alone, no-refrigerant-licence, machine-fixed" in error.value.mend


def test_a_state_that_could_not_be_taken_back_is_a_contradiction() -> None:
    with pytest.raises(BadRequest, match="machine-fixed rules out the only way back") as error:
        ask("core", limits=["machine-fixed"], states=["place=1"])
    assert "states=place=1" in error.value.mend
    with pytest.raises(BadRequest, match="no-refrigerant-licence"):
        ask("core", limits=["no-refrigerant-licence"], states=["gas=1"])
    assert ask("core", limits=["alone"], states=["place=1"]).minutes == 8.0


def test_what_was_found_off_and_cannot_go_back_today_is_said() -> None:
    error = refused("core", limits=["alone"], off=["tank"])
    assert error.limits == ("alone",)
    assert "tank, found off, cannot be put back" in error.detail
    assert error.would_do == ("With a second person: 6 minutes.",)


def test_another_way_back_is_no_contradiction() -> None:
    plain = machine()
    roll = preparation("place=1", "place=0", 1, 1, way=1)
    either = replace(plain, preparations={**plain.preparations, roll.id: roll})
    refuse_contradictions(either, day_of(either, ["machine-fixed"]), {"place": "place=1"})


def plan_or_error(desk: Desk, model: str, asked: PlanRequest) -> RemovalPlan | TargetUnreachable:
    try:
        return desk.removal_plan(model, asked)
    except TargetUnreachable as error:
        return error


@pytest.mark.parametrize("model", ["flb-316-k", "tgd27-460-s"])
@pytest.mark.parametrize("limit", [limit.value for limit in Limit])
def test_on_the_demo_machines_what_is_ruled_out_is_not_done(desk: Desk, model: str, limit: str) -> None:
    each = desk.opened.collection.appliances(model, "1")[0]
    banned = day_of(each, [limit]).banned()
    reached = 0
    for part in each.components:
        free = plan_or_error(desk, model, PlanRequest(reach=[f"{part}:inspect"], serial="1"))
        plan = plan_or_error(desk, model, PlanRequest(reach=[f"{part}:inspect"], serial="1", limits=[limit]))
        if isinstance(plan, TargetUnreachable):
            assert plan.would_do or isinstance(free, TargetUnreachable), part
            continue
        reached += 1
        labels = {way.label for way in (*each.removals.values(), *each.preparations.values()) if way.id in banned}
        assert labels.isdisjoint(step.label for step in plan.steps), part
    assert reached > 0
