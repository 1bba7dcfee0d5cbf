"""Where every part has one way off, a plan is plain precedence: checked against networkx."""

from __future__ import annotations

from random import Random

import networkx as nx
import pytest

from firstoff.appliance.model import Appliance, Purpose
from firstoff.removal import ActKind, Planner, Request, Target, plan
from support.full_model import check
from support.instances import Shape, appliance, component, one_phase, removal


def needs_of(machine: Appliance) -> nx.DiGraph:
    graph = nx.DiGraph((way.component, need) for way in machine.removals.values() for need in way.needs_off)
    graph.add_nodes_from(machine.components)
    return graph


@pytest.mark.parametrize("seed", range(40))
def test_a_plan_takes_off_what_the_targets_need_and_no_more(seed: int) -> None:
    rng = Random(seed)
    machine = one_phase(rng, Shape(60, 60, needs=2, reach=12))
    goals = sorted(rng.sample(sorted(machine.components), rng.randint(1, 4)))
    request = Request(tuple(Target(goal, Purpose.REPLACE) for goal in goals))
    found = plan(machine, request)
    check(machine, request, found)
    graph = needs_of(machine)
    wanted = set(goals).union(*(nx.descendants(graph, goal) for goal in goals))
    assert sorted(found.removed) == sorted(wanted)
    assert found.optimal
    assert found.alternatives == ()
    minutes = sum(way.minutes_out + way.minutes_back for way in machine.removals.values() if way.component in wanted)
    assert found.minutes == minutes
    place = {part: i for i, part in enumerate(found.removed)}
    assert all(place[need] < place[part] for part, need in graph.subgraph(wanted).edges)
    back = [act.component for act in found.acts if act.kind is ActKind.REFIT]
    assert back == list(reversed(found.removed))


def test_a_chain_of_100_000_parts() -> None:
    count = 100_000
    machine = appliance(
        [component(f"p{i}") for i in range(count)],
        [removal(f"p{i}", 1, 1, off=[f"p{i + 1}"] if i + 1 < count else []) for i in range(count)],
    )
    found = Planner(machine).plan(Request((Target("p0", Purpose.REPLACE),)))
    assert found.optimal
    assert found.minutes == 2 * count
    assert found.removed == tuple(f"p{i}" for i in reversed(range(count)))


def test_choices_one_inside_the_other_do_not_recurse() -> None:
    """Each of 2,000 parts comes off after the next, or for a little more after the next but one."""
    count = 2_000
    near = [removal(f"p{i}", 1, 1, off=[f"p{i + 1}"] if i + 1 < count else []) for i in range(count)]
    far = [removal(f"p{i}", 2, 1, off=[f"p{i + 2}"] if i + 2 < count else [], way=1) for i in range(count)]
    machine = appliance([component(f"p{i}") for i in range(count)], [*near, *far])
    found = Planner(machine).plan(Request((Target("p0", Purpose.REPLACE),), alternatives=0))
    # Two parts by the near ways take 4 minutes; skipping one of them takes 3.
    assert (found.minutes, found.optimal) == (3 * count / 2, True)
