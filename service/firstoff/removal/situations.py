"""The cheapest plan by a look at every situation there is (Dijkstra, Numer. Math. 1:269, 1959), where they are few.

Walks are told apart by what their changes of state cost. Where parts, single-use parts or exposures are made fewest, a
change of state costs next to nothing, and there is no end of walks that might still be better. Situations are finite:
which parts are off by which removal, the states in force, the targets served.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from heapq import heappop, heappush

from firstoff.removal.moves import Move, cost_of
from firstoff.removal.options import Option
from firstoff.removal.plans import ActKind
from firstoff.removal.problem import Problem
from firstoff.removal.request import Meter
from firstoff.removal.scope import Scope
from firstoff.removal.vectors import Vector, beats, together

MOST_SITUATIONS = 50_000
_LOOKS_A_TICK = 20

# Bits of the removals by which parts came off (none of parts that are off as found), of the parts off, of the states in
# force, of the targets served.
_Situation = tuple[int, int, int, int]


@dataclass(frozen=True, slots=True, eq=False)
class _Deed:
    """An option as bits: what it needs, what has to be on, and what it changes. ``number`` counts removals."""

    option: Option
    parts: int
    fitted: int
    states: int
    own: int
    number: int = 0


def few(problem: Problem, within: Scope, most: int = MOST_SITUATIONS) -> bool:
    """Whether there are few enough situations to look at each."""
    variable = problem.compiled.variable
    active = {variable[edge.head] for edges in within.edges.values() for edge in edges}
    sizes = [1 + len(options) + (part in problem.off) for part, options in within.removals.items()]
    sizes += [sum(1 for number in variable if number == each) for each in active]
    count = 1 << len(within.serves)
    for size in sizes:
        count *= size
        if count > most:
            return False
    return count <= most


def search(problem: Problem, within: Scope, meter: Meter) -> list[Move] | None:
    """The moves of the cheapest plan; None where there is none, or when ``meter`` is spent."""
    deeds = _Deeds(problem, within)
    start, end = deeds.ends()
    cost: dict[_Situation, int] = {start: 0}
    came: dict[_Situation, tuple[_Situation, Move]] = {}
    heap: list[tuple[int, int, _Situation]] = [(0, 0, start)]
    serial = 0
    while heap:
        amount, number, now = heappop(heap)
        if amount > cost[now]:
            continue
        if now == end:
            return _traced(came, now)
        if number % _LOOKS_A_TICK == 0 and not meter.tick():
            return None
        for move, after in deeds.steps(now):
            total = amount + cost_of([move])
            if total < cost.get(after, total + 1):
                cost[after] = total
                came[after] = (now, move)
                serial += 1
                heappush(heap, (total, serial, after))
    return None


def unbeaten(
    problem: Problem, within: Scope, figures: Callable[[Option], Vector], meter: Meter
) -> list[list[Move]] | None:
    """The moves of every plan whose figures no other plan beats, one for each; None once ``meter`` is spent.

    Every situation keeps all figures it can be reached with that no others there beat (Martins, Eur. J. Oper. Res.
    16:236, 1984).
    """
    deeds = _Deeds(problem, within)
    start, end = deeds.ends()
    nothing: Vector = (0, 0, 0, 0)
    kept: dict[_Situation, list[Vector]] = {start: [nothing]}
    came: dict[tuple[_Situation, Vector], tuple[_Situation, Vector, Move]] = {}
    heap: list[tuple[Vector, int, _Situation]] = [(nothing, 0, start)]
    serial = 0
    while heap:
        vector, number, now = heappop(heap)
        if vector not in kept[now] or any(beats(other, vector) for other in kept.get(end, ()) if other != vector):
            continue
        if now == end:
            continue
        if number % _LOOKS_A_TICK == 0 and not meter.tick():
            return None
        for move, after in deeds.steps(now):
            reached = vector if move.back and not move.option.puts_back else together(vector, figures(move.option))
            labels = kept.setdefault(after, [])
            if not any(beats(label, reached) for label in labels):
                labels[:] = [label for label in labels if not beats(reached, label)]
                labels.append(reached)
                came[after, reached] = (now, vector, move)
                serial += 1
                heappush(heap, (reached, serial, after))
    return [_moves_to(came, end, vector) for vector in kept.get(end, ())]


def _moves_to(
    came: dict[tuple[_Situation, Vector], tuple[_Situation, Vector, Move]], now: _Situation, vector: Vector
) -> list[Move]:
    moves: list[Move] = []
    while (now, vector) in came:
        now, vector, move = came[now, vector]
        moves.append(move)
    return moves[::-1]


def _traced(came: dict[_Situation, tuple[_Situation, Move]], now: _Situation) -> list[Move]:
    moves: list[Move] = []
    while now in came:
        now, move = came[now]
        moves.append(move)
    return moves[::-1]


class _Deeds:
    """The options of a scope as bits."""

    def __init__(self, problem: Problem, within: Scope) -> None:
        self._problem = problem
        self._part = {part: 1 << n for n, part in enumerate(within.removals)}
        self._first = problem.compiled.components
        self._first_target = len(problem.compiled.names)
        removals = [option for options in within.removals.values() for option in options]
        self._removals = [deed for n, option in enumerate(removals) for deed in self._deed(option, n)]
        self._refits = [deed for options in problem.refits.values() for each in options for deed in self._deed(each)]
        self._ways = {deed.own: 0 for deed in self._removals}
        for deed in self._removals:
            self._ways[deed.own] |= 1 << deed.number
        self.found = sum(self._part[part] for part in problem.off)
        self._serves = [deed for options in within.serves.values() for each in options for deed in self._deed(each)]
        self._edges = [deed for options in within.edges.values() for each in options for deed in self._deed(each)]

    def ends(self) -> tuple[_Situation, _Situation]:
        """The situation at the start, and the one at the end."""
        start, initial = self._problem.start, self._problem.compiled.initial
        served = (1 << len(self._problem.targets)) - 1
        return (0, self.found, self.state_bits(start), 0), (0, 0, self.state_bits(initial), served)

    def state_bits(self, states: tuple[int, ...]) -> int:
        """The bits of some state atoms."""
        return sum(1 << atom - self._first for atom in states)

    def steps(self, now: _Situation) -> Iterator[tuple[Move, _Situation]]:
        """Every move that can be made now, and the situation after it."""
        ways, parts, states, served = now
        for deed in self._removals:
            if deed.parts & ~parts or deed.states & ~states:
                continue
            own = 1 << deed.number
            if not deed.own & parts:
                yield Move(deed.option), (ways | own, parts | deed.own, states, served)
            elif own & ways:
                yield Move(deed.option, back=True), (ways & ~own, parts & ~deed.own, states, served)
        for deed in self._refits:
            if deed.own & parts and not (self._ways[deed.own] & ways or deed.parts & ~parts or deed.states & ~states):
                yield Move(deed.option, back=True), (ways, parts & ~deed.own, states, served)
        for deed in self._edges:
            if not (deed.parts & ~parts or deed.states & ~states or deed.fitted & parts):
                left = 1 << deed.option.leaves - self._first
                yield Move(deed.option), (ways, parts, states & ~left | deed.own, served)
        for deed in self._serves:
            if not (deed.own & served or deed.parts & ~parts or deed.states & ~states or deed.fitted & parts):
                yield Move(deed.option), (ways, parts, states, served | deed.own)

    def _deed(self, option: Option, number: int = 0) -> Iterator[_Deed]:
        """``option`` as bits; nothing where it needs a part off that nothing takes off."""
        if not all(part in self._part for part in option.off):
            return
        if option.kind in (ActKind.REMOVE, ActKind.REFIT):
            own = self._part[option.head]
        elif option.is_edge:
            own = 1 << option.head - self._first
        else:
            own = 1 << option.head - self._first_target
        fitted = sum(self._part[part] for part in option.fitted if part in self._part)
        parts = sum(self._part[part] for part in option.off)
        yield _Deed(option, parts, fitted, self.state_bits(option.states), own, number)
