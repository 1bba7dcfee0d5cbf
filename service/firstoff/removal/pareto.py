"""The plans that no other beats in everything: minutes, parts taken off, single-use parts broken, exposures.

Where situations are few, each is looked at with all the figures it can be reached with. Else the plans are split into
classes, as Lawler (Manage. Sci. 18:401, 1972) splits for the K best solutions: a class holds the plans that leave out
some ways and hold some others. What is best in each figure without the ways left out bounds its plans, and so does
what the ways held take at least. A class that a known plan beats in everything is done with. Of the others one of the
best plans is taken, and the class split by the ways of that plan: what leaves out one of them, and what holds them all.
The last is seldom better in anything, since figures add up; it can be where a plan uses a way twice.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from heapq import heappop, heappush

from firstoff.removal import situations
from firstoff.removal.alternatives import worth_leaving_out
from firstoff.removal.compiled import Compiled
from firstoff.removal.errors import Undecided, Unreachable
from firstoff.removal.measures import Amounts
from firstoff.removal.moves import Move
from firstoff.removal.options import measure_of, whole
from firstoff.removal.outcome import Outcome, best, relaxed
from firstoff.removal.problem import Problem
from firstoff.removal.request import Measure, Meter, Request
from firstoff.removal.scope import scope
from firstoff.removal.vectors import Vector, Vectors, beats

MEASURES = tuple(Measure)
# The share of the budget for a look at every situation.
_LOOK = 0.25
MOST_SITUATIONS = 5_000


@dataclass(slots=True)
class Front:
    """Moves by the figures they take; none beats another. ``complete``: no other plan is unbeaten by these."""

    plans: dict[Vector, list[Move]]
    complete: bool = True

    def add(self, vector: Vector, moves: list[Move]) -> None:
        """Keep a plan unless another is as good, and drop those that it beats."""
        if self.beats(vector):
            return
        for other in [other for other in self.plans if beats(vector, other)]:
            del self.plans[other]
        self.plans[vector] = moves

    def beats(self, vector: Vector) -> bool:
        """Whether some plan has no more of anything."""
        return any(beats(known, vector) for known in self.plans)


def unbeaten(
    compiled: Callable[[Measure], Compiled], amounts: Mapping[Measure, Amounts], request: Request, meter: Meter
) -> Front:
    """The plans that no other beats, one for each set of figures.

    Raises ``Unreachable`` where there is no plan, ``Undecided`` where none was found before ``meter`` was spent.
    """
    problem = Problem(compiled(Measure.MINUTES), replace(request, minimise=Measure.MINUTES), request.banned)
    solution = relaxed(problem, meter)
    vectors = Vectors(problem, amounts)
    within = scope(problem)
    if solution is not None and situations.few(problem, within, MOST_SITUATIONS):
        looked = situations.unbeaten(problem, within, vectors.of_option, meter.part(_LOOK))
        if looked:
            return Front({vectors.of(moves): moves for moves in looked})
    first = best(problem, meter, solution)
    front = Front({vectors.of(first.moves): first.moves})
    return _Split(compiled, vectors, request, meter, front).run(first)


@dataclass(frozen=True, slots=True, eq=False)
class _Best:
    """What is best in one figure: a lower bound on it, and the plan with its ways, if one was found."""

    bound: int
    outcome: Outcome | None = None

    def without(self, ways: frozenset[str]) -> _Best | None:
        """The same for fewer plans; None where the plan is not among these."""
        return self if self.outcome is not None and self.outcome.ways.isdisjoint(ways) else None


@dataclass(frozen=True, slots=True, eq=False)
class _Class:
    """The plans that leave out ``banned`` and hold ``held``, with what is best in each figure without ``banned``."""

    banned: frozenset[str]
    held: frozenset[str]
    bests: Mapping[Measure, _Best]


class _Split:
    """One search."""

    def __init__(
        self, compiled: Callable[[Measure], Compiled], vectors: Vectors, request: Request, meter: Meter, front: Front
    ) -> None:
        self._compiled = compiled
        self._vectors = vectors
        self._request = request
        self._meter = meter
        self._front = front
        self._heap: list[tuple[int, int, _Class]] = []
        self._serial = 0
        self._measures = tuple(measure for measure in MEASURES if vectors.counts(measure))

    def run(self, first: Outcome) -> Front:
        """All classes, the one with the fewest minutes first."""
        quickest = _Best(whole(first.bound), first)
        self._push(_Class(self._request.banned, frozenset(), {Measure.MINUTES: quickest}), frozenset())
        while self._heap:
            if not self._meter.tick():
                self._front.complete = False
                break
            _, _, here = heappop(self._heap)
            if not self._front.beats(self._bound(here)):
                self._divide(here)
        return self._front

    def _push(self, parent: _Class, more: frozenset[str]) -> None:
        """Keep the class without ``more``, once what is best in it is known, unless it is beaten or empty."""
        banned = parent.banned | more
        here = _Class(banned, parent.held, {m: _Best(known.bound) for m, known in parent.bests.items()})
        bests = dict(here.bests)
        for measure in self._measures:
            known = parent.bests.get(measure)
            kept = known.without(more) if known is not None else None
            found = kept or self._best(measure, banned, here)
            if found is None:
                return
            bests[measure] = found
            here = replace(here, bests=bests)
            if self._front.beats(self._bound(here)):
                return
        self._serial += 1
        heappush(self._heap, (bests[Measure.MINUTES].bound, self._serial, here))

    def _best(self, measure: Measure, banned: frozenset[str], here: _Class) -> _Best | None:
        """What is best in ``measure`` without ``banned``; None where there is no plan. The plan goes to the front."""
        problem = Problem(self._compiled(measure), replace(self._request, minimise=measure), banned)
        solution = relaxed(problem, self._meter)
        if solution is None:
            return None
        bound = self._figure(measure, solution.bound + problem.constant)
        least = _Best(max(bound, here.bests[measure].bound if measure in here.bests else 0))
        if self._front.beats(self._bound(replace(here, bests={**here.bests, measure: least}))):
            return least
        try:
            outcome = best(problem, self._meter, solution)
        except Unreachable:
            return None
        except Undecided:
            return least
        self._front.add(self._vectors.of(outcome.moves), outcome.moves)
        return _Best(max(least.bound, self._figure(measure, outcome.bound)), outcome)

    def _divide(self, here: _Class) -> None:
        """Split by a plan that is best in something and holds a way that not all plans of the class hold."""
        problem = Problem(self._compiled(Measure.MINUTES), self._request, here.banned)
        chosen: list[str] | None = None
        ways: frozenset[str] = frozenset()
        for found in here.bests.values():
            if found.outcome is None or found.outcome.ways <= here.held:
                continue
            loose = [way for way in worth_leaving_out(problem, found.outcome) if way not in here.held]
            if chosen is None or len(loose) < len(chosen):
                chosen, ways = loose, found.outcome.ways
        if chosen is None:
            self._front.complete = False
            return
        held = here.held
        for way in chosen:
            self._push(replace(here, held=held), frozenset({way}))
            held |= {way}
        rest = replace(here, held=here.held | ways)
        if not self._front.beats(self._bound(rest)):
            self._serial += 1
            heappush(self._heap, (here.bests[Measure.MINUTES].bound, self._serial, rest))

    def _bound(self, here: _Class) -> Vector:
        """No plan of the class has less of anything."""
        held = self._vectors.least(here.held, here.banned)
        figures = [
            max(held[place], here.bests[measure].bound if measure in here.bests else 0)
            for place, measure in enumerate(MEASURES)
        ]
        return figures[0], figures[1], figures[2], figures[3]

    @staticmethod
    def _figure(measure: Measure, amount: int) -> int:
        return whole(amount) if measure is Measure.MINUTES else measure_of(amount)


def by_minutes(front: Front) -> Iterable[list[Move]]:
    """The moves of the plans, the quickest first."""
    return (front.plans[vector] for vector in sorted(front.plans))
