"""Everything that plans are judged by, side by side in whole numbers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from heapq import heappop, heappush

from firstoff.removal.measures import Amounts, amount_back_of, amount_of
from firstoff.removal.moves import Move
from firstoff.removal.options import Option, ticks, whole
from firstoff.removal.plans import ActKind
from firstoff.removal.problem import Problem
from firstoff.removal.request import Measure

#: Millionths of a minute, parts taken off, single-use parts broken, exposures: in the order of ``Measure``.
Vector = tuple[int, int, int, int]
NOTHING: Vector = (0, 0, 0, 0)


def beats(one: Vector, other: Vector) -> bool:
    """Whether ``one`` has no more of anything than ``other``."""
    return one[0] <= other[0] and one[1] <= other[1] and one[2] <= other[2] and one[3] <= other[3]


def together(one: Vector, other: Vector) -> Vector:
    """The sum of two."""
    return one[0] + other[0], one[1] + other[1], one[2] + other[2], one[3] + other[3]


def larger(one: Vector, other: Vector) -> Vector:
    """The larger of two, figure by figure."""
    return max(one[0], other[0]), max(one[1], other[1]), max(one[2], other[2]), max(one[3], other[3])


class Vectors:
    """The figures of options and moves of one problem, and what a set of ways takes at least."""

    def __init__(self, problem: Problem, amounts: Mapping[Measure, Amounts]) -> None:
        self._problem = problem
        self._amounts = tuple(amounts[measure] for measure in (Measure.PARTS, Measure.SINGLE_USE, Measure.EXPOSURE))
        self._counts = {measure: any(any(each) for each in amounts[measure].values()) for measure in amounts}
        compiled = problem.compiled
        self._removals: dict[str, Option] = {}
        self._serves: dict[str, Option] = {}
        self._edges: dict[int, list[Option]] = {}
        for atom in range(len(compiled.names)):
            for option in compiled.by_head[atom]:
                if option.kind is ActKind.REMOVE:
                    self._removals[option.way or ""] = option
                elif option.is_edge and problem.usable(option):
                    self._edges.setdefault(compiled.variable[atom], []).append(option)
        for found in problem.serves:
            self._serves.update((option.way, option) for option in found if option.way is not None)

    def counts(self, measure: Measure) -> bool:
        """Whether any way has any of ``measure``."""
        return measure is Measure.MINUTES or self._counts[measure]

    def of_option(self, option: Option) -> Vector:
        """The figures of an option; a removal counts with its refit."""
        parts, broken, exposed = (amount_of(option, amounts) for amounts in self._amounts)
        return self._minutes(option), parts, broken, exposed

    def of(self, moves: Iterable[Move]) -> Vector:
        """The figures of a plan."""
        total = NOTHING
        for move in moves:
            if not move.back or move.option.puts_back:
                total = together(total, self.of_option(move.option))
        return total

    def least(self, ways: frozenset[str], banned: frozenset[str]) -> Vector:
        """What a plan takes at least that holds all of ``ways`` and none of ``banned``."""
        total = NOTHING
        for way in ways:
            option = self._removals.get(way) or self._serves.get(way)
            if option is not None:
                found_off = option.kind is ActKind.REMOVE and option.head in self._problem.off
                total = together(total, self._back(option) if found_off else self.of_option(option))
        for variable, edges in self._edges.items():
            held = {edge.way for edge in edges if edge.way is not None and edge.way in ways}
            if held:
                total = together(total, self._walk(variable, [edge for edge in edges if edge.way not in banned], held))
        return total

    def _walk(self, variable: int, edges: list[Option], held: set[str]) -> Vector:
        """What the changes of one variable take at least when every preparation in ``held`` is used.

        A preparation without which the states fall apart is crossed both ways, or, where it lies between the start
        and the end, one way; these add up. Any other lies on some walk from the start to the end.
        """
        start, end = self._problem.start[variable], self._problem.compiled.initial[variable]
        crossed, longest = NOTHING, NOTHING
        for way in held:
            own = [edge for edge in edges if edge.way == way]
            rest = [edge for edge in edges if edge.way != way]
            near = _reached(start, rest)
            if not own or {own[0].leaves, own[0].head} <= near or near.isdisjoint((own[0].leaves, own[0].head)):
                longest = larger(longest, self._through(start, end, own, edges))
            elif end in near:
                for edge in own:
                    crossed = together(crossed, self.of_option(edge))
            else:
                out = next(edge for edge in own if edge.leaves in near)
                crossed = together(crossed, self.of_option(out))
        return larger(crossed, longest)

    def _through(self, start: int, end: int, own: list[Option], edges: list[Option]) -> Vector:
        """What a walk from ``start`` to ``end`` by one of ``own`` takes at least, each figure for itself."""
        figures = []
        for place in range(4):
            ahead = self._distances(start, edges, place, forwards=True)
            behind = self._distances(end, edges, place, forwards=False)
            figures.append(
                min(
                    (
                        ahead[edge.leaves] + self.of_option(edge)[place] + behind[edge.head]
                        for edge in own
                        if edge.leaves in ahead and edge.head in behind
                    ),
                    default=0,
                )
            )
        return figures[0], figures[1], figures[2], figures[3]

    def _distances(self, origin: int, edges: list[Option], place: int, *, forwards: bool) -> dict[int, int]:
        """The least of one figure from ``origin`` to each state, or from each state to ``origin``."""
        known: dict[int, int] = {}
        heap = [(0, origin)]
        while heap:
            amount, state = heappop(heap)
            if state in known:
                continue
            known[state] = amount
            for edge in edges:
                near, far = (edge.leaves, edge.head) if forwards else (edge.head, edge.leaves)
                if near == state and far not in known:
                    heappush(heap, (amount + self.of_option(edge)[place], far))
        return known

    def _minutes(self, option: Option) -> int:
        if option.kind is ActKind.REMOVE:
            return whole(ticks(option.minutes) + ticks(option.minutes_back))
        return whole(ticks(option.minutes))

    def _back(self, option: Option) -> Vector:
        """The figures of a refit alone."""
        parts, broken, exposed = (amount_back_of(option, amounts) for amounts in self._amounts)
        return whole(ticks(option.minutes_back)), parts, broken, exposed


def _reached(start: int, edges: list[Option]) -> set[int]:
    """The states that ``edges`` lead to from ``start``; every change of state can be taken back."""
    reached = {start}
    grown = True
    while grown:
        grown = False
        for edge in edges:
            if edge.leaves in reached and edge.head not in reached:
                reached.add(edge.head)
                grown = True
    return reached
