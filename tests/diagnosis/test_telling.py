"""Checks that tell faults apart: by hand, and against mutual information computed from the joint table with numpy."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.appliance.model import (
    Appliance,
    Check,
    Outcome,
    Purpose,
)
from firstoff.appliance.terms import Concept
from firstoff.diagnosis import RankedFault, telling_apart
from firstoff.diagnosis.telling import outcome_probabilities

LOOK = Concept("look", "look")


def shares(**by_fault: float) -> tuple[RankedFault, ...]:
    origin = Concept("component", "component")
    return tuple(
        RankedFault(name, name, None, origin, share, frozenset(), frozenset(), (), frozenset())
        for name, share in by_fault.items()
    )


def outcome(healthy: bool, speaks_for: str = "", rules_out: str = "") -> Outcome:
    return Outcome("", healthy, frozenset(speaks_for.split()), frozenset(rules_out.split()))


def check(name: str, *outcomes: Outcome, minutes: float = 1.0, live: bool = False) -> Check:
    return Check(name, name, "part", Purpose.TEST, LOOK, minutes, live, outcomes=outcomes)


def appliance(*checks: Check) -> Appliance:
    concept = Concept("x", "x")
    return Appliance("m", "M", "M", concept, "Tolvane", concept, "r", checks={one.id: one for one in checks})


def good_or_bad(fault: str) -> tuple[Outcome, Outcome]:
    """A check that shows one fault or rules it out."""
    return outcome(True, rules_out=fault), outcome(False, speaks_for=fault)


@pytest.mark.parametrize(
    ("outcomes", "fault", "probabilities"),
    [
        # 1. It ends in what speaks for the fault.
        (good_or_bad("a"), "a", (0, 1)),
        ((outcome(True), outcome(False, "a"), outcome(False, "a b")), "a", (0, 0.5, 0.5)),
        # 2. Where none does, in a healthy outcome that does not rule it out.
        (good_or_bad("a"), "b", (1, 0)),
        ((outcome(True), outcome(True), outcome(False, "a")), "b", (0.5, 0.5, 0)),
        ((outcome(True, rules_out="b"), outcome(True), outcome(False, "a")), "b", (0, 1, 0)),
        # 3. Where there is none, in any that does not rule it out, else in any.
        ((outcome(False, "a"), outcome(False, "c")), "b", (0.5, 0.5)),
        ((outcome(True, rules_out="b"), outcome(False, "a")), "b", (0, 1)),
        ((outcome(True, rules_out="b"), outcome(False, "a", "b")), "b", (0.5, 0.5)),
    ],
)
def test_outcomes_have_their_probability_from_the_faults_they_name(
    outcomes: tuple[Outcome, ...], fault: str, probabilities: tuple[float, ...]
) -> None:
    assert outcome_probabilities(check("c", *outcomes), fault) == probabilities


def test_an_even_split_gains_one_bit() -> None:
    found = telling_apart(appliance(check("c", *good_or_bad("a"), minutes=4)), shares(a=0.5, b=0.5))
    assert [(one.check, one.gain, one.worth) for one in found] == [("c", 1.0, 0.25)]
    good, bad = found[0].outcomes
    assert (good.probability, good.shares) == (0.5, (("b", 1.0),))
    assert (bad.probability, bad.shares) == (0.5, (("a", 1.0),))


def test_gain_by_hand() -> None:
    # Shares 1/2, 1/4, 1/4 hold 1.5 bits. Ruling c out leaves 2/3 and 1/3, 0.9183 bits, with probability 3/4.
    found = telling_apart(appliance(check("c", *good_or_bad("c"))), shares(a=0.5, b=0.25, c=0.25))
    assert found[0].gain == pytest.approx(1.5 - 0.75 * (math.log2(3) - 2 / 3))
    assert dict(found[0].outcomes[0].shares) == pytest.approx({"a": 2 / 3, "b": 1 / 3})


def test_the_most_telling_for_its_minutes_comes_first() -> None:
    checks = (
        check("halves", *good_or_bad("a"), minutes=10),  # 1 bit, 0.1 a minute
        check("quick", *good_or_bad("b"), minutes=2),  # 0.811 bits, 0.41 a minute
        check("idle", outcome(True), outcome(False, "z")),  # about a fault that is not in question
        check("blind", outcome(True)),
        check("empty"),
    )
    found = telling_apart(appliance(*checks), shares(a=0.5, b=0.25, c=0.25))
    assert [one.check for one in found] == ["quick", "halves"]


def test_minutes_with_the_way_in_can_be_given() -> None:
    checks = (check("far", *good_or_bad("a"), minutes=1), check("near", *good_or_bad("a"), minutes=2))
    both = appliance(*checks)
    assert [one.check for one in telling_apart(both, shares(a=0.5, b=0.5))] == ["far", "near"]
    told = telling_apart(both, shares(a=0.5, b=0.5), minutes={"far": 30.0})
    assert [(one.check, one.minutes) for one in told] == [("near", 2), ("far", 30)]


def test_among_equals_the_dead_check_comes_first_then_the_quicker() -> None:
    checks = (
        check("a-live", *good_or_bad("a"), minutes=0.5, live=True),
        check("b-dead", *good_or_bad("a"), minutes=0.5),
        check("c-look", *good_or_bad("a"), minutes=0.0),  # counts as half a minute
        check("d-dead", *good_or_bad("a"), minutes=0.5),
    )
    found = telling_apart(appliance(*checks), shares(a=0.5, b=0.5))
    assert [one.check for one in found] == ["c-look", "b-dead", "d-dead", "a-live"]
    assert len({one.worth for one in found}) == 1


def test_nothing_to_tell_apart() -> None:
    one_check = appliance(check("c", *good_or_bad("a")))
    assert telling_apart(one_check, ()) == ()
    assert telling_apart(one_check, shares(a=1.0)) == ()
    assert telling_apart(one_check, shares(a=1.0, b=0.0)) == ()


FAULTS = ("a", "b", "c", "d")
NAMED = st.sets(st.sampled_from(FAULTS)).map(" ".join)
OUTCOMES = st.lists(st.builds(outcome, st.booleans(), NAMED, NAMED), min_size=1, max_size=4)


@given(st.lists(st.floats(0.001, 1), min_size=2, max_size=4), OUTCOMES, st.floats(0.5, 60))
def test_gain_is_the_mutual_information_of_fault_and_outcome(
    weights: list[float], outcomes: list[Outcome], minutes: float
) -> None:
    faults = FAULTS[: len(weights)]
    one = check("c", *outcomes, minutes=minutes)
    found = telling_apart(appliance(one), shares(**dict(zip(faults, weights, strict=True))))
    joint = np.array(weights)[:, None] / sum(weights) * np.array([_given(outcomes, name) for name in faults])
    assert joint.sum() == pytest.approx(1)
    by_fault, by_outcome = joint.sum(axis=1), joint.sum(axis=0)
    gain = sum(
        joint[row, column] * math.log2(joint[row, column] / (by_fault[row] * by_outcome[column]))
        for row, column in itertools.product(range(len(faults)), range(len(outcomes)))
        if joint[row, column] > 0
    )
    if not found:
        assert gain == pytest.approx(0, abs=1e-8)
        return
    assert found[0].gain == pytest.approx(gain, abs=1e-9)
    assert found[0].worth == pytest.approx(gain / minutes, abs=1e-9)
    assert [expected.probability for expected in found[0].outcomes] == pytest.approx(by_outcome.tolist())
    for expected, column in zip(found[0].outcomes, joint.T, strict=True):
        after = dict(expected.shares)
        wanted = column / column.sum() if column.sum() else np.zeros(len(faults))
        assert [after.get(name, 0.0) for name in faults] == pytest.approx(wanted.tolist())


def _given(outcomes: list[Outcome], fault: str) -> list[float]:
    """The three rules as weights of three ranks, the best rank that occurs sharing the whole."""
    ranks = [
        3
        if fault in one.speaks_for
        else 2
        if one.healthy and fault not in one.rules_out
        else 1
        if fault not in one.rules_out
        else 0
        for one in outcomes
    ]
    top = [rank == max(ranks) for rank in ranks]
    return [one / sum(top) for one in top]
