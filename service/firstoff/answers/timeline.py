"""A plan's acts with what is live after each of them.

Liveness is recomputed after every act from the links it opened and the points it bared (design, guarantee 4).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from firstoff.answers.bared import bared_by, energised, way_of
from firstoff.answers.bench import Bench
from firstoff.answers.isolation import releases_of
from firstoff.appliance.model import Appliance
from firstoff.energy import Isolation, PointCondition, PointState, Situation, isolation, live_points, situation_of
from firstoff.removal import Act, ActKind, Plan


@dataclass(frozen=True, slots=True)
class Safety:
    """What makes the work of a plan safe.

    ``planned`` are the devices that the plan's own states open, ``extra`` those that must be open besides, with the
    energy they shut off; ``found`` is the isolation on top of the planned ones, with what to release and where to
    prove dead.
    """

    planned: tuple[str, ...]
    extra: Mapping[str, str]
    touched: frozenset[str]
    found: Isolation

    @property
    def devices(self) -> tuple[str, ...]:
        return (*self.planned, *self.extra)

    @property
    def needed(self) -> bool:
        return bool(self.touched or self.planned)


@dataclass(frozen=True, slots=True)
class Moment:
    """An act and what holds after it.

    ``bared`` are the points this act bares or whose state it may change. ``restored_before`` says that an earlier act
    of the plan restored the supply.
    """

    act: Act
    energised: bool
    was_energised: bool
    restored_before: bool
    bared: tuple[PointState, ...]

    @property
    def restores(self) -> bool:
        return self.energised and not self.was_energised

    @property
    def isolates(self) -> bool:
        return self.was_energised and not self.energised


def safety_of(bench: Bench, plan: Plan, off: frozenset[str], safe_volts: float) -> Safety:
    """What must be open, released and proved dead for everything the plan bares."""
    appliance = bench.appliance
    planned = tuple(
        dict.fromkeys(
            device
            for act in plan.acts
            for state in act.states.values()
            for device in sorted(appliance.states[state].devices_open)
        )
    )
    already = [removal for removal in appliance.removals.values() if removal.component in off]
    used = [way for act in plan.acts if (way := way_of(appliance, act)) is not None]
    touched = frozenset().union(*(bared_by(appliance, way) for way in (*already, *used)))
    holders = off | {act.component for act in plan.acts if act.component} | _sitting_on(appliance, touched)
    found = isolation(
        appliance,
        touched,
        situation_of(appliance, planned, off),
        bared_to_reach=bench.effort.bared,
        cost=bench.effort.minutes,
        components=holders,
        safe_volts=safe_volts,
    )
    first: dict[str, tuple[str, ...]] = {}
    for each in found.sets:
        first.setdefault(each.energy, each.devices)
    extra = {device: energy for energy, devices in first.items() for device in devices if device not in planned}
    return Safety(planned, extra, touched, found)


def _sitting_on(appliance: Appliance, points: frozenset[str]) -> frozenset[str]:
    return frozenset(appliance.circuit.points[slug].component for slug in points if slug in appliance.circuit.points)


def moments(
    appliance: Appliance, plan: Plan, safety: Safety, off: frozenset[str], states: Mapping[str, str]
) -> list[Moment]:
    """Every act of the plan, begun in ``states`` (by variable, where not initial), with what it bares afterwards.

    Where no act of the plan isolates, the devices of ``safety`` are taken to be open before the first act.
    """
    isolates = any(not energised(appliance, act.states.values()) for act in plan.acts)
    start = {state.variable: state.id for state in appliance.states.values() if state.initial} | dict(states)
    was = energised(appliance, start.values())
    bared = frozenset().union(*(bared_by(appliance, r) for r in appliance.removals.values() if r.component in off))
    ways: dict[str, str] = {}
    found: list[Moment] = []
    for act in plan.acts:
        now = energised(appliance, act.states.values())
        fresh: frozenset[str] = frozenset()
        if act.kind is ActKind.REMOVE and act.component and act.way:
            ways[act.component] = act.way
        if act.kind in (ActKind.REMOVE, ActKind.SERVE):
            fresh = bared_by(appliance, way_of(appliance, act))
            bared |= fresh
        elif act.kind is ActKind.REFIT:
            bared = _still_bared(appliance, act, ways, off)
        shown = bared if now != was else fresh
        situation = _situation(appliance, act, safety, ways, safe=not now or not isolates)
        points = live_points(appliance, situation) if shown else {}
        restored = any(moment.restores for moment in found[-1:]) or any(each.restored_before for each in found[-1:])
        found.append(Moment(act, now, was, restored, tuple(points[slug] for slug in sorted(shown) if slug in points)))
        was = now
    return found


def _still_bared(appliance: Appliance, act: Act, ways: dict[str, str], off: frozenset[str]) -> frozenset[str]:
    used = [appliance.removals[ways[component]] for component in act.after_off if component in ways]
    already = [r for r in appliance.removals.values() if r.component in off and r.component in act.after_off]
    return frozenset().union(*(bared_by(appliance, removal) for removal in (*used, *already)))


def _situation(appliance: Appliance, act: Act, safety: Safety, ways: dict[str, str], *, safe: bool) -> Situation:
    """After ``act``; where it is ``safe``, what had to be opened and released besides has been."""
    opened = {device for state in act.states.values() for device in appliance.states[state].devices_open}
    if safe:
        opened |= set(safety.extra)
    discharged = {each.id for each in releases_of(safety.found)} if safe else set()
    return situation_of(appliance, opened, act.after_off, discharged, ways)


def unsafe(states: Iterable[PointState]) -> tuple[PointState, ...]:
    """Those that may not be touched."""
    return tuple(state for state in states if state.state is not PointCondition.ISOLATED)
