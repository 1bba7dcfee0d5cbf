"""Readings judged: at the limit, beside it, over range, in other units, and what is refused."""

from __future__ import annotations

from dataclasses import replace
from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.handover import (
    Facts,
    HandoverError,
    Limit,
    Measurement,
    Quantity,
    Reading,
    ReadingRefused,
    Standard,
    UnitRefused,
    Verdict,
    overall,
    verdict,
)

SOURCE = Standard("a standard", "1st edition", "1")
EARTH = Measurement(Quantity.EARTH, "how", limit=Limit(SOURCE, "why", at_most=0.1))
INSULATION = Measurement(Quantity.INSULATION, "how", limit=Limit(SOURCE, "why", at_least=1.0))
LEAKAGE = Measurement(Quantity.LEAKAGE, "how", limit=Limit(SOURCE, "why", at_most=0.75))
MEASUREMENTS = {each.quantity: each for each in (EARTH, INSULATION, LEAKAGE)}

PASS, FAIL, UNKNOWN = Verdict.PASS, Verdict.FAIL, Verdict.UNKNOWN

#: quantity, value, unit, over range, verdict
JUDGED = [
    (Quantity.EARTH, 0.1, "ohm", False, PASS),  # exactly at the limit
    (Quantity.EARTH, 0.1000001, "ohm", False, FAIL),
    (Quantity.EARTH, 0.0, "ohm", False, PASS),
    (Quantity.EARTH, 100.0, "mohm", False, PASS),
    (Quantity.EARTH, 101.0, "mohm", False, FAIL),
    (Quantity.EARTH, 101.0, "m\u03a9", False, FAIL),
    (Quantity.EARTH, 0.09, "\u2126", False, PASS),  # the ohm sign, another character than the letter omega
    (Quantity.EARTH, 20.0, "ohm", True, FAIL),
    (Quantity.EARTH, 0.1, "ohm", True, FAIL),  # more than the limit
    (Quantity.EARTH, 0.05, "ohm", True, UNKNOWN),  # more than 0.05 may be 0.06 or 6
    (Quantity.INSULATION, 1.0, "Mohm", False, PASS),
    (Quantity.INSULATION, 0.999, "Mohm", False, FAIL),
    (Quantity.INSULATION, 999.0, "kohm", False, FAIL),
    (Quantity.INSULATION, 1000.0, "kohm", False, PASS),
    (Quantity.INSULATION, 0.001, "Gohm", False, PASS),
    (Quantity.INSULATION, 0.0, "Mohm", False, FAIL),
    (Quantity.INSULATION, 500.0, "Mohm", True, PASS),
    (Quantity.INSULATION, 1.0, "Mohm", True, PASS),
    (Quantity.INSULATION, 0.5, "Mohm", True, UNKNOWN),
    (Quantity.LEAKAGE, 0.75, "mA", False, PASS),
    (Quantity.LEAKAGE, 0.76, "mA", False, FAIL),
    (Quantity.LEAKAGE, 750.0, "uA", False, PASS),
    (Quantity.LEAKAGE, 751.0, "\u00b5A", False, FAIL),
    (Quantity.LEAKAGE, 10.0, "mA", True, FAIL),
]


@pytest.mark.parametrize(("quantity", "value", "unit", "over", "expected"), JUDGED)
def test_reading(quantity: Quantity, value: float, unit: str, over: bool, expected: Verdict) -> None:
    assert verdict([Reading(quantity, value, unit, over)], MEASUREMENTS[quantity]) is expected


def test_the_worst_of_several_readings_counts() -> None:
    good, bad = Reading(Quantity.EARTH, 0.05, "ohm"), Reading(Quantity.EARTH, 0.2, "ohm")
    assert verdict([good, bad, good], EARTH) is FAIL
    assert verdict([good, Reading(Quantity.EARTH, 0.01, "ohm", over_range=True)], EARTH) is UNKNOWN
    assert verdict([good, good], EARTH) is PASS


def test_nothing_measured_is_no_pass() -> None:
    assert verdict([], EARTH) is Verdict.NOT_MEASURED


@pytest.mark.parametrize("value", [0.0, 0.01, 5.0])
def test_without_a_limit_nothing_passes(value: float) -> None:
    assert verdict([Reading(Quantity.EARTH, value, "ohm")], replace(EARTH, limit=None, missing=("x",))) is UNKNOWN


