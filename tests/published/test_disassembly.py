"""The removal room against values that others published.

What the room computes is delete-free planning (Haslum, Slaney, Thiebaux, ICAPS 2012; Imai and Fukunaga, JAIR 54, 2015);
a disassembly sequence is put to it as removals. Counts of assembly sequences and the value of what is recovered
are no answers of the room, so published ones have no test here.
"""

from __future__ import annotations

import pytest

from firstoff.appliance.model import Appliance, Purpose
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


def eight_parts() -> Appliance:
    """The AND/OR graph as removals.

    A component stands for each action (its joint comes off) and for each subassembly (it comes free). A joint comes off
    once the subassembly it holds together is free; a subassembly comes free, in no time, by any of the joints that
    bear on it. Nothing is refitted, so refits cost nothing.
    """
    bearing = [(action, product) for action, (_, products, _) in ACTIONS.items() for product in products]
    free = [removal(product, 0, off={action}, way=number) for number, (action, product) in enumerate(bearing)]
    joints = [removal(action, cost, off={source} - {WHOLE}) for action, (source, _, cost) in ACTIONS.items()]
    slugs = [*ACTIONS, *dict.fromkeys(way.component for way in free)]
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
