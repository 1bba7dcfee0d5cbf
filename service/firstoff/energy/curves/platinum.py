"""Platinum sensors by IEC 60751: R = R0 (1 + A t + B t^2 + C (t - 100) t^3), the last term below 0 only."""

from __future__ import annotations

from math import sqrt

from firstoff.energy.curves.band import check_positive, check_within

A, B, C = 3.9083e-3, -5.775e-7, -4.183e-12
LOWEST_CELSIUS, HIGHEST_CELSIUS = -200.0, 850.0
_HALVINGS = 200


def platinum_ohms(celsius: float, ohms_at_zero: float = 100.0) -> float:
    """The resistance of a sensor of ``ohms_at_zero`` (100 for Pt100); raises ``OutOfRange`` outside -200 to 850."""
    check_positive("resistance at 0 degrees Celsius", ohms_at_zero)
    check_within("temperature", celsius, LOWEST_CELSIUS, HIGHEST_CELSIUS, "degrees Celsius")
    return ohms_at_zero * _ratio(celsius)


def platinum_celsius(ohms: float, ohms_at_zero: float = 100.0) -> float:
    """The temperature of a resistance: the root of the square from 0 up, by halving below, where it only rises."""
    check_positive("resistance at 0 degrees Celsius", ohms_at_zero)
    lowest, highest = (ohms_at_zero * _ratio(end) for end in (LOWEST_CELSIUS, HIGHEST_CELSIUS))
    check_within("resistance", ohms, lowest, highest, "ohm")
    ratio = ohms / ohms_at_zero
    if ratio >= 1.0:
        return min(HIGHEST_CELSIUS, 2.0 * (ratio - 1.0) / (A + sqrt(A * A + 4.0 * B * (ratio - 1.0))))
    low, high = LOWEST_CELSIUS, 0.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        if middle in (low, high):
            break
        if _ratio(middle) < ratio:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0


def _ratio(celsius: float) -> float:
    square = 1.0 + A * celsius + B * celsius**2
    return square if celsius >= 0.0 else square + C * (celsius - 100.0) * celsius**3
