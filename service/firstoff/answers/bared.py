"""What an act lays bare."""

from __future__ import annotations

from firstoff.appliance.circuit import LinkKind
from firstoff.appliance.model import (
    AccessPath,
    Appliance,
    Removal,
)
from firstoff.removal import Act


def bared_by(appliance: Appliance, way: Removal | AccessPath | None) -> frozenset[str]:
    """The points a way bares: those it names, and both ends of every link it opens.

    Earth bonds are left out, and so are the supply's own points: a socket stays shrouded when the plug is out.
    """
    if way is None:
        return frozenset()
    if isinstance(way, AccessPath):
        return way.bares
    links = appliance.circuit.links
    opened = [links[slug] for slug in way.opens if slug in links and links[slug].kind is not LinkKind.EARTH_BOND]
    ends = {point for link in opened for point in (link.start, link.end)}
    supply = {p for s in appliance.circuit.sources.values() for p in (*s.lines, s.neutral, *s.feeds)}
    return way.bares | (ends - supply)


def way_of(appliance: Appliance, act: Act) -> Removal | AccessPath | None:
    """The removal or access path an act uses, None for preparations and for a replacement in hand."""
    if act.way is None:
        return None
    return appliance.removals.get(act.way) or appliance.access_paths.get(act.way)
