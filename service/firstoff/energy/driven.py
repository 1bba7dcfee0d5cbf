"""What is live because a service mode switches something on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from firstoff.appliance.model import Appliance
from firstoff.energy.liveness import live_points
from firstoff.energy.situation import situation_of
from firstoff.energy.words import PointCondition, PointState

_NOT_SAFE = (PointCondition.LIVE, PointCondition.UNKNOWN)


@dataclass(frozen=True, slots=True)
class Driven:
    """``points`` that are live or unknown, in order of their ids; ``only_so`` are the ids of those that would not be
    with the devices open; ``untold`` are components of which no point is described, so that all of them counts as live.
    """

    points: tuple[PointState, ...]
    only_so: frozenset[str]
    untold: frozenset[str]


def driven(appliance: Appliance, opened: Iterable[str], runs: frozenset[str], closes: frozenset[str]) -> Driven:
    """What the components ``runs``, switched on by way of the devices ``closes``, make live.

    ``opened`` are devices that are open all the while. Points of the components and of all that the devices feed.
    Whatever is not stated open counts as closed, here as everywhere, so that no point is left out that another contact
    in the path may make live.
    """
    apart = frozenset(opened) - closes
    running = live_points(appliance, situation_of(appliance, apart, ()))
    idle = live_points(appliance, situation_of(appliance, apart | closes, ()))
    only_so = frozenset(
        slug for slug, state in running.items() if state.state in _NOT_SAFE and idle[slug].state not in _NOT_SAFE
    )
    points = appliance.circuit.points
    found = only_so | {
        slug for slug, state in running.items() if points[slug].component in runs and state.state in _NOT_SAFE
    }
    described = {point.component for point in points.values()}
    return Driven(tuple(running[slug] for slug in sorted(found)), only_so, runs - described)
