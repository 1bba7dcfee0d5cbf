"""Saturation pressure of the refrigerants of household appliances.

ln(p / kPa) is a Chebyshev series in x, linear in 1/T, fitted to equations of state: R134a (Tillner-Roth and Baehr
1994, doi 10.1063/1.555958), R600a (Buecker and Wagner 2006, doi 10.1063/1.1901687), R290 (Lemmon, McLinden and Wagner
2009, doi 10.1021/je900217v), as CoolProp 8 computes them. From -45 to 75 degrees Celsius it is within 0.006 % of them;
``tests/support/fit_saturation.py`` fits it again. Pressures are absolute unless a name says gauge.
"""

from __future__ import annotations

from math import exp

from firstoff.energy.curves.band import OutOfRange

ATMOSPHERE = 101.325
"""Standard pressure of the air in kilopascals."""

COLDEST, HOTTEST = -45.0, 75.0
"""Degrees Celsius between which the fit holds."""

LARGEST_ERROR = 0.00006
"""Largest error of the fit against the equations of state, as a fraction."""

SERIES: dict[str, tuple[float, ...]] = {
    "r134a": (5.7425005, -2.0469239, -0.0260644, -0.0036479, 0.0008602, -0.0001805, 0.0000564),
    "r290": (6.2292057, -1.7290093, -0.0080365, -0.0035727, 0.0007839, -0.0001781, 0.0000588),
    "r600a": (5.1201560, -1.9992600, -0.0232547, -0.0021760, 0.0005018, -0.0000746, 0.0000165),
}
"""Coefficients by the slug of the refrigerant, for ln(p) in kilopascals."""

SOURCES: dict[str, str] = {
    "r134a": "Tillner-Roth and Baehr 1994, doi 10.1063/1.555958",
    "r290": "Lemmon, McLinden and Wagner 2009, doi 10.1021/je900217v",
    "r600a": "Buecker and Wagner 2006, doi 10.1063/1.1901687",
}
"""The equation of state that each series is fitted to."""

FLAMMABLE = frozenset({"r290", "r600a"})
"""Refrigerants of safety class A3 (ISO 817)."""

_COLD, _HOT = 1.0 / (COLDEST + 273.15), 1.0 / (HOTTEST + 273.15)


def kilopascals_at(refrigerant: str, celsius: float) -> float:
    """Absolute saturation pressure in kilopascals at a temperature in degrees Celsius.

    Raises ``KeyError`` for a refrigerant without a series, ``OutOfRange`` outside -45 to 75 degrees Celsius.
    """
    series = SERIES[refrigerant]
    if not COLDEST <= celsius <= HOTTEST:
        raise OutOfRange(f"{celsius:g} degrees Celsius lies outside {COLDEST:g} to {HOTTEST:g}, for which this holds.")
    x = (2.0 / (celsius + 273.15) - (_COLD + _HOT)) / (_COLD - _HOT)
    total, after = 0.0, 0.0
    for term in reversed(series[1:]):
        total, after = 2.0 * x * total - after + term, total
    return exp(x * total - after + series[0])


def celsius_at(refrigerant: str, kilopascals: float) -> float:
    """Saturation temperature in degrees Celsius at an absolute pressure in kilopascals, by bisection.

    Raises ``KeyError`` for a refrigerant without a series, ``OutOfRange`` where the pressure belongs to no temperature
    from -45 to 75 degrees Celsius.
    """
    low, high = COLDEST, HOTTEST
    least, most = kilopascals_at(refrigerant, low), kilopascals_at(refrigerant, high)
    if not least <= kilopascals <= most:
        raise OutOfRange(
            f"{kilopascals:g} kPa absolute lies outside {least:.4g} to {most:.5g} kPa, for which this holds."
        )
    for _ in range(60):
        middle = (low + high) / 2.0
        low, high = (middle, high) if kilopascals_at(refrigerant, middle) < kilopascals else (low, middle)
    return (low + high) / 2.0


def gauge(kilopascals: float, ambient: float = ATMOSPHERE) -> float:
    """Gauge pressure of an absolute one, in kilopascals; below zero where it is under that of the air."""
    return kilopascals - ambient


def absolute(kilopascals_gauge: float, ambient: float = ATMOSPHERE) -> float:
    """Absolute pressure of a gauge one, in kilopascals."""
    return kilopascals_gauge + ambient
