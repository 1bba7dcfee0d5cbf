"""Shares after findings against the joint distribution enumerated outcome by outcome, and what findings moved."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import product
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.appliance.model import (
    Appliance,
    Check,
    DisplayCode,
    Effect,
    Fault,
    Outcome,
    Purpose,
    Symptom,
)
from firstoff.appliance.terms import Concept
from firstoff.collection.opening import Opened
from firstoff.diagnosis import Findings, Reading, UnknownFinding, UnknownSymptom, noisy_or, weighed
from firstoff.diagnosis.weighing import evidence_of, pair_weights

LEAK = 0.02
SYMPTOMS = ("noise", "warm", "wet")
CHANCES = st.sampled_from([0.0, 0.1, 0.5, 0.9])
AT_ALL = st.sampled_from(["present", "absent", "unknown"])


def fault(name: str, frequency: float, **likelihoods: float) -> Fault:
    effects = tuple(Effect(symptom, likelihood) for symptom, likelihood in likelihoods.items())
    return Fault(name, name, Concept("component", ""), Concept("open", ""), frequency, name, effects)


def machine(*faults: Fault, checks: tuple[Check, ...] = (), codes: tuple[DisplayCode, ...] = ()) -> Appliance:
    kind: Any = Concept("dryer", "dryer")
    return Appliance(
        "m", "M", "M", kind, "Marrowby", kind, "r",
        symptoms={name: Symptom(name, name) for name in SYMPTOMS},
        faults={one.id: one for one in faults},
        checks={one.id: one for one in checks},
        codes={one.id: one for one in codes},
    )  # fmt: skip


def check(name: str, bad: str) -> Check:
    outcomes = (Outcome("bad", False, frozenset({bad})), Outcome("good", True, rules_out=frozenset({bad})))
    return Check(name, name, "part", Purpose.TEST, Concept("resistance", ""), 2, outcomes=outcomes)


@given(
    st.lists(st.tuples(st.integers(1, 9), CHANCES, CHANCES, CHANCES), min_size=2, max_size=4),
    st.fixed_dictionaries(dict.fromkeys(SYMPTOMS, AT_ALL)),
)
def test_shares_against_the_joint_distribution(
    table: list[tuple[int, float, float, float]], told: dict[str, str]
) -> None:
    faults = [fault(f"f{n}", row[0], **dict(zip(SYMPTOMS, row[1:], strict=True))) for n, row in enumerate(table)]
    present = frozenset(name for name, what in told.items() if what == "present")
    absent = frozenset(name for name, what in told.items() if what == "absent")
    mass = dict.fromkeys((one.id for one in faults), 0.0)
    for row, one in zip(table, faults, strict=True):
        for seen in product((True, False), repeat=3):
            shown = {name for name, there in zip(SYMPTOMS, seen, strict=True) if there}
            if present <= shown and not absent & shown:
                # By the leak or by the fault: every way it can come about, one by one.
                chances = [LEAK * p + LEAK * (1 - p) + (1 - LEAK) * p for p in row[1:]]
                mass[one.id] += row[0] * math.prod(p if s else 1 - p for p, s in zip(chances, seen, strict=True))
    belief = weighed(machine(*faults), Findings(present=present, absent=absent))
    total = sum(mass.values())
    assert belief.shares == pytest.approx({name: part / total for name, part in mass.items()})
    assert sum(belief.shares.values()) == pytest.approx(1)


BELT = fault("belt", 3, noise=0.8)
PUMP = fault("pump", 1, wet=0.9)
CODE = DisplayCode("e3", "E3", "E3", frozenset({"pump"}), frozenset({"wet"}))
DRYER = machine(BELT, PUMP, checks=(check("look", "belt"), check("listen", "pump")), codes=(CODE,))


def test_findings_in_any_order_are_the_same() -> None:
    outcomes = (("look", "good"), ("listen", "bad"))
    readings = (Reading("one", {"belt": 0.5}), Reading("two", {"pump": 0.25}))
    one = weighed(DRYER, Findings(outcomes=outcomes, readings=readings))
    assert weighed(DRYER, Findings(outcomes=outcomes[::-1], readings=readings[::-1])) == one


def test_contradiction_is_said_and_not_normalised() -> None:
    belief = weighed(DRYER, Findings(outcomes=(("look", "good"), ("listen", "good"))))
    assert belief.contradicted
    assert belief.shares == {}
    assert [each.id for each in belief.conflict] == ["listen", "look"]
    assert belief.smallest


def test_only_what_contradicts_is_in_the_conflict() -> None:
    findings = Findings(frozenset({"noise"}), outcomes=(("look", "good"), ("listen", "good")), codes=frozenset({"e3"}))
    assert [each.id for each in weighed(DRYER, findings).conflict] == ["listen", "look"]


def test_where_no_single_fault_explains_it_two_at_once_may() -> None:
    machine_of_three = machine(BELT, PUMP, fault("fan", 1), checks=(check("look", "belt"), check("listen", "pump")))
    belief = weighed(machine_of_three, Findings(outcomes=(("look", "bad"), ("listen", "bad"))))
    assert belief.contradicted
    assert belief.pairs == (("belt", "pump", math.inf),)


def test_a_code_brings_its_faults_and_symptoms() -> None:
    belief = weighed(DRYER, Findings(codes=frozenset({"e3"})))
    # 3 x 0.02 (code) x 0.02 (wet by the leak) to 1 x 1 x (1 - 0.98 x 0.1)
    assert belief.shares["pump"] == pytest.approx(0.902 / (0.902 + 3 * 0.02 * 0.02))
    assert {move.kind for move in belief.moves} == {"code", "present"}


def test_decibans_of_a_reading() -> None:
    belief = weighed(DRYER, Findings(readings=(Reading("volts", {"belt": 0.1}),)))
    moved = {move.fault: move for move in belief.moves}
    assert moved["pump"].decibans == pytest.approx(10)
    assert moved["belt"].decibans == pytest.approx(-10)
    assert (moved["pump"].before, moved["pump"].after) == pytest.approx((0.25, 1 / 1.3))


def test_a_pair_is_told_where_it_gains() -> None:
    leads = replace(BELT, brings_on=frozenset({"pump"}))
    both = Findings(present=frozenset({"noise", "wet"}))
    assert [pair[:2] for pair in weighed(machine(leads, PUMP), both).pairs] == [("belt", "pump")]
    assert weighed(machine(leads, PUMP), Findings(present=frozenset({"noise"}))).pairs == ()


def test_a_symptom_nobody_lists_is_told() -> None:
    assert weighed(DRYER, Findings(present=frozenset({"warm"}))).unexplained == {"warm"}


@pytest.mark.parametrize(
    "findings",
    [
        Findings(codes=frozenset({"e9"})),
        Findings(outcomes=(("nothing", "bad"),)),
        Findings(outcomes=(("look", "worse"),)),
        Findings(present=frozenset({"wet"}), absent=frozenset({"wet"})),
        Findings(outcomes=(("look", "good"), ("look", "bad"))),
    ],
)
def test_findings_that_cannot_be(findings: Findings) -> None:
    with pytest.raises(UnknownFinding):
        weighed(DRYER, findings)


def test_an_unknown_symptom_is_named() -> None:
    with pytest.raises(UnknownSymptom):
        weighed(DRYER, Findings(absent=frozenset({"smoke"})))


def test_noisy_or_by_hand() -> None:
    # 1 - 0.9 x 0.5 x 0.2
    assert noisy_or([0.5, 0.8], 0.1) == pytest.approx(0.91)


def test_a_remedy_that_did_not_help_ended_none_of_its_faults(opened: Opened) -> None:
    appliance = opened.collection.appliances("tgd27-460-s", None)[0]
    remedy = appliance.faults["fault-belt-broken"].remedies[0].id
    ended = {fault.id for fault in appliance.faults.values() if remedy in {each.id for each in fault.remedies}}
    before = weighed(appliance, Findings(present=frozenset({"drum-does-not-turn"})))
    after = weighed(appliance, Findings(present=frozenset({"drum-does-not-turn"}), tried=frozenset({remedy})))
    left = sum(share for fault, share in before.shares.items() if fault not in ended)
    for fault, share in after.shares.items():
        assert share == pytest.approx(0 if fault in ended else before.shares[fault] / left)
    assert any(move.kind == "tried" and move.finding == remedy for move in after.moves)
    with pytest.raises(UnknownFinding):
        weighed(appliance, Findings(tried=frozenset({"replace-nothing"})))


def test_a_remedy_of_one_of_two_faults_does_not_help_and_speaks_against_neither_pair(opened: Opened) -> None:
    """With two faults at once the remedy of one leaves the machine broken: as likely as a remedy of none."""
    appliance = opened.collection.appliances("tgd27-460-s", None)[0]
    remedy = appliance.faults["fault-belt-broken"].remedies[0].id
    priors = {each.id: each.relative_frequency for each in appliance.faults.values()}
    evidence = evidence_of(appliance, Findings(tried=frozenset({remedy})))
    without = pair_weights(appliance, (), priors)
    weights = pair_weights(appliance, evidence, priors)
    ended = {each for each, given in evidence[0].likelihoods.items() if given == 0}
    assert ended
    for names, weight in weights.items():
        assert weight == (0 if set(names) <= ended else without[names])
