"""The cheapest plan in the full model, where states have to be changed and changed back in the middle of the work.

A plan is a walk: a sequence of *events* (a state of a followed variable changes; a target is served that needs
something fitted) with phases between. For a fixed walk the cheapest plan is found in ``tours`` and ``cover``. Walks
are grown event by event, best first. A walk begun costs at least what its events cost plus h+ of what is left, where
every state visited is free; a walk that has come home is first bounded by h+ of what its phases allow and then solved
exactly. The first solved walk to come up is the cheapest plan.

Before all variables are followed, fewer are: the states of the others then add up and never go (a delete relaxation
of these variables alone; Katz, Hoffmann, Domshlak, ICAPS 2013, call it red-black planning). What that costs is a lower
bound for the next search, which then looks depth first among the walks that are bounded no higher.

Of two changes of state in a row that could as well be swapped only one order is followed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
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
from firstoff.removal.tours import Boundary, Tour, Walk, serves_of, standing_of, tours_of


@dataclass(frozen=True, slots=True, eq=False)
class Found:
    """The cheapest plan's moves, None where the search stopped first, and a proven lower bound in ticks."""

    moves: list[Move] | None
    bound: int


@dataclass(frozen=True, slots=True, eq=False)
class _Begun:
    """A walk begun: the states in force, the events so far, and their cost with states shifted by the potential.

    ``visited`` are all states so far, ``served`` the targets served by events, ``asked`` the parts and standing
    states that events need.
    """

    states: frozenset[int]
    events: tuple[Option, ...]
    visited: frozenset[int]
    served: frozenset[int]
    asked: frozenset[int]
    cost: int


def search(problem: Problem, within: Scope, least: int, meter: Meter) -> Found:
    """The cheapest plan, known to cost ``least`` ticks or more.

    The request must be known to be possible, or the search ends with ``meter`` only.
    """
    alone: dict[int, int] = {}
    if len(within.followed) > 1:
        for variable in within.followed:
            alone[variable] = _Search(problem, within, (variable,), least, meter).run().bound
            least = max(least, alone[variable])
    hardest = sorted(within.followed, key=lambda variable: (-alone.get(variable, 0), variable))
    for count in range(2, len(hardest)):
        found = _Search(problem, within, tuple(sorted(hardest[:count])), least, meter).run()
        least = max(least, found.bound)
    return _Search(problem, within, within.followed, least, meter).run()


