"""What can go wrong when a removal plan is asked for.

RemovalError
├── UnknownTarget       a target names a component the model does not have
├── UnknownComponent    ``off`` names a component the model does not have
├── OffTwice            ``off`` names two removals of one component
├── UnknownState        ``states`` names a variable or a state the model does not have
├── IllDefinedVariable  a state variable has no initial state, or more than one
├── Unreachable         no plan reaches a target, or puts back what was found off, or brings the appliance back to its
│                       initial states; says what stands in the way
├── Undecided           the search used up its budget before it found a plan
└── BrokenPlan          a plan failed its own simulation: a defect of this program, never of the request
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from firstoff.appliance.terms import Concept

if TYPE_CHECKING:
    from firstoff.removal.request import Target


@dataclass(frozen=True, slots=True)
class Obstacle:
    """A way that cannot be used, and why: tools that are not at hand, or another ``reason`` in words.

    ``way`` is the id of a removal, access path or preparation, or of the component where no way is known at all.
    """

    way: str
    label: str
    missing_tools: tuple[Concept, ...] = ()
    reason: str = ""

    @property
    def sentence(self) -> str:
        """The obstacle as a plain sentence."""
        if self.missing_tools:
            names = ", ".join(tool.label for tool in self.missing_tools)
            return f"{self.label} needs {names}, not at hand."
        return f"{self.label}: {self.reason}."


class RemovalError(Exception):
    """Root of every error that the removal room raises."""


class UnknownTarget(RemovalError):
    """``target`` names a component the model does not have."""

    def __init__(self, target: Target) -> None:
        super().__init__(f"This model has no component {target.component!r}.")
        self.target = target


class UnknownComponent(RemovalError):
    """``component``, said to be off, is none of the model's."""

    def __init__(self, component: str) -> None:
        super().__init__(f"This model has no component {component!r}, which is said to be off.")
        self.component = component


class OffTwice(RemovalError):
    """``component`` is said to be off by each of two removals, ``ways``."""

    def __init__(self, component: str, ways: tuple[str, str]) -> None:
        super().__init__(f"{component!r} cannot be off by both {ways[0]!r} and {ways[1]!r}.")
        self.component = component
        self.ways = ways


class UnknownState(RemovalError):
    """``state`` is no state of ``variable`` in this model."""

    def __init__(self, variable: str, state: str) -> None:
        super().__init__(f"This model has no state {state!r} of {variable!r}.")
        self.variable = variable
        self.state = state


class IllDefinedVariable(RemovalError):
    """``variable`` has no initial state, or more than one, so what holds at the start is unknown."""

    def __init__(self, variable: str) -> None:
        super().__init__(f"The state variable {variable!r} must have exactly one initial state.")
        self.variable = variable


class Unreachable(RemovalError):
    """No plan serves ``target``; or none puts back ``parts``, which were found off.

    Without either, no plan brings the appliance back to its initial states.
    """

    def __init__(
        self, target: Target | None, label: str, obstacles: tuple[Obstacle, ...], parts: tuple[str, ...] = ()
    ) -> None:
        reasons = " ".join(obstacle.sentence for obstacle in obstacles)
        super().__init__(f"{label} cannot be {'put back' if parts else 'reached'}. {reasons}".rstrip())
        self.target = target
        self.label = label
        self.obstacles = obstacles
        self.parts = parts


class Undecided(RemovalError):
    """The budget ended before a plan was found; any plan takes at least ``bound`` of ``unit`` (``cost``)."""

    def __init__(self, bound: float, unit: str = "minutes", cost: int = 0) -> None:
        super().__init__(f"No plan was found within the search budget; any plan takes at least {bound:g} {unit}.")
        self.bound = bound
        self.cost = cost


class BrokenPlan(RemovalError):
    """A plan failed its simulation. This is a defect of the program."""
