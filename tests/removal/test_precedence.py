"""Where every part has one way off, a plan is plain precedence: checked against networkx."""

from __future__ import annotations

from random import Random

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.removal import ActKind, Planner, Request, Target, Unreachable, plan
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


@given(st.integers(0, 2**32), st.integers(1, 60), st.integers(1, 4), st.integers(0, 4))
def test_parts_found_off_cost_their_refit(seed: int, parts: int, needs: int, most_off: int) -> None:
    """What a part found off needs off has to be off for its refit; the part itself only goes back."""
    rng = Random(seed)
    machine = one_phase(rng, Shape(parts, parts, needs))
    slugs = sorted(machine.components)
    goals = sorted(rng.sample(slugs, min(parts, rng.choice((1, 1, 2, 5)))))
    off = frozenset(rng.sample(slugs, min(parts, most_off)))
    request = Request(tuple(Target(goal, Purpose.REPLACE) for goal in goals), off)
    found = plan(machine, request)
    check(machine, request, found)
    graph = needs_of(machine)
    left = off.union(goals)
    wanted = left.union(*(nx.descendants(graph, goal) for goal in left))
    assert set(found.removed) == wanted - off
    ways = [way for way in machine.removals.values() if way.component in wanted]
    assert found.minutes == sum(way.minutes_back + (way.component not in off) * way.minutes_out for way in ways)
    refitted = [act.component for act in found.acts if act.kind is ActKind.REFIT]
    assert sorted(part for part in refitted if part) == sorted(wanted)
    assert found.optimal


@given(st.integers(0, 2**32), st.integers(2, 25), st.sampled_from((0.02, 0.05, 0.2)))
def test_a_target_is_unreachable_only_where_its_closure_has_a_circle(seed: int, parts: int, mutual: float) -> None:
    machine = one_phase(Random(seed), Shape(parts, parts, 2, mutual))
    graph = needs_of(machine)
    planner = Planner(machine)
    for goal in machine.components:
        target = Target(goal, Purpose.REPLACE)
        closure = {goal} | nx.descendants(graph, goal)
        if nx.is_directed_acyclic_graph(graph.subgraph(closure)):
            assert set(planner.plan(Request((target,))).removed) == closure
        else:
            with pytest.raises(Unreachable) as caught:
                planner.plan(Request((target,)))
            assert caught.value.target == target


def test_a_long_chain_that_bites_its_tail_is_unreachable() -> None:
    """Far past the depth to which Python recurses."""
    count = 20_000
    removals = [removal(f"p{i}", 1, 1, off=[f"p{(i + 1) % count}"]) for i in range(count)]
    with pytest.raises(Unreachable):
        plan(appliance([component(f"p{i}") for i in range(count)], removals), Request((Target("p0", Purpose.REPLACE),)))
