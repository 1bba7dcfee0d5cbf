"""What a walk costs at least: the delete-free problem that is left when time is told by *eras* alone.

An era ends where some part that could be off has to be fitted. Between such times a part that is off may as well stay
off: taken off twice by one way, it is cheaper not to put it back between. So what is counted is a *place*: a part in
one of the stretches of eras through which it may stay off. Each place that is asked for is paid for once, by one of
the part's ways, and asks in turn for the places of the parts that have to be off when that way is begun and ended.
Whatever the plan does, one way of each of its places, with what that asks for, is a solution; so the cheapest solution
bounds every plan on the walk. Where its picks fit the walk (``settling``) they are the cheapest plan.

What follows a walk that is only begun belongs to its last era. There a way may also be used in states yet to come;
these are asked for in turn, and a state that was left has to be paid for again. Tests that are still to come end eras
too: what a test needs fitted is on when it is done, and the states it needs hold. In whatever order they come, what is
needed before one and after it is paid for twice.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import permutations

from firstoff.removal.asking import Asking
from firstoff.removal.landmarks import bits
from firstoff.removal.options import Option
from firstoff.removal.problem import Choice
from firstoff.removal.request import Meter
from firstoff.removal.terrain import Event, Terrain

# So many tests to come are put in every order; of more, the rest may come at any time.
_IN_ORDER = 2
# An atom in an era: for a part the first era of its stretch, for a state to come that era, for all else era 0.
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
    """The cheapest solution; None where there is none.

    Of a walk begun that in any order of the tests to come which needs least.
    """
    best: Picks | None = None
    for order in permutations(_tests_to_come(terrain, eras)):
        found = _Solving(terrain, eras, order).run(meter)
        if found is not None and (best is None or found.bound < best.bound):
            best = found
    return best


def _tests_to_come(terrain: Terrain, eras: Eras) -> list[Event]:
    """The tests that any plan on a walk begun has yet to do, as many as are worth putting in order."""
    if eras.states is None:
        return []
    left = [test for test in terrain.tests if test.option.head not in eras.served]
    only = [test for test in left if len(terrain.within.serves[test.option.head]) == 1]
    return only[:_IN_ORDER]


class _Solving:
    """One delete-free problem. Eras after ``_last``, the one that the walk is in, are those between tests to come."""

    def __init__(self, terrain: Terrain, eras: Eras, order: Sequence[Event]) -> None:
        self._terrain = terrain
        self._eras = eras
        self._begun = eras.states is not None
        self._last = len(eras.ways) - 1
        self._order = order
        self._end = self._last + len(order)
        self._fitted = (*eras.fitted, *(test.fitted for test in order))
        # What is known of the states at the start of each era from the last on.
        self._held = {self._last: eras.states or frozenset()}
        self._held.update((self._last + 1 + n, test.states) for n, test in enumerate(order))
        self._asking: Asking[Place] = Asking()

    def run(self, meter: Meter) -> Picks | None:
        """See ``picked``."""
        solution = self._asking.solved(self._goals(), self._choices, meter)
        if solution is None:
            return None
        ways = {self._asking.found[number]: choice[2] for number, choice in solution.picks.items()}
        paid = sum(test.cost for test in self._order)
        return Picks(solution.cost + paid, solution.bound + paid, ways)

    def _numbered(self, place: Place) -> int:
        return self._asking.number(place)

    def _goals(self) -> Iterator[int]:
        terrain, eras = self._terrain, self._eras
        coming = {test.option.head for test in self._order}
        for target in terrain.within.serves:
            if target not in eras.served and target not in coming:
                yield self._numbered((target, 0))
        for era, mask in enumerate(eras.asked):
            for atom in bits(mask):
                yield self._numbered(self._place(atom, era))
        for part in terrain.found_off:
            yield self._numbered((part, 0))
        for number, test in enumerate(self._order):
            yield from self._to_come(test, self._last + number)
        initial = terrain.problem.compiled.initial
        for state in initial:
            if state in terrain.standing:
                yield self._numbered((state, 0))
        if self._begun:
            yield from self._states(terrain.varying.intersection(initial), self._end)

    def _place(self, atom: int, era: int) -> Place:
        if atom >= self._terrain.components:
            return atom, 0
        fitted = self._fitted
        while era and not fitted[era - 1] >> atom & 1:
            era -= 1
        return atom, era

    def _choices(self, place: Place) -> Iterator[Choice]:
        atom, era = place
        terrain = self._terrain
        if atom in terrain.varying:
            yield from self._of_state(atom, era)
        elif atom < terrain.components:
            yield from self._of_part(atom, era)
        else:
            yield from self._once(atom)

    def _of_state(self, state: int, era: int) -> Iterator[Choice]:
        """The choices of a state that has to be brought about in an era to come."""
        terrain = self._terrain
        for event in terrain.into.get(state, ()):
            yield event.cost, tuple(self._to_come(event, era)), event.option
        variable = terrain.problem.compiled.variable
        if era > self._last and all(variable[held] != variable[state] for held in self._held[era]):
            # As it was, or might have been, before the test.
            test = self._order[era - self._last - 1]
            yield 0, tuple(self._states(frozenset((state,)), era - 1)), test.option

    def _once(self, atom: int) -> Iterator[Choice]:
        """The choices of a target or a standing state."""
        terrain = self._terrain
        for number in terrain.by_head.get(atom, ()):
            way = terrain.ways[number]
            offers = {self._needs(number, era) for era, ways in enumerate(self._eras.ways) if ways >> number & 1}
            offers.update(self._needs_to_come(number, era) for era in self._coming(0, self._end, number))
            for needs in offers:
                yield way.cost, needs, way.option
        if self._begun:
            for event in terrain.tests:
                if event.option.head == atom:
                    for era in range(self._last, self._end + 1):
                        yield event.cost, tuple(self._to_come(event, era)), event.option

    def _of_part(self, part: int, first: int) -> Iterator[Choice]:
        terrain, eras = self._terrain, self._eras
        found_off = first == 0 and part in terrain.found_off
        last = first
        while last < self._end and not self._fitted[last] >> part & 1:
            last += 1
        for number in terrain.by_head.get(part, ()):
            way = terrain.ways[number]
            if way.option.puts_back != found_off:
                continue
            able = [era for era in range(first, min(last, self._last) + 1) if eras.ways[era] >> number & 1]
            begun = {era: self._needs(number, era) for era in able}
            offers: set[tuple[int, ...]] = set(begun.values())
            if found_off:
                if part in terrain.tangled or (self._begun and last >= self._last):
                    # It may be put back in times to come, by what rests on its being off.
                    offers = {()}
            elif len(able) > 1 and part not in terrain.tangled and not (self._begun and last >= self._last):
                # Begun and ended in the walk so far. Elsewhere what is needed to end may rest on this very place.
                offers = {
                    tuple(dict.fromkeys((*begun[era], *begun[end]))) for era in able for end in able if end >= era
                }
            else:
                offers.update(self._needs_to_come(number, era) for era in self._coming(first, last, number))
            for needs in offers:
                yield way.cost, needs, way.option

    def _coming(self, first: int, last: int, number: int) -> Iterator[int]:
        """The eras from ``first`` to ``last`` in which a way might be used after the walk begun, and not in it."""
        if self._begun:
            for era in range(max(first, self._last), last + 1):
                if era > self._last or not self._eras.ways[era] >> number & 1:
                    yield era

    def _needs(self, number: int, era: int) -> tuple[int, ...]:
        """The places that way ``number`` needs in ``era``, states aside."""
        way = self._terrain.ways[number]
        found = [self._numbered(self._place(part, era)) for part in way.parts]
        found.extend(self._numbered((state, 0)) for state in way.standing)
        return tuple(found)

    def _needs_to_come(self, number: int, era: int) -> tuple[int, ...]:
        """The places that way ``number`` needs to be begun after the walk begun; it may be ended in other states."""
        return (*self._needs(number, era), *self._states(self._terrain.ways[number].states, era))

    def _to_come(self, event: Event, era: int) -> Iterator[int]:
        """The places that ``event`` needs when it comes after the walk begun."""
        for part in event.parts:
            yield self._numbered(self._place(part, era))
        for state in event.standing:
            yield self._numbered((state, 0))
        yield from self._states(event.states, era)

    def _states(self, states: frozenset[int], era: int) -> Iterator[int]:
        held = self._held[era]
        return (self._numbered((state, era)) for state in sorted(states) if state not in held)
