"""Thermistors: by the B parameter, and by an inverse polynomial in the logarithm of the resistance.

The polynomial is 1/T = sum of terms[i] ln(R / Rref)^i, T in kelvin. Steinhart and Hart 1968
(doi 10.1016/0011-7471(68)90057-0) is the case of Rref = 1 ohm with no square term.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from math import exp, log, sqrt

from firstoff.energy.curves.band import OutOfRange, check_positive

KELVIN = 273.15
LOWEST_CELSIUS, HIGHEST_CELSIUS = -60.0, 300.0
LEAST_OHMS, MOST_OHMS = 1e-2, 1e9
# Every monotone branch is told by whether it passes here, where a thermistor is specified.
_ROOM_KELVIN = 298.15
_HALVINGS = 200


def beta_ohms(reference_ohms: float, reference_celsius: float, beta: float, celsius: float) -> float:
    """R = Rref exp(B (1/T - 1/Tref)), falling as it gets warmer.

    B fits two temperatures alone: B25/85 errs by some 4 % at 0 and 11 % at -20 degrees Celsius for a common 10
    kilohm part.
    """
    check_positive("reference resistance", reference_ohms)
    check_positive("B parameter", beta)
    return reference_ohms * exp(beta * (1.0 / _kelvin(celsius) - 1.0 / _kelvin(reference_celsius)))


def beta_celsius(reference_ohms: float, reference_celsius: float, beta: float, ohms: float) -> float:
    """The inverse of ``beta_ohms``; raises ``OutOfRange`` where no temperature has that resistance."""
    check_positive("reference resistance", reference_ohms)
    check_positive("B parameter", beta)
    check_positive("resistance", ohms)
    inverse = 1.0 / _kelvin(reference_celsius) + log(ohms / reference_ohms) / beta
    if inverse <= 0.0:
        raise OutOfRange(f"No temperature gives {ohms:g} ohm on this curve.")
    return 1.0 / inverse - KELVIN


def polynomial_range(reference_ohms: float, terms: Sequence[float]) -> tuple[float, float]:
    """The lowest and highest temperature, in degrees Celsius, at which the polynomial gives one resistance.

    Raises ``OutOfRange`` where the coefficients do not give one falling resistance through 25 degrees Celsius.
    """
    low, high = _branch(reference_ohms, terms)
    coldest, warmest = _inverse(terms, high), _inverse(terms, low)
    lowest = max(LOWEST_CELSIUS, 1.0 / coldest - KELVIN)
    highest = HIGHEST_CELSIUS if warmest <= 0.0 else min(HIGHEST_CELSIUS, 1.0 / warmest - KELVIN)
    return lowest, highest


def polynomial_celsius(reference_ohms: float, terms: Sequence[float], ohms: float) -> float:
    """The temperature of a resistance; raises ``OutOfRange`` outside ``polynomial_range``."""
    check_positive("resistance", ohms)
    low, high = _branch(reference_ohms, terms)
    at = log(ohms / reference_ohms)
    inverse = _inverse(terms, at)
    lowest, highest = 1.0 / (HIGHEST_CELSIUS + KELVIN), 1.0 / (LOWEST_CELSIUS + KELVIN)
    if not (low <= at <= high and lowest <= inverse <= highest):
        raise OutOfRange(f"The curve says nothing of {ohms:g} ohm: it does not reach so far.")
    return 1.0 / inverse - KELVIN


def polynomial_ohms(reference_ohms: float, terms: Sequence[float], celsius: float) -> float:
    """The resistance at a temperature, by halving the monotone branch; raises ``OutOfRange`` outside of it."""
    low, high = _branch(reference_ohms, terms)
    wanted = 1.0 / _kelvin(celsius)
    in_range = LOWEST_CELSIUS <= celsius <= HIGHEST_CELSIUS
    if not in_range or not _inverse(terms, low) <= wanted <= _inverse(terms, high):
        raise OutOfRange(f"The curve says nothing of {celsius:g} degrees Celsius: it does not reach so far.")
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        if middle in (low, high):
            break
        if _inverse(terms, middle) < wanted:
            low = middle
        else:
            high = middle
    return reference_ohms * exp((low + high) / 2.0)


def _kelvin(celsius: float) -> float:
    if not celsius > -KELVIN:
        raise OutOfRange(f"A temperature must be above absolute zero, not {celsius:g} degrees Celsius.")
    return celsius + KELVIN


def _inverse(terms: Sequence[float], at: float) -> float:
    total = 0.0
    for term in reversed(terms):
        total = total * at + term
    return total


def _branch(reference_ohms: float, terms: Sequence[float]) -> tuple[float, float]:
    """The stretch of ln(R / Rref) on which 1/T rises through room temperature.

    A cubic turns twice at most. Two rising stretches through room temperature would give two resistances there.
    """
    check_positive("reference resistance", reference_ohms)
    if not 2 <= len(terms) <= 4:
        raise ValueError("An inverse polynomial has two to four terms.")
    _, linear, square, cube = (*terms, 0.0, 0.0)[:4]
    ends = [log(LEAST_OHMS / reference_ohms), log(MOST_OHMS / reference_ohms)]
    cuts = sorted(turn for turn in _turns(linear, square, cube) if ends[0] < turn < ends[1])
    edges = [ends[0], *cuts, ends[1]]
    room = 1.0 / _ROOM_KELVIN
    found = [
        (low, high) for low, high in itertools.pairwise(edges) if _inverse(terms, low) < room < _inverse(terms, high)
    ]
    if len(found) != 1:
        raise OutOfRange("The coefficients give no single resistance at 25 degrees Celsius: check them.")
    return found[0]


def _turns(linear: float, square: float, cube: float) -> list[float]:
    """Where the derivative linear + 2 square x + 3 cube x^2 is zero, without cancellation."""
    if cube == 0.0:
        return [] if square == 0.0 else [-linear / (2.0 * square)]
    within = square * square - 3.0 * cube * linear
    if within < 0.0:
        return []
    root = -(square + sqrt(within)) if square >= 0.0 else -square + sqrt(within)
    return [0.0] if root == 0.0 else [root / (3.0 * cube), linear / root]
