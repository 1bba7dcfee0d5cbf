"""What an opened machine lays open: what can be reached without taking another part off, and what one more opens.

All is in slugs, straight from the model, and exact: the states that can be brought about as the machine stands are
explored, so that ways whose states exclude one another count for nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from firstoff.appliance.model import (
    AccessPath,
    Appliance,
    Purpose,
    Removal,
)


@dataclass(frozen=True, slots=True)
class Standing:
    """The machine as it stands: the parts off, the state in force of each variable, the tools at hand (None for all).

    ``barred`` are ids of removals, access paths and preparations that are ruled out.
    """

    off: frozenset[str]
    states: Mapping[str, str]
    tools: frozenset[str] | None = None
    barred: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Within:
    """A component within reach for ``purpose`` by ``way`` (None: it is off already, to be replaced).

    ``states`` are those the way needs that are not in force yet; ``live`` says that it is done with the supply on.
    """

    component: str
    purpose: Purpose
    way: str | None
    states: frozenset[str]
    live: bool = False


@dataclass(frozen=True, slots=True)
class OneMore:
    """A removal that could be done next, the states it needs that are not in force yet, and what it would open."""

    removal: str
    component: str
    states: frozenset[str]
    opens: tuple[Within, ...]


def exposed(appliance: Appliance, standing: Standing) -> tuple[tuple[Within, ...], tuple[OneMore, ...]]:
    """What is within reach now, and what one more removal would open; the removals that open most come first.

    A component is within reach to be replaced where it, or the unit it is replaced as, is off or could come off next.
    Live ways and dead ones are told apart; of several ways the one with the fewest states to bring about is given.
    """
    bench = _Bench(appliance, standing)
    start = bench.settled(standing.off, {frozenset(standing.states.values())})
    now = bench.within(standing.off, start)
    known = {_what(each) for each in now}
    after: list[OneMore] = []
    for removal in appliance.removals.values():
        done_in = bench.can_come_off(removal, standing.off, start)
        if not done_in:
            continue
        off = standing.off | {removal.component}
        then = bench.within(off, bench.settled(off, done_in))
        opens = tuple(each for each in then if _what(each) not in known and each.component != removal.component)
        after.append(OneMore(removal.id, removal.component, bench.missing(removal.needs_states), opens))
    return now, tuple(sorted(after, key=lambda each: (-len(each.opens), each.removal)))


def _what(found: Within) -> tuple[str, Purpose, bool]:
    return found.component, found.purpose, found.live


_States = frozenset[str]


class _Bench:
    """The ways of an appliance that may be used."""

    def __init__(self, appliance: Appliance, standing: Standing) -> None:
        self._appliance = appliance
        self._in_force = frozenset(standing.states.values())
        self._tools = standing.tools
        self._barred = standing.barred
        self._removals: dict[str, list[Removal]] = {}
        for removal in appliance.removals.values():
            self._removals.setdefault(removal.component, []).append(removal)
        self._replacing: dict[str, list[AccessPath]] = {}
        for path in appliance.access_paths.values():
            if path.purpose is Purpose.REPLACE:
                self._replacing.setdefault(path.component, []).append(path)

    def settled(self, off: frozenset[str], start: Iterable[_States]) -> frozenset[_States]:
        """All states that can be in force together with the parts ``off``, from any of ``start``, nothing more taken
        off or put back."""
        usable = [
            (frozenset(each.needs_states - {each.from_state, each.gives}), ends)
            for each in self._appliance.preparations.values()
            if each.needs_off <= off
            and each.needs_fitted.isdisjoint(off)
            and self._may(each.id, (tool.id for tool in each.tools))
            for ends in ((each.from_state, each.gives), (each.gives, each.from_state))
        ]
        found = set(start)
        waiting = list(found)
        while waiting:
            states = waiting.pop()
            for needs, (source, goal) in usable:
                if source in states and needs <= states:
                    after = (states - {source}) | {goal}
                    if after not in found:
                        found.add(after)
                        waiting.append(after)
        return frozenset(found)

    def within(self, off: frozenset[str], together: frozenset[_States]) -> tuple[Within, ...]:
        """What is within reach with ``off`` and any of the states ``together``."""
        best: dict[tuple[str, Purpose, bool], Within] = {}
        for each in (*self._seen(off, together), *self._replaced(off, together)):
            known = best.get(_what(each))
            if known is None or (len(each.states), each.way or "") < (len(known.states), known.way or ""):
                best[_what(each)] = each
        order = list(Purpose)
        return tuple(sorted(best.values(), key=lambda each: (each.component, order.index(each.purpose), each.live)))

    def can_come_off(self, removal: Removal, off: frozenset[str], together: frozenset[_States]) -> frozenset[_States]:
        """The states of ``together`` in which ``removal`` can be done next; none where it cannot."""
        if removal.component in off or not removal.needs_off <= off:
            return frozenset()
        if not self._may(removal.id, (tool.id for tool in removal.all_tools)):
            return frozenset()
        return frozenset(states for states in together if removal.needs_states <= states)

    def missing(self, needed: frozenset[str]) -> frozenset[str]:
        """Those of the states ``needed`` that are not in force."""
        return needed - self._in_force

    def _seen(self, off: frozenset[str], together: frozenset[_States]) -> Iterable[Within]:
        """What can be inspected or tested."""
        for path in self._appliance.access_paths.values():
            if path.purpose is not Purpose.REPLACE and self._open(path, off, together):
                yield Within(path.component, path.purpose, path.id, self.missing(path.needs_states), path.live)

    def _replaced(self, off: frozenset[str], together: frozenset[_States]) -> Iterable[Within]:
        for component in self._appliance.components.values():
            for unit in dict.fromkeys((component.id, component.replaced_as or component.id)):
                if unit in off:
                    if self._may_be_replaced(component.id, off, together):
                        yield Within(component.id, Purpose.REPLACE, None, frozenset())
                    continue
                for removal in self._removals.get(unit, ()):
                    done_in = self.can_come_off(removal, off, together)
                    after = off | {unit}
                    if done_in and self._may_be_replaced(component.id, after, self.settled(after, done_in)):
                        yield Within(component.id, Purpose.REPLACE, removal.id, self.missing(removal.needs_states))

    def _may_be_replaced(self, component: str, off: frozenset[str], together: frozenset[_States]) -> bool:
        """Whether a way in for the purpose replace is open, where there are such ways; else the part off is enough."""
        paths = self._replacing.get(component, [])
        return not paths or any(self._open(path, off, together) for path in paths)

    def _open(self, path: AccessPath, off: frozenset[str], together: frozenset[_States]) -> bool:
        return (
            path.needs_off <= off
            and path.needs_fitted.isdisjoint(off)
            and self._may(path.id, (tool.id for tool in path.tools))
            and any(path.needs_states <= states for states in together)
        )

    def _may(self, way: str, tools: Iterable[str]) -> bool:
        return way not in self._barred and (self._tools is None or self._tools.issuperset(tools))
