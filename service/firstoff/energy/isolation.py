"""How to make a set of points safe to touch: what to open, what to release, what to prove.

The order is that of 29 CFR 1910.147(d): shut off, isolate, release stored energy, verify.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping
from dataclasses import replace

from firstoff.appliance.circuit import Circuit
from firstoff.appliance.model import Appliance
from firstoff.energy.charge import release_text
from firstoff.energy.cuts import CutGraph, cut_graph, reach, smallest_sets, still_to_open, task
from firstoff.energy.feeds import Feed
from firstoff.energy.held import held_releases
from firstoff.energy.network import circuit_of, network_of
from firstoff.energy.proving import prove_steps
from firstoff.energy.verifying import usual
from firstoff.energy.words import SAFE_VOLTS, STORED_CHARGE, Isolation, IsolationSet, Release, Situation


def isolation(
    of: Appliance | Circuit,
    touch: Iterable[str],
    situation: Situation,
    bared_to_reach: Mapping[str, frozenset[str]] | None = None,
    cost: Mapping[str, float] | None = None,
    components: Iterable[str] = (),
    safe_volts: float = SAFE_VOLTS,
) -> Isolation:
    """How to make the points of ``touch`` safe to touch.

    For each kind of energy that reaches one of them: all smallest sets of whole isolating devices that, opened on top
    of those open already, leave none of them live or off but not isolated from the sources of that kind, stored charge
    aside, and that can be carried out: before each device opens, the points ``bared_to_reach`` it (device id to point
    ids) are isolated by what was opened before. ``cost`` (device id to any number, minutes where not given) orders the
    devices within a set as far as that allows, and the sets. ``components`` are those to be worked on: what they hold
    (spring, heat, weight, refrigerant, trapped water) is released too. Points of ``touch`` that the circuit does not
    have are listed as unknown.
    """
    wanted = tuple(sorted(frozenset(touch)))
    network = network_of(circuit_of(of))
    graph = cut_graph(network, situation)
    numbers = network.numbers(wanted)
    targets = graph.nodes(numbers)
    bared, costs = bared_to_reach or {}, cost or {}
    sets, upstream = _by_kind(graph, targets, bared, costs, safe_volts)
    if_proved = _on_proof(graph, targets, bared, costs, safe_volts, upstream)
    kinds = {each.energy for each in if_proved}
    neutrals = [feed.id for feed in graph.feeds if feed.provable and (situation.neutral_proved or feed.kind in kinds)]
    electric = {feed.kind for feed in graph.feeds if not feed.derived and not feed.wet}
    charges = _charges(graph, targets, 0, safe_volts)
    if charges and not any(each.energy in electric for each in sets):
        sets.append(IsolationSet(STORED_CHARGE, (), charges))
    reaching = frozenset(feed.id for feed in graph.held if _reaches(graph, feed, targets, 0))
    sets = _with_held(sets, held_releases(of, frozenset(components), reaching, situation.released))
    charged = [
        release.id for each in (*sets, *if_proved) for release in each.release if release.energy == STORED_CHARGE
    ]
    loose = situation.links_open | situation.links_in_doubt
    steps = prove_steps(
        network,
        wanted,
        (*graph.feeds, *graph.held),
        graph.earth,
        loose,
        dict.fromkeys(charged),
        sorted(neutrals),
        safe_volts,
    )
    return Isolation(
        sets=tuple(sets),
        prove_dead=steps,
        upstream_only=upstream,
        unknown=_unknown(graph, wanted),
        if_neutral_proved=tuple(if_proved),
    )


def cleared_by(of: Appliance | Circuit, situation: Situation, point: str) -> tuple[tuple[str, ...], ...]:
    """All smallest sets of isolating devices that, with stored energy released, make ``point`` isolated.

    Empty where no set does, an unknown point included; holds the empty set where no device is needed. What must be
    bared to reach a device is not looked at: that is ``isolation``.
    """
    return clearings(of, situation, (point,))[point]


def clearings(
    of: Appliance | Circuit, situation: Situation, points: Iterable[str]
) -> dict[str, tuple[tuple[str, ...], ...]]:
    """``cleared_by`` of each of ``points``; those that are joined anyway are searched for once."""
    network = network_of(circuit_of(of))
    graph = cut_graph(network, situation)
    feeds = (*(feed for feed in graph.feeds if not feed.derived), *graph.started_by_doubt)
    known: dict[frozenset[int], tuple[tuple[str, ...], ...]] = {}
    found: dict[str, tuple[tuple[str, ...], ...]] = {}
    for point in points:
        number = network.index.get(point)
        if number is None or number in graph.doubt:
            found[point] = ()
            continue
        nodes = graph.nodes((number,))
        if nodes not in known:
            known[nodes] = smallest_sets(graph, task(graph, nodes, feeds, {}, {}))
        found[point] = known[nodes]
    return found


def _by_kind(
    graph: CutGraph,
    targets: frozenset[int],
    bared: Mapping[str, frozenset[str]],
    cost: Mapping[str, float],
    safe_volts: float,
) -> tuple[list[IsolationSet], tuple[str, ...]]:
    """The sets for each kind of energy that reaches ``targets``, and the kinds for which there is none."""
    kinds: dict[str, list[Feed]] = {}
    for feed in graph.feeds:
        if not feed.derived:
            kinds.setdefault(feed.kind, []).append(feed)
    sets: list[IsolationSet] = []
    upstream: list[str] = []
    for kind, feeds in kinds.items():
        if still_to_open(graph, targets, graph.entries(feeds, 0), 0) is None:
            continue
        found = smallest_sets(graph, task(graph, targets, feeds, bared, cost))
        if not found:
            upstream.append(kind)
        electric = any(not feed.wet for feed in feeds)
        for devices in found:
            charges = _charges(graph, targets, graph.bits(devices), safe_volts) if electric else ()
            sets.append(IsolationSet(kind, devices, charges))
    return sets, tuple(upstream)


def _on_proof(
    graph: CutGraph,
    targets: frozenset[int],
    bared: Mapping[str, frozenset[str]],
    cost: Mapping[str, float],
    safe_volts: float,
    upstream: Container[str],
) -> list[IsolationSet]:
    """What would do for the kinds in ``upstream`` once the neutral is proved dead; until then it counts as live."""
    if graph.situation.neutral_proved or not any(feed.provable and feed.kind in upstream for feed in graph.feeds):
        return []
    proved = replace(graph, situation=replace(graph.situation, neutral_proved=True))
    sets, _ = _by_kind(proved, targets, bared, cost, safe_volts)
    return [each for each in sets if each.energy in upstream]


def _reaches(graph: CutGraph, feed: Feed, targets: frozenset[int], opened: int) -> bool:
    found = reach(graph, [(node, 0) for node in graph.starts(feed, neutral=True)], opened)
    return not targets.isdisjoint(found)


def _charges(graph: CutGraph, targets: frozenset[int], opened: int, safe_volts: float) -> tuple[Release, ...]:
    """The capacitors whose charge reaches ``targets`` once the devices ``opened`` are open."""
    links = graph.network.circuit.links
    return tuple(
        Release(
            feed.id,
            STORED_CHARGE,
            links[feed.id].component,
            release_text(links[feed.id], safe_volts),
            verify=links[feed.id].verification or usual(STORED_CHARGE),
        )
        for feed in graph.held
        if feed.id in links and _reaches(graph, feed, targets, opened)
    )


def _with_held(sets: list[IsolationSet], releases: Iterable[Release]) -> list[IsolationSet]:
    """Add held energy to every set of the same energy, or as a set of its own that opens nothing."""
    together = list(sets)
    for release in releases:
        same = [number for number, each in enumerate(together) if each.energy == release.energy]
        for number in same:
            together[number] = replace(together[number], release=(*together[number].release, release))
        if not same:
            together.append(IsolationSet(release.energy, (), (release,)))
    return together


def _unknown(graph: CutGraph, wanted: Iterable[str]) -> tuple[str, ...]:
    """Those of ``wanted`` that are, or once isolated will be, unknown."""
    started = [(node, 0) for feed in graph.started_by_doubt for node in graph.starts(feed, neutral=True)]
    fed = reach(graph, started, 0)
    index = graph.network.index
    return tuple(
        point
        for point in wanted
        if point not in index
        or index[point] in graph.doubt
        or any(node in fed for node in graph.nodes((index[point],)))
    )
