"""What nothing is known of: points that no source leads to, and earthed metal whose earth bond is open."""

from __future__ import annotations

from collections.abc import Sequence

from firstoff.energy.feeds import Feed, fed_regions
from firstoff.energy.network import Network, closed_links, earthed, regions

NOWHERE = -1
"""The region of a point that lies in none."""


def wet_regions(network: Network, closed: bytearray, feeds: Sequence[Feed]) -> list[int]:
    """Regions that protective earth does not divide, or no regions at all where nothing wet is about."""
    if any(feed.wet for feed in feeds):
        return regions(network, closed, frozenset())
    return [NOWHERE] * len(network.points)


def structural_doubt(
    network: Network, feeds: Sequence[Feed], held: Sequence[Feed], earth: frozenset[int]
) -> frozenset[int]:
    """The points that stay unknown whatever is opened.

    They are those to which no source of any kind leads with every device closed and every opened link restored, and
    which are not on protective earth even so; and those that are on protective earth only with every bond closed
    (``earth`` holds the points that are on it now).
    A capacitor is not a source here: its charge says nothing of what else may feed a point. ``held`` are all stores,
    released or not.
    """
    whole_earth = earthed(network, None)
    closed = closed_links(network, ())
    sources = [feed for feed in (*feeds, *held) if not feed.holds or feed.id in network.circuit.sources]
    dry = regions(network, closed, whole_earth)
    wet = wet_regions(network, closed, sources)
    by_dry, by_wet = fed_regions((), frozenset(), dry, wet, sources)
    unbonded = whole_earth - earth
    return unbonded | {
        point
        for point in range(len(network.points))
        if dry[point] not in by_dry and wet[point] not in by_wet and point not in whole_earth
    }


def started_by_doubt(feeds: Sequence[Feed], doubt: frozenset[int]) -> tuple[Feed, ...]:
    """The derived sources that may be alive because a primary point is in ``doubt`` or not in the circuit at all."""
    return tuple(
        feed for feed in feeds if feed.derived and (feed.origin_missing or not doubt.isdisjoint(feed.derived_from))
    )


def doubtful_points(
    feeds: Sequence[Feed], excused: frozenset[str], dry: Sequence[int], wet: Sequence[int], doubt: frozenset[int]
) -> frozenset[int]:
    """The points that a derived source may feed because a primary point is unknown, and so on from secondary on.

    ``dry`` and ``wet`` are the regions with the controls closed.
    """
    start = started_by_doubt(feeds, doubt)
    if not start:
        return frozenset()
    by_dry, by_wet = fed_regions(feeds, excused, dry, wet, start)
    return frozenset(point for point in range(len(dry)) if dry[point] in by_dry or wet[point] in by_wet)
