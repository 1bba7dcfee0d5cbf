"""The cheapest plan in the full model, where states have to be changed and changed back in the middle of the work.

A plan is a walk: a sequence of *events* (a state of a followed variable changes; a target is served that needs
something fitted) with phases between. For a fixed walk the cheapest plan is found in ``tours``. Walks are grown event
by event, best first. A walk begun costs at least what its events cost plus h+ of what is left, where every state
visited is free; a walk that has come home is first bounded by h+ of what its phases allow and then solved exactly.
The first solved walk to come up is the cheapest plan.

Of two changes of state in a row that could as well be swapped only one order is followed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from heapq import heappop, heappush

from firstoff.removal.cover import cheapest
from firstoff.removal.itinerary import moves_of
from firstoff.removal.moves import Move
from firstoff.removal.options import Option
from firstoff.removal.problem import Problem
from firstoff.removal.request import Meter
from firstoff.removal.scope import Scope, relaxed_choices
from firstoff.removal.solver import solve
from firstoff.removal.tours import Boundary, Tour, Walk, serves_of, tours_of


@dataclass(frozen=True, slots=True, eq=False)
class Found:
    """The cheapest plan's moves, None where the search stopped first, and a proven lower bound in ticks."""

    moves: list[Move] | None
    bound: int


@dataclass(frozen=True, slots=True, eq=False)
class _Begun:
    """A walk begun: the states in force, the events so far, and their cost with states shifted by the potential."""

    states: frozenset[int]
    events: tuple[Option, ...]
    visited: frozenset[int]
    served: frozenset[int]
    asked: frozenset[int]
    cost: int


def search(problem: Problem, within: Scope, meter: Meter) -> Found:
    """The cheapest plan. The request must be known to be possible, or the search ends with ``meter`` only."""
    return _Search(problem, within, meter).run()


