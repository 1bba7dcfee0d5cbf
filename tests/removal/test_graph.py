"""The removal graph of a request: which parts, states and ways it holds, and that it holds enough for every plan."""

from __future__ import annotations

from random import Random

import networkx as nx
import pytest

from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.removal import Node, Planner, RemovalError, Request, Target, UnknownTarget
from support.instances import access, appliance, component, preparation, removal, small_case

#: A belt behind a cover or behind a panel; the cover wants the machine tilted, which wants a foot off.
MACHINE = appliance(
    [component(slug) for slug in ("belt", "cover", "panel", "foot", "lamp", "cabinet", "coil")],
    [
        removal("belt", 3, 4, off=["cover"], way=0),
        removal("belt", 5, 5, off=["panel"], tools=["puller"], way=1),
        removal("belt", 1, 1, off=["cabinet"], way=2),
        removal("cover", 1, 1, states=["posture=1"]),
        removal("panel", 2, 2),
        removal("foot", 1, 1),
        removal("lamp", 1, 1),
    ],
    [access("coil", Purpose.TEST, 2, off=["panel"], states=["supply=1"])],
    {"posture": 2, "supply": 2},
    [
        preparation("posture=1", "posture=0", 2, 2, off=["foot"], states=["supply=1"]),
        preparation("supply=1", "supply=0", 1, 1),
    ],
)
BELT = Target("belt", Purpose.REPLACE)


def graph(machine: Appliance, *targets: Target, **more: object) -> dict[tuple[str, str], Node]:
    nodes = Planner(machine).graph(Request(targets=targets, **more))  # type: ignore[arg-type]
    assert [node.what for node in nodes[: len(set(targets))]] == ["target"] * len(set(targets))
    return {(node.what, node.id): node for node in nodes}


def test_it_holds_what_the_target_may_need_and_nothing_else() -> None:
    found = graph(MACHINE, BELT)
    assert set(found) == {
        ("target", "belt"),
        *(("component", slug) for slug in ("belt", "cover", "panel", "foot")),
        ("state", "posture=1"),
        ("state", "supply=1"),
    }
    assert [(way.id, way.off, way.minutes) for way in found["component", "belt"].ways] == [
        ("belt-way0", ("cover",), 7),
        ("belt-way1", ("panel",), 10),
    ]
    assert found["component", "cover"].ways[0].states == ("posture=1",)
    assert found["state", "posture=1"].ways[0].off == ("foot",)
    assert found["target", "belt"].target == BELT


def test_ways_that_lead_nowhere_are_named() -> None:
    found = graph(MACHINE, BELT)
    assert found["component", "belt"].lacking == ("remove belt by way 2",)  # the cabinet never comes off
    without = graph(MACHINE, BELT, tools=frozenset())
    assert [way.id for way in without["component", "belt"].ways] == ["belt-way0"]
    assert without["component", "belt"].lacking == ("remove belt by way 1", "remove belt by way 2")
    assert ("component", "panel") not in without


def test_what_is_off_already_is_given() -> None:
    found = graph(MACHINE, BELT, off=frozenset({"cover"}))
    assert found["component", "cover"].given
    assert found["component", "cover"].ways == ()
    assert not found["component", "cover"].closing


def test_what_closing_needs_comes_last() -> None:
    """The cover was off; it goes back with the machine tilted, which no target needs."""
    found = graph(MACHINE, BELT, off=frozenset({"cover"}))
    assert [(way.id, way.minutes, way.states) for way in found["component", "cover"].back] == [
        ("cover-way0", 1, ("posture=1",)),
        ("cover-way0", 2, ("posture=1",)),
    ]
    closing = {("state", "posture=1"), ("state", "supply=1"), ("component", "foot")}
    assert {key for key, node in found.items() if node.closing and not node.given} == closing
    assert [way.off for way in found["state", "posture=1"].ways] == [("foot",)]
    order = list(found)
    assert all(order.index(key) > order.index(("component", "panel")) for key in closing)


def test_the_way_home_needs_what_it_needs() -> None:
    found = graph(MACHINE, Target("lamp", Purpose.REPLACE), states={"posture": "posture=1"})
    home = found["state", "posture=0"]
    assert home.closing
    assert [(way.id, way.off, way.states) for way in home.ways] == [("posture=0>posture=1-0", ("foot",), ("supply=1",))]
    assert found["component", "foot"].closing
    assert not found["component", "lamp"].closing


def test_a_state_in_force_is_no_need() -> None:
    found = graph(MACHINE, BELT, states={"posture": "posture=1"})
    assert found["component", "cover"].ways[0].states == ()
    assert found["state", "posture=1"].given
    assert found["state", "posture=1"].closing


def test_several_targets_share_a_graph() -> None:
    found = graph(MACHINE, BELT, Target("coil", Purpose.TEST), BELT)
    assert found["target", "coil"].ways[0].off == ("panel",)
    assert found["target", "coil"].ways[0].states == ("supply=1",)


def test_an_unknown_target_is_refused() -> None:
    with pytest.raises(UnknownTarget):
        graph(MACHINE, Target("spoon", Purpose.TEST))


def test_mutual_needs_are_both_shown() -> None:
    """Each of two parts comes off by way of the other or by itself."""
    machine = appliance(
        [component("a"), component("b")],
        [removal("a", 1, off=["b"]), removal("a", 9, way=1), removal("b", 1, off=["a"]), removal("b", 9, way=1)],
    )
    found = graph(machine, Target("a", Purpose.REPLACE))
    assert {way.off for way in found["component", "a"].ways} == {("b",), ()}
    assert {way.off for way in found["component", "b"].ways} == {("a",), ()}


@pytest.mark.parametrize("seed", range(150))
def test_it_holds_every_plan_and_is_closed(seed: int) -> None:
    """On random machines: the best plan and its alternatives go by its ways, and every need of a way is a node.

    The same of the nodes that are not for closing alone, without what closing needs.
    """
    machine, request = small_case(seed)
    planner = Planner(machine)
    try:
        plan = planner.plan(request)
    except RemovalError:
        return
    nodes = planner.graph(request)
    keys = {(node.what, node.id) for node in nodes}
    ahead = {(node.what, node.id) for node in nodes if not node.closing}
    for node in nodes:
        for way in node.ways:
            needs = {*(("component", slug) for slug in way.off), *(("state", slug) for slug in way.states)}
            assert node.closing or needs <= ahead
    for node in nodes:
        for way in (*node.ways, *node.back):
            assert {("component", slug) for slug in way.off} <= keys
            assert {("state", slug) for slug in way.states} <= keys
    known = {way.id for node in nodes for way in (*node.ways, *node.back)}
    for each in (plan, *plan.alternatives):
        used = {act.way for act in each.acts if act.way}
        assert used <= known, sorted(used - known)


def test_far_nodes_come_later() -> None:
    """In a chain the nodes stand in order of their distance from the target, as networkx counts it."""
    count = 40
    order = list(range(count))
    Random(7).shuffle(order)
    chain = appliance(
        [component(f"p{i}") for i in order],
        [removal(f"p{i}", 1, off=[f"p{i + 1}"] if i + 1 < count else []) for i in order],
    )
    nodes = Planner(chain).graph(Request(targets=(Target("p0", Purpose.REPLACE),)))
    line = nx.path_graph([f"p{i}" for i in range(count)], create_using=nx.DiGraph)
    assert [node.id for node in nodes[1:]] == list(nx.single_source_shortest_path_length(line, "p0"))
