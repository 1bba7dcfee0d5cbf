"""Curves of resistance both ways, their ranges, and what is said of a link."""

from __future__ import annotations

import itertools
from math import isclose, nan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.appliance.circuit import CurveKind, Link, LinkKind, ResistanceCurve
from firstoff.energy.curves import OutOfRange, celsius_at, celsius_range, ohms_at, resistance_of
from firstoff.energy.curves.thermistor import polynomial_celsius, polynomial_ohms, polynomial_range

TERMS = (3.354016e-3, 2.569850e-4, 2.620131e-6, 6.383091e-8)
# Steinhart-Hart coefficients of a common 10 kilohm part, from memory.
STEINHART_HART = (1.129241e-3, 2.341077e-4, 0.0, 8.775468e-8)
CURVES = [
    ResistanceCurve(CurveKind.BETA, 10_000, 25, 3977),
    ResistanceCurve(CurveKind.INVERSE_POLYNOMIAL, 10_000, 25, terms=TERMS),
    ResistanceCurve(CurveKind.INVERSE_POLYNOMIAL, 1, terms=STEINHART_HART),
    ResistanceCurve(CurveKind.PLATINUM, 1000),
    ResistanceCurve(CurveKind.PLATINUM, 109.73, 25),
    ResistanceCurve(CurveKind.COPPER, 4.7),
]


def link(kind: LinkKind = LinkKind.LOAD, **facts: object) -> Link:
    return Link("x", "x", kind, "a", "b", "x", **facts)  # type: ignore[arg-type]


@given(st.sampled_from(CURVES), st.floats(0.001, 0.999))
def test_there_and_back(curve: ResistanceCurve, part: float) -> None:
    low, high = celsius_range(curve)
    celsius = low + part * (high - low)
    assert isclose(celsius_at(curve, ohms_at(curve, celsius)), celsius, abs_tol=1e-6)


@given(st.sampled_from(CURVES), st.floats(0.001, 500))
def test_outside_the_range_is_refused(curve: ResistanceCurve, beyond: float) -> None:
    low, high = celsius_range(curve)
    for celsius in (low - beyond, high + beyond, nan):
        with pytest.raises(OutOfRange):
            ohms_at(curve, celsius)
        assert resistance_of(link(curve=curve), celsius) is None


# Whole steps of the coefficients: numpy's companion matrix divides by the first and cannot bear one of 1e-69.
@given(st.integers(100, 400), st.integers(-200, 200), st.integers(-200, 200), st.floats(-50, 200))
def test_polynomial_against_numpy_roots(micro: int, tenths: int, hundredths: int, celsius: float) -> None:
    """Whatever the coefficients: one resistance, a root that numpy finds too, on a stretch that only falls."""
    terms = (1 / 298.15, micro * 1e-6, tenths * 1e-7, hundredths * 1e-8)
    try:
        low, high = polynomial_range(10_000, terms)
        ohms = polynomial_ohms(10_000, terms, celsius)
    except OutOfRange:
        return
    roots = np.roots([*reversed(terms[1:]), terms[0] - 1 / (celsius + 273.15)])
    at = np.log(ohms / 10_000)
    assert min(abs(roots - at)) < 1e-4
    assert isclose(polynomial_celsius(10_000, terms, ohms), celsius, abs_tol=1e-6)
    steps = [polynomial_ohms(10_000, terms, t) for t in np.linspace(low + 1e-6, high - 1e-6, 40)]
    assert all(colder > warmer for colder, warmer in itertools.pairwise(steps))


def test_what_is_said_of_a_link() -> None:
    plate = {"rated_volts": 230.0, "rated_watts": 2000.0}
    heater = resistance_of(link(**plate, hot_cold_ratio=1.05, watt_tolerance=0.05), 20)
    assert heater is not None
    assert isclose(heater.nominal, 26.45 / 1.05)
    assert isclose(heater.lower, 26.45 / 1.05 / 1.05)
    assert isclose(heater.upper, 26.45 / 1.05 / 0.95)
    winding = resistance_of(link(LinkKind.WINDING, ohms=10.0, ohm_tolerance=0.1), 60)
    assert winding is not None
    assert isclose(winding.nominal, 11.572)
    assert isclose(winding.upper, 11.572 * 1.1)


@pytest.mark.parametrize(
    ("of", "celsius"),
    [
        (link(rated_volts=230.0, rated_watts=30.0), 20),  # a pump: its plate says nothing of its winding
        (link(ohms=100.0), 90),  # how it goes with the temperature is not stated
        (link(LinkKind.CAPACITOR, ohms=5.0), 20),
        (link(), 20),
        (link(curve=ResistanceCurve(CurveKind.BETA, 10_000, 25)), 25),  # B is missing
        (link(curve=ResistanceCurve(CurveKind.INVERSE_POLYNOMIAL, 10_000)), 25),  # no terms
    ],
)
def test_nothing_is_said_where_nothing_is_known(of: Link, celsius: float) -> None:
    assert resistance_of(of, celsius) is None
