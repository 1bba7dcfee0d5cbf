"""Windings, discharge and saturation pressures against published tables and a reference library."""

from __future__ import annotations

from math import inf, isclose

import numpy as np
import pytest

from firstoff.energy.curves import discharge, saturation
from firstoff.energy.curves.windings import WindingState, sorted_out
from support.fit_saturation import fitted, reference


def test_windings_of_a_compressor() -> None:
    """S-R = C-S + C-R, 11 + 4 = 15 ohm, as training texts have it; overload open: C-S and C-R open, S-R finite."""
    pairs = {frozenset("CS"): 11.0, frozenset("CR"): 4.0, frozenset("SR"): 15.0}
    found = sorted_out(pairs, nominal=(11.0, 4.0))
    assert (found.state, found.common, found.start, found.run) == (WindingState.SOUND, "C", "S", "R")
    opened = {frozenset("CS"): inf, frozenset("CR"): inf, frozenset("SR"): 15.0}
    assert sorted_out(opened).state is WindingState.OVERLOAD_OPEN


def test_start_is_not_always_the_greater() -> None:
    """0.5 ohm start and 1.2 ohm run have been seen: without nominal values nothing is said of start and run."""
    pairs = {frozenset("AB"): 0.5, frozenset("AC"): 1.2, frozenset("BC"): 1.7}
    assert sorted_out(pairs).start is None
    assert sorted_out(pairs, nominal=(0.5, 1.2)).start == "B"


@pytest.mark.parametrize(("limit", "seconds"), [(60.0, 1.690), (50.0, 1.873), (42.4, 2.038), (34.0, 2.258)])
def test_discharge(limit: float, seconds: float) -> None:
    """From 325.27 V through 1 megohm and 1 microfarad: t = R C ln(U0/U); limits of IEC 60204-1, 6.2.4 (60 V), 29 CFR
    1910.333 (50 V), IEC 60335-1, 8.1.4 (42.4 V) and 22.5 (34 V)."""
    assert round(discharge.seconds_to(limit, 325.27, 1e6, 1e-6), 3) == seconds


#: CoolProp 8.0: kilopascals absolute at -20, 0 and 40 degrees Celsius.
SATURATION = [
    ("r134a", (132.735, 292.803, 1016.593)),
    ("r600a", (72.477, 156.956, 531.208)),
    ("r290", (244.518, 474.458, 1369.420)),
]


@pytest.mark.parametrize(("refrigerant", "kilopascals"), SATURATION)
def test_saturation_pressures(refrigerant: str, kilopascals: tuple[float, ...]) -> None:
    for celsius, expected in zip((-20.0, 0.0, 40.0), kilopascals, strict=True):
        assert saturation.kilopascals_at(refrigerant, celsius) == pytest.approx(expected, rel=1e-4)


def test_isobutane_against_an_antoine_equation() -> None:
    """Antoine values 72.46, 157.52 and 528.98 kPa: within half a per cent."""
    for celsius, expected in ((-20.0, 72.46), (0.0, 157.52), (40.0, 528.98)):
        assert saturation.kilopascals_at("r600a", celsius) == pytest.approx(expected, rel=5e-3)


def test_isobutane_in_the_cold_is_under_the_pressure_of_the_air() -> None:
    assert saturation.gauge(saturation.kilopascals_at("r600a", -20.0)) < 0.0 < saturation.kilopascals_at("r600a", -20.0)


@pytest.mark.parametrize("refrigerant", sorted(saturation.SERIES))
def test_saturation_over_the_whole_range_against_coolprop(refrigerant: str) -> None:
    for celsius in np.linspace(saturation.COLDEST, saturation.HOTTEST, 241):
        expected = reference(refrigerant, float(celsius))
        found = saturation.kilopascals_at(refrigerant, float(celsius))
        assert isclose(found, expected, rel_tol=saturation.LARGEST_ERROR)
        assert saturation.celsius_at(refrigerant, found) == pytest.approx(celsius, abs=1e-6)


@pytest.mark.parametrize("refrigerant", sorted(saturation.SERIES))
def test_the_series_is_what_the_fit_gives(refrigerant: str) -> None:
    series, largest = fitted(refrigerant)
    assert tuple(series) == pytest.approx(saturation.SERIES[refrigerant], abs=1e-7)
    assert largest <= saturation.LARGEST_ERROR
