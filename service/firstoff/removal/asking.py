"""A delete-free problem whose atoms are found while it is written down: what is asked for asks for more."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from typing import Generic, TypeVar

from firstoff.removal.blocks import blocks
from firstoff.removal.problem import Choice, Choices
from firstoff.removal.request import Meter
from firstoff.removal.solver import Solution, solve

Asked = TypeVar("Asked", bound=Hashable)


class Asking(Generic[Asked]):
    """Numbers what is asked for in the order in which it is first met; ``found[number]`` is what has that number."""

    __slots__ = ("_number", "found")

    def __init__(self) -> None:
        self.found: list[Asked] = []
        self._number: dict[Asked, int] = {}

    def number(self, asked: Asked) -> int:
        """The number of ``asked``, new where it was not met before."""
        number = self._number.get(asked)
        if number is None:
            number = self._number[asked] = len(self.found)
            self.found.append(asked)
        return number

    def solved(
        self, goals: Iterable[int], choices_of: Callable[[Asked], Iterable[Choice]], meter: Meter
    ) -> Solution | None:
        """The cheapest solution, by number; None where there is none. ``choices_of`` may ask for more."""
        wanted = list(goals)
        choices: Choices = {}
        needs: list[list[int]] = []
        for number, asked in enumerate(self.found):  # grows as needs are met
            choices[number] = found = list(choices_of(asked))
            if not found and number in wanted:
                return None
            needs.append([need for choice in found for need in choice[1]])
        return solve(wanted, choices, blocks(needs), meter)
