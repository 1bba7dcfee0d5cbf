"""A plan request with its names looked up: what the removal room is asked, and asked again when a limit is lifted."""

from __future__ import annotations

import time
from collections.abc import Mapping
from dataclasses import dataclass

from firstoff.answers.limits import Day, Limit
from firstoff.answers.names import Aim
from firstoff.removal import UNITS, Budget, Figures, Measure, Request, Target


@dataclass(frozen=True, slots=True)
class Question:
    """What is to be reached, from where, within which limits. ``banned`` are ways out of the question on any day."""

    aims: tuple[Aim, ...]
    off: frozenset[str]
    states: Mapping[str, str]
    tools: frozenset[str] | None
    day: Day
    banned: frozenset[str]
    minimise: Measure

    @property
    def targets(self) -> tuple[Target, ...]:
        return tuple(Target(aim.component, aim.purpose) for aim in self.aims)

    def request(
        self,
        *,
        lifted: frozenset[Limit] = frozenset(),
        more_tools: frozenset[str] = frozenset(),
        banned: frozenset[str] = frozenset(),
        alternatives: int = 0,
    ) -> Request:
        """The request, with limits ``lifted``, ``more_tools`` at hand, and ``banned`` ways left out besides."""
        return Request(
            targets=self.targets,
            off=self.off,
            tools=None if self.tools is None else self.tools | more_tools,
            alternatives=alternatives,
            states=self.states,
            banned=self.banned | self.day.banned(lifted) | banned,
            reasons=self.day.reasons(),
            minimise=self.minimise,
        )


class Allowance:
    """Seconds to be shared out among several searches."""

    def __init__(self, seconds: float) -> None:
        self._end = time.monotonic() + seconds

    @property
    def spent(self) -> bool:
        return time.monotonic() >= self._end

    def budget(self) -> Budget:
        """A budget of all that is left."""
        return Budget(seconds=max(0.0, self._end - time.monotonic()), clock=time.monotonic)


def in_words(measure: Measure, figures: Figures) -> str:
    """A plan's figure of ``measure``, and its minutes."""
    minutes = counted(figures.minutes, Measure.MINUTES)
    return minutes if measure is Measure.MINUTES else f"{counted(figures.of(measure), measure)} in {minutes}"


def counted(amount: float, measure: Measure) -> str:
    """An amount of ``measure`` with its unit."""
    unit = UNITS[measure]
    if amount == 1:
        unit = unit.replace("parts", "part") if "parts" in unit else unit.removesuffix("s")
    return f"{round(amount, 2):g} {unit}"
