"""Whether a request is possible at all in the full model, and a plan that shows it.

Every act can be taken back, so nothing is lost by trying: what can be reached from the start can be reached from
anywhere that can be reached. A component that nothing needs fitted (a *loose* one) is taken off wherever it can be
and kept off, which only opens ways. What is left to explore are *positions*: the states in force and, of the
components that something needs fitted (*guards*), by which removal each is off. They are explored until neither a
position nor a loose component is new; what has not been reached then never can be.

A part found off goes back by some removal, and the rest of the plan is as though that had taken it off. So a start
with parts off is one position for each choice of removals, and one that can be reached from the end will do.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from firstoff.removal.moves import Move, taken_back
from firstoff.removal.options import Option
from firstoff.removal.problem import Problem
from firstoff.removal.request import Meter
from firstoff.removal.scope import Scope


@dataclass(frozen=True, slots=True)
class Position:
    """States in force, and the guards that are off with the removals that took them off."""

    states: frozenset[int]
    guards: frozenset[tuple[int, Option]]


@dataclass(slots=True)
class Reach:
    """What was explored: each position's parent and the move that led there, and where each loose component came off.

    ``off`` are the removals by which parts were off at the start. ``served`` holds, for each target atom, a position
    and an option by which it can be served there. ``complete`` says that all there is was explored.
    """

    start: Position
    off: tuple[Option, ...] = ()
    parent: dict[Position, tuple[Position, Move] | None] = field(default_factory=dict)
    loose: dict[int, tuple[Position, Option]] = field(default_factory=dict)
    served: dict[int, tuple[Position, Option]] = field(default_factory=dict)
    complete: bool = False


def few(problem: Problem, within: Scope, most: int) -> bool:
    """Whether there can be no more than ``most`` positions, each of a state a variable and the guards off or on."""
    variable = problem.compiled.variable
    sizes = [len(within.removals.get(guard, ())) + 1 for guard in _guards(problem, within)]
    active = {variable[edge.head] for edges in within.edges.values() for edge in edges}
    sizes.extend(variable.count(number) for number in active)
    count = 1
    for size in sizes:
        count *= size
        if count > most:
            return False
    return True


def both_ways(problem: Problem, within: Scope, meter: Meter) -> tuple[Reach | None, Reach]:
    """What can be reached from the start, and from the end of plans: the initial states with all fitted.

    From the start None where it is known that the end cannot be reached because of the parts found off.
    """
    back = explore(problem, within, meter, problem.compiled.initial)
    if not problem.off and problem.start == problem.compiled.initial:
        return back, back
    for off in _starts(problem, within, back):
        there = explore(problem, within, meter, problem.start, off)
        if not there.complete or returns(there, back) or not problem.off:
            return there, back
    return None, back


def stuck(problem: Problem, within: Scope, back: Reach) -> frozenset[int]:
    """The parts found off that cannot be off by a removal they may go back by; all where each by itself can be."""
    seen = {guard for position in back.parent for guard in position.guards}
    seen.update((part, option) for part, (_, option) in back.loose.items())
    ways = {part: _by(problem, within, part) for part in problem.off}
    return frozenset(part for part in problem.off if seen.isdisjoint((part, way) for way in ways[part])) or problem.off


def _by(problem: Problem, within: Scope, part: int) -> list[Option]:
    """The removals by which a part found off may go back."""
    ways = {refit.way for refit in problem.refits[part]}
    return [option for option in within.removals.get(part, ()) if option.way in ways]


def _starts(problem: Problem, within: Scope, back: Reach) -> Iterator[tuple[Option, ...]]:
    """For the parts found off, the removals that they may be off by, as far as explored from the end of plans."""
    guards = _guards(problem, within)
    loose = [option for part in problem.off - guards for option in _by(problem, within, part)]
    ways = {part: _by(problem, within, part) for part in problem.off & guards}
    if not problem.off:
        yield ()
    elif len(loose) == len(problem.off - guards) and all(option.head in back.loose for option in loose):
        for position in back.parent:
            by = dict(position.guards)
            fits = by.keys() == ways.keys() and all(by[part] in some for part, some in ways.items())
            if fits and position.states == frozenset(problem.start):
                yield (*loose, *(by[part] for part in sorted(by)))


def explore(
    problem: Problem, within: Scope, meter: Meter, states: Sequence[int], off: tuple[Option, ...] = ()
) -> Reach:
    """Explore from ``states`` with all fitted but what is ``off``, until nothing is new or ``meter`` is spent.

    Where plans end as they start it is enough to have served all targets: what was done can be taken back.
    """
    guards = _guards(problem, within)
    there_and_back = not problem.off and problem.start == problem.compiled.initial
    start = Position(frozenset(states), frozenset((option.head, option) for option in off if option.head in guards))
    reach = Reach(start, off, {start: None})
    reach.loose.update((option.head, (start, option)) for option in off if option.head not in guards)
    grown = True
    while grown:
        grown = False
        queue = list(reach.parent)
        while queue:
            position = queue.pop()
            if not meter.tick():
                return reach
            gone = frozenset(reach.loose).union(part for part, _ in position.guards)
            for atom, options in within.removals.items():
                if atom in guards or atom in reach.loose:
                    continue
                option = next((option for option in options if _fits(option, position, gone)), None)
                if option is not None:
                    reach.loose[atom] = (position, option)
                    gone |= {atom}
                    grown = True
            for after, move in _steps(within, position, guards, gone):
                if after not in reach.parent:
                    reach.parent[after] = (position, move)
                    queue.append(after)
                    grown = True
            for head, options in within.serves.items():
                if head not in reach.served:
                    for option in options:
                        if _fits(option, position, gone):
                            reach.served[head] = (position, option)
                            grown = True
                            break
            if there_and_back and len(reach.served) == len(within.serves):
                return reach
    reach.complete = True
    return reach


def returns(reach: Reach, back: Reach) -> bool:
    """Whether the start of ``back`` can be reached from that of ``reach``, both fully explored.

    It can if that position can be reached with all loose components off and the same come off from there.
    """
    return back.start in reach.parent and reach.loose.keys() == back.loose.keys()


def plan_by(problem: Problem, reach: Reach, back: Reach) -> list[Move] | None:
    """Moves that serve every target and end at the start of ``back``, far from the cheapest.

    None where that has not been shown to be possible.
    """
    if len(reach.served) < len(problem.targets) or not (back.complete or back is reach) or not returns(reach, back):
        return None
    loose = [stop for stop in reach.loose.values() if stop[1] not in reach.off]
    return _refitted(
        problem,
        [
            *_tour(problem, reach, [*loose, *reach.served.values()], back.start),
            *taken_back(problem.compiled, _tour(problem, back, [*back.loose.values()], back.start)),
        ],
    )


def _refitted(problem: Problem, moves: Sequence[Move]) -> list[Move]:
    """``moves`` with the first refit of each part found off as what it is."""
    left = dict(problem.refits)
    told: list[Move] = []
    for move in moves:
        refits = left.pop(move.option.head, ()) if move.back else ()
        told.append(next((Move(refit, back=True) for refit in refits if refit.way == move.option.way), move))
    return told


def _tour(problem: Problem, reach: Reach, stops: Sequence[tuple[Position, Option]], end: Position) -> list[Move]:
    """From the start of ``reach`` to each position in turn, to do the option there, and on to ``end``."""
    moves: list[Move] = []
    here = reach.start
    for position, option in stops:
        moves.extend(_way(problem, reach, here, position))
        moves.append(Move(option))
        here = position
    return [*moves, *_way(problem, reach, here, end)]


def _guards(problem: Problem, within: Scope) -> frozenset[int]:
    """The components whose being on or off has to be followed: those that something needs fitted.

    Where the plan ends in another situation than it starts in, also those with several removals: a component has to be
    refitted by the removal that took it off, and not every one may be at hand at the end.
    """
    guards = {
        part
        for options in (*within.serves.values(), *within.edges.values())
        for option in options
        for part in within.fitted(option)
    }
    if problem.off or problem.start != problem.compiled.initial:
        guards.update(part for part, options in within.removals.items() if len(options) > 1)
    return frozenset(guards)


def _fits(option: Option, position: Position, off: frozenset[int]) -> bool:
    return position.states.issuperset(option.states) and off.issuperset(option.off) and off.isdisjoint(option.fitted)


def _steps(
    within: Scope, position: Position, guards: frozenset[int], off: frozenset[int]
) -> Iterator[tuple[Position, Move]]:
    """The positions one move away."""
    for state in position.states:
        for edge in within.edges.get(state, ()):
            if _fits(edge, position, off):
                yield Position((position.states - {state}) | {edge.head}, position.guards), Move(edge)
    for guard in guards:
        for option in within.removals.get(guard, ()):
            if _fits(option, position, off):
                if guard not in off:
                    yield Position(position.states, position.guards | {(guard, option)}), Move(option)
                elif (guard, option) in position.guards:
                    yield Position(position.states, position.guards - {(guard, option)}), Move(option, back=True)


def _way(problem: Problem, reach: Reach, here: Position, there: Position) -> list[Move]:
    """The moves from one position to another by way of their common ancestor."""
    up, down = _line(reach, here), _line(reach, there)
    while up and down and up[-1] is down[-1]:
        up.pop()
        down.pop()
    return [*taken_back(problem.compiled, reversed(up)), *reversed(down)]


def _line(reach: Reach, position: Position) -> list[Move]:
    """The moves that led to ``position``, the last first."""
    moves: list[Move] = []
    step = reach.parent[position]
    while step is not None:
        moves.append(step[1])
        step = reach.parent[step[0]]
    return moves
