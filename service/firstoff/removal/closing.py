"""Plans on a machine that is found open: what is off is put back on the way, and as soon as it can be.

The picks of h+ are those of the plan told backwards (see ``Problem``): from the end, with all fitted, they take off
whatever is off at some time. So the way back is put in order from its end. The way out is what the targets need of
the picks, with the parts that were found off out of the way from the start.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from firstoff.removal.errors import Obstacle, Unreachable
from firstoff.removal.moves import Move, inverse
from firstoff.removal.options import Option
from firstoff.removal.plans import ActKind
from firstoff.removal.problem import Choice, Problem
from firstoff.removal.prune import feasible
from firstoff.removal.schedule import Pool, Ranked, Run


def closed_up(problem: Problem, picks: Mapping[int, Choice]) -> list[Move] | None:
    """The picks in an order that serves the targets and then puts everything back; None where none is found.

    Where such an order exists the picks are a plan: h+ is reached in the full model.
    """
    options = {atom: choice[2] for atom, choice in picks.items()}
    if any(part in problem.off and not option.puts_back for part, option in options.items()):
        return None  # it would have to come off again
    if any(not problem.off.isdisjoint(option.fitted) for option in options.values()):
        return None  # something has to be put back on the way out
    homewards = _homewards(problem, options)
    asked, passed = _asked(problem, options, homewards)
    if asked is None:
        return None
    given = problem.given
    out = Run(problem.compiled, _picks(asked, given), Pool(problem.compiled)).until_done()
    if out is None:
        return None
    met = given.union(move.option.head for move in out)
    first_target = len(problem.compiled.names)
    kept = {
        atom: option
        for atom, option in options.items()
        if atom < first_target and not option.puts_back and atom not in asked and atom not in homewards
    }
    more = Run(problem.compiled, _picks(kept, met), Pool(problem.compiled)).until_done()
    if more is None:
        return None
    out += more
    order = {move.option.head: step for step, move in enumerate(out)}
    closing = {atom: option for atom, option in options.items() if atom < first_target and atom not in passed}
    base = problem.base
    backwards = Run(problem.compiled, _picks(closing, base), Ranked(order)).until_done()
    if backwards is None:
        return None
    moves = [*out, *(_taken_back(problem, move.option) for move in reversed(backwards))]
    return moves if feasible(problem, moves) else None


def early(problem: Problem, moves: Sequence[Move]) -> list[Move]:
    """``moves`` with each part found off put back as soon as it can be: guards are back before a supply is.

    What can wait for the last target waits for it. A good order for plans that are too long to be put in the best one.
    """
    first_target = len(problem.compiled.names)
    order = list(moves)
    for refit in [move for move in moves if move.option.puts_back]:
        at = next(step for step, move in enumerate(order) if move is refit)
        served = max((step for step, move in enumerate(order) if move.option.head >= first_target), default=-1)
        best = _earliest(problem, order, at, served + 1 if served < at else 0)
        order.insert(best, order.pop(at))
    return order


def opening(problem: Problem, way: str) -> Option:
    """The preparation ``way`` as the first act of a plan. Raises ``Unreachable`` where it cannot come first."""
    for state in range(problem.compiled.components, len(problem.compiled.names)):
        for edge in problem.options(state):
            needs = problem.given.issuperset((*edge.off, *edge.states)) and problem.off.isdisjoint(edge.fitted)
            if edge.way == way and edge.kind is ActKind.PREPARE and needs and problem.usable(edge):
                return edge
    reason = "it cannot be done as the first act"
    raise Unreachable(None, "The machine made safe first", (Obstacle(way, way, (), reason),))


def _earliest(problem: Problem, moves: Sequence[Move], at: int, floor: int) -> int:
    """The first place from ``floor`` on to which the refit at ``at`` can be brought forward."""
    refit = moves[at].option
    off, states = _situation(problem, moves[:at])
    best = at
    for step in range(at - 1, floor - 1, -1):
        move = moves[step]
        option = move.option
        if refit.head in option.off:
            break
        if option.is_edge:
            states.remove(option.head)
            states.add(option.leaves)
        elif move.back:
            off.add(option.head)
        else:
            off.discard(option.head)
        if off.issuperset(refit.off) and states.issuperset(refit.states):
            best = step
    return best


def _situation(problem: Problem, moves: Iterable[Move]) -> tuple[set[int], set[int]]:
    """The components off and the states in force after ``moves``."""
    off, states = set(problem.off), set(problem.start)
    for move in moves:
        option = move.option
        if option.is_edge:
            states.remove(option.leaves)
            states.add(option.head)
        elif move.back:
            off.remove(option.head)
        elif option.head < problem.compiled.components:
            off.add(option.head)
    return off, states


def _picks(options: Mapping[int, Option], met: frozenset[int]) -> dict[int, Choice]:
    """``options`` as picks that need what is not ``met`` already."""
    return {
        atom: (0, tuple(need for need in (*option.off, *option.states) if need not in met), option)
        for atom, option in options.items()
    }


def _homewards(problem: Problem, options: Mapping[int, Option]) -> dict[int, int]:
    """The states on the way from those in force at the start to the initial ones, each with the next."""
    following: dict[int, int] = {}
    for atom in problem.start:
        while atom in options:
            following[atom] = options[atom].leaves
            atom = following[atom]
    return following


def _asked(
    problem: Problem, options: Mapping[int, Option], homewards: Mapping[int, int]
) -> tuple[dict[int, Option] | None, set[int]]:
    """What the targets need of the picks, from the start on; and the states they leave on the way home.

    None where they need a state that lies on no such way.
    """
    compiled = problem.compiled
    first_target = len(compiled.names)
    asked = {atom: option for atom, option in options.items() if atom >= first_target}
    passed: set[int] = set()
    stack = list(asked.values())
    while stack:
        option = stack.pop()
        for need in (*option.off, *option.states):
            if need in problem.given or need in asked:
                continue
            start = problem.start[compiled.variable[need]] if need >= compiled.components else -1
            if start not in homewards:
                asked[need] = options[need]
                stack.append(options[need])
                continue
            at = start
            while at != need:
                if at not in homewards:
                    return None, passed
                after = homewards[at]
                if at not in passed:
                    passed.add(at)
                    asked[after] = inverse(compiled, options[at])
                    stack.append(asked[after])
                at = after
    return asked, passed


def _taken_back(problem: Problem, option: Option) -> Move:
    """What ``option`` is when the plan is told forwards again."""
    return Move(inverse(problem.compiled, option)) if option.is_edge else Move(option, back=True)
