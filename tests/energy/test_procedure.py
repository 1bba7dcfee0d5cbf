"""The procedure of making safe and restoring: its order, whatever the plan does.

The order is that of 29 CFR 1910.147(d), (e) and (f); the clauses are checked in ``tests/published``.
"""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.appliance.circuit import Device
from firstoff.appliance.terms import Concept
from firstoff.energy.procedure import Deed, Part, PlanAct, ProcedureStep, Stage, procedure, sole_control


def device(slug: str, kind: str = "circuit-breaker", lockable: bool | None = True) -> Device:
    return Device(slug, slug, Concept(kind, kind), "wiring", isolating=True, lockable=lockable)


PLUG, BREAKER, TAP = device("plug", "plug"), device("breaker"), device("tap", "service-valve", lockable=None)

#: Acts as a planner may give them: the supply goes off and on by turns, all else in between and anywhere.
DEEDS = st.lists(st.sampled_from([*Deed, Deed.WORK, Deed.WORK]), max_size=25)


def acts_of(deeds: list[Deed]) -> list[PlanAct]:
    """A plan in which what is restored was isolated, and read is only with the supply on."""
    acts: list[PlanAct] = []
    isolated = False
    for deed in deeds:
        if (deed is Deed.ISOLATE) == isolated and deed in (Deed.ISOLATE, Deed.RESTORE):
            continue
        if isolated and deed is Deed.READ:
            continue
        isolated = deed is Deed.ISOLATE or (isolated and deed is not Deed.RESTORE)
        switched = (PLUG,) if deed in (Deed.ISOLATE, Deed.RESTORE) else ()
        acts.append(PlanAct(len(acts), deed, f"{deed.value} {len(acts)}.", switched, returns=len(acts) % 2 == 0))
    return acts


def places(steps: tuple[ProcedureStep, ...], stage: Stage) -> list[int]:
    return [index for index, step in enumerate(steps) if step.stage is stage]


@given(DEEDS)
def test_every_act_of_the_plan_is_told_and_in_its_order(deeds: list[Deed]) -> None:
    acts = acts_of(deeds)
    told = [number for step in procedure(acts, ["mains"]) for number in step.acts]
    assert set(told) == {act.number for act in acts}
    assert told == sorted(told)


@given(DEEDS)
def test_order_before_the_first_hand_goes_in(deeds: list[Deed]) -> None:
    """Prepare, tell, shut down, get at the device, isolate, lock: nothing else comes between or before."""
    acts = acts_of(deeds)
    steps = procedure(acts, ["mains"])
    isolating = places(steps, Stage.ISOLATE)
    if not isolating:
        assert not places(steps, Stage.LOCK) + places(steps, Stage.SHUT_DOWN)
        return
    assert [step.stage for step in steps[:2]] == [Stage.PREPARE, Stage.TELL]
    (shut_down,) = places(steps, Stage.SHUT_DOWN)
    assert shut_down < isolating[0]
    assert {step.stage for step in steps[shut_down + 1 : isolating[0]]} <= {Stage.GET_AT}
    assert all(shut_down < index < isolating[0] for index in places(steps, Stage.GET_AT))
    for index in isolating:
        assert steps[index + 1].stage is Stage.LOCK
        assert steps[index + 1].devices == steps[index].devices == ("plug",)


@given(DEEDS)
def test_what_is_released_is_verified_at_once(deeds: list[Deed]) -> None:
    steps = procedure(acts_of(deeds), ["mains"])
    for before, after in pairwise((*steps, None)):
        if before is not None and before.stage is Stage.RELEASE:
            assert after is not None
            assert after.stage is Stage.VERIFY
            assert after.acts == before.acts


@given(DEEDS)
def test_no_supply_returns_before_inspection_people_and_locks(deeds: list[Deed]) -> None:
    steps = procedure(acts_of(deeds), ["mains"])
    for index in places(steps, Stage.RESTORE):
        before = steps[max(index - 4, 0) : index]
        assert [step.stage for step in before] == [Stage.INSPECT, Stage.CLEAR, Stage.UNLOCK, Stage.TELL]
        assert before[2].devices == steps[index].devices
        assert len({step.part for step in (*before, steps[index])}) == 1


