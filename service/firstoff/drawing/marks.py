"""States as they are marked in a drawing: a word, a style of line and a colour for each."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from firstoff.appliance.circuit import Circuit
from firstoff.energy import PointCondition, PointState

WORDS = {
    PointCondition.LIVE: "LIVE",
    PointCondition.UNKNOWN: "UNKNOWN",
    PointCondition.OFF_NOT_ISOLATED: "OFF, NOT ISOLATED",
    PointCondition.ISOLATED: "ISOLATED",
}
_RANK = {condition: rank for rank, condition in enumerate(PointCondition)}


@dataclass(frozen=True, slots=True)
class Mark:
    """The worst ``state`` of ``points``, and what is known of the highest voltage that a live one may have."""

    state: PointCondition
    volts: str
    points: frozenset[str]

    @property
    def word(self) -> str:
        return f"{WORDS[self.state]}, {self.volts}" if self.volts else WORDS[self.state]

    @property
    def style(self) -> str:
        """The class of its lines."""
        return self.state.value.replace("_", "-")

    @property
    def look(self) -> tuple[PointCondition, str]:
        return self.state, self.volts


def mark_of(circuit: Circuit, states: Mapping[str, PointState], points: Iterable[str], *, wet: bool = False) -> Mark:
    """The mark of ``points``; without any, or for a point of no known state, it is unknown.

    ``wet`` says that it is water or gas, which has a pressure and no voltage.
    """
    names = frozenset(points)
    found = [states[name] for name in sorted(names) if name in states]
    state = min((each.state for each in found), key=_RANK.__getitem__, default=PointCondition.UNKNOWN)
    if len(found) < len(names) and state is not PointCondition.LIVE:
        state = PointCondition.UNKNOWN
    live = [each for each in found if each.state is PointCondition.LIVE]
    return Mark(state, ("under pressure" if wet else _volts(circuit, live)) if live else "", names)


def worst(marks: Sequence[Mark]) -> Mark:
    """The worst of ``marks`` for all their points; raises ``ValueError`` without any."""
    found = min(marks, key=lambda mark: _RANK[mark.state])
    return Mark(found.state, found.volts, frozenset(point for mark in marks for point in mark.points))


def _volts(circuit: Circuit, live: Sequence[PointState]) -> str:
    charge = "charge, " if all(each.source not in circuit.sources for each in live) else ""
    if any(each.volts is None for each in live):
        return f"{charge}voltage not known"
    highest = max(live, key=lambda each: each.volts or 0.0)
    return f"{charge}{highest.volts:.0f} V{f' {highest.current.upper()}' if highest.current else ''}"
