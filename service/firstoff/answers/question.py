"""A plan request with its names looked up: what the removal room is asked, and asked again when a limit is lifted."""

from __future__ import annotations

import time
from collections.abc import Mapping
from dataclasses import dataclass

from firstoff.answers.as_found import AsFound
from firstoff.answers.limits import Day, Limit
from firstoff.answers.names import Aim
from firstoff.removal import UNITS, Budget, Figures, Measure, Request, Target


@dataclass(frozen=True, slots=True)
class Question:
    """What is to be reached, from where, within which limits. ``banned`` are ways out of the question on any day.

    ``first`` is the preparation that has to come before all else, by id.
    """

    aims: tuple[Aim, ...]
    found: AsFound
    tools: frozenset[str] | None
    day: Day
    banned: frozenset[str]
    minimise: Measure
    first: str | None = None

    @property
    def off(self) -> frozenset[str]:
        """What is off, as it was named: components, or the removals that took them off."""
        return self.found.said

    @property
    def states(self) -> Mapping[str, str]:
        return self.found.states

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
            first=self.first,
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


def counted(amount: float, measure: Measure, word: str = "") -> str:
    """An amount of ``measure`` with its unit, and a ``word`` such as "more" between."""
    unit = UNITS[measure]
    if amount == 1:
        unit = unit.replace("parts", "part") if "parts" in unit else unit.removesuffix("s")
    return " ".join(filter(None, (f"{round(amount, 2):g}", word, unit)))


def sentence(reason: str) -> str:
    """A reason as it follows a label and a colon, as a sentence of its own."""
    return f"{reason[0].upper()}{reason[1:]}."
