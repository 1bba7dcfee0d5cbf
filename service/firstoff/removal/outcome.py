"""The best plan for one problem, from the quick way to the thorough one."""

from __future__ import annotations

from dataclasses import dataclass

from firstoff.removal import following, obstacles, reach
from firstoff.removal.errors import Undecided
from firstoff.removal.moves import Move, cost_of
from firstoff.removal.options import minutes_of, whole
from firstoff.removal.problem import Problem
from firstoff.removal.prune import prune
from firstoff.removal.request import Meter
from firstoff.removal.schedule import out_and_back
from firstoff.removal.scope import Scope, scope
from firstoff.removal.solver import Solution, solve

# Positions explored before walks are searched, to find out what is impossible; and the share of the budget for walks.
_AT_FIRST = 200
_SHARE = 0.75


@dataclass(frozen=True, slots=True, eq=False)
class Outcome:
    """A plan's moves, their cost in ticks, a proven lower bound on any plan's, and ways that no plan can do without."""

    moves: list[Move]
    cost: int
    bound: int
    forced: frozenset[str]

    @property
    def optimal(self) -> bool:
        """Whether no plan takes less time."""
        return whole(self.bound) >= whole(self.cost)

    @property
    def ways(self) -> frozenset[str]:
        """Ids of the removals, access paths and preparations used."""
        return frozenset(move.option.way for move in self.moves if move.option.way is not None)


def relaxed(problem: Problem, meter: Meter) -> Solution | None:
    """h+ of the problem, in shifted weights; None where it cannot be solved even if nothing ever had to be undone."""
    return solve(problem.goals, problem.choices(), problem.block, meter)


def best(problem: Problem, meter: Meter, solution: Solution | None = None) -> Outcome:
    """The cheapest plan. ``solution`` is ``relaxed(problem, ...)`` where that is known already.

    If the picks of h+ can be put in order, they are the plan. Else the full model is searched. Raises
    ``Unreachable`` where there is no plan, ``Undecided`` where none was found before ``meter`` was spent.
    """
    solution = solution or relaxed(problem, meter)
    if solution is None:
        raise obstacles.unreachable(problem)
    bound = solution.bound + problem.constant
    forced = frozenset(way for atom in solution.forced if (way := solution.picks[atom][2].way) is not None)
    moves = out_and_back(problem, solution.picks)
    if moves is not None and whole(cost_of(moves)) <= whole(bound):
        return Outcome(moves, cost_of(moves), bound, forced)
    within = scope(problem)
    explored, back = _explored(problem, within, meter.part(1.0, _AT_FIRST))
    picks = [choice[2] for choice in solution.picks.values()]
    bound, found = following.search(problem, within, picks, bound, meter.part(_SHARE))
    plans = [found, moves]
    if found is None:
        if not (explored.complete and back.complete):
            explored, back = _explored(problem, within, meter)
        shown = reach.plan_by(problem, explored, back)
        plans.append(None if shown is None else prune(problem, shown))
    known = [(cost_of(some), number) for number, some in enumerate(plans) if some is not None]
    if not known:
        raise Undecided(minutes_of(bound))
    cost, number = min(known)
    return Outcome(plans[number] or [], cost, min(bound, cost), forced)


def _explored(problem: Problem, within: Scope, meter: Meter) -> tuple[reach.Reach, reach.Reach]:
    """What can be reached from the start and from the initial states; raises ``Unreachable`` if that is too little."""
    explored = reach.explore(problem, within, meter, problem.start)
    back = explored
    if problem.start != problem.compiled.initial:
        back = reach.explore(problem, within, meter, problem.compiled.initial)
    if explored.complete and back.complete:
        obstacles.check(problem, within, explored, back)
    return explored, back
