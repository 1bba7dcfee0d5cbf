"""What the removal room answers: a plan as a timeline of acts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from firstoff.removal.request import Measure, Target


class ActKind(StrEnum):
    """What is done in one act of a plan."""

    PREPARE = "prepare"
    REMOVE = "remove"
    SERVE = "serve"
    REFIT = "refit"
    UNDO = "undo"


class Phase(StrEnum):
    """``out`` until the last target is served, then ``back``."""

    OUT = "out"
    BACK = "back"


@dataclass(frozen=True, slots=True)
class OffRecord:
    """When each component is off during a plan: half-open spans of act numbers ``[from, until)``.

    One record is shared by all acts of a plan, so that a plan of n acts takes memory in proportion to n.
    """

    spans: Mapping[str, tuple[tuple[int, int], ...]]

    def after(self, step: int) -> frozenset[str]:
        """The components off once act number ``step`` is done."""
        return frozenset(
            component for component, spans in self.spans.items() if any(start <= step < end for start, end in spans)
        )


@dataclass(frozen=True, slots=True)
class Act:
    """One act of a plan.

    ``component`` is None for prepare and undo. ``way`` is the id of the removal, preparation or access path, None
    where a target is served by its component being off. ``needed_for`` holds the targets that the act makes possible,
    the nearest first; of a refit or undo, those of the act that it takes back. ``states`` maps each variable to its
    state after the act.
    """

    kind: ActKind
    component: str | None
    way: str | None
    minutes: float
    needed_for: tuple[Target, ...]
    phase: Phase
    states: Mapping[str, str]
    step: int
    record: OffRecord = field(repr=False, compare=False)

    @property
    def after_off(self) -> frozenset[str]:
        """The components off after the act, those off from the start included. Takes time linear in the plan."""
        return self.record.after(self.step)


@dataclass(frozen=True, slots=True)
class Figures:
    """How much a plan has of each measure: minutes, removals, single-use parts broken, hazardous exposures."""

    minutes: float = 0.0
    parts: int = 0
    single_use: int = 0
    exposures: int = 0

    def of(self, measure: Measure) -> float:
        """The figure that ``measure`` makes smallest."""
        match measure:
            case Measure.MINUTES:
                return self.minutes
            case Measure.PARTS:
                return self.parts
            case Measure.SINGLE_USE:
                return self.single_use
            case Measure.EXPOSURE:
                return self.exposures


@dataclass(frozen=True, slots=True)
class Plan:
    """A plan that can be carried out as written, out and back.

    ``minutes`` is the sum of the acts' minutes and stands among the ``figures`` too. ``bound`` is a proven lower bound
    on any plan's figure of what was minimised, and of plans with that figure none takes fewer minutes than
    ``bound_minutes`` (to a millionth of a minute); ``optimal`` holds when both are reached. ``alternatives`` are
    next-best plans, the cheapest first: each is the cheapest that leaves out at least one way of every plan before it,
    within its own ``optimal`` and ``bound``. ``nodes`` counts what the search expanded. ``order_proved`` says that no
    other order of the same acts is better by the objective of ``firstoff.removal.order``. ``alternatives_complete`` is
    False where the search ended before as many alternatives were found as asked for, and there may be more.
    """

    minutes: float
    optimal: bool
    bound: float
    acts: tuple[Act, ...]
    alternatives: tuple[Plan, ...] = ()
    nodes: int = 0
    figures: Figures = Figures()
    bound_minutes: float = 0.0
    order_proved: bool = False
    alternatives_complete: bool = True

    @property
    def ways(self) -> frozenset[str]:
        """Ids of the removals, access paths and preparations that the plan uses."""
        return frozenset(act.way for act in self.acts if act.way is not None)

    @property
    def removed(self) -> tuple[str, ...]:
        """The components taken off, in order."""
        return tuple(act.component for act in self.acts if act.kind is ActKind.REMOVE and act.component is not None)


@dataclass(frozen=True, slots=True)
class Pareto:
    """Plans of which none beats another in everything, the quickest first.

    ``complete`` holds when it is proved that every other plan is matched or beaten in everything by one of these. The
    plans' own ``optimal`` and ``bound`` say nothing here.
    """

    plans: tuple[Plan, ...]
    complete: bool
