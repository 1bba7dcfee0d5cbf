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
from firstoff.energy import (
    STORED_CHARGE,
    Isolation,
    PointCondition,
    PointState,
    Release,
    Situation,
    isolation,
    live_points,
    situation_of,
)
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
class Discharge:
    """A charge to release as soon as points it reaches can be touched.

    ``at`` are those points; ``covered`` says that the capacitor's own terminals are still out of reach; ``after`` are
    the states of the points once the charge is gone.
    """

    release: Release
    at: tuple[str, ...]
    covered: bool
    after: tuple[PointState, ...]


@dataclass(frozen=True, slots=True)
class Moment:
    """An act and what holds after it.

    ``before`` is what to release before the act, ``discharges`` what right after it. ``bared`` are the points within
    reach that are new, or whose state the act may change, or that stay live while the supply is on.
    ``restored_before`` says that an earlier act of the plan restored the supply.
    """

    act: Act
    energised: bool
    was_energised: bool
    restored_before: bool
    bared: tuple[PointState, ...]
    before: tuple[Release, ...] = ()
    discharges: tuple[Discharge, ...] = ()

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
    holders = {act.component for act in plan.acts if act.component and act.kind in (ActKind.REMOVE, ActKind.SERVE)}
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


def moments(
    appliance: Appliance, plan: Plan, safety: Safety, off: frozenset[str], states: Mapping[str, str]
) -> list[Moment]:
    """Every act of the plan, begun in ``states`` (by variable, where not initial), with what it bares afterwards.

    Where no act of the plan isolates, the devices of ``safety`` are taken to be open before the first act.
    """
    start = {state.variable: state.id for state in appliance.states.values() if state.initial} | dict(states)
    walk = _Walk(appliance, plan, safety, off, energised(appliance, start.values()))
    return [walk.after(act) for act in plan.acts]


class _Walk:
    """What is off, bared and released while a plan is carried out act by act."""

    def __init__(self, appliance: Appliance, plan: Plan, safety: Safety, off: frozenset[str], on: bool) -> None:
        self._appliance = appliance
        self._safety = safety
        self._off = off
        self._isolates = any(not energised(appliance, act.states.values()) for act in plan.acts)
        self._on = on
        self._restored = False
        self._ways: dict[str, str] = {}
        self._released: set[str] = set()
        self._bared = self._bared_by_off(off)
        found = releases_of(safety.found)
        self._charges = tuple(release for release in found if release.energy == STORED_CHARGE)
        self._held = tuple(release for release in found if release.energy != STORED_CHARGE)

    def after(self, act: Act) -> Moment:
        """The moment that ``act`` makes; what holds afterwards is kept for the next."""
        was, self._on = self._on, energised(self._appliance, act.states.values())
        safe = not self._on or not self._isolates
        if not safe:
            self._released.clear()
        handled = act.kind in (ActKind.REMOVE, ActKind.SERVE)
        before = self._to_release_first(act) if handled and safe else ()
        fresh = self._bare(act)
        shown = self._bared if self._on != was or not safe else fresh
        moment = Moment(
            act=act,
            energised=self._on,
            was_energised=was,
            restored_before=self._restored,
            bared=self._states(act, shown, safe),
            before=before,
            discharges=self._discharges(act) if safe else (),
        )
        self._restored = self._restored or moment.restores
        return moment

    def _to_release_first(self, act: Act) -> tuple[Release, ...]:
        """Springs, heat, weight and the like that the part to be handled holds."""
        found = tuple(r for r in self._held if r.component == act.component and r.id not in self._released)
        self._released.update(release.id for release in found)
        return found

    def _bare(self, act: Act) -> frozenset[str]:
        """The points the act lays bare; keeps the whole of what is bare."""
        if act.kind is ActKind.REMOVE and act.component and act.way:
            self._ways[act.component] = act.way
        if act.kind in (ActKind.REMOVE, ActKind.SERVE):
            fresh = bared_by(self._appliance, way_of(self._appliance, act))
            self._bared |= fresh
            return fresh
        if act.kind is ActKind.REFIT:
            used = (self._appliance.removals[self._ways[c]] for c in act.after_off if c in self._ways)
            mine = frozenset().union(*(bared_by(self._appliance, removal) for removal in used))
            self._bared = mine | self._bared_by_off(self._off & act.after_off)
        return frozenset()

    def _bared_by_off(self, off: frozenset[str]) -> frozenset[str]:
        """What parts that were off from the start may have bared: all that any of their removals bares."""
        removals = (removal for removal in self._appliance.removals.values() if removal.component in off)
        return frozenset().union(*(bared_by(self._appliance, removal) for removal in removals))

    def _discharges(self, act: Act) -> tuple[Discharge, ...]:
        """The charges not yet released that reach points within reach, one after the other."""
        found = []
        links = self._appliance.circuit.links
        charges = {release.id for release in self._charges}
        if not self._bared or charges <= self._released:
            return ()
        without = self._live(act, charges)
        for release in self._charges:
            if release.id in self._released:
                continue
            at = tuple(sorted(self._live(act, charges - {release.id}) - without))
            if not at:
                continue
            self._released.add(release.id)
            ends = {links[release.id].start, links[release.id].end}
            found.append(Discharge(release, at, self._bared.isdisjoint(ends), self._states(act, frozenset(at), True)))
        return tuple(found)

    def _live(self, act: Act, released: Iterable[str]) -> frozenset[str]:
        """The points within reach that are live once ``released`` is gone."""
        states = live_points(self._appliance, self._situation(act, safe=True, released=released))
        return frozenset(slug for slug in self._bared if slug in states and states[slug].state is PointCondition.LIVE)

    def _states(self, act: Act, points: frozenset[str], safe: bool) -> tuple[PointState, ...]:
        if not points:
            return ()
        states = live_points(self._appliance, self._situation(act, safe=safe, released=self._released))
        return tuple(states[slug] for slug in sorted(points) if slug in states)

    def _situation(self, act: Act, *, safe: bool, released: Iterable[str]) -> Situation:
        """After ``act``; where it is ``safe``, what had to be opened besides is open."""
        states = self._appliance.states
        opened = {device for slug in act.states.values() for device in states[slug].devices_open}
        if safe:
            opened |= set(self._safety.extra)
        return situation_of(self._appliance, opened, act.after_off, released, self._ways)


def unsafe(states: Iterable[PointState]) -> tuple[PointState, ...]:
    """Those that may not be touched."""
    return tuple(state for state in states if state.state is not PointCondition.ISOLATED)
