"""The demo's machines, played through outcome by outcome."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient

from firstoff.answers.desk import Desk
from firstoff.api.application import create_app
from firstoff.appliance.model import Appliance
from firstoff.collection.opening import Opened
from firstoff.diagnosis import Findings, weighed
from firstoff.diagnosis.weighing import evidence_of
from firstoff.errors import BadRequest, NotFound
from firstoff_contract.diagnosis import DiagnosisRequest, NextStep, OutcomeSeen, ReadingSeen, Then

WARM = DiagnosisRequest(symptoms=["fridge-warm"], absent=["freezer-warm"], serial="1", tree=True)
CODE = DiagnosisRequest(codes=["b1"], serial="1", tree=True)


def leaves(step: NextStep) -> list[tuple[NextStep, Then | None]]:
    """Every end of the tree with the outcome that leads there; None for help."""
    if not step.then:
        return [(step, None)]
    found: list[tuple[NextStep, Then | None]] = []
    for then in step.then:
        found += leaves(then.step) if then.step else [(step, then)]
    return found


def expected(step: NextStep) -> float:
    """Minutes of the tree by summing it up."""
    return step.minutes + sum(then.probability * expected(then.step) for then in step.then if then.step)


@pytest.mark.parametrize("asked", [WARM, CODE])
def test_every_outcome_leads_on_to_a_repair_or_to_help(desk: Desk, asked: DiagnosisRequest) -> None:
    found = desk.diagnosis("flb-316-k", asked)
    assert found.next is not None
    assert found.next.kind == "check"
    assert sum(fault.share for fault in found.faults) == pytest.approx(1, abs=0.01)
    for step, then in leaves(found.next):
        assert sum(each.probability for each in step.then) == pytest.approx(1 if step.then else 0, abs=0.001)
        assert step.kind == "help" if then is None else then.outcome == "repaired"
    if found.exact:
        assert found.expected_minutes == found.bound
        assert expected(found.next) == pytest.approx(found.expected_minutes, rel=0.01)


def test_outcomes_move_the_shares_and_a_check_is_not_asked_twice(desk: Desk) -> None:
    step = desk.diagnosis("flb-316-k", CODE).next
    assert step is not None
    assert step.id is not None
    seen = OutcomeSeen(check=step.id, label=step.then[0].outcome)
    after = desk.diagnosis("flb-316-k", CODE.model_copy(update={"outcomes": [seen]}))
    assert after.next is not None
    assert after.next.id != step.id
    assert all(any(moved.kind == "outcome" for moved in fault.moved) for fault in after.faults)


def test_names_and_likelihoods_are_checked(desk: Desk) -> None:
    with pytest.raises(NotFound):
        desk.diagnosis("flb-316-k", DiagnosisRequest(symptoms=["qzxv"], serial="1"))
    bad = [ReadingSeen(label="volts", likelihoods={"drain-blocked": 2})]
    with pytest.raises(BadRequest, match="between 0 and 1"):
        desk.diagnosis("flb-316-k", DiagnosisRequest(readings=bad, serial="1"))
    both = DiagnosisRequest(symptoms=["fridge-warm"], absent=["fridge-warm"], serial="1")
    with pytest.raises(BadRequest, match="present and as absent"):
        desk.diagnosis("flb-316-k", both)


def test_contradiction_is_said(desk: Desk) -> None:
    faults = desk.diagnosis("flb-316-k", DiagnosisRequest(serial="1")).faults
    nil = ReadingSeen(label="nothing fits", likelihoods={fault.id: 0.0 for fault in faults})
    found = desk.diagnosis("flb-316-k", DiagnosisRequest(readings=[nil], serial="1"))
    assert found.contradicted
    assert found.said.startswith("No described fault explains this: nothing fits.")
    assert found.conflict is not None
    assert [each.label for each in found.conflict.findings] == ["nothing fits"]
    assert found.next is None


def test_one_finding_alone_contradicts_only_where_the_content_says_nothing_of_it(opened: Opened) -> None:
    """Every code, symptom and outcome of every machine leaves a fault, but what is unhealthy and speaks for none."""
    for variant in {each.model: each for m in opened.collection.models for each in _appliances(opened, m.id)}.values():
        single = [Findings(codes=frozenset({code})) for code in variant.codes]
        single += [Findings(absent=frozenset({symptom})) for symptom in variant.symptoms]
        for check in variant.checks.values():
            told = [each for each in check.outcomes if each.healthy or each.speaks_for]
            single += [Findings(outcomes=((check.id, outcome.label),)) for outcome in told]
        assert len(single) > 50
        for findings in single:
            for evidence in evidence_of(variant, findings):
                assert any(evidence.likelihoods.values()), (variant.model, evidence.label)


def test_an_outcome_that_no_fault_leads_to_is_the_conflict(opened: Opened) -> None:
    for model in opened.collection.models:
        for variant in _appliances(opened, model.id)[:1]:
            for check in variant.checks.values():
                for outcome in check.outcomes:
                    if not outcome.healthy and not outcome.speaks_for and len(check.outcomes) > 1:
                        belief = weighed(variant, Findings(outcomes=((check.id, outcome.label),)))
                        told = [each.id for each in belief.conflict]
                        assert told == ([check.id] if belief.contradicted else [])


def _appliances(opened: Opened, model: str) -> tuple[Appliance, ...]:
    return opened.collection.appliances(model, None)


def test_posted_and_asked_are_the_same(desk: Desk) -> None:
    client = TestClient(create_app(desk.opened, desk.settings))
    asked = client.get("/v1/models/flb-316-k/diagnosis", params={"codes": "b1", "serial": "1"})
    posted = client.post("/v1/models/flb-316-k/diagnosis", json={"codes": ["b1"], "serial": "1"})
    assert asked.status_code == posted.status_code == 200
    assert asked.json() == posted.json()


def test_words_are_understood_and_said(desk: Desk) -> None:
    found = desk.diagnosis("flb-316-k", DiagnosisRequest(symptoms=["fridge is warm"], serial="1"))
    assert [(note.words, note.taken_for.id) for note in found.understood] == [("fridge is warm", "fridge-warm")]
    named = desk.diagnosis("flb-316-k", DiagnosisRequest(symptoms=["fridge-warm"], serial="1"))
    assert named.faults == found.faults
    assert named.understood == []


def test_more_parts_never_carry_less(desk: Desk) -> None:
    loads = [desk.carry("flb-316-k", "1", ["fridge-warm"], parts) for parts in range(4)]
    chances = [load.chance for load in loads]
    assert chances == sorted(chances)
    assert chances[-1] > chances[0]
    assert all(len(load.parts) <= parts for parts, load in enumerate(loads))
