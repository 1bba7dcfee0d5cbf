"""Isolation sets among 25 devices against HiGHS: a smallest hitting set with paths found as they are needed."""

from __future__ import annotations

from itertools import pairwise

import networkx as nx
import numpy as np
import pytest
from scipy.optimize import LinearConstraint, milp

from firstoff.appliance.circuit import Circuit
from firstoff.energy import PointCondition, Situation, isolation, live_points
from support.circuits import isolators_of, starts
from support.isolation_shapes import DEVICES, SHAPES


def fed_path(of: Circuit, opened: set[str]) -> set[str] | None:
    """The devices on some path that still leads from a line to p; None where none does."""
    graph = nx.MultiGraph()
    graph.add_nodes_from([*of.points])
    for each in of.links.values():
        if each.device not in opened:
            graph.add_edge(each.start, each.end, key=each.id)
    for source in of.sources.values():
        for start in starts(source):
            if nx.has_path(graph, start, "p"):
                path = nx.shortest_path(graph, start, "p")
                used = {key for one, other in pairwise(path) for key in list(graph[one][other])[:1]}
                return {device for key in used if (device := of.links[key].device) is not None}
    return None


def smallest(of: Circuit, forbidden: list[set[str]]) -> set[str] | None:
    """A smallest set of devices that cuts p off and is none of ``forbidden``, nor more than one of them."""
    devices = sorted(isolators_of(of))
    place = {device: number for number, device in enumerate(devices)}
    rows: list[np.ndarray] = []
    low: list[float] = []

    def demand(chosen: set[str], sign: float, bound: float) -> None:
        row = np.zeros(len(devices))
        row[[place[device] for device in chosen]] = sign
        rows.append(row)
        low.append(bound)

    for each in forbidden:
        demand(each, -1.0, 1.0 - len(each))
    while True:
        constraints = LinearConstraint(np.array(rows), np.array(low), np.inf) if rows else None
        found = milp(np.ones(len(devices)), integrality=np.ones(len(devices)), bounds=(0, 1), constraints=constraints)
        if found.status != 0:
            return None
        opened = {device for device, value in zip(devices, found.x, strict=True) if value > 0.5}
        path = fed_path(of, opened)
        if path is None:
            return opened
        if not path:
            return None
        demand(path, 1.0, 1.0)


@pytest.mark.parametrize("name", sorted(SHAPES))
@pytest.mark.parametrize("seed", range(3))
def test_all_smallest_sets_among_25_devices(name: str, seed: int) -> None:
    of = SHAPES[name](DEVICES, seed)
    sets = [set(each.devices) for each in isolation(of, {"p"}, Situation()).sets]
    best = smallest(of, [])
    if best is None:
        assert not sets
        return
    assert {len(each) for each in sets} == {len(best)}
    another = smallest(of, sets)
    assert another is None or len(another) > len(best), "a smallest set is missing"


@pytest.mark.parametrize("name", sorted(SHAPES))
def test_each_set_isolates_and_needs_every_device(name: str) -> None:
    of = SHAPES[name](DEVICES, 1)
    for each in isolation(of, {"p"}, Situation()).sets:
        assert live_points(of, Situation(opened=frozenset(each.devices)))["p"].state is PointCondition.ISOLATED
        for device in each.devices:
            fewer = Situation(opened=frozenset(each.devices) - {device})
            assert live_points(of, fewer)["p"].state is not PointCondition.ISOLATED
