"""A plan's acts with what is live after each of them.

Liveness is recomputed after every act from the links it opened and the points it bared (design, guarantee 4).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from firstoff.answers.as_found import AsFound
from firstoff.answers.bared import bared_by, way_of
from firstoff.answers.bench import Bench
from firstoff.answers.exposures import FELT_WHEN_HANDLED
from firstoff.answers.isolation import releases_of
from firstoff.appliance.model import (
    Appliance,
    Removal,
)
from firstoff.energy import (
    STORED_CHARGE,
    Isolation,
    PointCondition,
    PointState,
    Release,
    Situation,
    isolation,
    live_points,
    opens_protection,
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
    ``restored_before`` says that an earlier act of the plan restored the supply. ``unprotected`` are parts off as found
    that are off still, with an earth bond or a bleed resistor undone.
    """

    act: Act
    energised: bool
    was_energised: bool
    restored_before: bool
    bared: tuple[PointState, ...]
    unprotected: frozenset[str] = frozenset()
    before: tuple[Release, ...] = ()
    discharges: tuple[Discharge, ...] = ()

    @property
    def serves(self) -> bool:
        return self.act.kind is ActKind.SERVE

    @property
    def restores(self) -> bool:
        return self.energised and not self.was_energised

    @property
    def isolates(self) -> bool:
        return self.was_energised and not self.energised


@dataclass(frozen=True, slots=True)
class Timeline:
    """A plan's moments; ``begun`` are the charges to release before the first, of points that were bare already."""

    begun: tuple[Discharge, ...]
    moments: tuple[Moment, ...]

    @property
    def released(self) -> frozenset[str]:
        """The ids of all that is released in the course of the plan."""
        discharges = [*self.begun, *(each for moment in self.moments for each in moment.discharges)]
        held = (each.id for moment in self.moments for each in moment.before)
        return frozenset(each.release.id for each in discharges).union(held)


def safety_of(bench: Bench, plan: Plan, found: AsFound, safe_volts: float) -> Safety:
    """What must be open, released and proved dead for everything that is bare at the start or that the plan bares."""
    appliance = bench.appliance
    planned = tuple(
        dict.fromkeys(
            device
            for act in plan.acts
            for state in act.states.values()
            for device in sorted(appliance.states[state].devices_open)
        )
    )
    used = [way for act in plan.acts if (way := way_of(appliance, act)) is not None]
    touched = frozenset().union(*(bared_by(appliance, way) for way in (*found.came_off_by(appliance), *used)))
    handled = {act.component for act in plan.acts if act.component and act.kind in (ActKind.REMOVE, ActKind.SERVE)}
    holders = {
        source.held_by
        for source in appliance.circuit.sources.values()
        if source.held_by and handled & (source.release_before | {source.held_by})
    }
    isolated = isolation(
        appliance,
        touched,
        situation_of(appliance, planned, found.off, ways=found.ways),
        bared_to_reach=bench.effort.bared,
        cost=bench.effort.minutes,
        components=holders,
        safe_volts=safe_volts,
    )
    first: dict[str, tuple[str, ...]] = {}
    for each in isolated.sets:
        first.setdefault(each.energy, each.devices)
    extra = {device: energy for energy, devices in first.items() for device in devices if device not in planned}
    return Safety(planned, extra, touched, isolated)


def carried_out(appliance: Appliance, plan: Plan, safety: Safety, found: AsFound) -> Timeline:
    """Every act of the plan, begun as the machine was ``found``, with what it bares afterwards."""
    start = {state.variable: state.id for state in appliance.states.values() if state.initial} | dict(found.states)
    walk = _Walk(appliance, safety, found, start)
    begun = walk.begin()
    return Timeline(begun, tuple(walk.after(act) for act in plan.acts))


