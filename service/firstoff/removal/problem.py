"""One request on one compiled appliance: what is given, what is to be reached, which options may be used."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from heapq import heappop, heappush

from firstoff.appliance.model import Purpose
from firstoff.removal.compiled import Compiled
from firstoff.removal.errors import UnknownComponent, UnknownState, UnknownTarget
from firstoff.removal.options import Option
from firstoff.removal.plans import ActKind
from firstoff.removal.request import Request, Target

# A choice is (weight in ticks, atoms needed that are not given, the option).
Choice = tuple[int, tuple[int, ...], Option]
Choices = dict[int, list[Choice]]


class Problem:
    """A request in numbers. Read only once made.

    ``off`` are the component atoms off at the start, ``start`` the state atom in force of each variable, ``targets``
    the targets, each once and in order; target number i is atom ``len(compiled.names) + i`` and ``serves[i]`` are its
    options. ``home[state]`` is the least time in ticks from a state back to the initial one by usable preparations,
    whatever these need; states from which there is no way back are left out. ``constant`` is the way home from the
    start. Weights of state changes are shifted by these (a potential, as in Johnson, J. ACM 24:1, 1977): the
    shifted weight of a round trip from the start is its cost less ``constant``, and no weight is negative.
    """

    __slots__ = (
        "banned", "block", "compiled", "constant", "given", "home", "minimise", "off", "reasons", "serves", "start",
        "targets", "tools",
    )  # fmt: skip

    def __init__(self, compiled: Compiled, request: Request, banned: frozenset[str]) -> None:
        """Raises ``UnknownTarget``, ``UnknownComponent`` or ``UnknownState``."""
        self.compiled = compiled
        self.tools = request.tools
        self.banned = banned
        self.reasons = request.reasons
        self.minimise = request.minimise
        self.targets = tuple(dict.fromkeys(request.targets))
        for target in self.targets:
            if target.component not in compiled.number:
                raise UnknownTarget(target)
        for slug in request.off:
            if slug not in compiled.number:
                raise UnknownComponent(slug)
        self.off = frozenset(compiled.number[slug] for slug in request.off)
        self.start = _start(compiled, request.states)
        self.given = self.off.union(self.start)
        self.home = self._home()
        self.constant = sum(self.home.get(atom, 0) for atom in self.start)
        first = len(compiled.names)
        self.serves = tuple(tuple(self._serves(target, first + i)) for i, target in enumerate(self.targets))
        self.block: Sequence[int] = compiled.block + tuple(-1 - i for i in range(len(self.targets)))

    @property
    def goals(self) -> tuple[int, ...]:
        """Atoms to bring about: every target, and the initial state of a variable that starts in another."""
        first = len(self.compiled.names)
        astray = (initial for initial in self.compiled.initial if initial not in self.given)
        return (*range(first, first + len(self.targets)), *astray)

    def missing(self, option: Option) -> frozenset[str]:
        """Slugs of the option's tools that are not at hand."""
        return frozenset() if self.tools is None else option.kit - self.tools

    def usable(self, option: Option) -> bool:
        """Whether the option's tools are at hand and nothing rules it out from the start."""
        if self.missing(option):
            return False
        if option.way in self.banned or (option.fitted and not self.off.isdisjoint(option.fitted)):
            return False
        return option.leaves < 0 or option.head in self.home

    def options(self, atom: int) -> Sequence[Option]:
        """The options that bring ``atom`` about, usable or not."""
        first = len(self.compiled.names)
        return self.compiled.by_head[atom] if atom < first else self.serves[atom - first]

    def weight(self, option: Option) -> int:
        """The option's cost, shifted by the potential where it changes a state."""
        if option.leaves < 0:
            return option.cost
        return option.cost + self.home[option.head] - self.home[option.leaves]

    def choices(self) -> Choices:
        """The usable choices of every atom that the goals may need, states that are given left out of the needs."""
        given, tools, banned = self.given, self.tools, self.banned
        by_head, first = self.compiled.by_head, len(self.compiled.names)
        found: Choices = {}
        stack = list(self.goals)
        seen = set(stack)
        while stack:
            atom = stack.pop()
            found[atom] = choices = []
            for option in by_head[atom] if atom < first else self.serves[atom - first]:
                plain = tools is None and not option.fitted and option.leaves < 0
                if option.way in banned if plain else not self.usable(option):
                    continue
                needs = tuple(need for need in (*option.off, *option.states) if need not in given)
                choices.append((option.cost if plain else self.weight(option), needs, option))
                for need in needs:
                    if need not in seen:
                        seen.add(need)
                        stack.append(need)
        return found

    def _home(self) -> Mapping[int, int]:
        """Least time in ticks from each state to its variable's initial one, by usable preparations."""
        into: dict[int, list[tuple[int, int]]] = {}
        compiled = self.compiled
        for atom in range(compiled.components, len(compiled.names)):
            for option in compiled.by_head[atom]:
                if option.way not in self.banned and not self.missing(option) and self.off.isdisjoint(option.fitted):
                    into.setdefault(atom, []).append((option.leaves, option.cost))
        home: dict[int, int] = {}
        heap = [(0, initial) for initial in compiled.initial]
        while heap:
            distance, atom = heappop(heap)
            if atom in home:
                continue
            home[atom] = distance
            for source, cost in into.get(atom, ()):
                if source not in home:
                    heappush(heap, (distance + cost, source))
        return home

    def _serves(self, target: Target, atom: int) -> Iterable[Option]:
        """The options that serve ``target``; where a purpose has no access path, the next purpose's stand in."""
        purposes = list(Purpose)
        for purpose in purposes[purposes.index(target.purpose) :]:
            paths = self.compiled.paths.get((target.component, purpose))
            if purpose is Purpose.REPLACE:
                yield from self._replacements(target.component, atom, paths)
            elif paths is not None:
                yield from (replace(path, head=atom) for path in paths)
                return

    def _replacements(self, slug: str, atom: int, paths: Sequence[Option] | None) -> Iterable[Option]:
        """Options of the purpose replace: the component or its unit off, and an access path where there is one."""
        component = self.compiled.appliance.components[slug]
        units = dict.fromkeys((slug, component.replaced_as or slug))
        for unit in units:
            number = self.compiled.number.get(unit)
            if number is None:
                continue
            if paths is None:
                yield Option(
                    kind=ActKind.SERVE, way=None, label=component.label, head=atom, cost=1, minutes=0.0,
                    minutes_back=0.0, off=(number,), fitted=(), states=(), leaves=-1, tools=(), kit=frozenset(),
                )  # fmt: skip
                continue
            for path in paths:
                if number not in path.fitted:
                    yield replace(path, head=atom, off=tuple(sorted({number, *path.off})))


def _start(compiled: Compiled, states: Mapping[str, str]) -> tuple[int, ...]:
    """The state atom in force of each variable."""
    start = list(compiled.initial)
    for variable, state in states.items():
        atom = compiled.state_number.get(state)
        if atom is None or compiled.variables[compiled.variable[atom]] != variable:
            raise UnknownState(variable, state)
        start[compiled.variable[atom]] = atom
    return tuple(start)
