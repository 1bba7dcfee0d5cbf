"""What a part hides, against plans that may not take it off."""

from __future__ import annotations

from collections import Counter
from random import Random

import networkx as nx
import pytest

from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.removal import Planner, Request, Target, Unreachable
from firstoff.removal.hidden import hidden_by
from support.instances import Shape, one_phase, small_case


def reachable(planner: Planner, target: Target, banned: frozenset[str]) -> bool:
    try:
        planner.plan(Request((target,), alternatives=0, banned=banned))
    except Unreachable:
        return False
    return True


def ways_off(machine: Appliance, part: str) -> frozenset[str]:
    return frozenset(way.id for way in machine.removals.values() if way.component == part)


@pytest.mark.parametrize("parts", [5, 25])
def test_one_phase_exactly(parts: int) -> None:
    """Without states a target is hidden if, and only if, there is a plan and none leaves the part on."""
    kinds: Counter[bool] = Counter()
    for seed in range(12):
        machine = one_phase(Random(f"hidden {parts} {seed}"), Shape(parts, parts * 3 // 2, needs=2, mutual=0.2))
        planner = Planner(machine)
        for part in machine.components:
            hidden = hidden_by(machine, part)
            for other in machine.components:
                target = Target(other, Purpose.REPLACE)
                expected = (
                    other != part
                    and reachable(planner, target, frozenset())
                    and not reachable(planner, target, ways_off(machine, part))
                )
                assert (target in hidden) == expected
                kinds[expected] += 1
    assert min(kinds.values()) > 0


def test_where_each_part_has_one_way_it_hides_what_needs_it_in_the_end() -> None:
    """networkx: the descendants in the graph of needs."""
    machine = one_phase(Random(4), Shape(60, 60, needs=2, reach=8))
    graph = nx.DiGraph((need, way.component) for way in machine.removals.values() for need in way.needs_off)
    graph.add_nodes_from(machine.components)
    for part in machine.components:
        assert hidden_by(machine, part) == {Target(other, Purpose.REPLACE) for other in nx.descendants(graph, part)}


def test_with_states_nothing_is_called_hidden_that_a_plan_reaches() -> None:
    found = 0
    for seed in range(150):
        machine, _ = small_case(seed)
        planner = Planner(machine)
        for part in machine.components:
            for target in hidden_by(machine, part):
                found += 1
                assert target.component != part
                assert not reachable(planner, target, ways_off(machine, part))
    assert found > 50
