"""No good part is condemned, on the machines of the demo."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest

from firstoff.answers.desk import Desk
from firstoff.appliance.model import Appliance
from firstoff.collection.opening import Opened
from firstoff.diagnosis import Findings, confirming, cost, guard, look_alikes, weighed
from firstoff_contract.diagnosis import Diagnosis, DiagnosisRequest, NextStep

MODELS = ("flb-316-k", "tgd27-410-k", "qmh60-420-n", "tem34-210-c", "mdr60-560-z")


def _machine(opened: Opened, model: str) -> Appliance:
    return opened.collection.appliances(model, "1")[0]


def _every(opened: Opened) -> Iterator[Appliance]:
    for model in opened.collection.models:
        yield from opened.collection.appliances(model.id, None)


def steps(step: NextStep, made: frozenset[str]) -> Iterator[tuple[NextStep, frozenset[str]]]:
    """Every step of a decision tree with the checks made before it."""
    yield step, made
    after = made | {step.id} if step.kind == "check" and step.id else made
    for then in step.then:
        if then.step:
            yield from steps(then.step, after)


def test_what_is_dear_or_fails_rarely_has_a_check_that_confirms_it(opened: Opened) -> None:
    for appliance in _every(opened):
        guarded = [(f.id, r) for f in appliance.faults.values() for r in f.remedies if guard(appliance, r)]
        assert len(guarded) >= 10, appliance.model
        for fault, remedy in guarded:
            found = guard(appliance, remedy)
            assert found is not None
            assert found.why in ("dear", "fails rarely"), (appliance.model, found)  # the demo tells every price
            assert confirming(appliance, fault), (appliance.model, fault, remedy.id)


@pytest.mark.parametrize(
    ("fault", "why", "costs"),
    [
        ("inverter-board-failed", "dear", 3),
        ("compressor-seized", "dear", 3),
        ("freezer-connector-corroded", "fails rarely", 1),
        ("evaporator-fan-stopped", None, 2),  # 0.036 of all that goes wrong
        ("outlets-covered", None, 0),  # nothing is replaced
    ],
)
def test_guards_of_the_fridge_freezer(opened: Opened, fault: str, why: str | None, costs: int) -> None:
    appliance = _machine(opened, "flb-316-k")
    remedy = appliance.faults[fault].remedies[0]
    found = guard(appliance, remedy)
    assert (found.why if found else None) == why
    assert cost(appliance, remedy) == costs


def test_a_price_that_is_not_told_counts_as_dear(opened: Opened) -> None:
    appliance = _machine(opened, "flb-316-k")
    fan = replace(appliance.components["evaporator-fan"], price_band=None)
    untold = replace(appliance, components={**appliance.components, fan.id: fan})
    remedy = appliance.faults["evaporator-fan-stopped"].remedies[0]
    found = guard(untold, remedy)
    assert found is not None
    assert (found.part, found.why, cost(untold, remedy)) == ("evaporator-fan", "price not told", 3)


def test_look_alikes_cost_less_and_the_cheapest_comes_first(opened: Opened) -> None:
    for appliance in _every(opened):
        shares = weighed(appliance, Findings()).shares
        for fault in appliance.faults.values():
            found = look_alikes(appliance, fault.id, shares)
            costs = [min(cost(appliance, each) for each in appliance.faults[slug].remedies) for slug in found]
            assert costs == sorted(costs)
            assert all(each < min(cost(appliance, r) for r in fault.remedies) for each in costs)
            own = {effect.symptom for effect in fault.effects}
            for slug in found:
                assert own & {effect.symptom for effect in appliance.faults[slug].effects}


def test_the_relay_of_the_board_looks_like_a_lost_line_and_the_connector(opened: Opened) -> None:
    """A dryer that does not heat: the supply and what was set come before the control board."""
    appliance = _machine(opened, "tgd27-410-k")
    shares = weighed(appliance, Findings(present=frozenset({"no-heat"}))).shares
    found = look_alikes(appliance, "fault-heater-relay-open", shares, ["no-heat"])
    assert {"fault-line-2-lost", "fault-air-only-chosen", "fault-cut-off-open"} <= set(found)
    assert found.index("fault-line-2-lost") < found.index("fault-cut-off-open")
    ruled_out = {fault: share for fault, share in shares.items() if fault != "fault-line-2-lost"}
    assert "fault-line-2-lost" not in look_alikes(appliance, "fault-heater-relay-open", ruled_out, ["no-heat"])


@pytest.mark.parametrize("model", MODELS)
def test_no_tree_replaces_a_guarded_part_before_a_check_confirmed_it(desk: Desk, opened: Opened, model: str) -> None:
    appliance = _machine(opened, model)
    replaced = 0
    for symptom in sorted(appliance.symptoms)[:6]:
        found: Diagnosis = desk.diagnosis(model, DiagnosisRequest(symptoms=[symptom], serial="1", tree=True))
        assert found.next is not None
        for step, made in steps(found.next, frozenset()):
            remedies = [r for f in appliance.faults.values() for r in f.remedies if r.id == step.id]
            if remedies and guard(appliance, remedies[0]):
                replaced += 1
                ended = [f.id for f in appliance.faults.values() if remedies[0] in f.remedies]
                assert made & frozenset().union(*(confirming(appliance, fault) for fault in ended)), step.id
                assert step.guard is not None
                assert step.guard.confirmed_by
    assert replaced
