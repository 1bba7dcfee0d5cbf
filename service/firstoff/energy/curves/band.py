"""A value with its tolerances."""

from __future__ import annotations

from dataclasses import dataclass


class OutOfRange(ValueError):
    """A temperature, resistance or pressure outside what a curve supports."""


@dataclass(frozen=True, slots=True)
class Band:
    """``lower`` and ``upper`` are the values at the ends of the tolerances, in the unit of ``nominal``."""

    nominal: float
    lower: float
    upper: float

    def divided_by(self, divisor: float) -> Band:
        return Band(self.nominal / divisor, self.lower / divisor, self.upper / divisor)


def band(nominal: float, tolerance: float) -> Band:
    """``nominal`` either way by the fraction ``tolerance``; raises ``ValueError`` unless 0 <= tolerance < 1."""
    check_tolerance(tolerance)
    return Band(nominal, nominal * (1.0 - tolerance), nominal * (1.0 + tolerance))


def check_tolerance(tolerance: float) -> None:
    if not 0.0 <= tolerance < 1.0:
        raise ValueError(f"A tolerance is a fraction from 0 to below 1, not {tolerance:g}.")


def check_positive(what: str, value: float) -> None:
    if not 0.0 < value < float("inf"):
        raise ValueError(f"The {what} must be a number above zero, not {value:g}.")


def check_within(what: str, value: float, lower: float, upper: float, unit: str) -> None:
    """Raises ``OutOfRange`` unless ``lower`` <= ``value`` <= ``upper``."""
    if not lower <= value <= upper:
        raise OutOfRange(f"The {what} must be {lower:g} to {upper:g} {unit}, not {value:g} {unit}.")
