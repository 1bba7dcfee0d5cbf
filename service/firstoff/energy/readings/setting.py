"""How the machine stands while a meter is put to it."""

from __future__ import annotations

from dataclasses import dataclass, field

from firstoff.energy.words import Situation

ROOM_CELSIUS = 20.0
"""Temperature of the parts where none is given, in degrees Celsius: resistances of the content are given there."""


@dataclass(frozen=True, slots=True)
class Setting:
    """``situation`` of the circuit; ``actuated`` devices, whose changeover contacts are thrown over (door shut, motor
    at speed, coil drawing); ``celsius`` of the parts, for the resistance of sensors.
    """

    situation: Situation = field(default_factory=Situation)
    actuated: frozenset[str] = frozenset()
    celsius: float = ROOM_CELSIUS
