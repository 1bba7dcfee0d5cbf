"""Whether a request is possible at all in the full model, and a plan that shows it.

Every act can be taken back, so nothing is lost by trying: what can be reached from the start can be reached from
anywhere that can be reached. A component that nothing needs fitted (a *loose* one) is taken off wherever it can be
and kept off, which only opens ways. What is left to explore are *positions*: the states in force and, of the
components that something needs fitted (*guards*), by which removal each is off. They are explored until neither a
position nor a loose component is new; what has not been reached then never can be.
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

    ``served`` holds, for each target atom, a position and an option by which it can be served there. ``complete``
    says that all there is was explored.
    """

    start: Position
    parent: dict[Position, tuple[Position, Move] | None] = field(default_factory=dict)
    loose: dict[int, tuple[Position, Option]] = field(default_factory=dict)
    served: dict[int, tuple[Position, Option]] = field(default_factory=dict)
    complete: bool = False


def explore(problem: Problem, within: Scope, meter: Meter, states: Sequence[int]) -> Reach:
    """Explore from ``states`` with all fitted, until nothing is new or ``meter`` is spent.

    Where plans end as they start it is enough to have served all targets: what was done can be taken back.
    """
    start = Position(frozenset(states), frozenset())
    reach = Reach(start, {start: None})
    guards = _guards(problem, within)
    grown = True
    while grown:
        grown = False
        queue = list(reach.parent)
        while queue:
            position = queue.pop()
            if not meter.tick():
                return reach
            off = problem.off.union(reach.loose, (part for part, _ in position.guards))
            for atom, options in within.removals.items():
                if atom in guards or atom in reach.loose:
                    continue
                option = next((option for option in options if _fits(option, position, off)), None)
                if option is not None:
                    reach.loose[atom] = (position, option)
                    off |= {atom}
                    grown = True
            for after, move in _steps(within, position, guards, off):
                if after not in reach.parent:
                    reach.parent[after] = (position, move)
                    queue.append(after)
                    grown = True
            for head, options in within.serves.items():
                if head not in reach.served:
                    for option in options:
                        if _fits(option, position, off):
                            reach.served[head] = (position, option)
                            grown = True
                            break
            if len(reach.served) == len(within.serves) and problem.start == problem.compiled.initial:
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
    stops = [*reach.loose.values(), *reach.served.values()]
    return [
        *_tour(problem, reach, stops, back.start),
        *taken_back(problem.compiled, _tour(problem, back, [*back.loose.values()], back.start)),
    ]


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

    Where the plan ends in other states than it starts in, also those with several removals: a component has to be
    refitted by the removal that took it off, and not every one may be at hand at the end.
    """
    guards = {
        part
        for options in (*within.serves.values(), *within.edges.values())
        for option in options
        for part in within.fitted(option)
    }
    if problem.start != problem.compiled.initial:
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
