"""A circuit as a graph over small integers, and which of its links conduct.

Points and links are numbered. Earth bonds join no neighbours: they never conduct, they only say what is on protective
earth. Ends of links and sources that the circuit does not declare as points are numbered too, so that nothing that
may be live is dropped.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from firstoff.appliance.circuit import (
    Circuit,
    EnergySource,
    Link,
    LinkKind,
)
from firstoff.appliance.model import Appliance
from firstoff.energy.words import Situation

LOAD_LIKE = frozenset({LinkKind.LOAD, LinkKind.WINDING, LinkKind.CAPACITOR, LinkKind.SEMICONDUCTOR})
"""Links that conduct but drop a voltage or pass charge; paths without them are shown first."""


@dataclass(frozen=True, slots=True)
class Network:
    """A numbered circuit.

    ``neighbours[p]`` holds (link number, point at its other end); ``contacts[d]`` the contacts of device ``d`` that
    open with it (no changeover throw); ``bonds`` the earth bonds as (link id, point, point, device that opens it or
    None); ``isolating`` the ids of isolating devices.
    """

    circuit: Circuit
    points: tuple[str, ...]
    index: dict[str, int]
    links: tuple[Link, ...]
    link_index: dict[str, int]
    neighbours: tuple[list[tuple[int, int]], ...]
    contacts: dict[str, list[int]]
    bonds: tuple[tuple[str, int, int, str | None], ...]
    isolating: frozenset[str]

    def numbers(self, points: Iterable[str]) -> tuple[int, ...]:
        """The numbers of those of ``points`` that the network has."""
        index = self.index
        return tuple(index[point] for point in points if point in index)


def circuit_of(of: Appliance | Circuit) -> Circuit:
    """The circuit of an appliance, or the circuit itself."""
    return of.circuit if isinstance(of, Appliance) else of


def source_points(source: EnergySource) -> tuple[str, ...]:
    """Every point at which a source feeds, lines first."""
    neutral = () if source.neutral is None else (source.neutral,)
    return (*source.lines, *source.feeds, *neutral)


def is_wet(source: EnergySource) -> bool:
    """Whether a source is a fluid's, which protective earth does not stop: it feeds, but has no line and no neutral."""
    return not source.lines and source.neutral is None


def network_of(circuit: Circuit) -> Network:
    """Number the points and links of a circuit. Linear in its size."""
    index: dict[str, int] = {}
    for point in circuit.points:
        index[point] = len(index)
    links = tuple(circuit.links.values())
    for link in links:
        index.setdefault(link.start, len(index))
        index.setdefault(link.end, len(index))
    for source in circuit.sources.values():
        for point in source_points(source):
            index.setdefault(point, len(index))
        if source.protective_earth is not None:
            index.setdefault(source.protective_earth, len(index))
    neighbours: tuple[list[tuple[int, int]], ...] = tuple([] for _ in index)
    contacts: dict[str, list[int]] = {}
    bonds: list[tuple[str, int, int, str | None]] = []
    link_index: dict[str, int] = {}
    for number, link in enumerate(links):
        start, end = index[link.start], index[link.end]
        link_index[link.id] = number
        if link.kind == LinkKind.EARTH_BOND:
            bonds.append((link.id, start, end, link.device))
            continue
        neighbours[start].append((number, end))
        neighbours[end].append((number, start))
        if link.kind == LinkKind.CONTACT and link.device is not None and not link.changeover:
            contacts.setdefault(link.device, []).append(number)
    isolating = frozenset(id_ for id_, device in circuit.devices.items() if device.isolating)
    return Network(circuit, tuple(index), index, links, link_index, neighbours, contacts, tuple(bonds), isolating)


def closed_links(network: Network, opened: Iterable[str], links_open: Iterable[str] = ()) -> bytearray:
    """One byte a link: 1 where it conducts with the devices ``opened`` open and the links ``links_open`` gone."""
    closed = bytearray(b"\x01") * len(network.links)
    for link in links_open:
        number = network.link_index.get(link)
        if number is not None:
            closed[number] = 0
    for device in opened:
        for number in network.contacts.get(device, ()):
            closed[number] = 0
    return closed


