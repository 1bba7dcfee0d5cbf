"""What an action costs from where the machine stands: openings that several actions share are paid once.

An opening is anything that is brought about to get at something and taken back in the end: a cover that is off, a
preparation, the supply that is isolated. As all is put back in the end, the way out and back is paid when it is opened
and shutting is free: the sum over a job is the same, and what is opened twice is paid twice.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Action:
    """A check, a question or a remedy.

    ``ways`` are the sets of openings that each give access; ``shut`` openings that must be shut meanwhile, and
    ``shut_after`` those that are shut to try the machine. ``outcomes`` has, for each outcome, its probability by fault
    (a fault left out has 0). ``ends`` are the faults that a remedy ends for certain; it is then seen at once whether
    the machine works. An action either has outcomes or ends faults. ``after`` has, by fault that a gated remedy ends,
    the checks that confirm it (see ``gate``); empty where the remedy may be taken at any time.
    """

    id: str
    minutes: float
    ways: tuple[frozenset[str], ...] = (frozenset(),)
    shut: frozenset[str] = frozenset()
    shut_after: frozenset[str] = frozenset()
    outcomes: tuple[Mapping[str, float], ...] = ()
    ends: frozenset[str] = frozenset()
    after: Mapping[str, frozenset[str]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Access:
    """Minutes out and back together of each opening; ``inside`` names those that it lies behind."""

    minutes: Mapping[str, float]
    inside: Mapping[str, frozenset[str]]

    def steps(self, action: Action, opened: frozenset[str]) -> tuple[tuple[float, frozenset[str]], ...]:
        """Each way as minutes, the action's included, and what is open after it."""
        left = self.without(opened, action.shut)
        found: dict[frozenset[str], float] = {}
        for way in action.ways:
            needed = self.closed(way)
            if not needed & action.shut:
                after = self.without(left | needed, action.shut_after)
                cost = action.minutes + sum(self.minutes[each] for each in sorted(needed - left))
                found[after] = min(cost, found.get(after, cost))
        return tuple(
            sorted(((cost, after) for after, cost in found.items()), key=lambda each: (each[0], sorted(each[1])))
        )

    def closed(self, way: frozenset[str]) -> frozenset[str]:
        """``way`` and all that it lies behind."""
        found, waiting = set[str](), list(way)
        while waiting:
            each = waiting.pop()
            if each not in found:
                found.add(each)
                waiting.extend(self.inside.get(each, ()))
        return frozenset(found)

    def without(self, opened: frozenset[str], shut: frozenset[str]) -> frozenset[str]:
        """``opened`` once ``shut`` is shut, with all that lies behind it."""
        return (
            opened
            if not shut & opened
            else frozenset(each for each in opened if not self.closed(frozenset({each})) & shut)
        )
