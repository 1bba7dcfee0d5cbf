"""Drops from a plan what it can do without."""

from __future__ import annotations

from collections.abc import Sequence

from firstoff.removal.moves import Move
from firstoff.removal.options import Option
from firstoff.removal.problem import Problem


def prune(problem: Problem, moves: Sequence[Move]) -> list[Move]:
    """``moves`` without pairs of moves that the rest can do without: a removal and its refit, a change of state and its
    next reversal, the refit of a part found off and its next removal. Each pair is tried until none can go; quadratic
    at best, for short plans found in haste."""
    kept = list(moves)
    again = True
    while again:
        again = False
        first = 0
        while first < len(kept):
            second = _partner(kept, first)
            if second is not None:
                fewer = [move for _, move in _but(kept, first, second)]
                if kept[first].option.puts_back:
                    # The part stays off as found until the refit of that removal.
                    last = _partner(kept, second)
                    fewer = [kept[first] if step == last else move for step, move in _but(kept, first, second)]
                if feasible(problem, fewer):
                    kept = fewer
                    again = True
                    continue
            first += 1
    return kept


def _but(moves: Sequence[Move], *steps: int) -> list[tuple[int, Move]]:
    """The moves with their numbers, less those of ``steps``."""
    return [(step, move) for step, move in enumerate(moves) if step not in steps]


def _partner(moves: Sequence[Move], first: int) -> int | None:
    """The move that takes back the effect of number ``first``, if that has one."""
    move = moves[first]
    for step in range(first + 1, len(moves)):
        later = moves[step]
        if move.option.puts_back and later.option.head == move.option.head:
            return step if later.option.way == move.option.way else None
        if later.option is move.option and later.back != move.back:
            return step
        if move.option.is_edge and later.option.leaves == move.option.head:
            return step if later.option.head == move.option.leaves else None
    return None


def feasible(problem: Problem, moves: Sequence[Move]) -> bool:
    """Whether ``moves`` can be carried out and end with everything back in place."""
    compiled = problem.compiled
    off, states = set(problem.off), set(problem.start)
    by: dict[int, Option] = {}
    for move in moves:
        option = move.option
        if move.back:
            taken = by.pop(option.head, None)
            if option.head not in off or (not option.puts_back if taken is None else taken is not option):
                return False
            off.remove(option.head)
        if not (states.issuperset(option.states) and off.issuperset(option.off) and off.isdisjoint(option.fitted)):
            return False
        if option.is_edge:
            states.remove(option.leaves)
            states.add(option.head)
        elif option.head < compiled.components and not move.back:
            if option.head in off:
                return False
            off.add(option.head)
            by[option.head] = option
    return not off and states == set(compiled.initial)
