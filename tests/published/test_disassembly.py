"""The removal room against values that others published.

What the room computes is delete-free planning (Haslum, Slaney, Thiebaux, ICAPS 2012; Imai and Fukunaga, JAIR 54, 2015);
a disassembly sequence is put to it as removals.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import combinations
from math import comb, prod

import pytest

from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.removal import Plan, Request, Target, plan
from support.full_model import check
from support.instances import appliance, component, removal

# Data of an assembly planner in a public repository (robsndr/assembly-planner), after Johannsmeier and Haddadin 2017:
# each action with the subassembly it takes apart, what that leaves, and its cost.
WHOLE = "ABCDEFGH"
ACTIONS = {
    "a1": (WHOLE, ("ABCDEF", "GH"), 50),
    "a2": (WHOLE, ("ABCD", "EFGH"), 50),
    "a3": (WHOLE, ("AB", "CDEFGH"), 50),
    "a4": ("ABCDEF", ("AB", "CDEF"), 10),
    "a5": ("CDEFGH", ("CDEF", "GH"), 5),
    "a6": ("ABCD", ("AB", "CD"), 10),
    "a7": ("CDEF", ("CD", "EF"), 5),
    "a8": ("EFGH", ("EF", "GH"), 5),
    "a9": ("AB", ("A", "B"), 20),
    "a10": ("CD", ("C", "D"), 10),
    "a11": ("EF", ("E", "F"), 10),
    "a12": ("GH", ("G", "H"), 10),
}


Action = tuple[str, tuple[str, ...], float]


def eight_parts() -> Appliance:
    return taken_apart(ACTIONS, WHOLE)


def taken_apart(graph: dict[str, Action], whole: str) -> Appliance:
    """An AND/OR graph as removals.

    A component stands for each action (its joint comes off) and for each subassembly (it comes free). A joint comes off
    once the subassembly it holds together is free; a subassembly comes free, in no time, by any of the joints that
    bear on it. Nothing is refitted, so refits cost nothing.
    """
    bearing = [(action, product) for action, (_, products, _) in graph.items() for product in products]
    free = [removal(product, 0, off={action}, way=number) for number, (action, product) in enumerate(bearing)]
    joints = [removal(action, cost, off={source} - {whole}) for action, (source, _, cost) in graph.items()]
    slugs = [*graph, *dict.fromkeys(way.component for way in free)]
    return appliance([component(slug) for slug in slugs], [*joints, *free])


def actions_of(found: Plan) -> set[str]:
    return ACTIONS.keys() & set(found.removed)


def singles() -> Request:
    """All eight parts apart, with the two next-best plans."""
    return Request(tuple(Target(part, Purpose.REPLACE) for part in WHOLE), alternatives=2)


def test_eight_parts_and_twelve_actions() -> None:
    """Cheapest 110, by a3 and a5; the next two take 115 each: by a1 and a4, and by a2."""
    found = plan(eight_parts(), singles())
    last = {"a9", "a10", "a11", "a12"}
    assert found.optimal
    assert found.minutes == 110
    assert actions_of(found) == {"a3", "a5", "a7", *last}
    assert [other.minutes for other in found.alternatives] == [115, 115]
    assert all(other.optimal for other in found.alternatives)
    ways = sorted(sorted(actions_of(other) - last) for other in found.alternatives)
    assert ways == [["a1", "a4", "a7"], ["a2", "a6", "a8"]]


def test_the_plans_are_disassemblies() -> None:
    """Each subassembly is taken apart once and by one action, and what comes apart are the eight parts."""
    machine = eight_parts()
    found = plan(machine, singles())
    for each in (found, *found.alternatives):
        check(machine, singles(), each)
        pieces = [WHOLE]
        for action in (slug for slug in each.removed if slug in ACTIONS):
            source, products, _ = ACTIONS[action]
            pieces.remove(source)
            pieces.extend(products)
        assert sorted(pieces) == list(WHOLE)


@pytest.mark.parametrize(
    ("part", "cost", "actions"),
    [
        ("A", 70, {"a3", "a9"}),
        ("B", 70, {"a3", "a9"}),
        ("G", 60, {"a1", "a12"}),
        ("H", 60, {"a1", "a12"}),
    ],
)
def test_one_part_of_the_eight(part: str, cost: float, actions: set[str]) -> None:
    """Sums of the published costs along the shortest branch; not printed in the source."""
    found = plan(eight_parts(), Request((Target(part, Purpose.REPLACE),)))
    assert found.minutes == cost
    assert actions_of(found) == actions


@pytest.mark.parametrize(("part", "cost"), [("C", 70), ("D", 70), ("E", 65), ("F", 65)])
def test_parts_with_several_branches(part: str, cost: float) -> None:
    """CD by a2, a6 (60), EF by a2, a8 (55); sums of the published costs, not printed in the source."""
    assert plan(eight_parts(), Request((Target(part, Purpose.REPLACE),))).minutes == cost


# --- sizes of AND/OR graphs ------------------------------------------------------------------------
# Homem de Mello and Sanderson (from memory): N parts in a chain give N(N+1)/2 nodes, (N^3-N)/6 hyperarcs and
# Catalan(N-1) trees; N parts each joined to every other 2^N-1, (3^N+1)/2-2^N and (2N-3)!!.


def halves(whole: str, joined: Callable[[str], bool]) -> Iterator[tuple[str, str]]:
    """Every way to part ``whole`` into two pieces that each hold together, the first piece with the first part."""
    for size in range(len(whole) - 1):
        for rest in combinations(whole[1:], size):
            first = whole[0] + "".join(rest)
            second = "".join(part for part in whole if part not in first)
            if joined(first) and joined(second):
                yield first, second


def graph_of(whole: str, joined: Callable[[str], bool]) -> dict[str, Action]:
    """Every hyperarc, at one minute each."""
    found: dict[str, Action] = {}
    waiting, seen = [whole], {whole}
    while waiting:
        piece = waiting.pop()
        for pair in halves(piece, joined):
            found[f"{pair[0]}+{pair[1]}"] = (piece, pair, 1)
            fresh = [product for product in pair if product not in seen]
            seen.update(fresh)
            waiting.extend(fresh)
    return found


def in_a_chain(piece: str) -> bool:
    return piece in "ABCDEFGH"


#: Parts of the largest graph whose trees are counted one by one.
LONGEST_CHAIN, LARGEST_CLUSTER = 4, 3


def anything(piece: str) -> bool:
    return len(piece) > 0


def trees(whole: str, joined: Callable[[str], bool], most: int) -> int:
    """How many cheapest plans there are that leave only single parts: each is a tree of the AND/OR graph."""
    machine = taken_apart(graph_of(whole, joined), whole)
    least = len(whole) - 1
    goals = tuple(Target(part, Purpose.REPLACE) for part in whole)
    found = plan(machine, Request(goals, alternatives=most))
    costs = [found.minutes, *(other.minutes for other in found.alternatives)]
    assert costs[0] == least
    assert all(each.optimal for each in (found, *found.alternatives))
    return costs.count(least)


@pytest.mark.parametrize("parts", [2, 3, 4, 5, 6, 7])
def test_parts_in_a_chain(parts: int) -> None:
    whole = WHOLE[:parts]
    graph = graph_of(whole, in_a_chain)
    nodes = {whole}.union(*(products for _, products, _ in graph.values()))
    assert len(nodes) == parts * (parts + 1) // 2
    assert len(graph) == (parts**3 - parts) // 6
    expected = comb(2 * parts - 2, parts - 1) // parts
    if parts <= LONGEST_CHAIN:
        assert trees(whole, in_a_chain, expected) == expected


@pytest.mark.parametrize("parts", [2, 3, 4, 5, 6, 7])
def test_parts_each_joined_to_every_other(parts: int) -> None:
    whole = WHOLE[:parts]
    graph = graph_of(whole, anything)
    nodes = {whole}.union(*(products for _, products, _ in graph.values()))
    assert len(nodes) == 2**parts - 1
    assert len(graph) == (3**parts + 1) // 2 - 2**parts
    expected = prod(range(1, 2 * parts - 2, 2))
    if parts <= LARGEST_CLUSTER:
        assert trees(whole, anything, expected) == expected


# --- a recovery tree -------------------------------------------------------------------------------
# Meacham, Uzsoy, Venkatadri 1999, example 1: revenue of each node if kept; what comes of a node if it is taken apart,
# with the cost and, for what is picked out one by one, the number of units. Node 1 comes apart into 2 to 6 at once and
# 2 into 7 to 9; of 5 and 6 parts are picked out, and 3 more is had for what is then left of them.

KEPT = {1: 400, 2: 40, 3: 50, 4: 150, 5: 135, 6: 15, 7: 20, 8: 4, 9: 8, 10: 50, 11: 50, 12: 25, 13: 10, 14: 10}
APART = {1: (7.5, (2, 3, 4, 5, 6)), 2: (7.5, (7, 8, 9))}
PICKED = {5: (5, {10: 1, 11: 1, 12: 4}), 6: (5, {13: 2, 14: 1})}
RESIDUE = 3


def recovery() -> Appliance:
    """Each node as a component that comes free once its joint, or its own fastening, is undone."""
    ways = []
    for node, (cost, pieces) in APART.items():
        ways.append(removal(f"joint-{node}", cost, off={f"n{node}"} - {"n1"}))
        ways.extend(removal(f"n{piece}", 0, off={f"joint-{node}"}) for piece in pieces)
    for node, (cost, pieces) in PICKED.items():
        ways.extend(removal(f"n{piece}", cost * units, off={f"n{node}"}) for piece, units in pieces.items())
    return appliance([component(way.component) for way in ways], ways)


def profits(node: int) -> Iterator[tuple[float, frozenset[str]]]:
    """The revenue and the nodes taken out, for every choice below ``node``; what is picked out is all or none."""
    yield KEPT[node], frozenset({f"n{node}"} - {"n1"})
    if node in APART:
        choices: list[tuple[float, frozenset[str]]] = [(0, frozenset())]
        for piece in APART[node][1]:
            choices = [(a + b, x | y) for a, x in choices for b, y in profits(piece)]
        yield from choices
    if node in PICKED:
        pieces = PICKED[node][1]
        for size in range(1, len(pieces) + 1):
            for some in combinations(pieces, size):
                revenue = RESIDUE + sum(KEPT[piece] * pieces[piece] for piece in some)
                yield revenue, frozenset(f"n{piece}" for piece in some)


def test_the_recovery_tree() -> None:
    """The best profit is 423.5, and keeps node 2; the cost of each choice is that of a plan."""
    machine = recovery()
    best: list[tuple[float, frozenset[str]]] = []
    for revenue, taken in profits(1):
        goals = tuple(Target(slug, Purpose.REPLACE) for slug in sorted(taken))
        cost = plan(machine, Request(goals, alternatives=0)).minutes if goals else 0.0
        best.append((revenue - cost, taken))
    profit, taken = max(best, key=lambda each: each[0])
    assert profit == 423.5
    assert taken == {"n2", "n3", "n4", "n10", "n11", "n12", "n13", "n14"}
