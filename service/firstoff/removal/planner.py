"""The entrance of the room: an appliance compiled once, requests answered by it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from firstoff.appliance.model import Appliance
from firstoff.removal.alternatives import alternatives
from firstoff.removal.chained import chained
from firstoff.removal.closing import early, opening
from firstoff.removal.compiled import Compiled, compile_appliance
from firstoff.removal.errors import Undecided
from firstoff.removal.graph import Node, removal_graph
from firstoff.removal.handling import handling_of
from firstoff.removal.measures import Amounts, amounts_of, bounds_of, figures_of, measured
from firstoff.removal.moves import Move, cost_of
from firstoff.removal.order import ordered
from firstoff.removal.outcome import Outcome, best
from firstoff.removal.pareto import by_minutes, unbeaten
from firstoff.removal.plans import Pareto, Plan
from firstoff.removal.problem import Problem
from firstoff.removal.prune import prune
from firstoff.removal.request import Budget, Measure, Meter, Request
from firstoff.removal.simulate import simulate
from firstoff.removal.timeline import timeline

#: Plans of more moves are not searched for what they can do without: that takes the square of the moves.
PRUNED_MOVES = 150
_NO_EXPOSURES: Mapping[str, tuple[int, int]] = MappingProxyType({})


class Planner:
    """Answers removal requests on one appliance, which is compiled once for each measure. Threads may share it."""

    __slots__ = ("_compiled", "_exposures", "_handling")

    def __init__(self, appliance: Appliance, exposures: Amounts = _NO_EXPOSURES) -> None:
        """``exposures``: how many hazardous exposures each way brings, by its id, when it is done and taken back.

        Raises ``IllDefinedVariable``, or ``ValueError`` on negative minutes.
        """
        self._exposures = exposures
        plain = compile_appliance(appliance)
        self._compiled = {Measure.MINUTES: plain}
        self._handling = handling_of(plain)

    def compiled(self, measure: Measure = Measure.MINUTES) -> Compiled:
        """The appliance with the costs of ``measure``."""
        found = self._compiled.get(measure)
        if found is None:
            plain = self._compiled[Measure.MINUTES]
            found = measured(plain, amounts_of(plain.appliance, measure, self._exposures))
            self._compiled[measure] = found
        return found

    def pareto(self, request: Request, budget: Budget | None = None) -> Pareto:
        """The plans that no other beats in everything they are judged by, one for each set of figures.

        ``request.minimise`` and ``request.alternatives`` do not matter. Raises as ``plan`` does; where ``budget`` ends
        the answer is not ``complete``, and where it ends before there is any plan it is what ``plan`` finds.
        """
        request = replace(request, minimise=Measure.MINUTES, alternatives=0)
        compiled = self.compiled()
        budget = budget or Budget()
        ahead = self._ahead(request)
        problem = Problem(compiled, ahead, ahead.banned)
        if request.first is None and not problem.goals:
            return Pareto((), complete=True)
        amounts = {measure: amounts_of(compiled.appliance, measure, self._exposures) for measure in Measure}
        try:
            front = unbeaten(self.compiled, amounts, ahead, Meter(budget))
        except Undecided:
            return Pareto((self.plan(request, budget),), complete=False)
        outcomes = [Outcome(moves, cost_of(moves), cost_of(moves), frozenset()) for moves in by_minutes(front)]
        return Pareto(tuple(self._plan(request, problem, each, budget) for each in outcomes), front.complete)

    def ways_to(self, request: Request) -> frozenset[str]:
        """Every usable way that could matter to ``request``: that a target needs, or that some such way needs.

        Raises ``UnknownTarget``, ``UnknownComponent``, ``UnknownState``.
        """
        choices = Problem(self.compiled(), request, request.banned).choices()
        return frozenset(option.way for found in choices.values() for _, _, option in found if option.way is not None)

    def plan(self, request: Request, budget: Budget | None = None) -> Plan:
        """The cheapest plan for ``request`` with up to ``request.alternatives`` next-best ones.

        Without targets it puts back what is off and brings all states home. Raises ``UnknownTarget``,
        ``UnknownComponent``, ``OffTwice``, ``UnknownState``; ``Unreachable`` where there is no plan; ``Undecided``
        where ``budget`` (by default ``Budget()``) ends before one is found. Where it ends before the best plan found is
        proved best, that has ``optimal`` False and no alternatives; of several targets, a second budget is then shared
        out among each alone. The alternatives share another such budget.
        """
        budget = budget or Budget()
        compiled = self.compiled(request.minimise)
        ahead = self._ahead(request)
        problem = Problem(compiled, ahead, ahead.banned)
        if request.first is None and not problem.goals:
            return Plan(minutes=0.0, optimal=True, bound=0.0, acts=(), order_proved=True)
        meter = Meter(budget)
        outcome = self._best(problem, ahead, budget, meter)
        first = self._plan(request, problem, outcome, budget)
        if request.alternatives <= 0 or not outcome.optimal:
            return replace(first, nodes=meter.nodes, alternatives_complete=request.alternatives <= 0)
        others: list[Plan] = []
        search = alternatives(compiled, ahead, outcome, Meter(budget))
        while True:
            try:
                others.append(self._plan(request, problem, next(search), budget))
            except StopIteration as ended:
                complete = bool(ended.value)
                return replace(first, nodes=meter.nodes, alternatives=tuple(others), alternatives_complete=complete)

    def graph(self, request: Request) -> tuple[Node, ...]:
        """All that the targets of ``request`` may need off, and by which ways; see ``graph.removal_graph``."""
        return removal_graph(self.compiled(), request)

    def _ahead(self, request: Request) -> Request:
        """``request`` as it is once the act that comes before all else is done.

        Raises ``Unreachable`` where that cannot be done at the start.
        """
        if request.first is None:
            return request
        compiled = self.compiled()
        edge = opening(Problem(compiled, request, request.banned), request.first)
        states = {**request.states, compiled.variables[compiled.variable[edge.head]]: compiled.names[edge.head]}
        return replace(request, first=None, states=states)

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
        other = chained(problem.compiled, problem, request, budget) if len(problem.targets) > 1 else None
        if other is None or (outcome is not None and outcome.cost <= other.cost):
            if outcome is None:
                raise undecided or Undecided(0.0)
            return outcome
        known = outcome.bound if outcome is not None else undecided.cost if undecided is not None else 0
        return replace(other, bound=min(max(other.bound, known), other.cost))

    def _plan(self, request: Request, problem: Problem, outcome: Outcome, budget: Budget) -> Plan:
        """The plan for ``request``; ``problem`` and ``outcome`` begin after the act that comes before all else."""
        moves = early(problem, outcome.moves) if problem.off else outcome.moves
        order = ordered(problem, self._handling, moves, budget)
        if not outcome.optimal and len(order.moves) <= PRUNED_MOVES:
            # In another order a plan that is not the cheapest may do without more: restoring the supply for nothing.
            fewer = prune(problem, order.moves)
            if len(fewer) < len(order.moves):
                order = ordered(problem, self._handling, fewer, budget)
        moves = order.moves
        if request.first is not None:
            problem = Problem(problem.compiled, request, request.banned)
            edge = opening(problem, request.first)
            moves = [Move(edge), *moves]
            outcome = replace(outcome, cost=outcome.cost + edge.cost, bound=outcome.bound + edge.cost)
        acts = timeline(problem, moves)
        appliance = problem.compiled.appliance
        minutes = simulate(appliance, request, acts)
        figures = replace(figures_of(appliance, self._exposures, acts), minutes=minutes)
        least = figures.of(request.minimise)
        bound, bound_minutes = (least, minutes) if outcome.optimal else bounds_of(request.minimise, outcome.bound)
        if bound >= least:
            bound, bound_minutes = least, min(bound_minutes, minutes)
        return Plan(
            minutes=minutes, optimal=outcome.optimal, bound=bound, acts=acts, figures=figures,
            bound_minutes=bound_minutes, order_proved=order.proved,
        )  # fmt: skip


def plan(appliance: Appliance, request: Request, budget: Budget | None = None) -> Plan:
    """The cheapest plan for ``request`` on ``appliance``; see ``Planner.plan``."""
    return Planner(appliance).plan(request, budget)
