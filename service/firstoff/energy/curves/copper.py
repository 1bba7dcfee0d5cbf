"""Windings of copper: resistance at a temperature, and how warm a winding became from its resistance."""

from __future__ import annotations

from firstoff.energy.curves.band import check_positive, check_within

ALPHA = 0.00393
"""Per kelvin at 20 degrees Celsius, annealed copper (IEC 60028)."""
ZERO_OHMS_BELOW = 234.5
"""Degrees Celsius below zero at which copper's line would reach no resistance (IEC 60034-1, 8.6.2)."""
LOWEST_CELSIUS, HIGHEST_CELSIUS = -50.0, 200.0


def copper_ohms(reference_ohms: float, celsius: float, reference_celsius: float = 20.0) -> float:
    """The resistance at ``celsius``; raises ``OutOfRange`` outside -50 to 200 degrees Celsius."""
    check_positive("reference resistance", reference_ohms)
    for value in (celsius, reference_celsius):
        check_within("temperature of a winding", value, LOWEST_CELSIUS, HIGHEST_CELSIUS, "degrees Celsius")
    return reference_ohms * _factor(celsius) / _factor(reference_celsius)


def copper_celsius(reference_ohms: float, ohms: float, reference_celsius: float = 20.0) -> float:
    """The inverse of ``copper_ohms``."""
    lowest, highest = (copper_ohms(reference_ohms, end, reference_celsius) for end in (LOWEST_CELSIUS, HIGHEST_CELSIUS))
    check_within("resistance", ohms, lowest, highest, "ohm")
    return 20.0 + (ohms / reference_ohms * _factor(reference_celsius) - 1.0) / ALPHA


def temperature_rise(cold_ohms: float, hot_ohms: float, cold_celsius: float, ambient_celsius: float) -> float:
    """Kelvin above the ambient at the end: (R2 - R1) / R1 (234.5 + t1) - (t2 - t1) (IEC 60335-1, 11.4)."""
    check_positive("cold resistance", cold_ohms)
    check_positive("hot resistance", hot_ohms)
    check_within("cold temperature", cold_celsius, LOWEST_CELSIUS, HIGHEST_CELSIUS, "degrees Celsius")
    return (hot_ohms - cold_ohms) / cold_ohms * (ZERO_OHMS_BELOW + cold_celsius) - (ambient_celsius - cold_celsius)


def _factor(celsius: float) -> float:
    return 1.0 + ALPHA * (celsius - 20.0)
