"""What a search over walks asks of a request, in bit masks.

Atoms are bits of a mask, and so are *ways*: the removals, the ways to serve a target within a phase, and the changes
of state that are done once (frames, and variables that the search does not follow). An *event* is what ends a phase: a
followed variable changes, or a target is served that needs something fitted.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from firstoff.removal.blocks import blocks
from firstoff.removal.options import Option
from firstoff.removal.problem import Problem
from firstoff.removal.scope import Scope


@dataclass(frozen=True, slots=True, eq=False)
class Way:
    """A way that is used within a phase. ``parts`` and ``standing`` are the atoms it needs, ``needs`` their mask.

    ``states`` are the states of followed variables that it needs, ``cost`` is in ticks shifted by the potential. A way
    that puts back a part found off takes nothing to begin; what it needs holds where it ends.
    """

    option: Option
    head: int
    cost: int
    parts: tuple[int, ...]
    standing: tuple[int, ...]
    needs: int
    states: frozenset[int]


@dataclass(frozen=True, slots=True, eq=False)
class Event:
    """What ends a phase. ``needs`` is the mask of parts off and states standing, ``fitted`` of parts that are on.

    ``variable`` is the place in ``Terrain.followed`` of the variable that changes, -1 where a target is served.
    """

    option: Option
    variable: int
    cost: int
    parts: tuple[int, ...]
    standing: tuple[int, ...]
    needs: int
    fitted: int
    states: frozenset[int]


class Terrain:
    """A request as a search over the ``followed`` variables sees it. Grows caches, and is otherwise read only.

    ``ways`` are numbered; ``by_head`` gives the numbers of the ways of a part, a target or a standing state. ``edges``
    are the changes of followed variables by the state they leave, ``into`` by the state they give, ``tests`` the ways
    to serve a target that need something fitted. ``number`` is that of a way's option, ``upwards`` the parts and
    standing states, what is needed before what needs it, save for those that may need one another, the ``tangled``.
    """

    def __init__(self, problem: Problem, within: Scope, followed: tuple[int, ...]) -> None:
        compiled = problem.compiled
        self.problem = problem
        self.within = within
        self.followed = followed
        states = range(compiled.components, len(compiled.names))
        self.varying = frozenset(state for state in states if compiled.variable[state] in followed)
        self.start = frozenset(problem.start[number] for number in followed)
        self.home = frozenset(compiled.initial[number] for number in followed)
        self.components = compiled.components
        loose = set(within.followed).difference(followed)
        self.standing_edges = [
            *within.frames.values(),
            *(
                edge
                for found in within.edges.values()
                for edge in found
                if compiled.variable[edge.head] in loose and edge.head not in problem.given
            ),
        ]
        self.standing = frozenset(edge.head for edge in self.standing_edges)
        self.found_off = problem.off
        self._fixed = self.varying.union(problem.start)
        self.ways: list[Way] = [
            self._way(option)
            for group in (
                within.removals.values(),
                problem.refits.values(),
                within.serves.values(),
                (self.standing_edges,),
            )
            for found in group
            for option in found
            if option.is_edge or not within.fitted(option)
        ]
        self.by_head: dict[int, list[int]] = {}
        for number, way in enumerate(self.ways):
            self.by_head.setdefault(way.head, []).append(number)
        self.edges: dict[int, list[Event]] = {}
        self.into: dict[int, list[Event]] = {}
        for state, found in within.edges.items():
            if state in self.varying:
                for edge in found:
                    event = self._event(edge)
                    self.edges.setdefault(state, []).append(event)
                    self.into.setdefault(edge.head, []).append(event)
        self.tests = [
            self._event(option) for found in within.serves.values() for option in found if within.fitted(option)
        ]
        self.number = {way.option: number for number, way in enumerate(self.ways)}
        self.tangled, self.upwards = self._order()
        numbers = (number for head in self.upwards for number in self.by_head[head])
        self._rising = [number for number in numbers if not self.ways[number].option.puts_back]
        self._doable: dict[frozenset[int], int] = {}
        self._risen: dict[tuple[int, frozenset[int]], tuple[int, int]] = {}

    def doable(self, states: frozenset[int]) -> int:
        """The ways whose states hold in ``states``."""
        found = self._doable.get(states)
        if found is None:
            found = sum(1 << number for number, way in enumerate(self.ways) if way.states <= states)
            self._doable[states] = found
        return found

    def risen(self, brought: int, states: frozenset[int]) -> tuple[int, int]:
        """All atoms that can be brought about in a phase of ``states`` that starts with ``brought``, each by itself.

        With them the ways that can then be begun.
        """
        key = (brought, states)
        found = self._risen.get(key)
        if found is None:
            doable = self.doable(states)
            able = [number for number in self._rising if doable >> number & 1]
            changed = True
            while changed:
                changed = False
                for number in able:
                    way = self.ways[number]
                    if not brought >> way.head & 1 and not way.needs & ~brought:
                        brought |= 1 << way.head
                        changed = bool(self.tangled)
            begun = sum(1 << n for n, way in enumerate(self.ways) if doable >> n & 1 and not way.needs & ~brought)
            found = self._risen[key] = (brought, begun)
        return found

    def _way(self, option: Option) -> Way:
        parts, standing = self._needs(option)
        cost = self.problem.weight(option)
        return Way(option, option.head, cost, parts, standing, _mask((*parts, *standing)), self._states(option))

    def _event(self, option: Option) -> Event:
        parts, standing = self._needs(option)
        cost = self.problem.weight(option)
        needs, fitted = _mask((*parts, *standing)), _mask(self.within.fitted(option))
        number = self.problem.compiled.variable[option.head] if option.is_edge else -1
        place = self.followed.index(number) if option.is_edge else -1
        return Event(option, place, cost, parts, standing, needs, fitted, self._states(option))

    def _needs(self, option: Option) -> tuple[tuple[int, ...], tuple[int, ...]]:
        return option.off, tuple(state for state in option.states if state not in self._fixed)

    def _states(self, option: Option) -> frozenset[int]:
        return self.varying.intersection(option.states)

    def _order(self) -> tuple[frozenset[int], list[int]]:
        """The atoms that may need one another, and the parts and standing states, what is needed first."""
        heads = list(self.by_head)
        place = {head: position for position, head in enumerate(heads)}
        needs = [
            [place[need] for number in numbers for need in (*self.ways[number].parts, *self.ways[number].standing)
             if need in place]
            for numbers in self.by_head.values()
        ]  # fmt: skip
        block = blocks(needs)
        count: dict[int, int] = {}
        for number in block:
            count[number] = count.get(number, 0) + 1
        tangled = frozenset(head for head, number in zip(heads, block, strict=True) if count[number] > 1)
        first_target = len(self.problem.compiled.names)
        upwards = sorted(range(len(heads)), key=lambda position: -block[position])
        return tangled, [heads[position] for position in upwards if heads[position] < first_target]


def _mask(atoms: Iterable[int]) -> int:
    mask = 0
    for atom in atoms:
        mask |= 1 << atom
    return mask
