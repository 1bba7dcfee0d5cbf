"""What feeds a circuit: energy sources, and what holds a charge until it is released."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import sqrt

from firstoff.appliance.circuit import (
    Circuit,
    LinkKind,
)
from firstoff.energy.network import Network, is_wet, source_points
from firstoff.energy.neutral import lines_still_to_open, may_be_proved
from firstoff.energy.words import Situation


@dataclass(frozen=True, slots=True)
class Feed:
    """Something that feeds points.

    ``starts`` are always fed while the feed is alive; ``neutral`` is fed too unless it is excused. ``derived_from`` are
    the primary points of a separated secondary; ``origin_missing`` says that one of them is not in the circuit.
    ``holds`` marks a capacitor or another store, which is released rather than isolated. ``wet`` feeds pass protective
    earth. ``peak`` is the highest voltage possible, in volts, and ``known`` is False where a voltage should be stated
    but is not.
    """

    id: str
    kind: str
    starts: tuple[int, ...]
    neutral: int | None = None
    derived_from: tuple[int, ...] = ()
    derived: bool = False
    origin_missing: bool = False
    holds: bool = False
    wet: bool = False
    provable: bool = False
    volts: float | None = None
    current: str | None = None
    peak: float | None = None
    tolerance: float = 0.0
    known: bool = True

    def all_starts(self, excused: frozenset[str]) -> tuple[int, ...]:
        """Where the feed enters, its neutral last; ``excused`` holds ids of sources whose neutral is proved dead."""
        if self.neutral is None or self.id in excused:
            return self.starts
        return (*self.starts, self.neutral)


def peak_volts(volts: float, current: str | None, tolerance: float) -> float:
    """The highest instantaneous voltage, in volts; what is not said to be direct current counts as alternating."""
    return volts * (1.0 + tolerance) * (1.0 if current == "dc" else sqrt(2.0))


def supply_tolerance(circuit: Circuit) -> float:
    """The highest upper tolerance among the electrical sources that are not derived, as a fraction."""
    tolerances = [
        source.upper_tolerance for source in circuit.sources.values() if not source.derived_from and not is_wet(source)
    ]
    return max(tolerances, default=0.0)


def energy_feeds(network: Network) -> list[Feed]:
    """The energy sources that feed points and cannot be released, in the order of the circuit."""
    feeds: list[Feed] = []
    for source in network.circuit.sources.values():
        starts = network.numbers((*source.lines, *source.feeds))
        neutral = None if source.neutral is None else network.index[source.neutral]
        if source.held_by is not None or (not starts and neutral is None):
            continue
        wet = is_wet(source)
        volts = source.volts
        origin = network.numbers(source.derived_from)
        feeds.append(
            Feed(
                id=source.id,
                kind=source.kind.id,
                starts=starts,
                neutral=neutral,
                derived_from=origin,
                derived=bool(source.derived_from),
                origin_missing=len(origin) < len(source.derived_from),
                wet=wet,
                provable=may_be_proved(source),
                volts=volts,
                current=source.current,
                peak=None if volts is None else peak_volts(volts, source.current, source.upper_tolerance),
                tolerance=source.upper_tolerance,
                known=wet or volts is not None,
            )
        )
    return feeds


def stores(network: Network, kind: str) -> list[Feed]:
    """The capacitors, as feeds of energy kind ``kind``, and the held sources that feed points, released or not.

    A capacitor counts though its link is opened or its component is off: it takes its charge along.
    """
    feeds: list[Feed] = []
    tolerance = supply_tolerance(network.circuit)
    for link in network.links:
        if link.kind == LinkKind.CAPACITOR:
            peak = None if link.volts is None else peak_volts(link.volts, link.current, tolerance)
            starts = (network.index[link.start], network.index[link.end])
            feeds.append(
                Feed(link.id, kind, starts, holds=True, volts=peak, current="dc", peak=peak, known=peak is not None)
            )
    for source in network.circuit.sources.values():
        points = network.numbers(source_points(source))
        if source.held_by is None or not points:
            continue
        wet, volts = is_wet(source), source.volts
        peak = None if volts is None else peak_volts(volts, source.current, source.upper_tolerance)
        feeds.append(
            Feed(
                source.id,
                source.kind.id,
                points,
                holds=True,
                wet=wet,
                volts=volts,
                current=source.current,
                peak=peak,
                known=wet or peak is not None,
            )
        )
    return feeds


def excused_neutrals(network: Network, feeds: Iterable[Feed], situation: Situation) -> frozenset[str]:
    """The sources whose neutral counts as dead in the situation: lines open by isolating devices, neutral proved."""
    if not situation.neutral_proved:
        return frozenset()
    sources = network.circuit.sources
    return frozenset(
        feed.id
        for feed in feeds
        if feed.provable and lines_still_to_open(network, sources[feed.id], situation.opened) is None
    )


def fed_regions(
    feeds: Sequence[Feed], excused: frozenset[str], dry: Sequence[int], wet: Sequence[int], alive: Iterable[Feed]
) -> tuple[dict[int, list[Feed]], dict[int, list[Feed]]]:
    """Which regions are fed and by what, dry regions first, then wet ones.

    ``alive`` feed from the outset; the derived among ``feeds`` follow as soon as one of their primary points is fed.
    ``dry`` and ``wet`` number the region of each point, -1 for none. Regions are in the order in which they come to be
    fed.
    """
    by_dry: dict[int, list[Feed]] = {}
    by_wet: dict[int, list[Feed]] = {}

    def feed_in(feed: Feed) -> None:
        label, fed = (wet, by_wet) if feed.wet else (dry, by_dry)
        for region in dict.fromkeys(label[start] for start in feed.all_starts(excused)):
            if region >= 0:
                fed.setdefault(region, []).append(feed)

    first = list(alive)
    for feed in first:
        feed_in(feed)
    started = {feed.id for feed in first}
    waiting = [feed for feed in feeds if feed.derived and feed.id not in started]
    grew = True
    while grew and waiting:
        now = [
            feed for feed in waiting if any(dry[point] in by_dry or wet[point] in by_wet for point in feed.derived_from)
        ]
        for feed in now:
            feed_in(feed)
        waiting = [feed for feed in waiting if feed not in now]
        grew = bool(now)
    return by_dry, by_wet
