"""What is asked of the removal room."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from types import MappingProxyType

from firstoff.appliance.model import Purpose

_NONE: Mapping[str, str] = MappingProxyType({})


class Measure(StrEnum):
    """What a plan is made smallest in. Of plans that are alike in it, the one with the fewest minutes is taken."""

    MINUTES = "minutes"
    PARTS = "parts"
    SINGLE_USE = "single-use"
    EXPOSURE = "exposure"


@dataclass(frozen=True, slots=True, order=True)
class Target:
    """A component to reach and why."""

    component: str
    purpose: Purpose


@dataclass(frozen=True, slots=True)
class Request:
    """Targets to serve, and what is so at the start.

    ``off``: what is off as found: ids of components, or of the removals that took them off. The plan puts it all back:
    a component by any of its removals, or by the one named. ``tools``: slugs at hand, None for all.
    ``alternatives``: how many next-best plans to add. ``states``: state in force now by variable, where it is not the
    initial one; the plan still ends with every variable at its initial state. ``banned``: ids of removals, access
    paths and preparations that are ruled out; ``reasons`` says of some of them why, in words that follow a way's
    label and a colon. ``minimise``: what the plan is made smallest in. ``first``: id of a preparation that comes before
    all else, and counts.
    """

    targets: tuple[Target, ...]
    off: frozenset[str] = frozenset()
    tools: frozenset[str] | None = None
    alternatives: int = 3
    states: Mapping[str, str] = field(default_factory=lambda: _NONE)
    banned: frozenset[str] = frozenset()
    reasons: Mapping[str, str] = field(default_factory=lambda: _NONE)
    minimise: Measure = Measure.MINUTES
    first: str | None = None


@dataclass(frozen=True, slots=True)
class Budget:
    """How long a search may go on: ``nodes`` expanded, and seconds by ``clock`` where both are given.

    The budget is for the plan; its alternatives share a second one. ``order_nodes`` are for putting each plan in order.
    """

    nodes: int = 20_000
    seconds: float | None = None
    clock: Callable[[], float] | None = None
    order_nodes: int = 250


class Meter:
    """Counts the nodes of one search against its budget. ``spent`` turns true once and stays so."""

    __slots__ = ("_budget", "_deadline", "_whole", "nodes", "spent")

    def __init__(self, budget: Budget, whole: Meter | None = None) -> None:
        """``whole``: the meter that this one is a part of."""
        self._budget = budget
        self._whole = whole
        self.nodes = 0
        self.spent: bool = whole is not None and whole.spent
        self._deadline: float | None = None
        if budget.seconds is not None and budget.clock is not None:
            self._deadline = budget.clock() + budget.seconds

    def part(self, share: float) -> Meter:
        """A meter for a part of the search: a ``share`` of the budget. What it counts, counts here."""
        seconds = None if self._budget.seconds is None else self._budget.seconds * share
        return Meter(replace(self._budget, nodes=int(self._budget.nodes * share), seconds=seconds), self)

    def tick(self) -> bool:
        """Count one node; false when the search has to stop."""
        self.nodes += 1
        clock = self._budget.clock
        if self.nodes > self._budget.nodes or (
            self._deadline is not None and clock is not None and clock() >= self._deadline
        ):
            self.spent = True
        if self._whole is not None and not self._whole.tick():
            self.spent = True
        return not self.spent