def test_what_is_not_needed_does_not_apply() -> None:
    assert verdict([], replace(EARTH, needed=False, limit=None)) is Verdict.NOT_APPLICABLE


#: quantity, value, unit, what is raised
REFUSED = [
    (Quantity.EARTH, -0.1, "ohm", ReadingRefused),
    (Quantity.EARTH, nan, "ohm", ReadingRefused),
    (Quantity.EARTH, inf, "ohm", ReadingRefused),
    (Quantity.EARTH, 1e9, "ohm", ReadingRefused),
    (Quantity.LEAKAGE, 1e6, "mA", ReadingRefused),
    (Quantity.EARTH, 0.1, "Mohm", UnitRefused),  # mega where milli is meant
    (Quantity.INSULATION, 12.0, "mohm", UnitRefused),  # milli where mega is meant
    (Quantity.INSULATION, 12.0, "ohm", UnitRefused),
    (Quantity.LEAKAGE, 0.4, "A", UnitRefused),
    (Quantity.LEAKAGE, 0.4, "parsec", UnitRefused),
    (Quantity.LEAKAGE, 0.4, "", UnitRefused),
]


@pytest.mark.parametrize(("quantity", "value", "unit", "error"), REFUSED)
def test_refused(quantity: Quantity, value: float, unit: str, error: type[HandoverError]) -> None:
    with pytest.raises(error) as caught:
        verdict([Reading(quantity, value, unit)], MEASUREMENTS[quantity])
    assert caught.value.mend


#: verdicts of the lines, verdict of the record
WHOLE = [
    ([PASS, PASS, PASS], PASS),
    ([PASS, Verdict.NOT_APPLICABLE], PASS),
    ([PASS, FAIL, UNKNOWN, Verdict.NOT_MEASURED], FAIL),
    ([PASS, UNKNOWN, Verdict.NOT_MEASURED], UNKNOWN),
    ([PASS, Verdict.NOT_MEASURED], Verdict.NOT_MEASURED),
    ([Verdict.NOT_APPLICABLE], Verdict.NOT_MEASURED),
    ([], Verdict.NOT_MEASURED),
]


@pytest.mark.parametrize(("verdicts", "expected"), WHOLE)
def test_record(verdicts: list[Verdict], expected: Verdict) -> None:
    assert overall(verdicts) is expected


@given(st.lists(st.sampled_from(list(Verdict))), st.sampled_from([FAIL, UNKNOWN, Verdict.NOT_MEASURED]))
def test_one_line_that_does_not_pass_keeps_the_whole_from_passing(verdicts: list[Verdict], bad: Verdict) -> None:
    assert overall([*verdicts, bad]) is not PASS


#: From good to bad.
_ORDER = [PASS, UNKNOWN, FAIL]
VALUES = st.floats(0, 1000, allow_nan=False)


@given(st.sampled_from(list(Quantity)), VALUES, VALUES, st.booleans(), st.booleans())
def test_a_worse_reading_never_turns_out_better(
    quantity: Quantity, one: float, other: float, over_one: bool, over_other: bool
) -> None:
    """Higher is worse but for insulation; over range means more, which is worse but for insulation."""
    measurement = MEASUREMENTS[quantity]
    higher_is_worse = quantity is not Quantity.INSULATION
    low, high = sorted((one, other))
    over_low, over_high = sorted((over_one, over_other))
    worse, better = ((high, over_high), (low, over_low)) if higher_is_worse else ((low, over_low), (high, over_high))
    told_worse, told_better = (
        verdict([Reading(quantity, value, measurement.unit, over)], measurement) for value, over in (worse, better)
    )
    assert not (told_better is FAIL and told_worse is PASS)
    if over_low == over_high:
        assert _ORDER.index(told_worse) >= _ORDER.index(told_better)


@given(st.lists(VALUES, min_size=1), VALUES)
def test_another_reading_never_helps(values: list[float], more: float) -> None:
    readings = [Reading(Quantity.LEAKAGE, value, "mA") for value in values]
    before, after = verdict(readings, LEAKAGE), verdict([*readings, Reading(Quantity.LEAKAGE, more, "mA")], LEAKAGE)
    assert _ORDER.index(after) >= _ORDER.index(before)


def test_facts_know_nothing_by_themselves() -> None:
    assert Facts() == Facts(None, None, None, None, None, None, None, None, False)
