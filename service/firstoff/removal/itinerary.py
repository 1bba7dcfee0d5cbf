"""Turns a walk and its tours into moves that can be carried out one after the other."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from firstoff.removal.moves import Move, inverse
from firstoff.removal.options import Option
from firstoff.removal.problem import Problem
from firstoff.removal.schedule import Pool
from firstoff.removal.scope import Scope
from firstoff.removal.tours import Tour, Walk


def moves_of(
    problem: Problem, within: Scope, walk: Walk, events: Sequence[Option], tours: Sequence[Tour]
) -> list[Move]:
    """The moves: frames set, then phase by phase out, handed over, served and back, then frames taken back."""
    chosen = {tour.head for tour in tours}
    frames = [edge for state, edge in within.frames.items() if state in chosen]
    legged = [tour for tour in tours if tour.legs]
    serves = [tour for tour in tours if tour.option is not None and tour.head not in within.frames]
    moves = [Move(edge) for edge in frames]
    out_order = {tour.head: -1 for tour in legged if tour.legs[0].found}
    for k in range(len(walk.phases)):
        starting = [tour for tour in legged if tour.legs[0].first == k and not tour.legs[0].found]
        for tour in _in_order(problem, starting, Tour.waits_out):
            out_order[tour.head] = len(moves)
            moves.append(Move(tour.legs[0].option))
        for tour in legged:
            for before, after in zip(tour.legs, tour.legs[1:], strict=False):
                if after.first == k:
                    moves.extend((Move(before.option, back=True), Move(after.option)))
        moves.extend(Move(tour.option) for tour in serves if tour.option is not None and tour.phase == k)
        ending = [tour for tour in legged if tour.legs[-1].last == k]
        moves.extend(Move(tour.legs[-1].option, back=True) for tour in _back(ending, out_order))
        if k < len(events):
            moves.append(Move(events[k]))
    moves.extend(Move(inverse(problem.compiled, edge)) for edge in reversed(frames))
    return moves


def _in_order(problem: Problem, tours: Sequence[Tour], waits: Callable[[Tour, Tour], bool]) -> Iterable[Tour]:
    """``tours`` so that none comes before what it waits for; zone by zone where that leaves a choice."""
    pool = Pool(problem.compiled)
    by_way = {tour.legs[0].option.way: tour for tour in tours}
    unmet = {tour.head: [other.head for other in tours if waits(tour, other)] for tour in tours}
    for tour in tours:
        if not unmet[tour.head]:
            pool.add(tour.legs[0].option)
    while pool:
        tour = by_way[pool.pop().way]
        yield tour
        for other in tours:
            if tour.head in unmet[other.head]:
                unmet[other.head].remove(tour.head)
                if not unmet[other.head]:
                    pool.add(other.legs[0].option)


def _back(tours: Sequence[Tour], out_order: dict[int, int]) -> list[Tour]:
    """``tours`` in an order in which they can be refitted: the last off first, where the needs allow."""
    left = sorted(tours, key=lambda tour: -out_order[tour.head])
    order: list[Tour] = []
    while left:
        ready = next(tour for tour in left if not any(other.waits_back(tour) for other in left if other is not tour))
        left.remove(ready)
        order.append(ready)
    return order
