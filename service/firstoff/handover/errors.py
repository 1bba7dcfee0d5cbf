"""The exception tree of the room.

::

    HandoverError
    ├── ReadingRefused      a value that no instrument shows
    └── UnitRefused         a unit that is not one of the quantity's
"""

from __future__ import annotations

from collections.abc import Sequence


class HandoverError(Exception):
    """Root of the tree; ``mend`` says what to enter instead."""

    def __init__(self, detail: str, mend: str) -> None:
        super().__init__(detail)
        self.detail = detail
        self.mend = mend


class ReadingRefused(HandoverError):
    """A reading is negative, not finite, or larger than any instrument shows."""


class UnitRefused(HandoverError):
    """``unit`` is none of ``units``."""

    def __init__(self, quantity: str, unit: str, units: Sequence[str]) -> None:
        super().__init__(
            f"{unit!r} is no unit of {quantity}.", f"Give the unit as the instrument shows it: {', '.join(units)}."
        )
        self.units = tuple(units)
