"""Resistances that standards and datasheets give, to the last digit that they print."""

from __future__ import annotations

import pytest

from firstoff.energy.curves.copper import copper_celsius, copper_ohms, temperature_rise
from firstoff.energy.curves.heater import hot_ohms
from firstoff.energy.curves.platinum import platinum_celsius, platinum_ohms
from firstoff.energy.curves.thermistor import beta_ohms, polynomial_celsius, polynomial_ohms

# IEC 60751, table of Pt100.
PT100 = [
    (-200, 18.52), (-100, 60.26), (-50, 80.31), (0, 100.00), (25, 109.73),
    (100, 138.51), (200, 175.86), (400, 247.09), (600, 313.71), (850, 390.48),
]  # fmt: skip


@pytest.mark.parametrize(("celsius", "ohms"), PT100)
def test_platinum(celsius: float, ohms: float) -> None:
    assert platinum_ohms(celsius) == pytest.approx(ohms, abs=0.0051)
    assert platinum_ohms(celsius, 1000.0) == pytest.approx(10 * ohms, abs=0.051)
    assert platinum_celsius(platinum_ohms(celsius)) == pytest.approx(celsius, abs=1e-9)


# IEC 60028; NBS Handbook 100 (1966): resistance over that at 20 degrees Celsius.
@pytest.mark.parametrize(("celsius", "ratio"), [(0, 0.9214), (60, 1.1572), (100, 1.3144)])
def test_copper(celsius: float, ratio: float) -> None:
    assert copper_ohms(1.0, celsius) == pytest.approx(ratio, abs=1e-9)
    assert copper_celsius(1.0, ratio) == pytest.approx(celsius, abs=1e-9)
    # IEC 60335-1, 11.4: the form with 234.5 agrees with the coefficient within 0.05 K up to 100.
    assert temperature_rise(1.0, ratio, 20.0, 20.0) == pytest.approx(celsius - 20, abs=0.05)


# Datasheet coefficients of a common 10 kilohm part, B25/85 3977, and the table printed with them (5 digits).
TERMS = (3.354016e-3, 2.569850e-4, 2.620131e-6, 6.383091e-8)


@pytest.mark.parametrize(("ohms", "celsius"), [(96_358, -20.01), (32_554, -0.01), (10_000, 25.0), (3_606, 50.0)])
def test_thermistor(ohms: float, celsius: float) -> None:
    assert polynomial_celsius(10_000, TERMS, ohms) == pytest.approx(celsius, abs=0.0051)
    assert polynomial_ohms(10_000, TERMS, polynomial_celsius(10_000, TERMS, ohms)) == pytest.approx(ohms, rel=1e-9)


# The same part by B alone: 11 % too high at -20.
@pytest.mark.parametrize(("celsius", "ohms"), [(-20, 107_095), (0, 33_900), (50, 3_563)])
def test_thermistor_by_b(celsius: float, ohms: float) -> None:
    assert beta_ohms(10_000, 25, 3977, celsius) == pytest.approx(ohms, rel=2e-4)


# R = U^2 / P.
@pytest.mark.parametrize(("volts", "watts", "ohms"), [(230, 2000, 26.45), (120, 1500, 9.6)])
def test_heater(volts: float, watts: float, ohms: float) -> None:
    assert hot_ohms(volts, watts).nominal == pytest.approx(ohms)
