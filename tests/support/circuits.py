"""Circuits for tests: a short way to write them, random ones, and an oracle on networkx that shares no code with ours.

The oracle works on names and whole graphs, one source at a time, and enumerates; it is slow and plain on purpose.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, permutations

import networkx as nx

from firstoff.appliance.circuit import (
    Circuit,
    Device,
    EnergySource,
    Link,
    LinkKind,
    Point,
)
from firstoff.appliance.model import (
    Appliance,
    Component,
)
from firstoff.appliance.terms import Concept
from firstoff.energy import PointCondition, Situation

KIND = Concept("any", "any")
MAINS = Concept("mains", "mains")
LOW = Concept("extra-low-voltage", "extra-low voltage")
WATER = Concept("water", "water")
CONSUMERS = {LinkKind.LOAD, LinkKind.WINDING, LinkKind.CAPACITOR, LinkKind.SEMICONDUCTOR, LinkKind.CONVERTER}


# --- writing circuits --------------------------------------------------------------------------------


def link(id_: str, kind: str, start: str, end: str, component: str = "body", **more: object) -> Link:
    """A link; ``more`` are further fields of the read model."""
    return Link(id=id_, label=id_, kind=LinkKind(kind), start=start, end=end, component=component, **more)  # type: ignore[arg-type]


def mains(id_: str = "mains", **more: object) -> EnergySource:
    """A mains source of 230 V on l, n and pe unless ``more`` says otherwise."""
    fields: dict[str, object] = {
        "lines": ("l",), "neutral": "n", "protective_earth": "pe", "volts": 230.0, "current": "ac",
        "upper_tolerance": 0.1, "kind": MAINS,
    }  # fmt: skip
    return EnergySource(id=id_, label=id_, **{**fields, **more})  # type: ignore[arg-type]


def circuit(
    links: Iterable[Link],
    sources: Iterable[EnergySource] = (),
    isolating: Iterable[str] = (),
    control: Iterable[str] = (),
    points: Iterable[Point] = (),
    minutes: Mapping[str, float] | None = None,
) -> Circuit:
    """A circuit whose points are those of its links and sources; ``points`` declares further or fuller ones."""
    links, sources, minutes = tuple(links), tuple(sources), minutes or {}
    names = {name: Point(name, name, "body") for each in links for name in (each.start, each.end)}
    for source in sources:
        for name in starts(source) | ({source.protective_earth} - {None}):
            names.setdefault(name, Point(name, name, "body"))
    names |= {point.id: point for point in points}
    devices = {
        id_: Device(id_, id_, KIND, "body", isolates, minutes=minutes.get(id_, 1.0))
        for isolates, ids in ((True, isolating), (False, control))
        for id_ in ids
    }
    return Circuit(names, {each.id: each for each in links}, devices, {source.id: source for source in sources})


def appliance(of: Circuit, components: Mapping[str, str | None] | None = None, removals: Iterable = ()) -> Appliance:
    """An appliance with a circuit, components (name to what each sits inside) and removals."""
    nested = components or {"body": None}
    return Appliance(
        model="m1", model_number="M1", label="Marrowby M1", platform=KIND, maker="Marrowby", kind=KIND, revision="r1",
        components={id_: Component(id_, id_, KIND, KIND, sits_inside=inside) for id_, inside in nested.items()},
        removals={removal.id: removal for removal in removals},
        circuit=of,
    )  # fmt: skip


def starts(source: EnergySource) -> set[str]:
    """Every point at which a source feeds."""
    return {*source.lines, *source.feeds} | ({source.neutral} if source.neutral is not None else set())


# --- random circuits -------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Case:
    """A random circuit with a random situation, points to touch, and points bared to reach devices."""

    circuit: Circuit
    situation: Situation
    touch: frozenset[str]
    bared: Mapping[str, frozenset[str]]
    cost: Mapping[str, float]


def random_case(seed: int, size: int = 8, isolating: int = 4, bare: float = 0.3, stray: float = 0.07) -> Case:
    """A case of up to ``size`` inner points and ``isolating`` isolating devices, drawn from ``seed``.

    ``bare`` is the share of devices that bare points, ``stray`` the share of links that pass all devices by.
    """
    rng = random.Random(seed)
    inner = [f"p{number}" for number in range(rng.randint(2, size))]
    isolators = [f"i{number}" for number in range(rng.randint(1, isolating))]
    controls = [f"c{number}" for number in range(rng.randint(0, 2))]
    sources = _random_sources(rng, inner)
    supply = sorted({point for source in sources.values() for point in starts(source)} | {"pe"})
    links = _random_links(rng, inner, supply, isolators, controls, stray)
    capacitors = [each.id for each in links if each.kind is LinkKind.CAPACITOR]
    built = circuit(links, sources.values(), isolators, controls, [Point(name, name, "body") for name in inner])
    wires = [each.id for each in links if each.kind is not LinkKind.EARTH_BOND]
    bonds = [each.id for each in links if each.kind is LinkKind.EARTH_BOND]
    held = [source.id for source in sources.values() if source.held_by]
    situation = Situation(
        opened=_some(rng, isolators, 0.5 * rng.random()) | _some(rng, controls, 0.6),
        links_open=_some(rng, wires, 0.08),
        bonds_open=_some(rng, bonds, 0.25),
        released=_some(rng, capacitors + held, 0.5),
        neutral_proved=rng.random() < 0.5,
    )
    every = sorted(built.points)
    touch = frozenset(rng.sample(inner if rng.random() < 0.9 else every, rng.randint(1, 2)))
    bared = {device: frozenset(rng.sample(inner, rng.randint(1, 2))) for device in isolators if rng.random() < bare}
    cost = {device: float(rng.randint(0, 3)) for device in isolators}
    return Case(built, situation, touch, bared, cost)


def _some(rng: random.Random, among: Sequence[str], share: float) -> frozenset[str]:
    return frozenset(each for each in among if rng.random() < share)


def _random_sources(rng: random.Random, inner: list[str]) -> dict[str, EnergySource]:
    def coin(share: float = 0.5) -> bool:
        return rng.random() < share

    lines = ("l", "l2") if coin(0.3) else ("l",)
    fixed = coin()
    found = [
        mains(
            lines=lines, neutral="n" if coin(0.9) else None, fixed=fixed, earthed_neutral=coin(0.8),
            polarised=coin(0.8), protective_earth="pe" if coin(0.9) else None,
        )
    ]  # fmt: skip
    if coin(0.3):
        origin = tuple(rng.sample([*inner, "absent"], rng.randint(1, 2)))
        ends = {"lines": ("s",), "neutral": rng.choice([*inner, "s0"])}
        found.append(mains("secondary", kind=LOW, protective_earth=None, volts=12.0, derived_from=origin, **ends))
        if coin(0.3):
            found.append(mains("third", kind=LOW, lines=("t",), neutral=None, volts=5.0, derived_from=("s",)))
    if coin(0.2):
        found.append(mains("battery", kind=LOW, lines=("b",), neutral=rng.choice(inner), volts=24.0, current="dc"))
    if coin(0.3):
        tap = {"lines": (), "neutral": None, "protective_earth": None, "volts": None, "current": None}
        found.append(mains("tap", kind=WATER, feeds=("w",), **tap))
        if coin(0.4):
            found.append(mains("trapped", kind=WATER, feeds=(rng.choice(inner),), held_by="body", **tap))
    return {source.id: source for source in found}


def _random_links(
    rng: random.Random,
    inner: list[str],
    supply: list[str],
    isolators: list[str],
    controls: list[str],
    stray: float,
) -> list[Link]:
    kinds = ["conductor", "conductor", "load", "winding", "fuse", "semiconductor", "converter", "capacitor", "pipe"]
    found: list[Link] = []
    for number in range(rng.randint(len(inner) // 3, len(inner) + 1)):
        start, end = rng.sample(inner, 2) if rng.random() >= stray else (rng.choice(supply), rng.choice(inner))
        if start != end:
            found.append(link(f"k{number}", rng.choice(kinds), start, end, volts=230.0, current="ac"))
    for device in isolators + controls:
        for pole in range(rng.randint(1, 3)):
            start = rng.choice(supply if rng.random() < 0.6 else inner)
            more = {"device": device, "changeover": rng.random() < 0.05}
            found.append(link(f"{device}-{pole}", "contact", start, rng.choice(inner), **more))
    for number in range(rng.randint(0, 3)):
        found.append(link(f"g{number}", "earth-bond", rng.choice(["pe", *inner]), rng.choice([*inner, "n"])))
    return found


# --- the oracle --------------------------------------------------------------------------------------------


def conducting(of: Circuit, opened: Iterable[str], gone: Iterable[str]) -> nx.MultiGraph:
    """The links that conduct with ``opened`` devices open and the links ``gone`` away, as a graph of names."""
    opened, gone = set(opened), set(gone)
    graph = nx.MultiGraph()
    graph.add_nodes_from(of.points)
    for each in of.links.values():
        graph.add_nodes_from((each.start, each.end))
        opens = each.kind is LinkKind.CONTACT and each.device in opened and not each.changeover
        if each.kind is not LinkKind.EARTH_BOND and not opens and each.id not in gone:
            graph.add_edge(each.start, each.end, key=each.id, kind=each.kind)
    return graph


def earth_points(of: Circuit, bonds_open: Iterable[str]) -> set[str]:
    """What is on protective earth; a point at which an underived source feeds never is."""
    feeding = {point for source in of.sources.values() if not source.derived_from for point in starts(source)}
    graph = nx.Graph()
    roots = {source.protective_earth for source in of.sources.values()} - {None} - feeding
    graph.add_nodes_from(roots)
    for each in of.links.values():
        if each.kind is LinkKind.EARTH_BOND and each.id not in set(bonds_open):
            graph.add_edge(each.start, each.end)
    graph.remove_nodes_from(feeding & set(graph))
    return {point for root in roots for point in nx.node_connected_component(graph, root)}


def isolators_of(of: Circuit) -> set[str]:
    """The ids of the isolating devices."""
    return {id_ for id_, device in of.devices.items() if device.isolating}


def excused(of: Circuit, opened: Iterable[str], proved: bool) -> set[str]:
    """The sources whose neutral may be taken for dead."""
    opened = set(opened) & isolators_of(of)
    graph = conducting(of, opened, ())
    found = set()
    for id_, source in of.sources.items():
        named = source.neutral is not None and source.lines and source.neutral not in source.lines
        if not (proved and named and source.fixed and source.earthed_neutral and source.polarised):
            continue
        if source.derived_from:
            continue
        if all(_line_open(of, graph, opened, source, line) for line in source.lines):
            found.add(id_)
    return found


def _line_open(of: Circuit, graph: nx.MultiGraph, opened: set[str], source: EnergySource, line: str) -> bool:
    side = nx.node_connected_component(graph, line)
    consumes = any(kind in CONSUMERS for _, _, kind in graph.edges(side, data="kind"))
    cut = any(
        each.kind is LinkKind.CONTACT
        and each.device in opened
        and not each.changeover
        and (each.start in side) != (each.end in side)
        for each in of.links.values()
    )
    return cut and not consumes and source.neutral not in side


def fed(
    of: Circuit, graph: nx.MultiGraph, earth: set[str], roots: Mapping[str, Iterable[str]], wet: Iterable[str]
) -> set[str]:
    """The points that ``roots`` (source to starts) reach, the derived sources that they keep alive included."""
    dry_graph = graph.subgraph(set(graph) - earth)
    reached: set[str] = set()
    alive = dict(roots)
    done: set[str] = set()
    while set(alive) != done:
        for id_ in set(alive) - done:
            done.add(id_)
            where = graph if id_ in wet else dry_graph
            for start in alive[id_]:
                if start in where:
                    reached |= nx.node_connected_component(where, start)
        for id_, source in of.sources.items():
            if id_ not in alive and reached & set(source.derived_from):
                alive[id_] = starts(source)
    return reached


@dataclass(frozen=True)
class Oracle:
    """The plain answers for a circuit in a situation; ``proved_by`` fixes what excuses a neutral, if given."""

    circuit: Circuit
    situation: Situation
    proved_by: frozenset[str] | None = None

    def _excused(self) -> set[str]:
        if self.proved_by is not None:
            return set(self.proved_by)
        return excused(self.circuit, self.situation.opened, self.situation.neutral_proved)

    def wet(self) -> set[str]:
        return {id_ for id_, each in self.circuit.sources.items() if not each.lines and each.neutral is None}

    def roots(self, kind: str | None = None, holds: bool = False) -> dict[str, set[str]]:
        """The starts of each underived source of a kind (all where None), or of each store not released."""
        sources, released = self.circuit.sources, self.situation.released
        if holds:
            found = {
                id_: {each.start, each.end}
                for id_, each in self.circuit.links.items()
                if each.kind is LinkKind.CAPACITOR and id_ not in released
            }
            return found | {id_: starts(each) for id_, each in sources.items() if each.held_by and id_ not in released}
        dead = self._excused()
        return {
            id_: starts(each) - ({each.neutral} if id_ in dead else set())
            for id_, each in sources.items()
            if not each.derived_from and not each.held_by and kind in (None, each.kind.id)
        }

    def reached(self, roots: Mapping[str, Iterable[str]], controls_closed: bool) -> set[str]:
        opened = self.situation.opened & isolators_of(self.circuit) if controls_closed else self.situation.opened
        graph = conducting(self.circuit, opened, () if controls_closed else self.situation.links_open)
        return fed(self.circuit, graph, self.earth(), roots, self.wet())

    def earth(self) -> set[str]:
        return earth_points(self.circuit, self.situation.bonds_open)

    def doubt(self) -> set[str]:
        """The points that are unknown whatever is opened."""
        graph = conducting(self.circuit, (), ())
        whole = earth_points(self.circuit, ())
        every = {id_: starts(each) for id_, each in self.circuit.sources.items()}
        known = fed(self.circuit, graph, whole, every, self.wet())
        return (set(graph) - known - whole) | (whole - self.earth())

    def doubtful(self) -> set[str]:
        """The points that are unknown now."""
        doubt = self.doubt()
        shaky = {
            id_: starts(each)
            for id_, each in self.circuit.sources.items()
            if any(point in doubt or point not in self.circuit.points for point in each.derived_from)
        }
        return doubt | self.reached(shaky, controls_closed=True)

    def states(self) -> dict[str, PointCondition]:
        roots = self.roots() | self.roots(holds=True)
        live, off = self.reached(roots, controls_closed=False), self.reached(roots, controls_closed=True)
        doubtful = self.doubtful()
        return {
            point: PointCondition.LIVE if point in live
            else PointCondition.UNKNOWN if point in doubtful
            else PointCondition.OFF_NOT_ISOLATED if point in off
            else PointCondition.ISOLATED
            for point in self.circuit.points
        }  # fmt: skip

    def opening(self, devices: Iterable[str], proved_by: frozenset[str] | None = None) -> Oracle:
        """The oracle once ``devices`` are open as well."""
        more = replace(self.situation, opened=self.situation.opened | set(devices))
        return Oracle(self.circuit, more, proved_by)

    def isolation_sets(
        self, kind: str, touch: Iterable[str], bared: Mapping[str, frozenset[str]]
    ) -> set[frozenset[str]] | None:
        """All smallest sets that can be carried out, by trying every set and every order; None where none is needed."""
        touch = set(touch)
        if not touch & self.reached(self.roots(kind), controls_closed=True):
            return None
        now = frozenset(self._excused())
        safe: dict[frozenset[str], set[str]] = {}

        def isolated(done: frozenset[str]) -> set[str]:
            if done not in safe:
                states = self.opening(done, now).states()
                safe[done] = {point for point, state in states.items() if state is PointCondition.ISOLATED}
            return safe[done]

        def can_be_done(order: Sequence[str]) -> bool:
            return all(
                bared.get(device, frozenset()) <= isolated(frozenset(order[:place]))
                for place, device in enumerate(order)
            )

        openable = sorted(isolators_of(self.circuit) - self.situation.opened)
        for size in range(len(openable) + 1):
            found = set()
            for devices in combinations(openable, size):
                after = self.opening(devices)
                if touch & after.reached(after.roots(kind), controls_closed=True):
                    continue
                if any(can_be_done(order) for order in permutations(devices)):
                    found.add(frozenset(devices))
            if found:
                return found
        return set()
