"""Puts picked options in an order that can be carried out."""

from __future__ import annotations

from bisect import insort
from collections.abc import Iterable, Mapping
from heapq import heappop, heappush

from firstoff.removal.compiled import Compiled
from firstoff.removal.moves import Move, taken_back
from firstoff.removal.options import Option
from firstoff.removal.problem import Choice, Problem


def out_and_back(problem: Problem, picks: dict[int, Choice]) -> list[Move] | None:
    """The picks out, in an order that can be carried out, and the mirror of it back; None where none is found.

    Nothing is done that would spoil what a later act needs: a state is left only once no act waits for it, a part
    stays on while an act waits that needs it fitted. Where such an order exists the picks are a plan: h+ is reached
    in the full model. What is left once the targets are served (ways to initial states of variables that started
    elsewhere) is done after the mirror.
    """
    run = Run(problem.compiled, picks, Pool(problem.compiled))
    out = run.until_served(len(problem.targets))
    if out is None:
        return None
    rest = run.homewards(problem.start)
    return None if rest is None else [*out, *taken_back(problem.compiled, out), *rest]


class Pool:
    """Removals that can be done now. Hands them out zone by zone, and within a zone by the tools in hand."""

    def __init__(self, compiled: Compiled) -> None:
        self._compiled = compiled
        self._zones: dict[str, dict[frozenset[str], list[tuple[int, str]]]] = {}
        self._options: dict[str, Option] = {}
        self._zone = ""
        self._tools: frozenset[str] = frozenset()

    def add(self, option: Option) -> None:
        """Add a removal."""
        zone = self._compiled.zone[option.head]
        way = option.way or ""
        self._options[way] = option
        heappush(self._zones.setdefault(zone, {}).setdefault(option.kit, []), (option.head, way))

    def __bool__(self) -> bool:
        return bool(self._zones)

    def pop(self) -> Option:
        """Take the next: same zone and tools as the last, else same zone, else the first zone; first part first."""
        if self._zone not in self._zones:
            self._zone = min(self._zones, key=lambda zone: min(heap[0] for heap in self._zones[zone].values()))
        heaps = self._zones[self._zone]
        if self._tools not in heaps:
            self._tools = min(heaps, key=lambda tools: heaps[tools][0])
        _, way = heappop(heaps[self._tools])
        if not heaps[self._tools]:
            del heaps[self._tools]
        if not heaps:
            del self._zones[self._zone]
        return self._options.pop(way)


class Ranked:
    """Removals that can be done now. Hands them out by their rank in ``order``, those without one last."""

    def __init__(self, order: Mapping[int, int]) -> None:
        self._order = order
        self._heap: list[tuple[int, int]] = []
        self._options: dict[int, Option] = {}

    def add(self, option: Option) -> None:
        """Add a removal."""
        self._options[option.head] = option
        heappush(self._heap, (self._order.get(option.head, len(self._order)), option.head))

    def __bool__(self) -> bool:
        return bool(self._heap)

    def pop(self) -> Option:
        """Take the next."""
        return self._options.pop(heappop(self._heap)[1])


class Run:
    """One attempt to put ``picks`` in order."""

    def __init__(self, compiled: Compiled, picks: Mapping[int, Choice], pool: Pool | Ranked) -> None:
        """``pool`` is empty and will hand out the removals; the needs of a pick are those that are not met yet."""
        self._initial = compiled.initial
        self._first_target = len(compiled.names)
        self._components = compiled.components
        self._pending = {atom: choice[2] for atom, choice in picks.items()}
        self._unmet = {atom: len(choice[1]) for atom, choice in picks.items()}
        self._waiting: dict[int, list[int]] = {}
        self._users: dict[int, int] = {}
        for atom, (_, needs, option) in picks.items():
            for need in needs:
                self._waiting.setdefault(need, []).append(atom)
            for need in (*option.states, *option.fitted):
                self._users[need] = self._users.get(need, 0) + 1
        self._pool = pool
        self._serves: list[int] = []
        self._edges: list[int] = []
        self._guards: list[int] = []
        for atom in picks:
            if not self._unmet[atom]:
                self._ready(atom)

    def until_done(self) -> list[Move] | None:
        """The moves until nothing is pending, or None when stuck."""
        moves: list[Move] = []
        while self._pending:
            option = self._next()
            if option is None:
                return None
            self._do(option)
            moves.append(Move(option))
        return moves

    def until_served(self, targets: int) -> list[Move] | None:
        """The moves until this many targets are served, or None when stuck."""
        out: list[Move] = []
        left = targets
        while left:
            option = self._next()
            if option is None:
                return None
            left -= option.head >= self._first_target
            self._do(option)
            out.append(Move(option))
        return out

    def homewards(self, start: Iterable[int]) -> list[Move] | None:
        """The changes of state still pending, done from ``start`` with all fitted.

        None where they cannot be done then, or do not lead to the initial states.
        """
        moves: list[Move] = []
        now = set(start)
        while self._pending:
            option = next((edge for edge in map(self._pending.__getitem__, self._edges) if self._fits(edge, now)), None)
            if option is None:
                return None
            self._edges.remove(option.head)
            self._do(option)
            now.remove(option.leaves)
            now.add(option.head)
            moves.append(Move(option))
        return moves if now.issuperset(self._initial) else None

    def _fits(self, edge: Option, now: set[int]) -> bool:
        """Whether ``edge`` can be done with the states ``now`` and all fitted, and spoils nothing."""
        return now.issuperset(edge.states) and not edge.off and self._users[edge.leaves] == 1

    def _ready(self, atom: int) -> None:
        """File an option that has all it needs."""
        option = self._pending[atom]
        if atom >= self._first_target:
            heappush(self._serves, atom)
        elif atom >= self._components:
            insort(self._edges, atom)
        elif self._users.get(atom):
            self._guards.append(atom)
        else:
            self._pool.add(option)

    def _next(self) -> Option | None:
        """The next option that spoils nothing: a target, a removal, a change of state."""
        if self._serves:
            return self._pending[heappop(self._serves)]
        if self._pool:
            return self._pool.pop()
        for position, atom in enumerate(self._edges):
            if self._users[self._pending[atom].leaves] == 1:
                del self._edges[position]
                return self._pending[atom]
        return None

    def _do(self, option: Option) -> None:
        """Note that ``option`` is done and file what it makes ready."""
        del self._pending[option.head]
        for need in (*option.states, *option.fitted):
            self._users[need] -= 1
        if option.fitted:
            free = [atom for atom in self._guards if not self._users.get(atom)]
            self._guards = [atom for atom in self._guards if self._users.get(atom)]
            self._file(free)
        woken = self._waiting.get(option.head, ())
        for atom in woken:
            self._unmet[atom] -= 1
        self._file(atom for atom in woken if not self._unmet[atom])

    def _file(self, atoms: Iterable[int]) -> None:
        for atom in atoms:
            self._ready(atom)
