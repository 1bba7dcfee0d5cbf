"""Resistance of a heater or lamp from what its plate says."""

from __future__ import annotations

from firstoff.energy.curves.band import Band, check_positive, check_tolerance


def hot_ohms(volts: float, watts: float, watt_tolerance: float = 0.0) -> Band:
    """R = U^2 / P at work, at the ends of the tolerance of the power.

    Raises ``ValueError`` for a voltage or power that is not above zero or a tolerance outside 0 to below 1.
    """
    check_positive("rated voltage", volts)
    check_positive("rated power", watts)
    check_tolerance(watt_tolerance)
    nominal = volts * volts / watts
    return Band(nominal, nominal / (1.0 + watt_tolerance), nominal / (1.0 - watt_tolerance))


def cold_ohms(volts: float, watts: float, hot_cold_ratio: float, watt_tolerance: float = 0.0) -> Band:
    """The resistance at 20 degrees Celsius: that at work divided by ``hot_cold_ratio``."""
    check_positive("ratio of hot to cold", hot_cold_ratio)
    return hot_ohms(volts, watts, watt_tolerance).divided_by(hot_cold_ratio)
