"""What the resistance of a part should be at a temperature: pure functions over the read model."""

from firstoff.energy.curves.band import Band, OutOfRange
from firstoff.energy.curves.resistance import celsius_at, celsius_range, ohms_at, resistance_of

__all__ = ["Band", "OutOfRange", "celsius_at", "celsius_range", "ohms_at", "resistance_of"]
