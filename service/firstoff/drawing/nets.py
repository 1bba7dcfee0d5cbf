"""The circuit contracted for a single-line drawing: nets of points that wires join, and the units between them.

A net is what plain conductors, or pipes, join: one node of the circuit in the sense of Kirchhoff. A unit is a device
with all its contacts, or what conducts in one component and hangs together. Only the circuit counts, not what is
opened, so that one machine is always drawn in the same shape.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from heapq import heappop, heappush
from math import inf

from firstoff.appliance.circuit import Circuit, Link, LinkKind
from firstoff.energy.network import source_points

PLAIN = frozenset({LinkKind.CONDUCTOR, LinkKind.PIPE})

#: How far apart a link sets its ends: what carries the supply is near, what uses it is far.
_LENGTH = {
    LinkKind.CONTACT: 1.0,
    LinkKind.FUSE: 1.0,
    LinkKind.WINDING: 10.0,
    LinkKind.LOAD: 20.0,
    LinkKind.SEMICONDUCTOR: 20.0,
    LinkKind.CONVERTER: 20.0,
    LinkKind.CAPACITOR: 1000.0,
}
#: A net nearer than this to a neutral, and nearer to it than to a line, is a return. Below one load.
_RETURN = 20.0


@dataclass(frozen=True, slots=True)
class Unit:
    """A device, a component or a source: ``links`` are what it is made of, ``nets`` what it touches.

    Exactly one of ``device``, ``component`` and ``source`` is set.
    """

    links: tuple[str, ...]
    nets: frozenset[int]
    device: str | None = None
    component: str | None = None
    source: str | None = None


@dataclass(frozen=True, slots=True)
class Nets:
    """``net_of`` numbers the net of each point, ``points`` lists them by net.

    ``earth`` holds the nets that only earth bonds touch. ``owner`` is the unit by which a net is fed, by the shortest
    way from a source, ``root`` the unit of that source; ``rank`` orders nets by how near they are fed, returns after
    all others; ``returns`` holds those.
    """

    net_of: Mapping[str, int]
    points: tuple[tuple[str, ...], ...]
    units: tuple[Unit, ...]
    earth: frozenset[int]
    returns: frozenset[int]
    owner: Mapping[int, int]
    root: Mapping[int, int]
    rank: Mapping[int, tuple[bool, float]]


@dataclass(frozen=True, slots=True)
class _Way:
    """How far a net is from a source, the unit by which the way enters it, and the unit of the source."""

    length: float
    unit: int
    root: int


_NO_WAY = _Way(inf, -1, -1)


class _Groups:
    """Disjoint sets."""

    def __init__(self) -> None:
        self._above: dict[object, object] = {}

    def find(self, one: object) -> object:
        root = one
        while self._above.setdefault(root, root) != root:
            root = self._above[root]
        while self._above[one] != root:
            self._above[one], one = root, self._above[one]
        return root

    def join(self, one: object, other: object) -> None:
        self._above[self.find(other)] = self.find(one)


def nets_of(circuit: Circuit) -> Nets:
    """The nets and units of ``circuit``; sources that feed no point are left out."""
    net_of = _numbered(circuit)
    units = [*_sources(circuit, net_of), *_devices(circuit, net_of), *_components(circuit, net_of)]
    points: list[list[str]] = [[] for _ in range(max(net_of.values(), default=-1) + 1)]
    for point, net in net_of.items():
        points[net].append(point)
    touched = {net for unit in units for net in unit.nets}
    bonded = {
        net_of[end]
        for link in circuit.links.values()
        if link.kind == LinkKind.EARTH_BOND
        for end in (link.start, link.end)
    }
    bonded |= {net_of[each.protective_earth] for each in circuit.sources.values() if each.protective_earth}
    ways = _ways(circuit, net_of, units)
    from_line, from_neutral = (_spread(ways, _starts(circuit, net_of, units, neutral=each)) for each in (False, True))
    returns: set[int] = set()
    fed: dict[int, _Way] = {}
    for net in {*from_line, *from_neutral}:
        line, neutral = from_line.get(net, _NO_WAY), from_neutral.get(net, _NO_WAY)
        if neutral.length < line.length and (neutral.length < _RETURN or line.length == inf):
            returns.add(net)
        fed[net] = neutral if net in returns else line
    return Nets(
        net_of,
        points=tuple(map(tuple, points)),
        units=tuple(units),
        earth=frozenset(bonded - touched),
        returns=frozenset(returns),
        owner={net: way.unit for net, way in fed.items()},
        root={net: way.root for net, way in fed.items()},
        rank={net: (net in returns, way.length) for net, way in fed.items()},
    )


def _numbered(circuit: Circuit) -> dict[str, int]:
    groups = _Groups()
    names: dict[str, None] = dict.fromkeys(circuit.points)
    for link in circuit.links.values():
        names.update(dict.fromkeys((link.start, link.end)))
        if link.kind in PLAIN:
            groups.join(link.start, link.end)
    for source in circuit.sources.values():
        earth = (source.protective_earth,) if source.protective_earth else ()
        names.update(dict.fromkeys((*source_points(source), *earth)))
    numbers: dict[object, int] = {}
    return {name: numbers.setdefault(groups.find(name), len(numbers)) for name in names}


def _sources(circuit: Circuit, net_of: Mapping[str, int]) -> Iterable[Unit]:
    for source in circuit.sources.values():
        if source_points(source):
            yield Unit((), frozenset(net_of[point] for point in source_points(source)), source=source.id)


def _devices(circuit: Circuit, net_of: Mapping[str, int]) -> Iterable[Unit]:
    for device in circuit.devices:
        own = (link for link in circuit.links.values() if link.device == device)
        links = [link for link in own if link.kind != LinkKind.EARTH_BOND]
        yield Unit(tuple(link.id for link in links), _touched(links, net_of), device=device)


def _components(circuit: Circuit, net_of: Mapping[str, int]) -> Iterable[Unit]:
    """What conducts in each component besides contacts and wires, in pieces that hang together."""
    groups = _Groups()
    mine = [
        link
        for link in circuit.links.values()
        if link.device not in circuit.devices and link.kind not in PLAIN and link.kind != LinkKind.EARTH_BOND
    ]
    for link in mine:
        groups.join((link.component, net_of[link.start]), (link.component, net_of[link.end]))
    pieces: dict[object, list[Link]] = {}
    for link in mine:
        pieces.setdefault(groups.find((link.component, net_of[link.start])), []).append(link)
    for links in pieces.values():
        yield Unit(tuple(link.id for link in links), _touched(links, net_of), component=links[0].component)


def _touched(links: Iterable[Link], net_of: Mapping[str, int]) -> frozenset[int]:
    return frozenset(net_of[end] for link in links for end in (link.start, link.end))


def _starts(circuit: Circuit, net_of: Mapping[str, int], units: list[Unit], *, neutral: bool) -> dict[int, int]:
    """The nets where sources enter, with the unit of each: by their neutrals, or by all else."""
    starts: dict[int, int] = {}
    for number, unit in enumerate(units):
        if unit.source is not None:
            source = circuit.sources[unit.source]
            lines, neutrals = (*source.lines, *source.feeds), ((source.neutral,) if source.neutral else ())
            starts.update((net_of[point], number) for point in (neutrals if neutral else lines))
    return starts


def _ways(circuit: Circuit, net_of: Mapping[str, int], units: list[Unit]) -> dict[int, list[tuple[int, float, int]]]:
    """From each net: the net at the other end of a link, the link's length and its unit."""
    ways: dict[int, list[tuple[int, float, int]]] = {}
    for number, unit in enumerate(units):
        for id_ in unit.links:
            link = circuit.links[id_]
            start, end, length = net_of[link.start], net_of[link.end], _LENGTH[link.kind]
            ways.setdefault(start, []).append((end, length, number))
            ways.setdefault(end, []).append((start, length, number))
    return ways


def _spread(ways: Mapping[int, list[tuple[int, float, int]]], starts: Mapping[int, int]) -> dict[int, _Way]:
    """The shortest way from ``starts`` to each net (Dijkstra 1959)."""
    found: dict[int, _Way] = {}
    heap = [(0.0, net, unit, unit) for net, unit in sorted(starts.items())]
    while heap:
        length, net, unit, root = heappop(heap)
        if net in found:
            continue
        found[net] = _Way(length, unit, root)
        for other, more, through in ways.get(net, ()):
            if other not in found:
                heappush(heap, (length + more, other, through, root))
    return found
