"""What a walk costs at least: the delete-free problem that is left when time is told by *eras* alone.

An era ends where some part that could be off has to be fitted. Between such times a part that is off may as well stay
off: taken off twice by one way, it is cheaper not to put it back between. So what is counted is a *place*: a part in
one of the stretches of eras through which it may stay off. Each place that is asked for is paid for once, by one of
the part's ways, and asks in turn for the places of the parts that have to be off when that way is begun and ended.
Whatever the plan does, one way of each of its places, with what that asks for, is a solution; so the cheapest solution
bounds every plan on the walk. Where its picks fit the walk (``settling``) they are the cheapest plan.

What follows a walk that is only begun belongs to its last era. There a way may also be used in states yet to come;
these are asked for in turn, and a state that was left has to be paid for again.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from firstoff.removal.blocks import blocks
from firstoff.removal.landmarks import bits
from firstoff.removal.options import Option
from firstoff.removal.problem import Choice, Choices
from firstoff.removal.request import Meter
from firstoff.removal.solver import solve
from firstoff.removal.terrain import Event, Terrain

# An atom in an era: for a part the first era of its stretch, for all else era 0.
Place = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Eras:
    """A walk by eras.

    ``ways`` are the ways that can be used in each era, ``asked`` the atoms that its events need. ``fitted[e]`` are the
    parts that have to be on between era e and the next. ``served`` are the targets served by events; ``states`` those
    in force at the end of a walk begun, None for a walk that has ended.
    """

    ways: tuple[int, ...]
    asked: tuple[int, ...]
    fitted: tuple[int, ...]
    served: frozenset[int]
    states: frozenset[int] | None


@dataclass(frozen=True, slots=True, eq=False)
class Picks:
    """A solution: its ``cost`` in ticks beyond that of the events, a proven ``bound``, and the way of each place."""

    cost: int
    bound: int
    ways: dict[Place, Option]


def picked(terrain: Terrain, eras: Eras, meter: Meter) -> Picks | None:
    """The cheapest solution; None where there is none."""
    return _Solving(terrain, eras).run(meter)


class _Solving:
    def __init__(self, terrain: Terrain, eras: Eras) -> None:
        self._terrain = terrain
        self._eras = eras
        self._last = len(eras.ways) - 1
        self._number: dict[Place, int] = {}
        self._found: list[Place] = []

    def run(self, meter: Meter) -> Picks | None:
        """See ``picked``."""
        goals = [self._numbered(place) for place in self._goals()]
        choices: Choices = {}
        needs: list[list[int]] = []
        for number, place in enumerate(self._found):  # grows as needs are met
            choices[number] = found = list(self._choices(place))
            if not found and number in goals:
                return None
            needs.append([need for choice in found for need in choice[1]])
        solution = solve(goals, choices, blocks(needs), meter)
        if solution is None:
            return None
        ways = {self._found[number]: choice[2] for number, choice in solution.picks.items()}
        return Picks(solution.cost, solution.bound, ways)

    def _numbered(self, place: Place) -> int:
        number = self._number.get(place)
        if number is None:
            number = self._number[place] = len(self._found)
            self._found.append(place)
        return number

    def _goals(self) -> Iterator[Place]:
        terrain, eras = self._terrain, self._eras
        problem = terrain.problem
        for target in terrain.within.serves:
            if target not in eras.served:
                yield target, 0
        for era, mask in enumerate(eras.asked):
            for atom in bits(mask):
                yield self._place(atom, era)
        for state in problem.compiled.initial:
            left = eras.states is not None and state in terrain.varying and state not in eras.states
            if left or state in terrain.standing:
                yield state, 0

    def _place(self, atom: int, era: int) -> Place:
        if atom >= self._terrain.components:
            return atom, 0
        fitted = self._eras.fitted
        while era and not fitted[era - 1] >> atom & 1:
            era -= 1
        return atom, era

    def _choices(self, place: Place) -> Iterator[Choice]:
        atom = place[0]
        terrain = self._terrain
        if atom in terrain.varying:
            for event in terrain.into.get(atom, ()):
                yield event.cost, self._to_come(event), event.option
            return
        if atom < terrain.components:
            yield from self._of_part(*place)
            return
        for number in terrain.by_head.get(atom, ()):
            way = terrain.ways[number]
            offers = {self._needs(number, era) for era, ways in enumerate(self._eras.ways) if ways >> number & 1}
            if self._eras.states is not None and not self._eras.ways[-1] >> number & 1:
                offers.add(self._needs(number, self._last, way.states))
            for needs in offers:
                yield way.cost, needs, way.option
        if self._eras.states is not None:
            for event in terrain.tests:
                if event.option.head == atom:
                    yield event.cost, self._to_come(event), event.option

    def _of_part(self, part: int, first: int) -> Iterator[Choice]:
        terrain, eras = self._terrain, self._eras
        last = first
        while last < self._last and not eras.fitted[last] >> part & 1:
            last += 1
        for number in terrain.by_head.get(part, ()):
            way = terrain.ways[number]
            able = [era for era in range(first, last + 1) if eras.ways[era] >> number & 1]
            if eras.states is not None and last == self._last and not able:
                # What it asks of later states holds where it is begun; a way begun before may be ended otherwise.
                yield way.cost, self._needs(number, last, way.states), way.option
            elif len(able) == 1 or first == last:
                if able:
                    yield way.cost, self._needs(number, able[0]), way.option
            elif part in terrain.tangled:
                # Only what is needed to begin: what is needed to end may rest on this very place.
                for needs in {self._needs(number, era) for era in able}:
                    yield way.cost, needs, way.option
            else:
                begun = {era: self._needs(number, era) for era in able}
                offers = {
                    tuple(dict.fromkeys((*begun[era], *begun[end]))) for era in able for end in able if end >= era
                }
                for needs in offers:
                    yield way.cost, needs, way.option

    def _needs(self, number: int, era: int, states: frozenset[int] = frozenset()) -> tuple[int, ...]:
        """The places that way ``number`` needs in ``era``, and those of ``states`` to come."""
        way = self._terrain.ways[number]
        found = [self._numbered(self._place(part, era)) for part in way.parts]
        found.extend(self._numbered((state, 0)) for state in way.standing)
        return (*found, *self._states(states))

    def _to_come(self, event: Event) -> tuple[int, ...]:
        """The places that ``event`` needs when it comes after the walk begun."""
        found = [self._numbered(self._place(part, self._last)) for part in event.parts]
        found.extend(self._numbered((state, 0)) for state in event.standing)
        return (*found, *self._states(event.states))

    def _states(self, states: frozenset[int]) -> Iterator[int]:
        held = self._eras.states or frozenset()
        return (self._numbered((state, 0)) for state in sorted(states) if state not in held)
