"""The limits of a machine: each fact that decides them, and that a missing fact leaves none."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.handover import Facts, Limit, Measurement, Quantity, measurements

IEC = Facts(
    built_to="iec-60335",
    protection_class="I",
    stationary=True,
    operation="motor-operated",
    rated_watts=500.0,
    corded=True,
    cord_metres=1.5,
    cord_square_millimetres=0.75,
)
UL = replace(IEC, built_to="north-american")


def measured(facts: Facts, quantity: Quantity) -> Measurement:
    (found,) = (each for each in measurements(facts) if each.quantity is quantity)
    return found


def limit(facts: Facts, quantity: Quantity) -> Limit:
    found = measured(facts, quantity).limit
    assert found is not None
    return found


def test_dead_measurements_come_first() -> None:
    found = measurements(IEC)
    assert [each.quantity for each in found] == [Quantity.EARTH, Quantity.INSULATION, Quantity.LEAKAGE]
    assert [each.with_supply for each in found] == [False, False, True]


#: facts, highest earth resistance in ohms
EARTH = [
    (replace(IEC, corded=False, cord_metres=None), 0.1),
    (IEC, 0.134),  # 1.5 m of 0.75 mm2: 1.5 / 58 / 0.75 = 0.0345 ohm
    (replace(IEC, cord_metres=5.0, cord_square_millimetres=1.0), 0.186),  # 5 / 58 = 0.0862 ohm
    (UL, 0.1),
    (replace(UL, cord_metres=None, cord_square_millimetres=None, corded=None), 0.1),
]


@pytest.mark.parametrize(("facts", "most"), EARTH)
def test_earth(facts: Facts, most: float) -> None:
    assert limit(facts, Quantity.EARTH).at_most == most


@pytest.mark.parametrize("protection_class", ["II", "III"])
@pytest.mark.parametrize("facts", [IEC, UL])
def test_without_protective_earth_there_is_nothing_to_measure(facts: Facts, protection_class: str) -> None:
    found = measured(replace(facts, protection_class=protection_class), Quantity.EARTH)
    assert not found.needed
    assert found.limit is None
    assert found.missing == ()
    assert found.why_not


#: facts, lowest insulation in megohms
INSULATION = [
    (IEC, 1.0),
    (replace(IEC, protection_class="II"), 2.0),
    (replace(IEC, protection_class="III"), 0.25),
    (replace(IEC, operation="heating", rated_watts=3500.0), 1.0),  # above 3.5 kW, not at it
    (replace(IEC, operation="heating", rated_watts=3501.0), 0.3),
    (replace(IEC, operation="combined", rated_watts=6100.0), 0.3),
    (replace(IEC, operation="motor-operated", rated_watts=6100.0), 1.0),
    (UL, 1.0),
    (replace(UL, protection_class="II"), 2.0),
]


@pytest.mark.parametrize(("facts", "least"), INSULATION)
def test_insulation(facts: Facts, least: float) -> None:
    assert limit(facts, Quantity.INSULATION).at_least == least


#: facts, highest leakage current in milliamperes
LEAKAGE = [
    (IEC, 3.5),
    (replace(IEC, stationary=False), 0.75),
    (replace(IEC, protection_class="II"), 0.25),
    (replace(IEC, protection_class="III"), 0.5),
    (replace(IEC, operation="heating", rated_watts=500.0), 0.75),
    (replace(IEC, operation="heating", rated_watts=1000.0), 0.75),
    (replace(IEC, operation="heating", rated_watts=2000.0), 1.5),
    (replace(IEC, operation="heating", rated_watts=8000.0), 5.0),
    (replace(IEC, operation="combined", rated_watts=2000.0), 3.5),  # the greater of 3.5 and 1.5
    (replace(IEC, operation="combined", rated_watts=6000.0), 4.5),  # the greater of 3.5 and 4.5
    (replace(IEC, refrigerating=True), 1.5),
    (replace(IEC, refrigerating=True, stationary=False), 0.75),  # the stricter of part 1 and part 2
    (replace(IEC, refrigerating=True, protection_class="II"), 0.25),
    (UL, 0.75),
    (replace(UL, stationary=False), 0.5),
    (replace(UL, protection_class="II"), 0.5),
]


@pytest.mark.parametrize(("facts", "most"), LEAKAGE)
def test_leakage(facts: Facts, most: float) -> None:
    assert limit(facts, Quantity.LEAKAGE).at_most == most


#: a fact that is not told, the quantities that have no limit then
UNTOLD = [
    ("built_to", {Quantity.EARTH, Quantity.INSULATION, Quantity.LEAKAGE}),
    ("protection_class", {Quantity.EARTH, Quantity.INSULATION, Quantity.LEAKAGE}),
    ("stationary", {Quantity.LEAKAGE}),
    ("operation", {Quantity.INSULATION, Quantity.LEAKAGE}),
    ("rated_watts", {Quantity.INSULATION, Quantity.LEAKAGE}),
    ("corded", {Quantity.EARTH}),
    ("cord_metres", {Quantity.EARTH}),
    ("cord_square_millimetres", {Quantity.EARTH}),
]


@pytest.mark.parametrize(("fact", "without"), UNTOLD)
def test_a_missing_fact_leaves_no_limit(fact: str, without: set[Quantity]) -> None:
    facts = replace(replace(IEC, operation="combined"), **{fact: None})
    found = measurements(facts)
    assert {each.quantity for each in found if each.limit is None} == without
    for each in found:
        assert bool(each.missing) == (each.quantity in without)


def test_a_family_of_standards_without_rules_here_leaves_no_limit() -> None:
    assert [each.limit for each in measurements(replace(IEC, built_to="another"))] == [None, None, None]


FACTS = st.builds(
    Facts,
    built_to=st.sampled_from([None, "iec-60335", "north-american", "another"]),
    protection_class=st.sampled_from([None, "I", "II", "III"]),
    stationary=st.sampled_from([None, True, False]),
    operation=st.sampled_from([None, "motor-operated", "heating", "combined"]),
    rated_watts=st.none() | st.floats(1, 20_000),
    corded=st.sampled_from([None, True, False]),
    cord_metres=st.none() | st.floats(0.1, 50),
    cord_square_millimetres=st.none() | st.floats(0.1, 20),
    refrigerating=st.booleans(),
)


@given(FACTS)
def test_a_needed_measurement_has_a_limit_or_says_what_is_missing(facts: Facts) -> None:
    for each in measurements(facts):
        assert (each.limit is None) == (not each.needed or bool(each.missing))
        if each.limit is not None:
            assert (each.limit.at_most is None) != (each.limit.at_least is None)
            assert each.limit.why
            assert each.limit.standard.title
            assert each.limit.standard.edition


@given(FACTS)
def test_no_limit_is_beyond_what_any_source_allows(facts: Facts) -> None:
    """Leakage 5 mA, insulation 0.25 megohm; a lasting guard against a slip in a rule."""
    for each in measurements(facts):
        if each.limit is not None and each.limit.at_most is not None and each.quantity is Quantity.LEAKAGE:
            assert each.limit.at_most <= 5.0
        if each.limit is not None and each.limit.at_least is not None:
            assert each.limit.at_least >= 0.25
