"""How long a hot part takes to cool by Newton's law: T(t) = Ta + (T0 - Ta) exp(-t / tau)."""

from __future__ import annotations

from math import log

from firstoff.appliance.circuit import EnergySource

ROOM_CELSIUS = 30.0
"""A warm room, in degrees Celsius, for cooling times and pressures where none is given. Common practice, no source."""


def cooling_minutes(
    start_celsius: float, safe_celsius: float, ambient_celsius: float, time_constant: float
) -> float | None:
    """Minutes until the part is down to ``safe_celsius``, ``time_constant`` in minutes; give the warmest ambient.

    0 where it is no hotter from the start; None where the air is as warm as that, so that it never gets there, or a
    fact is no number. Raises ``ValueError`` for a time constant that is not above zero.
    """
    if not 0.0 < time_constant < float("inf"):
        raise ValueError(f"The time constant must be a number of minutes above zero, not {time_constant:g}.")
    if not all(abs(value) < float("inf") for value in (start_celsius, safe_celsius, ambient_celsius)):
        return None
    if ambient_celsius >= safe_celsius:
        return None
    if start_celsius <= safe_celsius:
        return 0.0
    return time_constant * log((start_celsius - ambient_celsius) / (safe_celsius - ambient_celsius))


def minutes_of(source: EnergySource, ambient_celsius: float) -> float | None:
    """The cooling time of a source of heat, or None where its start, safe temperature or time constant is missing."""
    start, safe, constant = source.start_celsius, source.safe_celsius, source.time_constant
    if start is None or safe is None or constant is None or constant <= 0.0:
        return None
    return cooling_minutes(start, safe, ambient_celsius, constant)


def waiting(source: EnergySource, ambient: float) -> tuple[float | None, bool]:
    """Minutes to wait and whether they were computed; the longer where a time is told and another is computed."""
    cooling = minutes_of(source, ambient) if source.kind.id == "heat" else None
    told = source.minutes
    if cooling is None:
        return told, False
    return (told, False) if told is not None and told > cooling else (cooling, True)
