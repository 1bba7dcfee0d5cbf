"""All smallest sets of whole isolating devices that cut a set of points off and can be carried out.

Since a device opens all its contacts together this is a smallest hitting set over paths, not a minimum cut. The circuit
is first contracted: what is joined by links that no further isolating device opens becomes one node. The search is
best first over sets of devices. Every set that does not yet do is followed by the sets with one device more, taken from
a path that is still closed (one of them must open), and is valued at its size plus the number of still closed paths
that share no device, which never overstates what is missing. So the first sets found are smallest, and all smallest
are found.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush
from math import fsum

from firstoff.energy.doubt import NOWHERE, started_by_doubt, structural_doubt, wet_regions
from firstoff.energy.feeds import Feed, energy_feeds, excused_neutrals, stores
from firstoff.energy.network import Network, closed_links, earthed, regions
from firstoff.energy.neutral import lines_still_to_open
from firstoff.energy.words import STORED_CHARGE, Situation

Entry = tuple[int, int]
"""A node that is fed, and the devices (bits) of which one must open for it not to be; none where that cannot be."""


@dataclass(frozen=True, slots=True)
class CutGraph:
    """The contracted circuit.

    ``devices`` are the isolating devices that may still open; device i is bit ``1 << i``. ``edges[n]`` holds (node,
    bit of the device whose contact joins them, or 0 where a primary keeps a secondary alive). ``dry`` and ``wet`` give
    the node of a point, ``NOWHERE`` for none. ``doubt`` are the points that stay unknown whatever is opened,
    ``started_by_doubt`` the derived sources that may be alive because a primary point is among them. ``excused`` are
    the sources whose neutral counts as dead already.
    """

    network: Network
    situation: Situation
    devices: tuple[str, ...]
    edges: tuple[list[tuple[int, int]], ...]
    dry: list[int]
    wet: list[int]
    earth: frozenset[int]
    feeds: tuple[Feed, ...]
    held: tuple[Feed, ...]
    doubt: frozenset[int]
    started_by_doubt: tuple[Feed, ...]
    excused: frozenset[str]

    def nodes(self, points: Iterable[int]) -> frozenset[int]:
        """The nodes of the points; those on protective earth have none but a wet one."""
        return frozenset(node for point in points for node in (self.dry[point], self.wet[point]) if node != NOWHERE)

    def starts(self, feed: Feed, neutral: bool) -> tuple[int, ...]:
        """The nodes at which a feed enters, with or without its neutral."""
        label = self.wet if feed.wet else self.dry
        points = (*feed.starts, feed.neutral) if neutral and feed.neutral is not None else feed.starts
        return tuple(label[point] for point in points if label[point] != NOWHERE)

    def bits(self, devices: Iterable[str]) -> int:
        """The devices as bits; those that may not open any more count for nothing."""
        chosen = frozenset(devices)
        return sum(1 << number for number, device in enumerate(self.devices) if device in chosen)

    def names(self, bits: int) -> tuple[str, ...]:
        """The devices of a set of bits."""
        return tuple(device for number, device in enumerate(self.devices) if bits >> number & 1)

    def entries(self, feeds: Iterable[Feed], opened: int) -> list[Entry]:
        """Where ``feeds`` enter with the devices ``opened`` open as well.

        A neutral that may be taken for dead once the lines are open is fed until then.
        """
        found: list[Entry] = []
        for feed in feeds:
            if not (feed.provable and self.situation.neutral_proved):
                found += ((node, 0) for node in self.starts(feed, neutral=True))
                continue
            found += ((node, 0) for node in self.starts(feed, neutral=False))
            source = self.network.circuit.sources[feed.id]
            lacking = lines_still_to_open(self.network, source, self.situation.opened | set(self.names(opened)))
            if lacking is not None and feed.neutral is not None and self.dry[feed.neutral] != NOWHERE:
                found.append((self.dry[feed.neutral], self.bits(lacking)))
        return found

    def entries_now(self, feeds: Iterable[Feed]) -> list[Entry]:
        """Where ``feeds`` enter on the proof of neutral there is now: what opens later was not proved yet."""
        return [(node, 0) for feed in feeds for node in self.starts(feed, neutral=feed.id not in self.excused)]


def cut_graph(network: Network, situation: Situation) -> CutGraph:
    """Contract a circuit in a situation, every control device closed and every part back."""
    earth = earthed(network, situation)
    feeds, held = energy_feeds(network), stores(network, STORED_CHARGE)
    openable = sorted(device for device in network.isolating - situation.opened if device in network.contacts)
    opened = situation.opened & network.isolating
    closed = closed_links(network, opened)
    joined = closed_links(network, opened.union(openable))
    dry = regions(network, joined, earth)
    offset = max(dry, default=NOWHERE) + 1
    wet = [node + offset if node != NOWHERE else node for node in wet_regions(network, joined, (*feeds, *held))]
    count = max(offset, max(wet, default=NOWHERE) + 1)
    edges: tuple[list[tuple[int, int]], ...] = tuple([] for _ in range(count))
    for number, device in enumerate(openable):
        for contact in network.contacts[device]:
            link = network.links[contact]
            start, end = network.index[link.start], network.index[link.end]
            for label in (dry, wet):
                one, other = label[start], label[end]
                if closed[contact] and one != other and NOWHERE not in (one, other):
                    edges[one].append((other, 1 << number))
                    edges[other].append((one, 1 << number))
    doubt = structural_doubt(network, feeds, held, earth)
    graph = CutGraph(
        network=network,
        situation=situation,
        devices=tuple(openable),
        edges=edges,
        dry=dry,
        wet=wet,
        earth=earth,
        feeds=tuple(feeds),
        held=tuple(feed for feed in held if feed.id not in situation.released),
        doubt=doubt,
        started_by_doubt=started_by_doubt(feeds, doubt),
        excused=excused_neutrals(network, feeds, situation),
    )
    for feed in feeds:
        if feed.derived:
            for node in graph.nodes(feed.derived_from):
                edges[node].extend((start, 0) for start in graph.starts(feed, neutral=True))
    return graph


def reach(graph: CutGraph, entries: Iterable[Entry], opened: int) -> dict[int, int]:
    """The nodes that are fed, each with the devices on one path to it: nothing clears it unless one of them opens.

    A path with an entry that itself depends on devices counts those too.
    """
    found: dict[int, int] = {}
    waiting: deque[int] = deque()
    for node, bits in entries:
        if node not in found:
            found[node] = bits
            waiting.append(node)
        elif bits.bit_count() < found[node].bit_count():
            found[node] = bits
    while waiting:
        node = waiting.popleft()
        bits = found[node]
        for other, bit in graph.edges[node]:
            if other not in found and not bit & opened:
                found[other] = bits | bit
                waiting.append(other)
    return found


def still_to_open(graph: CutGraph, targets: frozenset[int], entries: Iterable[Entry], opened: int) -> int | None:
    """None where none of ``targets`` is fed; else devices of which at least one more has to open (0: none can)."""
    found = reach(graph, entries, opened)
    paths = [found[node] for node in targets if node in found]
    return min(paths, key=lambda bits: (bits.bit_count(), bits)) if paths else None


@dataclass(frozen=True, slots=True)
class Task:
    """What to cut off from what, and what each device bares before it can be opened.

    ``bared[i]`` are the nodes bared to reach device i; ``usable`` the devices that bare nothing unknown. ``guarding``
    is where anything at all may feed a bared point. ``cost[i]`` is what opening device i costs.
    """

    targets: frozenset[int]
    feeds: tuple[Feed, ...]
    bared: tuple[frozenset[int], ...]
    usable: int
    guarding: tuple[Entry, ...]
    cost: tuple[float, ...]


def task(
    graph: CutGraph,
    targets: frozenset[int],
    feeds: Sequence[Feed],
    bared_to_reach: Mapping[str, frozenset[str]],
    cost: Mapping[str, float],
) -> Task:
    """Put a question to the graph; devices without a ``cost`` cost the minutes of the read model."""
    bared: list[frozenset[int]] = []
    usable = 0
    for number, device in enumerate(graph.devices):
        names = bared_to_reach.get(device, frozenset())
        points = graph.network.numbers(names)
        if len(points) == len(names) and graph.doubt.isdisjoint(points):
            usable |= 1 << number
        bared.append(graph.nodes(points))
    everything = [feed for feed in (*graph.feeds, *graph.held) if not feed.derived] + [*graph.started_by_doubt]
    devices = graph.network.circuit.devices
    costs = tuple(cost.get(device, devices[device].minutes) for device in graph.devices)
    return Task(targets, tuple(feeds), tuple(bared), usable, tuple(graph.entries_now(everything)), costs)


def ordered(graph: CutGraph, asked: Task, devices: int) -> tuple[tuple[int, ...], int]:
    """An order in which ``devices`` can be opened, cheapest first of those that can; and the devices that remain stuck.

    Opening more never feeds more, so taking what can be taken never spoils the rest.
    """
    order: list[int] = []
    opened = 0
    remaining = [number for number in range(len(graph.devices)) if devices >> number & 1]
    remaining.sort(key=lambda number: (asked.cost[number], graph.devices[number]))
    while remaining:
        for number in remaining:
            bared = asked.bared[number]
            if not bared or still_to_open(graph, bared, asked.guarding, opened) is None:
                break
        else:
            break
        remaining.remove(number)
        order.append(number)
        opened |= 1 << number
    return tuple(order), devices & ~opened


def _missing(graph: CutGraph, asked: Task, devices: int) -> tuple[int, int]:
    """How many devices are missing at least, and those of which one is; (0, 0) when done, (1, 0) when nothing helps."""
    count = 0
    branch = 0
    opened = devices
    while True:
        need = still_to_open(graph, asked.targets, graph.entries(asked.feeds, opened), opened)
        if need is None:
            break
        need &= asked.usable
        if not need:
            return 1, 0
        if not count or need.bit_count() < branch.bit_count():
            branch = need
        count += 1
        opened |= need
    if count:
        return count, branch
    order, stuck = ordered(graph, asked, devices)
    if not stuck:
        return 0, 0
    done = sum(1 << number for number in order)
    for number, bared in enumerate(asked.bared):
        if stuck >> number & 1:
            # Were this the next of the stuck to open, something outside the set would have to open before it.
            branch |= still_to_open(graph, bared, asked.guarding, done) or 0
    return 1, branch & asked.usable & ~devices


def smallest_sets(graph: CutGraph, asked: Task) -> tuple[tuple[str, ...], ...]:
    """All smallest sets, each in the order to open it, cheapest set first; empty where there is none."""
    best: int | None = None
    found: list[int] = []
    seen = {0}
    waiting: list[tuple[int, int, int]] = []

    def push(devices: int) -> None:
        lacking, branch = _missing(graph, asked, devices)
        if not lacking or branch:
            heappush(waiting, (devices.bit_count() + lacking, devices, branch))

    push(0)
    while waiting:
        size, devices, branch = heappop(waiting)
        if best is not None and size > best:
            break
        if not branch:
            best = size
            found.append(devices)
            continue
        for number in range(len(graph.devices)):
            longer = devices | 1 << number
            if branch >> number & 1 and longer not in seen:
                seen.add(longer)
                push(longer)
    sets = []
    for devices in found:
        order, _ = ordered(graph, asked, devices)
        names = tuple(graph.devices[number] for number in order)
        sets.append((fsum(asked.cost[number] for number in order), sorted(names), names))
    return tuple(names for _, _, names in sorted(sets))