class _Search:
    """One search that follows some of the variables."""

    def __init__(self, problem: Problem, within: Scope, followed: tuple[int, ...], least: int, meter: Meter) -> None:
        compiled = problem.compiled
        self._problem = problem
        self._scope = within
        self._followed = followed
        self._least = least
        self._meter = meter
        states = range(compiled.components, len(compiled.names))
        self._varying = frozenset(state for state in states if compiled.variable[state] in followed)
        self._home = frozenset(compiled.initial[number] for number in followed)
        self._removals = [option for found in within.removals.values() for option in found]
        self._serves = [option for found in within.serves.values() for option in found]
        loose = set(within.followed).difference(followed)
        self._standing = [
            *within.frames.values(),
            *(
                edge
                for found in within.edges.values()
                for edge in found
                if compiled.variable[edge.head] in loose and edge.head not in problem.given
            ),
        ]
        self._edges = {state: found for state, found in within.edges.items() if state in self._varying}
        self._needed = {state for option in (*self._removals, *self._serves) for state in option.states}
        self._bounds: dict[tuple[frozenset[int], frozenset[int], frozenset[int]], int | None] = {}

    def run(self) -> Found:
        """The search itself; moves only where all variables are followed."""
        problem = self._problem
        start = frozenset(problem.start[variable] for variable in self._followed)
        first = _Begun(start, (), start, frozenset(), frozenset(), problem.constant)
        # An entry: bound, minus the number of events, rank (0 solved, 1 home, 2 begun), bound of its own, serial.
        heap: list[tuple[int, int, int, int, int, _Begun, list[Move] | None]] = []
        serial = 0

        def push(walk: _Begun, rank: int, own: int | None, moves: list[Move] | None = None) -> None:
            nonlocal serial
            if own is not None:
                serial += 1
                order = 0 if rank == 0 else len(walk.events)
                heappush(heap, (max(own, self._least) if rank == 0 else own, -order, rank, own, serial, walk, moves))

        push(first, 2, self._bound(first))
        while heap:
            bound, _, rank, own, _, walk, moves = heappop(heap)
            if rank == 0:
                return Found(moves, own)
            if not self._meter.tick():
                return Found(None, bound)
            if rank == 1:
                solved = self._solve(walk)
                if self._meter.spent:
                    return Found(None, bound)
                if solved is not None:
                    push(walk, 0, *solved)
                continue
            for after in self._grown(walk):
                push(after, 2, self._bound(after))
            push(walk, 1, self._home_bound(walk))
        return Found(None, self._least)

    # --- growing ---------------------------------------------------------------------------------------

    def _grown(self, walk: _Begun) -> Iterator[_Begun]:
        """``walk`` with one more event, every one that is possible."""
        for state in sorted(walk.states):
            for edge in self._edges.get(state, ()):
                if self._fits(edge, walk) and not self._swapped(walk, edge):
                    yield self._after(walk, edge, (walk.states - {state}) | {edge.head}, walk.served)
        for option in self._serves:
            if option.head not in walk.served and self._scope.fitted(option) and self._fits(option, walk):
                yield self._after(walk, option, walk.states, walk.served | {option.head})

    def _after(self, walk: _Begun, event: Option, states: frozenset[int], served: frozenset[int]) -> _Begun:
        fixed = self._problem.given | self._varying
        asked = walk.asked.union(need for need in (*event.off, *event.states) if need not in fixed)
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
        """What ``walk`` costs at least: h+ of what is left when states visited are free and nothing has to be fitted.

        None where it leads nowhere.
        """
        key = (walk.visited, walk.served, walk.asked)
        if key not in self._bounds:
            given = self._problem.given.difference(self._varying) | walk.visited
            edges = (edge for found in self._edges.values() for edge in found)
            options = (*self._removals, *self._serves, *self._standing, *edges)
            self._bounds[key] = self._relaxed(walk, options, given)
        left = self._bounds[key]
        return None if left is None else walk.cost + left

    def _home_bound(self, walk: _Begun) -> int | None:
        """What ``walk`` costs at least when it ends here; None where it cannot."""
        if walk.states != self._home:
            return None
        fixed = self._fixed(walk)
        options = [option for option in (*self._removals, *self._standing) if fixed.allowed(option)]
        options.extend(option for option in self._serves if not self._scope.fitted(option) and fixed.allowed(option))
        left = self._relaxed(walk, options, self._problem.given | self._varying)
        return None if left is None else walk.cost + left

    def _relaxed(self, walk: _Begun, options: Iterable[Option], given: frozenset[int]) -> int | None:
        problem = self._problem
        choices = relaxed_choices(problem, options, given)
        unserved = (target for target in self._scope.serves if target not in walk.served)
        astray = (state for state in problem.compiled.initial if state not in given)
        goals = {*unserved, *astray, *(need for need in walk.asked if need not in given)}
        for goal in goals:
            choices.setdefault(goal, [])
        solution = solve(sorted(goals), choices, problem.block, self._meter)
        return None if solution is None else solution.bound

    # --- solving ---------------------------------------------------------------------------------------

    def _fixed(self, walk: _Begun) -> Walk:
        """The phases and boundaries of ``walk``."""
        states = frozenset(self._problem.start[variable] for variable in self._followed)
        phases = [states]
        boundaries: list[Boundary] = []
        for event in walk.events:
            if event.is_edge:
                states = (states - {event.leaves}) | {event.head}
            phases.append(states)
            off = frozenset(need for need in event.off if need not in self._problem.off)
            boundaries.append(Boundary(off, self._scope.fitted(event)))
        standing = frozenset(edge.head for edge in self._standing)
        return Walk(tuple(phases), tuple(boundaries), self._varying, standing, self._problem.off)

    def _solve(self, walk: _Begun) -> tuple[int, list[Move] | None] | None:
        """The cheapest plan on ``walk``: its cost, and its moves where all variables are followed. None: no plan."""
        problem, within = self._problem, self._scope
        fixed = self._fixed(walk)
        tours: dict[int, list[Tour]] = {
            head: tours_of(fixed, head, options, self._meter) for head, options in within.removals.items()
        }
        for head, options in within.serves.items():
            tours[head] = serves_of(fixed, head, [option for option in options if not within.fitted(option)])
        for edge in self._standing:
            tours.setdefault(edge.head, []).extend(standing_of(fixed, edge, problem.weight(edge)))
        goals = {head: 1 for head in within.serves if head not in walk.served}
        goals.update((state, 1) for state in walk.asked if state in fixed.standing)
        goals.update((state, 1) for state in problem.compiled.initial if state in fixed.standing)
        for number, boundary in enumerate(fixed.boundaries):
            for need in boundary.off:
                goals[need] = goals.get(need, 0) | 1 << 2 * number + 1
        found = cheapest(goals, tours, 2 * len(fixed.phases) - 1, self._meter)
        if found is None:
            return None
        moves = None
        if self._followed == within.followed:
            moves = moves_of(problem, within, fixed, walk.events, found[1])
        return walk.cost + found[0], moves