@given(DEEDS)
def test_a_supply_is_restored_for_a_test_where_a_reading_follows_before_it_goes_off(deeds: list[Deed]) -> None:
    acts = acts_of(deeds)
    steps = procedure(acts, ["mains"])
    for index in places(steps, Stage.RESTORE):
        (number,) = steps[index].acts
        later = [act.deed for act in acts[number + 1 :]]
        until_off = later[: later.index(Deed.ISOLATE)] if Deed.ISOLATE in later else later
        assert steps[index].part is (Part.LIVE_TEST if Deed.READ in until_off else Part.RESTORE)


@given(st.lists(st.sampled_from([Deed.WORK, Deed.INSPECT]), max_size=8))
def test_work_that_isolates_nothing_has_no_procedure(deeds: list[Deed]) -> None:
    acts = acts_of(deeds)
    assert {step.stage for step in procedure(acts, ["mains"])} <= {Stage.WORK, Stage.INSPECT}


@pytest.mark.parametrize(
    ("opened", "says", "clause"),
    [
        (PLUG, "sight and within your reach", "(a)(2)(iii)(A)"),
        (device("plug", "plug", lockable=None), "tie a tag to it", "(a)(2)(iii)(A)"),
        (BREAKER, "Fit your own lock to the breaker", "(d)(4)"),
        (device("switch", lockable=False), "takes no lock", "(c)(3)(ii)"),
        (TAP, "Look whether the tap takes a lock", "(d)(4)"),
    ],
)
def test_how_a_device_is_held_open(opened: Device, says: str, clause: str) -> None:
    acts = [PlanAct(0, Deed.ISOLATE, "Open it.", (opened,)), PlanAct(1, Deed.WORK, "Work")]
    (lock,) = (step for step in procedure(acts, []) if step.stage is Stage.LOCK)
    assert says in lock.text
    assert lock.clause is not None
    assert lock.clause.endswith(clause)


def test_a_machine_found_isolated_is_looked_at_and_locked_first() -> None:
    acts = [
        PlanAct(0, Deed.PROVE, "Prove dead."),
        PlanAct(1, Deed.WORK, "Refit"),
        PlanAct(2, Deed.RESTORE, "On", (PLUG,)),
    ]
    stages = [step.stage for step in procedure(acts, ["mains"], open_already=(PLUG,))]
    assert stages[:5] == [Stage.PREPARE, Stage.TELL, Stage.ISOLATE, Stage.LOCK, Stage.VERIFY]
    assert Stage.SHUT_DOWN not in stages


def test_energy_that_builds_up_again_is_verified_again() -> None:
    """29 CFR 1910.147(d)(5)(ii)."""
    acts = [
        PlanAct(0, Deed.ISOLATE, "Open it.", (PLUG,)),
        PlanAct(1, Deed.RELEASE, "Discharge.", verify="Measure it.", returns=True),
        PlanAct(2, Deed.RELEASE, "Slacken the spring."),
    ]
    again, once = (step for step in procedure(acts, []) if step.stage is Stage.VERIFY)
    assert again.text == "Measure it. It may build up again: verify again after every break."
    assert again.clause == "29 CFR 1910.147(d)(5)(ii)"
    assert "build up" not in once.text


def test_unknown_energies_are_said() -> None:
    acts = [PlanAct(0, Deed.ISOLATE, "Open it.", (PLUG,))]
    assert "treat everything as live" in procedure(acts, [])[0].text


@pytest.mark.parametrize(
    ("devices", "energies", "will_do"),
    [
        ((PLUG,), ("mains",), True),
        ((PLUG,), ("mains", "water"), False),
        ((PLUG, BREAKER), ("mains",), False),
        ((BREAKER,), ("mains",), False),
        ((), (), False),
    ],
)
def test_when_the_plug_in_hand_will_do(devices: tuple[Device, ...], energies: tuple[str, ...], will_do: bool) -> None:
    assert sole_control(devices, energies) is will_do