def as_found(network: Network, situation: Situation) -> bytearray:
    """What conducts in the situation."""
    return closed_links(network, situation.opened, situation.links_open)


def controls_closed(network: Network, situation: Situation) -> bytearray:
    """What would conduct if every control device closed and every part was back: only isolating devices stay open.

    29 CFR 1910.333(b)(2)(ii)(B): control devices and interlocks are not the sole means of isolation. A part taken off
    is no isolating device either: its loose ends may be live.
    """
    return closed_links(network, situation.opened & network.isolating)


def earthed(network: Network, situation: Situation | None) -> frozenset[int]:
    """The points on protective earth by way of closed earth bonds; with every bond closed where no situation is given.

    A point at which a source that is not derived feeds is never taken for earth, nor is earth passed on through it: a
    neutral stays live though it is drawn as bonded to earth.
    """
    feeding: set[int] = set()
    earth: set[int] = set()
    for source in network.circuit.sources.values():
        if not source.derived_from:
            feeding.update(network.numbers(source_points(source)))
        if source.protective_earth is not None:
            earth.add(network.index[source.protective_earth])
    earth -= feeding
    joined: dict[int, list[int]] = {}
    for link, start, end, device in network.bonds:
        if situation is not None and (
            link in situation.bonds_open or link in situation.links_open or device in situation.opened
        ):
            continue
        joined.setdefault(start, []).append(end)
        joined.setdefault(end, []).append(start)
    waiting = list(earth)
    while waiting:
        for other in joined.get(waiting.pop(), ()):
            if other not in earth and other not in feeding:
                earth.add(other)
                waiting.append(other)
    return frozenset(earth)


def regions(network: Network, closed: bytearray, barrier: frozenset[int]) -> list[int]:
    """A region number for every point: equal where closed links join them without crossing ``barrier``, -1 on it."""
    label = [-1] * len(network.points)
    neighbours = network.neighbours
    unseen = -2
    for point in range(len(label)):
        if point not in barrier:
            label[point] = unseen
    region = 0
    for first in range(len(label)):
        if label[first] != unseen:
            continue
        label[first] = region
        waiting = [first]
        while waiting:
            for link, other in neighbours[waiting.pop()]:
                if closed[link] and label[other] == unseen:
                    label[other] = region
                    waiting.append(other)
        region += 1
    return label


@dataclass(frozen=True, slots=True)
class Spread:
    """Shortest paths from a set of starts: ``source[p]`` is the id of what reaches point ``p``, or None.

    ``came[p]`` is (previous point, link number) or None at a start.
    """

    source: list[str | None]
    came: list[tuple[int, int] | None]

    def path(self, network: Network, point: int) -> tuple[str, ...]:
        """Point and link ids by turns, from the start to ``point``."""
        backwards = [network.points[point]]
        step = self.came[point]
        while step is not None:
            previous, link = step
            backwards += (network.links[link].id, network.points[previous])
            step = self.came[previous]
        return tuple(reversed(backwards))


def spread(
    network: Network,
    closed: Sequence[int],
    barrier: frozenset[int],
    starts: Iterable[tuple[int, str]],
) -> Spread:
    """Shortest paths over closed links from ``starts`` (point, source id), the first of equals.

    None enters ``barrier``.
    """
    source: list[str | None] = [None] * len(network.points)
    came: list[tuple[int, int] | None] = [None] * len(network.points)
    waiting: deque[int] = deque()
    for point, id_ in starts:
        if source[point] is None and point not in barrier:
            source[point] = id_
            waiting.append(point)
    neighbours = network.neighbours
    while waiting:
        here = waiting.popleft()
        id_here = source[here]
        for link, other in neighbours[here]:
            if closed[link] and source[other] is None and other not in barrier:
                source[other] = id_here
                came[other] = (here, link)
                waiting.append(other)
    return Spread(source, came)
