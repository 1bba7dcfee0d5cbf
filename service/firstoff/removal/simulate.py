"""Carries a plan out act by act on the appliance as it is modelled, and fails loudly where it cannot be done.

Nothing here is shared with the search: slugs, not numbers, and the model's own dataclasses.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import fsum

from firstoff.appliance.model import (
    AccessPath,
    Appliance,
    Preparation,
    Purpose,
    Removal,
)
from firstoff.removal.errors import BrokenPlan
from firstoff.removal.plans import Act, ActKind
from firstoff.removal.request import Request, Target


def simulate(appliance: Appliance, request: Request, acts: Iterable[Act]) -> float:
    """Carry out ``acts`` and return their minutes. Raises ``BrokenPlan`` at the first act that cannot be done.

    Also raised where a target is left unserved, a part is left off or a variable is not left at its initial state. A
    part found off goes back by any of its removals, or by the one named.
    """
    shop = _Shop(appliance, request)
    minutes = fsum([shop.do(act) for act in acts])
    shop.leave(request)
    return minutes


class _Shop:
    """The appliance as it stands during a plan."""

    def __init__(self, appliance: Appliance, request: Request) -> None:
        self._appliance = appliance
        self._request = request
        self._initial = {state.variable: state.id for state in appliance.states.values() if state.initial}
        self._states = {**self._initial, **request.states}
        self._values = set(self._states.values())
        self._taken: dict[str, str] = {}
        self._found: dict[str, str | None] = {}
        for name in request.off:
            if name in appliance.components:
                self._found.setdefault(name, None)
            else:
                self._found[appliance.removals[name].component] = name
        self._off = set(self._found)
        self._served: set[Target] = set()

    def do(self, act: Act) -> float:
        """Do one act and return its minutes."""
        if act.way is not None and act.way in self._request.banned:
            raise BrokenPlan(f"{act.way} is ruled out")
        match act.kind:
            case ActKind.REMOVE:
                minutes = self._remove(self._removal(act))
            case ActKind.REFIT:
                minutes = self._refit(self._removal(act))
            case ActKind.PREPARE | ActKind.UNDO:
                minutes = self._change(self._appliance.preparations[act.way or ""], act.kind is ActKind.PREPARE)
            case ActKind.SERVE:
                minutes = self._serve(act)
        if minutes != act.minutes:
            raise BrokenPlan(f"{act.kind} by {act.way} takes {minutes} minutes, not {act.minutes}")
        return minutes

    def leave(self, request: Request) -> None:
        """Check that the appliance can be left as it stands."""
        unserved = set(request.targets) - self._served
        if unserved or self._off or self._states != self._initial:
            raise BrokenPlan(f"left with {unserved} unserved, {self._off} off, states {self._states}")

    def _removal(self, act: Act) -> Removal:
        removal = self._appliance.removals[act.way or ""]
        if removal.component != act.component:
            raise BrokenPlan(f"{removal.id} is not a removal of {act.component}")
        return removal

    def _remove(self, removal: Removal) -> float:
        self._need(removal.id, removal.needs_off, frozenset(), removal.needs_states)
        self._need_tools(removal.id, (tool.id for tool in removal.all_tools))
        if removal.component in self._off:
            raise BrokenPlan(f"{removal.component} is off already")
        self._off.add(removal.component)
        self._taken[removal.component] = removal.id
        return removal.minutes_out

    def _refit(self, removal: Removal) -> float:
        self._need(removal.id, removal.needs_off, frozenset(), removal.needs_states)
        if removal.component in self._found:
            self._need_tools(removal.id, (tool.id for tool in removal.all_tools))
            if self._found.pop(removal.component) not in (None, removal.id):
                raise BrokenPlan(f"{removal.component} was not found off by {removal.id}")
        elif self._taken.pop(removal.component, None) != removal.id:
            raise BrokenPlan(f"{removal.component} was not taken off by {removal.id}")
        self._off.remove(removal.component)
        return removal.minutes_back

    def _change(self, preparation: Preparation, forward: bool) -> float:
        ends = (preparation.from_state, preparation.gives)
        source, goal = ends if forward else ends[::-1]
        states = (preparation.needs_states - set(ends)) | {source}
        self._need(preparation.id, preparation.needs_off, preparation.needs_fitted, states)
        self._need_tools(preparation.id, (tool.id for tool in preparation.tools))
        self._values.remove(source)
        self._values.add(goal)
        self._states[self._appliance.states[goal].variable] = goal
        return preparation.minutes if forward else preparation.undo_minutes

    def _serve(self, act: Act) -> float:
        target = act.needed_for[0]
        path = None if act.way is None else self._appliance.access_paths[act.way]
        component = self._appliance.components[target.component]
        purpose = next(p for p in _stand_ins(self._appliance, target))
        if act.component != target.component or (path is None) != (not _paths(self._appliance, target, purpose)):
            raise BrokenPlan(f"{act.way} does not serve {target}")
        if purpose is Purpose.REPLACE and self._off.isdisjoint({component.id, component.replaced_as or component.id}):
            raise BrokenPlan(f"{component.id} is served while it is on")
        self._served.add(target)
        if path is None:
            return 0.0
        if path.component != target.component or path.purpose is not purpose:
            raise BrokenPlan(f"{path.id} does not serve {target}")
        self._need(path.id, path.needs_off, path.needs_fitted, path.needs_states)
        self._need_tools(path.id, (tool.id for tool in path.tools))
        return path.minutes

    def _need(self, way: str, off: frozenset[str], fitted: frozenset[str], states: Iterable[str]) -> None:
        if not self._off.issuperset(off) or not self._off.isdisjoint(fitted) or not self._values.issuperset(states):
            raise BrokenPlan(f"{way} is done while its needs are not met")

    def _need_tools(self, way: str, tools: Iterable[str]) -> None:
        if self._request.tools is not None and not self._request.tools.issuperset(tools):
            raise BrokenPlan(f"{way} needs a tool that is not at hand")


def _paths(appliance: Appliance, target: Target, purpose: Purpose) -> list[AccessPath]:
    return [
        path
        for path in appliance.access_paths.values()
        if path.component == target.component and path.purpose is purpose
    ]


def _stand_ins(appliance: Appliance, target: Target) -> Iterable[Purpose]:
    """The purpose whose access paths serve ``target``: its own, else that of the next purpose, in the end replace."""
    purposes = list(Purpose)
    for purpose in purposes[purposes.index(target.purpose) :]:
        if purpose is Purpose.REPLACE or _paths(appliance, target, purpose):
            yield purpose