class _Search:
    def __init__(
        self, problem: Problem, within: Scope, followed: tuple[int, ...], least: int, meter: Meter
    ) -> None:
        compiled = problem.compiled
        self._problem = problem
        self._scope = within
        self._followed = followed
        self._least = least
        self._meter = meter
        variable = compiled.variable
        states = range(compiled.components, len(compiled.names))
        self._varying = frozenset(state for state in states if variable[state] in followed)
        self._home = frozenset(compiled.initial[number] for number in followed)
        self._removals = [option for found in within.removals.values() for option in found]
        self._serves = [option for found in within.serves.values() for option in found]
        self._edges = [edge for found in within.edges.values() for edge in found]
        self._standing = within.standing(followed)
        self._given = problem.given.difference(self._varying)
        astray = (initial for initial in compiled.initial if initial not in problem.given)
        self._astray = frozenset(astray)
        self._bounds: dict[tuple[frozenset[int], frozenset[int], frozenset[int]], int | None] = {}
        self._needed = {state for option in (*self._removals, *self._serves) for state in option.states}

    def run(self) -> Found:
        problem, meter = self._problem, self._meter
        start = frozenset(problem.start[variable] for variable in self._scope.followed)
        first = _Begun(start, (), start, frozenset(), frozenset(), problem.constant)
        heap: list[tuple[int, int, int, _Begun, list[Move] | None]] = []
        serial = 0
        least = self._bound(first)
        if least is not None:
            heappush(heap, (first.cost + least, 2, serial, first, None))
        while heap:
            bound, rank, _, walk, moves = heappop(heap)
            if rank == 0:
                return Found(moves, bound)
            if not meter.tick():
                return Found(None, bound)
            if rank == 1:
                solved = self._solve(walk)
                if meter.spent:
                    return Found(None, bound)
                if solved is not None:
                    serial += 1
                    heappush(heap, (solved[0], 0, serial, walk, solved[1]))
                continue
            for after in self._grown(walk):
                least = self._bound(after)
                if least is not None:
                    serial += 1
                    heappush(heap, (after.cost + least, 2, serial, after, None))
            least = self._home_bound(walk)
            if least is not None:
                serial += 1
                heappush(heap, (walk.cost + least, 1, serial, walk, None))
        return Found(None, -1)

    # --- growing ---------------------------------------------------------------------------------------

    def _grown(self, walk: _Begun) -> Iterator[_Begun]:
        """``walk`` with one more event, every one that is possible."""
        for state in sorted(walk.states):
            for edge in self._scope.edges.get(state, ()):
                if self._fits(edge, walk) and not self._swapped(walk, edge):
                    yield self._after(walk, edge, (walk.states - {state}) | {edge.head}, walk.served)
        for option in self._serves:
            if option.head not in walk.served and self._scope.fitted(option) and self._fits(option, walk):
                yield self._after(walk, option, walk.states, walk.served | {option.head})

    def _after(self, walk: _Begun, event: Option, states: frozenset[int], served: frozenset[int]) -> _Begun:
        asked = walk.asked.union(need for need in event.off if need not in self._problem.off)
        asked |= {state for state in event.states if state in self._scope.frames}
        weight = self._problem.weight(event)
        return _Begun(states, (*walk.events, event), walk.visited | states, served, asked, walk.cost + weight)

    def _fits(self, option: Option, walk: _Begun) -> bool:
        return walk.states >= self._varying.intersection(option.states)

    def _swapped(self, walk: _Begun, edge: Option) -> bool:
        """Whether ``edge`` need not follow the last event, as the two in their other order do as well.

        They do where neither waits for the other and whatever is done between them can be done before both or
        after both.
        """
        last = walk.events[-1] if walk.events else None
        if last is None or not last.is_edge or (last.head, last.leaves) < (edge.head, edge.leaves):
            return False
        variable = self._problem.compiled.variable
        if variable[last.head] == variable[edge.head]:
            return False
        touched = {variable[state] for state in last.states if state != last.leaves}
        touching = {variable[state] for state in edge.states if state != edge.leaves}
        if variable[edge.head] in touched or variable[last.head] in touching:
            return False
        before = last.head not in self._needed and not self._bound_to_parts(last)
        after = edge.leaves not in self._needed and not self._bound_to_parts(edge)
        return before or after

    def _bound_to_parts(self, edge: Option) -> bool:
        return bool(self._scope.fitted(edge)) or not self._problem.off.issuperset(edge.off)

    # --- bounds ----------------------------------------------------------------------------------------

    def _bound(self, walk: _Begun) -> int | None:
        """h+ of what is left when every state visited is free and nothing has to be fitted."""
        key = (walk.visited, walk.served, walk.asked)
        if key not in self._bounds:
            given = self._problem.given.difference(self._varying) | walk.visited
            options = (*self._removals, *self._serves, *self._edges)
            self._bounds[key] = self._relaxed(walk, options, given)
        return self._bounds[key]

    def _home_bound(self, walk: _Begun) -> int | None:
        """h+ of what is left when the walk ends here: None where it cannot."""
        if walk.states != self._home:
            return None
        fixed = self._fixed(walk)
        options = [option for option in self._removals if fixed.allowed(option)]
        options.extend(
            option for option in self._serves if not self._scope.fitted(option) and fixed.allowed(option)
        )
        options.extend(self._scope.frames.values())
        return self._relaxed(walk, options, self._problem.given | self._varying)

    def _relaxed(
        self, walk: _Begun, options: list[Option] | tuple[Option, ...], given: frozenset[int]
    ) -> int | None:
        problem = self._problem
        choices = relaxed_choices(problem, options, given)
        unserved = (target for target in self._scope.serves if target not in walk.served)
        astray = (state for state in self._home if state not in given)
        goals = {*unserved, *astray, *walk.asked}
        for goal in goals:
            choices.setdefault(goal, [])
        solution = solve(sorted(goals), choices, problem.block, self._meter)
        return None if solution is None else solution.bound

    # --- solving ---------------------------------------------------------------------------------------

    def _fixed(self, walk: _Begun) -> Walk:
        """The phases and boundaries of ``walk``."""
        states = frozenset(self._problem.start[variable] for variable in self._scope.followed)
        phases = [states]
        boundaries: list[Boundary] = []
        for event in walk.events:
            if event.is_edge:
                states = (states - {event.leaves}) | {event.head}
            phases.append(states)
            off = frozenset(need for need in event.off if need not in self._problem.off)
            boundaries.append(Boundary(off, self._scope.fitted(event)))
        frames = frozenset(self._scope.frames)
        return Walk(tuple(phases), tuple(boundaries), self._varying, frames, self._problem.off)

    def _solve(self, walk: _Begun) -> tuple[int, list[Move]] | None:
        """The cheapest plan on ``walk`` with its cost, or None where there is none."""
        problem, within = self._problem, self._scope
        fixed = self._fixed(walk)
        tours: dict[int, list[Tour]] = {
            head: tours_of(fixed, head, options, self._meter) for head, options in within.removals.items()
        }
        for head, options in within.serves.items():
            free = [option for option in options if not within.fitted(option)]
            tours[head] = serves_of(fixed, head, free)
        for state, edge in within.frames.items():
            needs = tuple((need, 1) for need in edge.states if need in within.frames)
            tours[state] = [Tour(state, problem.weight(edge), 1, needs, option=edge)]
        goals = {head: 1 for head in within.serves if head not in walk.served}
        goals.update((state, 1) for state in walk.asked if state in within.frames)
        for number, boundary in enumerate(fixed.boundaries):
            for need in boundary.off:
                goals[need] = goals.get(need, 0) | 1 << 2 * number + 1
        found = cheapest(goals, tours, 2 * len(fixed.phases) - 1, problem.block, self._meter)
        if found is None:
            return None
        return walk.cost + found[0], moves_of(problem, within, fixed, walk.events, found[1])
