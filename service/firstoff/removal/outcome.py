"""The best plan for one problem, from the quick way to the thorough one."""

from __future__ import annotations

from dataclasses import dataclass

from firstoff.removal import following, obstacles, reach, situations
from firstoff.removal.closing import closed_up
from firstoff.removal.errors import Undecided
from firstoff.removal.measures import UNITS, bounds_of
from firstoff.removal.moves import Move, cost_of
from firstoff.removal.options import whole
from firstoff.removal.problem import Problem
from firstoff.removal.prune import prune
from firstoff.removal.request import Measure, Meter
from firstoff.removal.schedule import out_and_back
from firstoff.removal.scope import Scope, scope
from firstoff.removal.solver import Solution, solve

# Where there can be no more positions than this, they are explored before walks are searched, to find out what is
# impossible. Else that comes last, and walks have a share of the budget.
_FEW_POSITIONS = 2_000
_SHARE = 0.75


@dataclass(frozen=True, slots=True, eq=False)
class Outcome:
    """A plan's moves, their cost, a proven lower bound on any plan's, and ways that no plan can do without."""

    moves: list[Move]
    cost: int
    bound: int
    forced: frozenset[str]

    @property
    def optimal(self) -> bool:
        """Whether no plan costs less."""
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
    moves = closed_up(problem, solution.picks) if problem.off else out_and_back(problem, solution.picks)
    if moves is not None and whole(cost_of(moves)) <= whole(bound):
        return Outcome(moves, cost_of(moves), bound, forced)
    within = scope(problem)
    if problem.minimise is not Measure.MINUTES and situations.few(problem, within):
        looked = situations.search(problem, within, meter.part(0.25))
        if looked is not None:
            return Outcome(looked, cost_of(looked), cost_of(looked), forced)
    explored = _explored(problem, within, meter) if reach.few(problem, within, _FEW_POSITIONS) else None
    picks = [choice[2] for choice in solution.picks.values()]
    bound, found = following.search(problem, within, picks, bound, meter.part(_SHARE))
    plans = [found, moves]
    if found is None:
        there, back = explored or _explored(problem, within, meter)
        shown = None if there is None else reach.plan_by(problem, there, back)
        plans.append(None if shown is None else prune(problem, shown))
    known = [(cost_of(some), number) for number, some in enumerate(plans) if some is not None]
    if not known:
        raise Undecided(bounds_of(problem.minimise, bound)[0], UNITS[problem.minimise], bound)
    cost, number = min(known)
    return Outcome(plans[number] or [], cost, min(bound, cost), forced)


def _explored(problem: Problem, within: Scope, meter: Meter) -> tuple[reach.Reach | None, reach.Reach]:
    """What can be reached from the start and from the initial states; raises ``Unreachable`` if that is too little."""
    explored, back = reach.both_ways(problem, within, meter)
    if back.complete and (explored is None or explored.complete):
        obstacles.check(problem, within, explored, back)
    return explored, back
