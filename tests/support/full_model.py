"""The full model of a removal plan, written for the tests alone, and two oracles over it.

``check`` carries a plan out; ``cheapest`` looks at every situation there is (Dijkstra). Neither uses anything of the
removal room but the shapes of requests and plans.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from heapq import heappop, heappush
from math import fsum

from firstoff.appliance.model import (
    AccessPath,
    Appliance,
    Preparation,
    Purpose,
    Removal,
)
from firstoff.removal import ActKind, Plan, Request, Target


@dataclass(frozen=True, slots=True)
class Situation:
    """What is off with the removal that took it off (empty where any may have), states, targets served."""

    off: frozenset[tuple[str, str]]
    states: frozenset[tuple[str, str]]
    served: frozenset[Target]

    @property
    def gone(self) -> frozenset[str]:
        """The components off."""
        return frozenset(part for part, _ in self.off)

    @property
    def holds(self) -> frozenset[str]:
        """The states in force."""
        return frozenset(state for _, state in self.states)


# The kind of an act, its component, its way, the target served, and its minutes.
Step = tuple[ActKind, str | None, str | None, Target | None, float]


def start_of(appliance: Appliance, request: Request) -> Situation:
    """The situation at the start."""
    initial = {state.variable: state.id for state in appliance.states.values() if state.initial}
    states = {**initial, **request.states}
    ways = {appliance.removals[name].component: name for name in request.off if name not in appliance.components}
    off = {**{name: "" for name in request.off if name in appliance.components}, **ways}
    return Situation(frozenset(off.items()), frozenset(states.items()), frozenset())


def is_end(appliance: Appliance, request: Request, now: Situation) -> bool:
    """Whether all is served and everything is back."""
    initial = {(state.variable, state.id) for state in appliance.states.values() if state.initial}
    return now.served == frozenset(request.targets) and not now.off and now.states == initial


def steps(appliance: Appliance, request: Request, now: Situation) -> Iterator[tuple[Step, Situation]]:
    """Every act that can be done now, with the situation after it."""
    yield from _parts(appliance, request, now)
    yield from _changes(appliance, request, now)
    for target in request.targets:
        if target not in now.served:
            for way, minutes in _ways_to_serve(appliance, request, target, now):
                after = Situation(now.off, now.states, now.served | {target})
                yield (ActKind.SERVE, target.component, way, target, minutes), after


def _parts(appliance: Appliance, request: Request, now: Situation) -> Iterator[tuple[Step, Situation]]:
    off_by = dict(now.off)
    for way in appliance.removals.values():
        if not _at_hand(request, way) or not way.needs_off <= now.gone or not way.needs_states <= now.holds:
            continue
        if way.component not in off_by:
            after = Situation(now.off | {(way.component, way.id)}, now.states, now.served)
            yield (ActKind.REMOVE, way.component, way.id, None, way.minutes_out), after
        elif off_by[way.component] in ("", way.id):
            after = Situation(now.off - {(way.component, off_by[way.component])}, now.states, now.served)
            yield (ActKind.REFIT, way.component, way.id, None, way.minutes_back), after


def _changes(appliance: Appliance, request: Request, now: Situation) -> Iterator[tuple[Step, Situation]]:
    for act in appliance.preparations.values():
        others = act.needs_states <= now.holds
        if not _at_hand(request, act) or not others or not act.needs_off <= now.gone or act.needs_fitted & now.gone:
            continue
        variable = appliance.states[act.gives].variable
        ends = (
            (ActKind.PREPARE, act.from_state, act.gives, act.minutes),
            (ActKind.UNDO, act.gives, act.from_state, act.undo_minutes),
        )
        for kind, source, goal, minutes in ends:
            if source in now.holds:
                states = (now.states - {(variable, source)}) | {(variable, goal)}
                yield (kind, None, act.id, None, minutes), Situation(now.off, states, now.served)


def _ways_to_serve(
    appliance: Appliance, request: Request, target: Target, now: Situation
) -> Iterator[tuple[str | None, float]]:
    """The access path (or None) and minutes by which ``target`` can be served now."""
    fallbacks = {
        Purpose.INSPECT: (Purpose.INSPECT, Purpose.TEST, Purpose.REPLACE),
        Purpose.TEST: (Purpose.TEST, Purpose.REPLACE),
        Purpose.REPLACE: (Purpose.REPLACE,),
    }
    for purpose in fallbacks[target.purpose]:
        paths = [
            path
            for path in appliance.access_paths.values()
            if path.component == target.component and path.purpose is purpose
        ]
        if not paths and purpose is not Purpose.REPLACE:
            continue
        if purpose is Purpose.REPLACE:
            unit = appliance.components[target.component].replaced_as
            if target.component not in now.gone and unit not in now.gone:
                return
            if not paths:
                yield None, 0.0
        for path in paths:
            fits = path.needs_off <= now.gone and not path.needs_fitted & now.gone and path.needs_states <= now.holds
            if fits and _at_hand(request, path):
                yield path.id, path.minutes
        return


def _at_hand(request: Request, way: Removal | AccessPath | Preparation) -> bool:
    tools = way.all_tools if isinstance(way, Removal) else way.tools
    return way.id not in request.banned and (request.tools is None or all(tool.id in request.tools for tool in tools))


def check(appliance: Appliance, request: Request, plan: Plan) -> None:
    """Assert that ``plan`` can be carried out as written and that everything it says of itself is so."""
    now = start_of(appliance, request)
    assert [act.step for act in plan.acts] == list(range(len(plan.acts)))
    serves = [act.step for act in plan.acts if act.kind is ActKind.SERVE]
    for act in plan.acts:
        target = act.needed_for[0] if act.kind is ActKind.SERVE else None
        step = (act.kind, act.component, act.way, target, act.minutes)
        after = [found for able, found in steps(appliance, request, now) if able == step]
        assert after, f"{step} cannot be done in {now}"
        now = after[0]
        assert act.after_off == now.gone
        assert dict(act.states) == dict(now.states)
        assert act.phase == ("out" if serves and act.step <= serves[-1] else "back")
        assert set(act.needed_for) <= set(request.targets)
        assert act.needed_for or request.off or not request.targets
    assert is_end(appliance, request, now)
    assert abs(plan.minutes - fsum(act.minutes for act in plan.acts)) < 1e-9
    assert plan.bound <= plan.minutes
    assert plan.optimal == (plan.bound == plan.minutes)


def cheapest(appliance: Appliance, request: Request, avoiding: tuple[frozenset[str], ...] = ()) -> float | None:
    """The least minutes of any plan, None where there is none.

    ``avoiding``: sets of ways of which the plan must leave out at least one each.
    """
    start = start_of(appliance, request)
    watched = frozenset().union(*avoiding)
    best: set[tuple[Situation, frozenset[str]]] = set()
    heap: list[tuple[float, int, Situation, frozenset[str]]] = [(0.0, 0, start, frozenset())]
    serial = 0
    while heap:
        minutes, _, now, used = heappop(heap)
        if (now, used) in best:
            continue
        best.add((now, used))
        if any(ways <= used for ways in avoiding):
            continue
        if is_end(appliance, request, now):
            return minutes
        for (_, _, way, _, cost), after in steps(appliance, request, now):
            uses = used | ({way} & watched) if way is not None else used
            if (after, uses) not in best:
                serial += 1
                heappush(heap, (minutes + cost, serial, after, uses))
    return None
