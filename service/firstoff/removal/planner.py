"""The entrance of the room: an appliance compiled once, requests answered by it."""

from __future__ import annotations

from dataclasses import replace

from firstoff.appliance.model import Appliance
from firstoff.removal.alternatives import alternatives
from firstoff.removal.chained import chained
from firstoff.removal.closing import early
from firstoff.removal.compiled import compile_appliance
from firstoff.removal.errors import Undecided
from firstoff.removal.options import minutes_of, ticks
from firstoff.removal.outcome import Outcome, best
from firstoff.removal.plans import Plan
from firstoff.removal.problem import Problem
from firstoff.removal.request import Budget, Meter, Request
from firstoff.removal.simulate import simulate
from firstoff.removal.timeline import timeline


class Planner:
    """Answers removal requests on one appliance, which is compiled once. Holds no other state; threads may share it."""

    __slots__ = ("_compiled",)

    def __init__(self, appliance: Appliance) -> None:
        """Raises ``IllDefinedVariable``, or ``ValueError`` on negative minutes."""
        self._compiled = compile_appliance(appliance)

    def plan(self, request: Request, budget: Budget | None = None) -> Plan:
        """The cheapest plan for ``request`` with up to ``request.alternatives`` next-best ones.

        Without targets it puts back what is off and brings all states home. Raises ``UnknownTarget``,
        ``UnknownComponent``, ``OffTwice``, ``UnknownState``; ``Unreachable`` where there is no plan; ``Undecided``
        where ``budget`` (by default ``Budget()``) ends before one is found. Where it ends before the best plan found is
        proved best, that has ``optimal`` False and no alternatives; of several targets, a second budget is then shared
        out among each alone. The alternatives share another such budget.
        """
        budget = budget or Budget()
        problem = Problem(self._compiled, request, request.banned)
        if not problem.goals:
            return Plan(minutes=0.0, optimal=True, bound=0.0, acts=())
        meter = Meter(budget)
        outcome = self._best(problem, request, budget, meter)
        first = self._plan(request, problem, outcome)
        if request.alternatives <= 0 or not outcome.optimal:
            return replace(first, nodes=meter.nodes)
        others = [
            self._plan(request, problem, other)
            for other in alternatives(self._compiled, request, outcome, Meter(budget))
        ]
        return replace(first, nodes=meter.nodes, alternatives=tuple(others))

    def _best(self, problem: Problem, request: Request, budget: Budget, meter: Meter) -> Outcome:
        """The best plan the search finds, or the single targets' plans chained where those are cheaper."""
        undecided: Undecided | None = None
        outcome: Outcome | None = None
        try:
            outcome = best(problem, meter)
        except Undecided as error:
            undecided = error
        if outcome is not None and (outcome.optimal or len(problem.targets) < 2):
            return outcome
        other = chained(self._compiled, problem, request, budget) if len(problem.targets) > 1 else None
        if other is None or (outcome is not None and outcome.cost <= other.cost):
            if outcome is None:
                raise undecided or Undecided(0.0)
            return outcome
        known = outcome.bound if outcome is not None else ticks(undecided.bound) if undecided is not None else 0
        return replace(other, bound=min(max(other.bound, known), other.cost))

    def _plan(self, request: Request, problem: Problem, outcome: Outcome) -> Plan:
        moves = early(problem, outcome.moves) if problem.off else outcome.moves
        acts = timeline(problem, moves)
        minutes = simulate(self._compiled.appliance, request, acts)
        bound = minutes if outcome.optimal else min(minutes_of(outcome.bound), minutes)
        return Plan(minutes=minutes, optimal=outcome.optimal, bound=bound, acts=acts)


def plan(appliance: Appliance, request: Request, budget: Budget | None = None) -> Plan:
    """The cheapest plan for ``request`` on ``appliance``; see ``Planner.plan``."""
    return Planner(appliance).plan(request, budget)
