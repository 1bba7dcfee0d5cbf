"""One model laid out for work: guarded, compiled for planning, with the effort to reach its isolating devices."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from firstoff.answers.bared import bared_by
from firstoff.answers.exposures import WayExposures, amounts, exposures_of
from firstoff.appliance.circuit import Device
from firstoff.appliance.model import (
    AccessPath,
    Appliance,
    Preparation,
    Purpose,
)
from firstoff.energy import opens_protection
from firstoff.removal import Planner, RemovalError, Request, Target


@dataclass(frozen=True, slots=True)
class Effort:
    """What it takes to get at the isolating devices: points bared on the way, and minutes, by device."""

    bared: dict[str, frozenset[str]]
    minutes: dict[str, float]


@dataclass(frozen=True, slots=True)
class Bench:
    """``appliance`` with the guards that every energised way needs, its planner, and the effort to isolate it.

    ``exposures`` are those of each way, by its id.
    """

    appliance: Appliance
    planner: Planner
    effort: Effort
    exposures: Mapping[str, WayExposures]


def laid_out(appliance: Appliance) -> Bench:
    """Compile a model once; the outcome answers many requests."""
    safe = guarded(appliance)
    exposures = exposures_of(safe)
    planner = Planner(safe, amounts(exposures))
    return Bench(safe, planner, effort_to_reach(safe, planner), exposures)


def guarded(appliance: Appliance) -> Appliance:
    """No way that needs the supply on may be gone while a guard, an earth bond or a bleed resistor is missing.

    What an energised way or preparation needs fitted is made to hold every component that some removal takes off
    together with such protection, and every cover that bares more points than those the way says it is about,
    whether or not the content says so (design, guarantee 4).
    """
    removals = appliance.removals.values()
    protecting = frozenset(removal.component for removal in removals if opens_protection(appliance, removal))
    bared: dict[str, frozenset[str]] = {}
    for removal in removals:
        bared[removal.component] = bared.get(removal.component, frozenset()) | bared_by(appliance, removal)

    def fitted(way: AccessPath | Preparation) -> frozenset[str]:
        own = way.bares if isinstance(way, AccessPath) else frozenset()
        free = frozenset(part for part in in_the_way(appliance, way.needs_off) if bared.get(part, own) <= own)
        covers = frozenset(part for part, points in bared.items() if points)
        return way.needs_fitted | protecting | (covers - free)

    paths = {
        slug: replace(path, needs_fitted=fitted(path)) if needs_supply(appliance, path) else path
        for slug, path in appliance.access_paths.items()
    }
    preparations = {
        slug: replace(each, needs_fitted=fitted(each)) if needs_supply(appliance, each) else each
        for slug, each in appliance.preparations.items()
    }
    return replace(appliance, access_paths=paths, preparations=preparations)


def needs_supply(appliance: Appliance, way: AccessPath | Preparation) -> bool:
    """True for what is done with the supply on."""
    live = isinstance(way, AccessPath) and way.live
    return live or appliance.energised(way.needs_states)


def in_the_way(appliance: Appliance, parts: frozenset[str]) -> frozenset[str]:
    """``parts`` and all that any way of taking them off may need off first."""
    found: set[str] = set()
    waiting = list(parts)
    while waiting:
        part = waiting.pop()
        if part not in found:
            found.add(part)
            ways = (removal for removal in appliance.removals.values() if removal.component == part)
            waiting.extend(need for way in ways for need in way.needs_off)
    return frozenset(found)


def effort_to_reach(appliance: Appliance, planner: Planner) -> Effort:
    """By the cheapest removal plan to what each isolating device needs off.

    A device that cannot be got at counts as baring every point, so that no set rests on it while anything is live.
    """
    bared: dict[str, frozenset[str]] = {}
    minutes: dict[str, float] = {}
    for device in appliance.circuit.devices.values():
        if device.isolating:
            bared[device.id], minutes[device.id] = _reach(appliance, planner, device)
    return Effort(bared, minutes)


def _reach(appliance: Appliance, planner: Planner, device: Device) -> tuple[frozenset[str], float]:
    if not device.needs_off:
        return frozenset(), device.minutes
    targets = tuple(Target(component, Purpose.REPLACE) for component in sorted(device.needs_off))
    try:
        found = planner.plan(Request(targets=targets, alternatives=0))
    except RemovalError:
        return frozenset(appliance.circuit.points), device.minutes
    bares = (bared_by(appliance, appliance.removals[way]) for way in found.ways if way in appliance.removals)
    return frozenset().union(*bares), device.minutes + found.minutes
