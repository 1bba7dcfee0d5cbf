"""The cheapest plan in the full model, where states have to be changed and changed back in the middle of the work.

A plan is a walk: a sequence of *events* (a state of a followed variable changes; a target is served that needs
something fitted) with phases between. For a fixed walk the cheapest plan is found in ``tours`` and ``cover``. Walks
are grown event by event, best first. A walk begun costs at least what its events cost plus h+ of what is left, where
every state visited is free; a walk that has come home is first bounded by h+ of what its phases allow and then solved
exactly. The first solved walk to come up is the cheapest plan.

Before all variables are followed, fewer are: the states of the others then add up and never go (a delete relaxation
of these variables alone; Katz, Hoffmann, Domshlak, ICAPS 2013, call it red-black planning). What that costs is a lower
bound for the plan, and how often a variable then changes is a good guess at how often it has to. A search that is
held to that often finds a plan at the bound, which proves it; where it does not, all walks are searched for a
cheaper one.

Of two changes of state in a row that could as well be swapped only one order is followed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from heapq import heappop, heappush

from firstoff.removal.cover import cheapest
from firstoff.removal.itinerary import moves_of
from firstoff.removal.moves import Move
from firstoff.removal.options import Option, whole
from firstoff.removal.problem import Problem
from firstoff.removal.request import Meter
from firstoff.removal.scope import Scope, relaxed_choices
from firstoff.removal.solver import solve
from firstoff.removal.tours import Boundary, Tour, Walk, serves_of, standing_of, tours_of


@dataclass(frozen=True, slots=True, eq=False)
class Found:
    """What a search found.

    ``cost`` in ticks and ``events`` of the cheapest plan found, with its ``moves`` where all variables are followed;
    None where there is none. ``bound``: what any plan that was looked for costs at least.
    """

    bound: int
    cost: int | None = None
    events: tuple[Option, ...] = ()
    moves: list[Move] | None = None


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
    """The cheapest plan, known to cost ``least`` ticks or more, or the best found before ``meter`` was spent.

    The request must be known to be possible, or the search ends with ``meter`` only.
    """
    variable = problem.compiled.variable
    most = dict.fromkeys(within.followed, 0)
    alone: dict[int, int] = {}
    best = Found(least)

    def follow(followed: tuple[int, ...]) -> Found:
        """Follow some variables only: raise ``least``, and ``most`` to the changes that they needed."""
        nonlocal least
        found = _Search(problem, within, followed, least, meter.part()).run()
        least = max(least, found.bound)
        for number in followed:
            count = sum(1 for event in found.events if event.is_edge and variable[event.head] == number)
            most[number] = max(most[number], count)
        return found

    def narrow() -> Found:
        """Look for a plan with no more changes of each variable than were needed when few were followed."""
        found = _Search(problem, within, within.followed, least, meter.part(), most=most).run()
        return found if best.cost is None or (found.cost is not None and found.cost < best.cost) else best

    if len(within.followed) > 1:
        for number in within.followed:
            alone[number] = follow((number,)).bound
        best = narrow()
    hardest = sorted(within.followed, key=lambda number: (-alone.get(number, 0), number))
    for count in range(2, len(hardest)):
        if best.cost is not None and whole(best.cost) <= whole(least):
            break
        before = dict(most)
        follow(tuple(sorted(hardest[:count])))
        if most != before:
            best = narrow()
    if best.cost is None or whole(best.cost) > whole(least):
        best = _Search(problem, within, within.followed, least, meter, known=best).run()
    return best if best.bound >= least else replace(best, bound=least)


class _Search:
    """One search that follows some of the variables."""

    def __init__(
        self,
        problem: Problem,
        within: Scope,
        followed: tuple[int, ...],
        least: int,
        meter: Meter,
        *,
        most: Mapping[int, int] | None = None,
        known: Found | None = None,
    ) -> None:
        """``most``: how often each variable may change, if limited. ``known``: a plan that has to be beaten."""
        compiled = problem.compiled
        self._problem = problem
        self._scope = within
        self._followed = followed
        self._least = least
        self._meter = meter
        self._most = most
        self._known = known or Found(least)
        states = range(compiled.components, len(compiled.names))
        self._varying = frozenset(state for state in states if compiled.variable[state] in followed)
        self._home = frozenset(compiled.initial[number] for number in followed)
        self._removals = [option for found in within.removals.values() for option in found]
        self._serves = [option for found in within.serves.values() for option in found]
        self._refits = [option for found in problem.refits.values() for option in found]
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
        acts = (*self._removals, *self._serves, *self._standing)
        self._needed = {state for option in acts for state in option.states}
        self._bounds: dict[tuple[frozenset[int], frozenset[int], frozenset[int]], int | None] = {}

    def run(self) -> Found:
        """The search itself. Its bound is for the walks that it may look at."""
        problem = self._problem
        start = frozenset(problem.start[variable] for variable in self._followed)
        best = self._known
        # An entry: bound, minus the number of events, rank (0 home, 1 begun), serial, walk.
        heap: list[tuple[int, int, int, int, _Begun]] = []
        serial = 0

        def push(walk: _Begun, rank: int, bound: int | None) -> None:
            """Keep a walk whose bound leaves it a chance."""
            nonlocal serial
            if bound is not None and (best.cost is None or bound < best.cost):
                serial += 1
                heappush(heap, (bound, -len(walk.events), rank, serial, walk))

        first = _Begun(start, (), start, frozenset(), frozenset(), problem.constant)
        push(first, 1, self._bound(first))
        while heap:
            bound, _, rank, _, walk = heappop(heap)
            bound = max(bound, self._least)
            if best.cost is not None and whole(best.cost) <= whole(bound):
                break
            if not self._meter.tick():
                return replace(best, bound=bound)
            if rank == 0:
                solved = self._solve(walk)
                if self._meter.spent:
                    return replace(best, bound=bound)
                if solved is not None and (best.cost is None or solved[0] < best.cost):
                    best = Found(bound, solved[0], walk.events, solved[1])
                continue
            for after in self._grown(walk):
                push(after, 1, self._bound(after))
            push(walk, 0, self._home_bound(walk))
        return replace(best, bound=self._least if best.cost is None else max(best.cost, self._least))

    # --- growing ---------------------------------------------------------------------------------------

    def _grown(self, walk: _Begun) -> Iterator[_Begun]:
        """``walk`` with one more event, every one that is possible."""
        for state in sorted(walk.states):
            for edge in self._edges.get(state, ()):
                if self._fits(edge, walk) and not self._swapped(walk, edge) and not self._used_up(walk, edge):
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

    def _used_up(self, walk: _Begun, edge: Option) -> bool:
        """Whether the variable of ``edge`` has changed as often as it may."""
        if self._most is None:
            return False
        variable = self._problem.compiled.variable
        number = variable[edge.head]
        changes = sum(1 for event in walk.events if event.is_edge and variable[event.head] == number)
        return changes >= self._most[number]

    def _bound_to_parts(self, edge: Option) -> bool:
        return bool(self._scope.fitted(edge) or edge.off)

    # --- bounds ----------------------------------------------------------------------------------------

    def _bound(self, walk: _Begun) -> int | None:
        """What ``walk`` costs at least: h+ of what is left when states visited are free and nothing has to be fitted.

        None where it leads nowhere.
        """
        key = (walk.visited, walk.served, walk.asked)
        if key not in self._bounds:
            given = self._problem.given.difference(self._varying) | walk.visited
            edges = (edge for found in self._edges.values() for edge in found)
            options = (*self._removals, *self._refits, *self._serves, *self._standing, *edges)
            self._bounds[key] = self._relaxed(walk, options, given)
        left = self._bounds[key]
        return None if left is None else walk.cost + left

    def _home_bound(self, walk: _Begun) -> int | None:
        """What ``walk`` costs at least when it ends here; None where it cannot."""
        if walk.states != self._home:
            return None
        fixed = self._fixed(walk)
        options = [option for option in (*self._removals, *self._refits, *self._standing) if fixed.allowed(option)]
        options.extend(option for option in self._serves if not self._scope.fitted(option) and fixed.allowed(option))
        left = self._relaxed(walk, options, self._problem.given | self._varying)
        return None if left is None else walk.cost + left

    def _relaxed(self, walk: _Begun, options: Iterable[Option], given: frozenset[int]) -> int | None:
        problem = self._problem
        choices = relaxed_choices(problem, options, given)
        unserved = (target for target in self._scope.serves if target not in walk.served)
        astray = (state for state in problem.compiled.initial if state not in given)
        asked = (need for need in walk.asked if need not in given)
        goals = {*unserved, *astray, *asked, *problem.put_back.values()}
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
            boundaries.append(Boundary(frozenset(event.off), self._scope.fitted(event)))
        standing = frozenset(edge.head for edge in self._standing)
        return Walk(tuple(phases), tuple(boundaries), self._varying, standing)

    def _solve(self, walk: _Begun) -> tuple[int, list[Move] | None] | None:
        """The cheapest plan on ``walk``: its cost, and its moves where all variables are followed. None: no plan."""
        problem, within = self._problem, self._scope
        fixed = self._fixed(walk)
        tours: dict[int, list[Tour]] = {
            head: tours_of(fixed, head, options, self._meter, problem.refits.get(head, ()))
            for head, options in within.removals.items()
        }
        for head, options in within.serves.items():
            tours[head] = serves_of(fixed, head, [option for option in options if not within.fitted(option)])
        for edge in self._standing:
            tours.setdefault(edge.head, []).extend(standing_of(fixed, edge, problem.weight(edge)))
        goals = {head: 1 for head in within.serves if head not in walk.served}
        goals.update((state, 1) for state in walk.asked if state in fixed.standing)
        goals.update((state, 1) for state in problem.compiled.initial if state in fixed.standing)
        goals.update((part, 1) for part in problem.off)
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
