"""A capacitor that discharges through a resistor: u(t) = U0 exp(-t / RC)."""

from __future__ import annotations

from math import exp, inf, log

from firstoff.energy.curves.band import OutOfRange


def volts_after(seconds: float, volts: float, ohms: float, farads: float) -> float:
    """Voltage after ``seconds``, from ``volts`` at the start.

    Raises ``OutOfRange`` where resistance or capacitance are not above zero, or a voltage or time is below it.
    """
    return volts * exp(-_not_below(seconds, "time") / _constant(ohms, farads)) + 0.0 * _not_below(volts, "voltage")


def seconds_to(target: float, volts: float, ohms: float, farads: float) -> float:
    """Seconds until the voltage is down to ``target``: R C ln(U0 / U); 0 where it is there already, never for 0 V.

    Raises ``OutOfRange`` as ``volts_after`` does.
    """
    if _not_below(volts, "voltage") <= _not_below(target, "voltage"):
        return 0.0
    return inf if target == 0.0 else _constant(ohms, farads) * log(volts / target)


def joules(volts: float, farads: float) -> float:
    """Energy held: C U^2 / 2, in joules."""
    return farads * volts * volts / 2.0


def _constant(ohms: float, farads: float) -> float:
    if not (ohms > 0.0 and farads > 0.0):
        raise OutOfRange(f"{ohms:g} ohm and {farads:g} F give no time constant: both must be above zero.")
    return ohms * farads


def _not_below(value: float, what: str) -> float:
    if not value >= 0.0:
        raise OutOfRange(f"A {what} of {value:g} makes no sense here: it cannot be below zero.")
    return value
