"""One request on one compiled appliance: what is given, what is to be reached, which options may be used."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from heapq import heappop, heappush

from firstoff.appliance.model import Purpose
from firstoff.removal.compiled import Compiled
from firstoff.removal.errors import OffTwice, UnknownComponent, UnknownState, UnknownTarget
from firstoff.removal.options import Option
from firstoff.removal.plans import ActKind
from firstoff.removal.request import Request, Target

# A choice is (weight in ticks, atoms needed that are not given, the option).
Choice = tuple[int, tuple[int, ...], Option]
Choices = dict[int, list[Choice]]


class Problem:
    """A request in numbers. Read only once made.

    ``off`` are the component atoms off at the start, ``start`` the state atom in force of each variable, ``given``
    both; ``targets`` the targets, each once and in order; target number i is atom ``len(compiled.names) + i`` and
    ``serves[i]`` are its options. Of each part off at the start ``found_by`` names the removal that took it off, where
    that is known, ``refits`` holds the options that put it back, and ``put_back`` an atom after the targets' that
    stands for its being back. ``home[state]`` is the least time in ticks from a state back to the initial one by usable
    preparations, whatever these need; states from which there is no way back are left out. ``constant`` is the way home
    from the start. Weights of state changes are shifted by these (a potential, as in Johnson, J. ACM 24:1, 1977): the
    shifted weight of a round trip from the start is its cost less ``constant``, and no weight is negative.

    Where parts are found off, ``goals`` and ``choices`` are those of the plan told backwards: from the initial states
    with all fitted, which is where plans end, to the start. Every act can be taken back under the needs it was done
    under, so a plan told backwards takes off whatever is off at some time, each part for the first time by a way whose
    needs were met before. Of a part found off that costs the refit alone. So h+ of this is a lower bound for the plan,
    and where no state changes it is the cost of the cheapest one.
    """

    __slots__ = (
        "_away", "banned", "block", "compiled", "constant", "found_by", "given", "home", "minimise", "off", "put_back",
        "reasons", "refits", "serves", "start", "targets", "tools",
    )  # fmt: skip

    def __init__(self, compiled: Compiled, request: Request, banned: frozenset[str]) -> None:
        """Raises ``UnknownTarget``, ``UnknownComponent``, ``OffTwice`` or ``UnknownState``."""
        self.compiled = compiled
        self.tools = request.tools
        self.banned = banned
        self.reasons = request.reasons
        self.minimise = request.minimise
        self.targets = tuple(dict.fromkeys(request.targets))
        for target in self.targets:
            if target.component not in compiled.number:
                raise UnknownTarget(target)
        self.found_by = off = _found_off(compiled, request.off)
        self.off = frozenset(off)
        self.start = _start(compiled, request.states)
        self.given = self.off.union(self.start)
        self.home = self._home()
        self.constant = sum(self.home.get(atom, 0) for atom in self.start)
        first = len(compiled.names)
        self.serves = tuple(tuple(self._serves(target, first + i)) for i, target in enumerate(self.targets))
        self.block: Sequence[int] = compiled.block + tuple(-1 - i for i in range(len(self.targets) + len(off)))
        self.refits = {part: tuple(self._refits(part, way)) for part, way in off.items()}
        self.put_back = {part: first + len(self.targets) + i for i, part in enumerate(off)}
        self._away = self._least(self.start, forwards=True) if off else self.home

    @property
    def goals(self) -> tuple[int, ...]:
        """Atoms to bring about: every target, and the initial state of a variable that starts in another.

        Told backwards: every target, every part found off, and each state in force at the start that is not initial.
        """
        first = len(self.compiled.names)
        targets = range(first, first + len(self.targets))
        if self.off:
            return (*targets, *self.refits, *(state for state in self.start if state not in self.compiled.initial))
        return (*targets, *(initial for initial in self.compiled.initial if initial not in self.given))

    @property
    def base(self) -> frozenset[int]:
        """What is so where ``choices`` begin: at the start, or told backwards at the end."""
        return frozenset(self.compiled.initial) if self.off else self.given

    def missing(self, option: Option) -> frozenset[str]:
        """Slugs of the option's tools that are not at hand."""
        return frozenset() if self.tools is None else option.kit - self.tools

    def usable(self, option: Option) -> bool:
        """Whether the option's tools are at hand and nothing rules it out from the start."""
        if self.missing(option) or option.way in self.banned:
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
        """The usable choices of every atom that the goals may need, what is so at the base left out of the needs."""
        given, tools, banned, off = self.base, self.tools, self.banned, self.off
        by_head, first = self.compiled.by_head, len(self.compiled.names)
        weight = self._weight_backwards if off else self.weight
        found: Choices = {}
        stack = list(self.goals)
        seen = set(stack)
        while stack:
            atom = stack.pop()
            choices: list[Choice] = []
            found[atom] = choices
            for option in by_head[atom] if atom < first else self.serves[atom - first]:
                plain = tools is None and option.leaves < 0
                if option.way in banned if plain else not self.usable(option):
                    continue
                needs = tuple(need for need in (*option.off, *option.states) if need not in given)
                if atom in off:
                    choices.extend(self._off_again(option, needs))
                else:
                    choices.append((option.cost if plain else weight(option), needs, option))
                for need in needs:
                    if need not in seen:
                        seen.add(need)
                        stack.append(need)
        return found

    def _off_again(self, option: Option, needs: tuple[int, ...]) -> Iterable[Choice]:
        """Told backwards, what taking a part found off by ``option`` costs at least.

        That is its refit where it may go back so. Else it has to go back by another way first, and come off again.
        """
        refits = self.refits[option.head]
        for refit in refits:
            if refit.way == option.way:
                yield refit.cost, needs, refit
                return
        if refits:
            yield option.cost + min(refit.cost for refit in refits), needs, option

    def _weight_backwards(self, option: Option) -> int:
        """What leads back from ``option``'s state, shifted by the potential of the least time from the start."""
        if option.leaves < 0:
            return option.cost
        away = self._away
        return option.cost_back + away.get(option.head, 0) - away.get(option.leaves, 0)

    def _refits(self, part: int, way: str | None) -> Iterable[Option]:
        """The options that put back ``part``, found off: by the removal ``way``, or by any where none is known."""
        for option in self.compiled.by_head[part]:
            if self.usable(option) and way in (None, option.way):
                yield replace(option, kind=ActKind.REFIT, cost=option.cost_back, minutes=option.minutes_back)

    def _home(self) -> Mapping[int, int]:
        """Least time in ticks from each state to its variable's initial one, by usable preparations."""
        return self._least(self.compiled.initial, forwards=False)

    def _least(self, ends: Iterable[int], *, forwards: bool) -> Mapping[int, int]:
        """Least time in ticks from ``ends`` to each state, or to ``ends``, by usable preparations."""
        beside: dict[int, list[tuple[int, int]]] = {}
        compiled = self.compiled
        for atom in range(compiled.components, len(compiled.names)):
            for option in compiled.by_head[atom]:
                if option.way not in self.banned and not self.missing(option):
                    near, far = (option.leaves, atom) if forwards else (atom, option.leaves)
                    beside.setdefault(near, []).append((far, option.cost))
        least: dict[int, int] = {}
        heap = [(0, end) for end in ends]
        while heap:
            distance, atom = heappop(heap)
            if atom in least:
                continue
            least[atom] = distance
            for other, cost in beside.get(atom, ()):
                if other not in least:
                    heappush(heap, (distance + cost, other))
        return least

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


def _found_off(compiled: Compiled, names: Iterable[str]) -> dict[int, str | None]:
    """The component atoms off at the start, in order, with the removal by which each is off where that is said."""
    off: dict[int, str | None] = {}
    for slug in sorted(names):
        removal = compiled.appliance.removals.get(slug)
        part = slug if slug in compiled.number or removal is None else removal.component
        if part not in compiled.number:
            raise UnknownComponent(slug)
        atom = compiled.number[part]
        way = slug if part != slug else None
        known = off.get(atom)
        if way is not None and known is not None:
            raise OffTwice(part, (known, way))
        off[atom] = way or known
    return dict(sorted(off.items()))


def _start(compiled: Compiled, states: Mapping[str, str]) -> tuple[int, ...]:
    """The state atom in force of each variable."""
    start = list(compiled.initial)
    for variable, state in states.items():
        atom = compiled.state_number.get(state)
        if atom is None or compiled.variables[compiled.variable[atom]] != variable:
            raise UnknownState(variable, state)
        start[compiled.variable[atom]] = atom
    return tuple(start)
