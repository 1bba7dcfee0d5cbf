"""Where a budget ends the search: what is said then, and that it is true."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from random import Random

import pytest

from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.removal import (
    Budget,
    Plan,
    Request,
    Target,
    Undecided,
    Unreachable,
    plan,
)
from support.full_model import cheapest, check
from support.instances import (
    Shape,
    one_phase,
    refitted_another_way,
    small_case,
)
from support.milp import cheapest_removals

REPLACE = Purpose.REPLACE


def to(slug: str, purpose: Purpose = REPLACE) -> Target:
    return Target(slug, purpose)


class TickingClock:
    """Goes on by one second each time it is read."""

    def __init__(self, start: float = 1000.0) -> None:
        self.now = start

    def __call__(self) -> float:
        self.now += 1.0
        return self.now


def kind_within(machine: Appliance, request: Request, budget: Budget, least: float) -> str:
    """Assert that what ``budget`` allows is true, and say what it was."""
    found: Plan | Undecided
    try:
        found = plan(machine, request, budget)
    except Undecided as undecided:
        found = undecided
    if isinstance(found, Undecided):
        assert 0 <= found.bound <= least
        assert f"at least {found.bound:g} minutes" in str(found)
        return "undecided"
    check(machine, request, found)
    assert found.bound <= least <= found.minutes
    if found.optimal:
        assert found.minutes == least
        return "optimal"
    assert found.bound < found.minutes
    return "unproved"


@pytest.mark.parametrize(
    "budget",
    [
        lambda size: Budget(nodes=size),
        lambda size: Budget(seconds=float(size), clock=TickingClock()),
        lambda size: Budget(nodes=10_000, seconds=float(size), clock=TickingClock(-5.0)),
    ],
    ids=["nodes", "seconds", "both"],
)
def test_a_larger_budget_shows_more(budget: Callable[[int], Budget]) -> None:
    """Nothing at first, then a plan without proof, then the proof; and nothing is lost again."""
    machine, request = refitted_another_way()
    least = cheapest(machine, request)
    assert least == 14.0
    kinds = [kind_within(machine, request, budget(size), least) for size in (*range(0, 200, 5), 1_000, 5_000)]
    assert kinds[0] == "undecided"
    assert kinds[-1] == "optimal"
    assert set(kinds) == {"undecided", "unproved", "optimal"}
    ranks = [("undecided", "unproved", "optimal").index(kind) for kind in kinds]
    assert ranks == sorted(ranks)


def test_a_clock_that_stands_still_never_ends_the_search() -> None:
    machine, request = refitted_another_way()
    assert kind_within(machine, request, Budget(seconds=0.001, clock=lambda: 7.0), 14.0) == "optimal"


@pytest.mark.parametrize("budget", [Budget(seconds=0.0), Budget(clock=TickingClock())])
def test_seconds_and_a_clock_go_together(budget: Budget) -> None:
    """Either alone sets no limit."""
    machine, request = refitted_another_way()
    assert kind_within(machine, request, budget, 14.0) == "optimal"


def test_a_spent_budget_within_one_phase_leaves_a_plan_and_a_true_bound() -> None:
    kinds: Counter[str] = Counter()
    for seed in range(15):
        machine = one_phase(Random(seed), Shape(60, 120, 3, 0.1))
        request = Request((to("p0"), to("p5")), alternatives=0)
        least = cheapest_removals(machine, request)
        if least is not None:
            kinds.update(kind_within(machine, request, Budget(nodes=nodes), least) for nodes in (0, 3, 10, 100_000))
    assert kinds["optimal"] > 0
    assert kinds["unproved"] > 0
    assert kinds["undecided"] == 0


def test_alternatives_share_a_budget_of_their_own() -> None:
    """The plan is proved though nothing is left for the alternatives, and those say so."""
    machine = one_phase(Random(3), Shape(60, 120, 3, 0.1))
    request = Request((to("p0"), to("p5")))
    alone = plan(machine, replace(request, alternatives=0))
    found = plan(machine, request, Budget(nodes=alone.nodes))
    assert found.optimal
    assert found.minutes == alone.minutes
    for other in found.alternatives:
        check(machine, request, other)
        assert found.minutes <= other.minutes


def test_alternatives_that_were_not_found_in_time_are_not_passed_over_in_silence() -> None:
    """Fewer alternatives than there are, and complete, is what no answer may say."""
    kinds: Counter[tuple[bool, bool, bool]] = Counter()
    for seed in range(120):
        machine, request = small_case(seed)
        request = replace(request, alternatives=3)
        try:
            everything = plan(machine, request)
        except Unreachable:
            continue
        for nodes in (5, 15, 40):
            try:
                found = plan(machine, request, Budget(nodes=nodes))
            except Undecided:
                continue
            fewer = len(found.alternatives) < len(everything.alternatives)
            kinds[found.optimal, fewer, found.alternatives_complete] += 1
    assert kinds[True, True, False] > 0
    assert kinds[True, False, True] > 0
    assert kinds[True, True, True] == kinds[False, True, True] == kinds[False, False, True] == 0


def test_where_none_are_asked_for_none_are_missing() -> None:
    machine, request = refitted_another_way()
    found = plan(machine, replace(request, alternatives=0), Budget(nodes=200))
    assert found.alternatives_complete
