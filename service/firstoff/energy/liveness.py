"""What every point is: live, unknown, off but not isolated, or isolated, and by which path.

Liveness is reachability. Every closed link conducts, loads, windings, capacitors, semiconductors and converters too,
so that with only the neutral open the far side of a load is live. Paths end at protective earth.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from firstoff.appliance.circuit import (
    Circuit,
    Point,
)
from firstoff.appliance.model import Appliance
from firstoff.energy.doubt import doubtful_points, structural_doubt, wet_regions
from firstoff.energy.feeds import Feed, energy_feeds, excused_neutrals, fed_regions, peak_volts, stores
from firstoff.energy.network import (
    LOAD_LIKE,
    Network,
    Spread,
    as_found,
    circuit_of,
    controls_closed,
    earthed,
    network_of,
    regions,
    spread,
)
from firstoff.energy.words import STORED_CHARGE, PointCondition, PointState, Situation

ROUNDING = 1.01
"""Nominal voltages are rounded: a rectified 120 V is written as 170 V, not 169.7, and is no higher than its supply."""


@dataclass(frozen=True, slots=True)
class _Reach:
    """What feeds which region under one choice of closed links."""

    closed: bytearray
    dry: list[int]
    wet: list[int]
    by_dry: dict[int, list[Feed]]
    by_wet: dict[int, list[Feed]]

    def feeding(self, point: int) -> list[Feed]:
        return self.by_dry.get(self.dry[point], []) + self.by_wet.get(self.wet[point], [])

    def alive(self) -> dict[str, Feed]:
        return {feed.id: feed for fed in (self.by_dry, self.by_wet) for feeds in fed.values() for feed in feeds}


def live_points(of: Appliance | Circuit, situation: Situation) -> dict[str, PointState]:
    """The state of every point of the circuit, by point id.

    A derived source is alive with the worst state of its primary points. A capacitor not released is a source of
    charge at both ends, whatever the mains does. What would clear a point is ``cleared_by``.
    """
    network = network_of(circuit_of(of))
    earth = earthed(network, situation)
    feeds, held = energy_feeds(network), stores(network, STORED_CHARGE)
    excused = excused_neutrals(network, feeds, situation)
    everything = [*feeds, *(feed for feed in held if feed.id not in situation.released)]

    def reach(closed: bytearray) -> _Reach:
        dry, wet = regions(network, closed, earth), wet_regions(network, closed, everything)
        alive = [feed for feed in everything if not feed.derived]
        return _Reach(closed, dry, wet, *fed_regions(feeds, excused, dry, wet, alive))

    now, later = reach(as_found(network, situation)), reach(controls_closed(network, situation))
    doubt = structural_doubt(network, feeds, held, earth)
    doubt |= doubtful_points(feeds, excused, later.dry, later.wet, doubt)
    states: dict[str, PointState] = {}
    live = [point for point in range(len(network.points)) if now.feeding(point)]
    off = [point for point in range(len(network.points)) if not now.feeding(point) and later.feeding(point)]
    for points, reached, condition in (
        (live, now, PointCondition.LIVE),
        ([point for point in off if point not in doubt], later, PointCondition.OFF_NOT_ISOLATED),
    ):
        for point, (source, path, through_load) in _paths(network, reached, earth, excused, points).items():
            name = network.points[point]
            volts, current = _voltage(reached.feeding(point), network.circuit.points.get(name))
            states[name] = PointState(name, condition, volts, current, path, through_load, source)
    for number, name in enumerate(network.points):
        if name not in states:
            condition = PointCondition.UNKNOWN if number in doubt else PointCondition.ISOLATED
            states[name] = PointState(name, condition)
    return {name: states[name] for name in network.points}


def _paths(
    network: Network, reach: _Reach, earth: frozenset[int], excused: frozenset[str], points: Sequence[int]
) -> dict[int, tuple[str, tuple[str, ...], bool]]:
    """Source, path and whether it crosses a load for each of ``points``, all of which ``reach`` feeds.

    Energy sources come before stored charge, paths without loads before others, short before long.
    """
    if not points:
        return {}
    plain = bytearray(
        closed and link.kind not in LOAD_LIKE for closed, link in zip(reach.closed, network.links, strict=True)
    )
    alive = reach.alive().values()
    found: dict[int, tuple[str, tuple[str, ...], bool]] = {}
    missing = list(points)
    for holds in (False, True):
        for wet, barrier in ((False, earth), (True, frozenset[int]())):
            starts = _starts((feed for feed in alive if feed.holds is holds and feed.wet is wet), excused)
            if not starts:
                continue
            for closed, through_load in ((plain, False), (reach.closed, True)):
                if missing:
                    _collect(network, spread(network, closed, barrier, starts), missing, through_load, found)
                    missing = [point for point in missing if point not in found]
    return found


def _starts(feeds: Iterable[Feed], excused: frozenset[str]) -> list[tuple[int, str]]:
    """Where feeds enter, every line before any neutral."""
    chosen = list(feeds)
    lines = [(start, feed.id) for feed in chosen for start in feed.starts]
    neutrals = [(feed.neutral, feed.id) for feed in chosen if feed.neutral is not None and feed.id not in excused]
    return lines + neutrals


def _collect(
    network: Network,
    paths: Spread,
    points: Iterable[int],
    through_load: bool,
    found: dict[int, tuple[str, tuple[str, ...], bool]],
) -> None:
    for point in points:
        source = paths.source[point]
        if source is not None:
            found[point] = (source, paths.path(network, point), through_load)


def _voltage(feeds: Sequence[Feed], point: Point | None) -> tuple[float | None, str | None]:
    """The highest voltage to earth at a point, and its kind of current.

    Sources speak first: the highest of them, or the point's own declared voltage where that is no lower (what is not
    declared separated is mains-referenced, however low its voltage). Charge speaks where there is no source, or where
    its peak is higher by more than ``ROUNDING``. Where a voltage should be stated but is not, the answer is None
    rather than a guess.
    """
    sources = [feed for feed in feeds if not feed.holds]
    volts: float | None = None
    current: str | None = None
    peak = 0.0
    if any(not feed.known for feed in sources) or (not sources and any(not feed.known for feed in feeds)):
        return None, None
    for feed in sources:
        if feed.volts is not None and feed.peak is not None and (volts is None or feed.peak > peak):
            volts, current, peak = feed.volts, feed.current, feed.peak
    if sources and point is not None and point.volts is not None and (volts is None or point.volts >= volts):
        volts, current = point.volts, point.current or current
        peak = max(peak, peak_volts(volts, current, max(feed.tolerance for feed in sources)))
    for feed in feeds:
        if not feed.holds or feed.volts is None or feed.peak is None:
            continue
        if volts is None or feed.peak > peak * (ROUNDING if current == "ac" else 1.0):
            volts, current, peak = feed.volts, feed.current, feed.peak
    return volts, current