class _Walk:
    """What is off, bared and released while a plan is carried out act by act."""

    def __init__(self, appliance: Appliance, safety: Safety, found: AsFound, states: Mapping[str, str]) -> None:
        self._appliance = appliance
        self._safety = safety
        self._as_found = found.off
        self._off = found.off
        self._states = dict(states)
        self._on = appliance.energised(states.values())
        self._restored = False
        self._ways = dict(found.ways)
        self._released: set[str] = set()
        self._bared = self._bared_now()
        releases = releases_of(safety.found)
        self._charges = tuple(release for release in releases if release.energy == STORED_CHARGE)
        self._held = tuple(release for release in releases if release.energy != STORED_CHARGE)

    def begin(self) -> tuple[Discharge, ...]:
        """The charges that reach what is bare at the start, where the supply is off then."""
        return () if self._on else self._discharges(self._bared)

    def after(self, act: Act) -> Moment:
        """The moment that ``act`` makes; what holds afterwards is kept for the next."""
        was, self._on = self._on, self._appliance.energised(act.states.values())
        self._off, self._states = act.after_off, dict(act.states)
        if self._on:
            self._released.clear()
        before = () if self._on else self._to_release_first(act)
        fresh = self._bare(act)
        within_reach = self._bared | fresh  # a look at something bares it for that time only
        shown = within_reach if self._on != was or self._on else fresh
        states = self._point_states(shown)
        discharges = () if self._on else self._discharges(within_reach)
        if discharges and act.kind is ActKind.SERVE:
            states = self._point_states(shown)
        moment = Moment(act, self._on, was, self._restored, states, self._unprotected(), before, discharges)
        self._restored = self._restored or moment.restores
        return moment

    def _to_release_first(self, act: Act) -> tuple[Release, ...]:
        """Springs, heat, weight and the like that are to be gone before the act.

        What a part holds is released before it is removed or handled; weight, springs, water and refrigerant only
        before a removal, since a look or a measurement frees none of them.
        """
        if act.kind not in (ActKind.REMOVE, ActKind.SERVE):
            return ()
        sources = self._appliance.circuit.sources
        in_force = set(self._states.values())
        found = tuple(
            release
            for release in self._held
            if release.id not in self._released
            and (act.kind is ActKind.REMOVE or release.energy in FELT_WHEN_HANDLED)
            and not sources[release.id].gone_in & in_force
            and act.component in (sources[release.id].release_before | {release.component})
        )
        self._released.update(release.id for release in found)
        return found

    def _bare(self, act: Act) -> frozenset[str]:
        """The points the act lays bare; keeps the whole of what stays bare."""
        if act.kind is ActKind.REMOVE and act.component and act.way:
            self._ways[act.component] = act.way
        if act.kind is ActKind.REFIT and act.component:
            self._ways.pop(act.component, None)
            self._as_found -= {act.component}
        if act.kind is ActKind.SERVE:
            return bared_by(self._appliance, way_of(self._appliance, act))
        if act.kind is ActKind.REMOVE:
            fresh = bared_by(self._appliance, way_of(self._appliance, act))
            self._bared |= fresh
            return fresh
        if act.kind is ActKind.REFIT:
            self._bared = self._bared_now()
        return frozenset()

    def _bared_now(self) -> frozenset[str]:
        """What all that is off bares; by any of its removals where it is not known by which a part came off."""
        used = self._came_off_by(self._off)
        return frozenset().union(*(bared_by(self._appliance, removal) for removal in used))

    def _unprotected(self) -> frozenset[str]:
        """The parts off as found that may have undone an earth bond or a bleed resistor, and are not back yet."""
        used = self._came_off_by(self._as_found & self._off)
        return frozenset(removal.component for removal in used if opens_protection(self._appliance, removal))

    def _came_off_by(self, off: frozenset[str]) -> list[Removal]:
        removals = (removal for removal in self._appliance.removals.values() if removal.component in off)
        return [each for each in removals if self._ways.get(each.component, each.id) == each.id]

    def _discharges(self, within_reach: frozenset[str]) -> tuple[Discharge, ...]:
        """The charges not yet released that reach points within reach, one after the other."""
        found = []
        links = self._appliance.circuit.links
        charges = {release.id for release in self._charges}
        if not within_reach or charges <= self._released:
            return ()
        without = self._live(within_reach, charges)
        for release in self._charges:
            if release.id in self._released:
                continue
            at = tuple(sorted(self._live(within_reach, charges - {release.id}) - without))
            if not at:
                continue
            self._released.add(release.id)
            ends = {links[release.id].start, links[release.id].end}
            found.append(Discharge(release, at, within_reach.isdisjoint(ends), self._point_states(frozenset(at))))
        return tuple(found)

    def _live(self, within_reach: frozenset[str], released: Iterable[str]) -> frozenset[str]:
        """The points within reach that are live once ``released`` is gone."""
        states = live_points(self._appliance, self._situation(released))
        return frozenset(p for p in within_reach if p in states and states[p].state is PointCondition.LIVE)

    def _point_states(self, points: frozenset[str]) -> tuple[PointState, ...]:
        if not points:
            return ()
        states = live_points(self._appliance, self._situation(self._released))
        return tuple(states[slug] for slug in sorted(points) if slug in states)

    def _situation(self, released: Iterable[str]) -> Situation:
        """As things are; while the supply is off, what had to be opened besides is open too."""
        states = self._appliance.states
        opened = {device for slug in self._states.values() for device in states[slug].devices_open}
        if not self._on:
            opened |= set(self._safety.extra)
        return situation_of(self._appliance, opened, self._off, released, self._ways)


def unsafe(states: Iterable[PointState]) -> tuple[PointState, ...]:
    """Those that may not be touched."""
    return tuple(state for state in states if state.state is not PointCondition.ISOLATED)
