"""Next-best plans: each the cheapest that leaves out at least one way of every plan before it.

A plan that leaves out a way of the best one is a plan for the same request with that way ruled out. So the request is
split by the ways of each plan found, as Lawler (Manage. Sci. 18:401, 1972) splits for the K best solutions, except
that no way is forced in: a plan that holds an unneeded way is no alternative.
"""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import replace
from heapq import heappop, heappush

from firstoff.removal.compiled import Compiled
from firstoff.removal.errors import Undecided, Unreachable
from firstoff.removal.outcome import Outcome, best, relaxed
from firstoff.removal.plans import ActKind
from firstoff.removal.problem import Problem
from firstoff.removal.request import Meter, Request
from firstoff.removal.solver import Solution


def worth_leaving_out(problem: Problem, outcome: Outcome) -> list[str]:
    """Ways of a plan to rule out in turn, so that every plan that leaves out any of its ways is met.

    A way that no plan can do without is passed over, and so is the only removal of a part that another removal or
    preparation needs off: a plan without it is a plan without that other way. (One access path may serve with the
    part off or with its unit off, so what it needs is not implied.)
    """
    options = {move.option for move in outcome.moves}
    needed = {part for option in options if option.kind is not ActKind.SERVE for part in option.off}
    implied = {
        option.way
        for option in options
        if option.kind is ActKind.REMOVE
        and option.head in needed
        and sum(1 for other in problem.options(option.head) if problem.usable(other)) == 1
    }
    return sorted(outcome.ways - outcome.forced - implied)


def alternatives(compiled: Compiled, request: Request, first: Outcome, meter: Meter) -> Generator[Outcome, None, bool]:
    """Up to ``request.alternatives`` outcomes after ``first``, the cheapest first. ``meter`` is shared by all.

    Returns whether these are all there are, or as many as asked for: false where ``meter`` was spent before that.
    """
    known = [first.ways]
    heap: list[tuple[int, int, int, frozenset[str], Outcome | Solution]] = []
    tried: set[frozenset[str]] = set()
    floor: int | None = None
    serial = 0

    def split(outcome: Outcome, banned: frozenset[str]) -> None:
        """Bound the plans that leave out a way of ``outcome`` and whatever that left out."""
        nonlocal serial
        for way in worth_leaving_out(Problem(compiled, request, banned), outcome):
            ruled_out = banned | {way}
            if ruled_out in tried:
                continue
            tried.add(ruled_out)
            problem = Problem(compiled, request, ruled_out)
            solution = relaxed(problem, meter)
            if solution is not None:
                serial += 1
                heappush(heap, (solution.bound + problem.constant, 1, serial, ruled_out, solution))

    split(first, request.banned)
    left = request.alternatives
    while heap and left > 0:
        bound, _, _, banned, held = heappop(heap)
        if isinstance(held, Solution):
            try:
                outcome = best(Problem(compiled, request, banned), meter, held)
            except Unreachable:
                continue
            except Undecided:
                floor = bound if floor is None else min(floor, bound)
                continue
            serial += 1
            heappush(heap, (outcome.cost, 0, serial, banned, outcome))
            continue
        if not held.optimal:
            floor = held.bound if floor is None else min(floor, held.bound)
        if not any(ways <= held.ways for ways in known):
            known.append(held.ways)
            left -= 1
            yield held if floor is None else replace(held, bound=min(held.bound, floor))
        if left > 0:
            split(held, banned)
    return left <= 0 or floor is None
