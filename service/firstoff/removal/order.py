"""The best order of the moves of a plan, among all orders of exactly these moves that can be carried out.

The objective, the first that differs decides:

1. fewest acts by hand with the electrical supply on: removals, refits, changes of a state other than the supply's own,
   and targets served otherwise than by a live reading. So isolating comes as early as needs allow, nothing but the
   reading comes between restoring and isolating again, and the supply returns last;
2. fewest tool changes: tools taken up by an act that the act with tools before it did not use;
3. fewest zone changes: acts at a component of another zone than the component of an act before;
4. heavy or awkward parts off as briefly as possible: the least sum, over all acts, of the burden of the parts that are
   off after it, which the plan takes off or refits. A burden is the mass of the part, nothing where that is not known,
   and 23 kg for each person beyond the first that its removal needs; of a part found off that by which it goes back.

Where a plan is a plain way out and back (each part off once, each state reached once, all targets served before
anything is taken back, and none with the supply on if that is turned off too), only the way out is ordered, and the way
back is its mirror. Without the targets the objective is the same for both: of two acts in turn, the tools taken up by
the second less those taken up by the first on the way back are the difference in number of their tools, whatever the
order; zones, supply and what is off between them are the same either way. So no other way back is better than the
mirror of the best way out, but for what comes between the last target and the first act back, which is counted with the
mirror.

Any other plan (with a live reading between, say) is ordered as a whole.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from firstoff.removal.chart import chart_of
from firstoff.removal.handling import Handling, score
from firstoff.removal.moves import Move, taken_back
from firstoff.removal.problem import Problem
from firstoff.removal.request import Budget, Meter
from firstoff.removal.sequence import Sequencer
from firstoff.removal.worklist import ahead_of, worklist

# Moves by which the nodes of a proof about double, a refit not counted: measured on random plans and the demo machines.
_MOVES_A_DOUBLING = 3
# Beyond this, what every order must keep takes too long to find out: the square of the moves.
_MOST_MOVES = 150
# How many beginnings to keep where there is no proof; never fewer than the narrowest where there may be dead ends.
_NARROWEST, _WIDEST = 4, 32


@dataclass(frozen=True, slots=True, eq=False)
class Order:
    """Moves in order; ``proved`` where no other order is better."""

    moves: list[Move]
    proved: bool


def ordered(problem: Problem, handling: Handling, moves: Sequence[Move], budget: Budget) -> Order:
    """The best order of ``moves``, which are given in one that can be carried out.

    Where it is not found with the ``order_nodes`` of ``budget`` and in its time, or so many moves make that hopeless, a
    good one, no worse than the given.
    """
    if not moves:
        return Order([], True)
    first_target = len(problem.compiled.names)
    last = max((step for step, move in enumerate(moves) if move.option.head >= first_target), default=-1)
    out, back = moves[: last + 1], moves[last + 1 :]
    if not out or not _one_way(problem, out):
        return _whole(problem, handling, moves, [moves], budget)
    listed = worklist(problem, handling, out)
    if not _takes_back(out, back, len(problem.targets)) or _live_between(problem, handling, out):
        return _whole(problem, handling, moves, [moves, [*listed, *back]], budget)
    found, proved = _searched(problem, handling, listed, True, budget)
    known = [[*some, *taken_back(problem.compiled, some)] for some in found]
    return Order(known[0], True) if proved else _best_of(problem, handling, [*known, moves])


def _whole(
    problem: Problem, handling: Handling, moves: Sequence[Move], known: list[Sequence[Move]], budget: Budget
) -> Order:
    """The best order of all of ``moves`` at once; ``known`` are orders of them."""
    found, proved = _searched(problem, handling, moves, False, budget)
    return Order(found[0], True) if proved else _best_of(problem, handling, [*found, *known])


def _best_of(problem: Problem, handling: Handling, known: Sequence[Sequence[Move]]) -> Order:
    scores = [score(problem, handling, some) for some in known]
    return Order(list(known[scores.index(min(scores))]), False)


def _searched(
    problem: Problem, handling: Handling, moves: Sequence[Move], mirrored: bool, budget: Budget
) -> tuple[list[list[Move]], bool]:
    """Orders of ``moves``, and whether the first is proved best."""
    count, nodes = len(moves), budget.order_nodes
    free = count if mirrored else count // 2
    hopeful = free <= _MOVES_A_DOUBLING * nodes.bit_length()
    width = min(_WIDEST, nodes // (8 * count))
    if not mirrored:
        width = max(width, _NARROWEST)
    if count > _MOST_MOVES or not (hopeful or width):
        return [list(moves)], False
    sequencer = Sequencer(chart_of(problem, handling, moves, ahead_of(moves) if mirrored else None), mirrored)
    if sequencer.cost(range(count)) == sequencer.floor:
        return [list(moves)], True
    meter = Meter(replace(budget, nodes=nodes))
    best = sequencer.best(meter) if hopeful else None
    if best is not None:
        return [[moves[i] for i in best]], True
    late = meter.spent and meter.nodes <= nodes
    good = None if late or not width else sequencer.good(width)
    return [list(moves), *([] if good is None else [[moves[i] for i in good]])], False


def _one_way(problem: Problem, out: Sequence[Move]) -> bool:
    """Whether ``out`` takes nothing back: no atom is brought about twice or was given, no state left twice."""
    made = {move.option.head for move in out if not move.back}
    if len(made) < len(out) or not problem.given.isdisjoint(made):
        return False
    left = [move.option.leaves for move in out if move.option.leaves >= 0]
    return len(set(left)) == len(left)


def _live_between(problem: Problem, handling: Handling, out: Sequence[Move]) -> bool:
    """Whether some target of ``out`` needs the supply on, which ``out`` changes too."""
    first_target = len(problem.compiled.names)
    return any(
        move.option.leaves in handling.energised or move.option.head in handling.energised for move in out
    ) and any(
        move.option.head >= first_target and not handling.energised.isdisjoint(move.option.states) for move in out
    )


def _takes_back(out: Sequence[Move], back: Sequence[Move], targets: int) -> bool:
    """Whether ``back`` takes back every move of ``out`` but the targets, in whatever order, and does nothing else."""
    if len(back) != len(out) - targets:
        return False
    done = {move.option.head: move.option for move in out}
    for move in back:
        option = move.option
        if option.leaves >= 0:
            edge = done.get(option.leaves)
            if edge is None or edge.way != option.way or edge.leaves != option.head:
                return False
        elif not move.back or done.get(option.head) is not option:
            return False
    return True
