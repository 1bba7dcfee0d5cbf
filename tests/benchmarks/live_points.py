"""Median time of live_points and isolation on random circuits, beside networkx on the same circuits.

live_points is set beside the tests' networkx oracle (the same states, without paths and voltages) and beside two bare
reachability passes; isolation beside one minimum node cut (a size, not the sets).

Run: python tests/benchmarks/live_points.py. It prints milliseconds and ratios; it asserts nothing.
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import networkx as nx

from firstoff.appliance.circuit import (
    Circuit,
    LinkKind,
)
from firstoff.energy import Situation, isolation, live_points
from support.circuits import Oracle, circuit, link, mains

CASES = 60


def appliance_like(seed: int, points: int, links: int, isolating: int) -> Circuit:
    """A circuit of ``points`` and ``links`` behind ``isolating`` two-pole devices, four fifths of them in parallel."""
    rng = random.Random(seed)
    names = [f"p{number}" for number in range(points)]
    devices = [f"i{number}" for number in range(isolating)]
    found = []
    for number, device in enumerate(devices):
        feeds = ("l", "n") if number < max(1, isolating * 4 // 5) else tuple(rng.sample(names, 2))
        for pole, start in enumerate(feeds):
            found.append(link(f"{device}-{pole}", "contact", start, rng.choice(names[: points // 3]), device=device))
    kinds = ["conductor"] * 6 + ["load", "winding", "fuse", "semiconductor", "contact"]
    for number in range(links - len(found) - points // 10):
        kind = rng.choice(kinds)
        start, end = rng.sample(names, 2)
        found.append(link(f"k{number}", kind, start, end, device="board" if kind == "contact" else None))
    found += [link(f"g{number}", "earth-bond", "pe", f"chassis{number}") for number in range(points // 10)]
    return circuit(found, [mains()], devices, ["board"])


def plain_reach(of: Circuit, opened: frozenset[str]) -> set[str]:
    """Two reachability passes with networkx: the least that an answer about every point needs."""
    reached: set[str] = set()
    for controls in (False, True):
        graph = nx.MultiGraph()
        graph.add_nodes_from(of.points)
        for each in of.links.values():
            isolates = each.device in of.devices and of.devices[each.device].isolating
            if each.kind is not LinkKind.EARTH_BOND and not (each.device in opened and (isolates or not controls)):
                graph.add_edge(each.start, each.end, key=each.id)
        for start in ("l", "n"):
            reached |= set(nx.single_source_shortest_path(graph, start))
    return reached


def node_cut(of: Circuit, touch: frozenset[str]) -> int:
    """A smallest device cut by flow with networkx: devices as nodes, so that all poles open together."""
    graph = nx.Graph()
    for each in of.links.values():
        isolates = each.device in of.devices and of.devices[each.device].isolating
        if each.kind is not LinkKind.EARTH_BOND:
            middle = ("device", each.device) if isolates else ("link", each.id)
            graph.add_edge(("point", each.start), middle)
            graph.add_edge(middle, ("point", each.end))
    graph.add_edges_from([("supply", ("point", "l")), ("supply", ("point", "n"))])
    graph.add_edges_from(("hand", ("point", point)) for point in touch)
    return len(nx.minimum_node_cut(graph, "supply", "hand"))


def milliseconds(act: Callable[[], object]) -> float:
    """The best of three runs of ``act``."""
    best = float("inf")
    for _ in range(3):
        start = time.perf_counter()
        act()
        best = min(best, time.perf_counter() - start)
    return best * 1000.0


def main() -> None:
    print(f"{'points':>6} {'links':>6} {'devices':>7} | {'ours ms':>8} {'worst':>8} {'networkx':>8} {'ratio':>6}")
    for points, links, isolating in ((30, 45, 2), (100, 150, 4), (300, 450, 8)):
        ours, theirs, bare = [], [], []
        for seed in range(CASES):
            of = appliance_like(seed, points, links, isolating)
            opened = frozenset({"board"} | ({f"i{n}" for n in range(isolating)} if seed % 2 else set()))
            situation = Situation(opened=opened)
            ours.append(milliseconds(lambda of=of, situation=situation: live_points(of, situation)))
            theirs.append(milliseconds(lambda of=of, situation=situation: Oracle(of, situation).states()))
            bare.append(milliseconds(lambda of=of, opened=opened: plain_reach(of, opened)))
        _row("live_points beside the oracle", points, links, isolating, ours, theirs)
        _row("live_points beside two bare passes", points, links, isolating, ours, bare)
    for points, links, isolating in ((30, 45, 2), (100, 150, 10), (100, 170, 25), (300, 450, 25)):
        ours, theirs = [], []
        for seed in range(CASES):
            of = appliance_like(seed, points, links, isolating)
            touch = frozenset(random.Random(seed).sample(sorted(p for p in of.points if p.startswith("p")), 3)) - {"pe"}
            ours.append(milliseconds(lambda of=of, touch=touch: isolation(of, touch, Situation())))
            theirs.append(milliseconds(lambda of=of, touch=touch: node_cut(of, touch)))
        _row("isolation", points, links, isolating, ours, theirs)


def _row(name: str, points: int, links: int, isolating: int, ours: list[float], theirs: list[float]) -> None:
    print(
        f"{points:6d} {links:6d} {isolating:7d} | {median(ours):8.3f} {max(ours):8.3f} {median(theirs):8.3f} "
        f"{median(theirs) / median(ours):6.1f}  {name}"
    )


if __name__ == "__main__":
    main()
