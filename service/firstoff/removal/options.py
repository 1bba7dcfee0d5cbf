"""Options: everything a plan can be made of, in whole numbers.

Times are *ticks*: millionths of a minute shifted left by 20 bits, plus one for the act itself. Whole numbers make
sums exact and comparisons safe, and of plans that take the same time the one with the fewest acts has the fewest
ticks. (A plan would need 2**20 acts before the count could reach the minutes.) Where something else than minutes is
made smallest, its figure stands above the ticks of a plan of up to four thousand million minutes.
"""

from __future__ import annotations

from dataclasses import dataclass

from firstoff.appliance.terms import Concept
from firstoff.removal.plans import ActKind

_ACT_BITS = 20
_TICK_BITS = 72
_PER_MINUTE = 1_000_000


def ticks(minutes: float) -> int:
    """``minutes`` of one act, in ticks. Raises ``ValueError`` on negative or endless minutes."""
    if not 0 <= minutes < float("inf"):
        raise ValueError(f"minutes must be zero or more, not {minutes}")
    return (round(minutes * _PER_MINUTE) << _ACT_BITS) + 1


def with_measure(amount: int, measure: int) -> int:
    """``amount`` ticks with ``measure`` of what is made smallest before minutes."""
    return amount + (measure << _TICK_BITS)


def whole(amount: int) -> int:
    """``amount`` without the count of acts: the time in millionths of a minute, below any other measure."""
    return amount >> _ACT_BITS


def minutes_of(amount: int) -> float:
    """The minutes in ``amount``."""
    return whole(amount & ((1 << _TICK_BITS) - 1)) / _PER_MINUTE


def measure_of(amount: int) -> int:
    """How much ``amount`` has of what is made smallest before minutes."""
    return amount >> _TICK_BITS


@dataclass(frozen=True, slots=True, eq=False)
class Option:
    """One way to bring about ``head``: a component off, a state in force, or a target served.

    Components, states and targets are numbered alike, as *atoms*. ``off`` and ``fitted`` hold component atoms, and
    ``states`` state atoms, that must be so while it is done. ``leaves`` is the state that a preparation (or its undo)
    ends, -1 for others; ``states`` holds it too. ``cost`` is in ticks, with any other measure above them; a removal's
    covers the refit. ``cost_back`` is what taking it back costs by itself: the refit of a removal, the reverse of a
    change of state. ``kit`` holds the slugs of ``tools``. An option of the kind refit puts ``head`` back, which was
    found off, by the removal ``way``.
    """

    kind: ActKind
    way: str | None
    label: str
    head: int
    cost: int
    minutes: float
    minutes_back: float
    off: tuple[int, ...]
    fitted: tuple[int, ...]
    states: tuple[int, ...]
    leaves: int
    tools: tuple[Concept, ...]
    kit: frozenset[str]
    cost_back: int = 0

    @property
    def puts_back(self) -> bool:
        """Whether this is the refit of a part that was found off."""
        return self.kind is ActKind.REFIT

    @property
    def is_edge(self) -> bool:
        """Whether this changes a state."""
        return self.leaves >= 0
