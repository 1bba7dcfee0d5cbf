"""A plan for several targets made of plans for each alone, for when the search for a common one ran out of budget."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from firstoff.removal.compiled import Compiled
from firstoff.removal.errors import Undecided
from firstoff.removal.moves import Move, cost_of
from firstoff.removal.outcome import Outcome, best
from firstoff.removal.problem import Problem
from firstoff.removal.prune import prune
from firstoff.removal.request import Budget, Meter, Request


def chained(compiled: Compiled, problem: Problem, request: Request, budget: Budget) -> Outcome | None:
    """The cheapest plans of the single targets one after the other, less what they do twice; None where one is lacking.

    The first puts back what was found off, and each ends with the machine closed and in its initial states, so the next
    can follow. No plan for all is cheaper than the one for any target alone, which bounds it; that holds for plans from
    the start only, so the later ones count where that is a closed machine in its initial states.
    """
    moves: list[Move] = []
    bound = 0
    first_target = len(compiled.names)
    share = None if budget.seconds is None else budget.seconds / len(problem.targets)
    budget = replace(budget, seconds=share)
    for number, target in enumerate(problem.targets):
        states: Mapping[str, str] = request.states if number == 0 else {}
        off = request.off if number == 0 else frozenset()
        alone = Problem(compiled, replace(request, targets=(target,), off=off, states=states), request.banned)
        try:
            outcome = best(alone, Meter(budget))
        except Undecided:
            return None
        if number == 0 or not (request.states or request.off):
            bound = max(bound, outcome.bound)
        for move in outcome.moves:
            served = move.option.head >= first_target
            moves.append(Move(replace(move.option, head=first_target + number)) if served else move)
    merged = prune(problem, moves)
    return Outcome(merged, cost_of(merged), min(bound, cost_of(merged)), frozenset())
