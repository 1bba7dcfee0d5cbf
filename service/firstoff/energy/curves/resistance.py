"""What a meter should read across a link at a temperature."""

from __future__ import annotations

from firstoff.appliance.circuit import CurveKind, Link, LinkKind, ResistanceCurve
from firstoff.energy.curves.band import Band, OutOfRange, band, check_within
from firstoff.energy.curves.copper import HIGHEST_CELSIUS as HIGHEST_COPPER
from firstoff.energy.curves.copper import LOWEST_CELSIUS as LOWEST_COPPER
from firstoff.energy.curves.copper import copper_celsius, copper_ohms
from firstoff.energy.curves.heater import cold_ohms
from firstoff.energy.curves.platinum import HIGHEST_CELSIUS as HIGHEST_PLATINUM
from firstoff.energy.curves.platinum import LOWEST_CELSIUS as LOWEST_PLATINUM
from firstoff.energy.curves.platinum import platinum_celsius, platinum_ohms
from firstoff.energy.curves.thermistor import (
    beta_celsius,
    beta_ohms,
    polynomial_celsius,
    polynomial_ohms,
    polynomial_range,
)

ROOM = (0.0, 40.0)
"""Degrees Celsius between which the resistance stated for 20 stands for a load whose course is not stated."""
BETA_RANGE = (0.0, 100.0)
"""Degrees Celsius for which B25/85 serves; below 0 it errs by a tenth and more."""


def resistance_of(link: Link, celsius: float) -> Band | None:
    """What a meter should read across a load or winding alone, in ohms, or None where nothing can be vouched for.

    By its curve; else by its ohms at 20 degrees Celsius, which follow copper in a winding; else by rated voltage and
    power and the ratio of hot to cold. Without that ratio the plate says nothing: U^2 / P of a motor is not its
    resistance. A load without a curve is answered for 0 to 40 degrees Celsius only. Never raises.
    """
    try:
        if link.kind not in {LinkKind.LOAD, LinkKind.WINDING}:
            return None
        if link.curve is not None:
            return band(ohms_at(link.curve, celsius), link.ohm_tolerance)
        if link.ohms is not None and link.kind == LinkKind.WINDING:
            return band(copper_ohms(link.ohms, celsius), link.ohm_tolerance)
        check_within("temperature", celsius, *ROOM, "degrees Celsius")
        if link.ohms is not None:
            return band(link.ohms, link.ohm_tolerance)
        if link.kind == LinkKind.WINDING or None in (link.rated_volts, link.rated_watts, link.hot_cold_ratio):
            return None
        return cold_ohms(
            link.rated_volts or 0.0, link.rated_watts or 0.0, link.hot_cold_ratio or 0.0, link.watt_tolerance
        )
    except (ValueError, OverflowError, ZeroDivisionError):
        return None


def celsius_range(curve: ResistanceCurve) -> tuple[float, float]:
    """The lowest and highest temperature that the curve supports; raises ``OutOfRange`` where it supports none."""
    match curve.kind:
        case CurveKind.BETA:
            return BETA_RANGE
        case CurveKind.INVERSE_POLYNOMIAL:
            return polynomial_range(curve.ohms, curve.terms)
        case CurveKind.PLATINUM:
            return LOWEST_PLATINUM, HIGHEST_PLATINUM
        case CurveKind.COPPER:
            return LOWEST_COPPER, HIGHEST_COPPER


def ohms_at(curve: ResistanceCurve, celsius: float) -> float:
    """The nominal resistance; raises ``OutOfRange`` outside ``celsius_range``, ``ValueError`` for a missing fact."""
    check_within("temperature", celsius, *celsius_range(curve), "degrees Celsius")
    match curve.kind:
        case CurveKind.BETA:
            return beta_ohms(curve.ohms, *_beta(curve), celsius)
        case CurveKind.INVERSE_POLYNOMIAL:
            return polynomial_ohms(curve.ohms, curve.terms, celsius)
        case CurveKind.PLATINUM:
            return platinum_ohms(celsius, _at_zero(curve))
        case CurveKind.COPPER:
            return copper_ohms(curve.ohms, celsius, 20.0 if curve.celsius is None else curve.celsius)


def celsius_at(curve: ResistanceCurve, ohms: float) -> float:
    """The temperature of a nominal resistance; raises as ``ohms_at``."""
    match curve.kind:
        case CurveKind.BETA:
            celsius = beta_celsius(curve.ohms, *_beta(curve), ohms)
        case CurveKind.INVERSE_POLYNOMIAL:
            return polynomial_celsius(curve.ohms, curve.terms, ohms)
        case CurveKind.PLATINUM:
            return platinum_celsius(ohms, _at_zero(curve))
        case CurveKind.COPPER:
            return copper_celsius(curve.ohms, ohms, 20.0 if curve.celsius is None else curve.celsius)
    if not BETA_RANGE[0] - 1e-9 <= celsius <= BETA_RANGE[1] + 1e-9:
        raise OutOfRange(f"{ohms:g} ohm is outside what the B parameter supports, 0 to 100 degrees Celsius.")
    return celsius


def _beta(curve: ResistanceCurve) -> tuple[float, float]:
    if curve.beta is None or curve.celsius is None:
        raise ValueError("A curve by the B parameter needs its B and its reference temperature.")
    return curve.celsius, curve.beta


def _at_zero(curve: ResistanceCurve) -> float:
    """The resistance at 0 degrees Celsius, at which a platinum sensor is named."""
    return curve.ohms / platinum_ohms(curve.celsius or 0.0, 1.0)
