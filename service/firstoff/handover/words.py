"""The words of the room."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from firstoff.handover.standards import Standard


class Quantity(StrEnum):
    """What is measured before a machine is handed over. Limits are in ohms, megohms and milliamperes."""

    EARTH = "earth-continuity"
    INSULATION = "insulation-resistance"
    LEAKAGE = "leakage-current"


#: The unit of each quantity's limits.
UNITS = {Quantity.EARTH: "ohm", Quantity.INSULATION: "Mohm", Quantity.LEAKAGE: "mA"}


@dataclass(frozen=True, slots=True)
class Limit:
    """``at_most`` or ``at_least``, one of them, in the unit of its quantity; a reading at the limit is within it.

    ``why`` says which facts lead to it.
    """

    standard: Standard
    why: str
    at_most: float | None = None
    at_least: float | None = None

    def holds(self, value: float) -> bool:
        """Whether ``value``, in the unit of the limit, is within it."""
        return (self.at_most is None or value <= self.at_most) and (self.at_least is None or value >= self.at_least)


@dataclass(frozen=True, slots=True)
class Measurement:
    """A reading that ends a job.

    ``needed`` is false where the protection class has no such measurement; ``limit`` is None then, and where
    ``missing`` names facts without which there is none. ``with_supply``: it is made with the machine plugged in.
    """

    quantity: Quantity
    how: str
    needed: bool = True
    limit: Limit | None = None
    missing: tuple[str, ...] = ()
    why_not: str = ""
    with_supply: bool = False

    @property
    def unit(self) -> str:
        return UNITS[self.quantity]
