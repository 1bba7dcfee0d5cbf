"""Plans against an oracle that looks at every situation there is, on small random appliances and on picked ones.

The oracle (``support.full_model``) knows nothing of the search: it carries acts out on the model as it is written.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace

import pytest

from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.removal import Budget, Plan, Request, Target, Undecided, Unreachable, plan
from support.full_model import cheapest, check
from support.instances import (
    access,
    appliance,
    component,
    preparation,
    refitted_another_way,
    removal,
    small_case,
)

BUDGET = Budget(nodes=10_000)
CASES, A_BLOCK = 700, 50
# Of so many random cases one asks for three alternatives, the others for one.
ONE_IN = 3

Case = tuple[Appliance, Request]


def isolated_while_pulled_out() -> Case:
    """Pulled out at the start, and only there can the supply be isolated or restored.

    So the supply has to be restored before the machine goes home; and it goes home with the door shut only, while the
    first part needs the door open.
    """
    machine = appliance(
        [component(slug) for slug in ("belt", "sensor", "chute", "filter")],
        [
            removal("belt", 1, off={"sensor"}),
            removal("sensor", 1, off={"chute"}),
            removal("chute", 1, off={"filter"}, states={"supply=1"}),
            removal("filter", 1, states={"door=1"}),
        ],
        variables={"door": 2, "place": 2, "supply": 2},
        preparations=[
            preparation("supply=1", "supply=0", 1, 1, states={"place=1"}),
            preparation("door=1", "door=0", 1, 1),
            preparation("place=1", "place=0", 1, 1, states={"door=0"}),
        ],
    )
    return machine, Request((Target("belt", Purpose.REPLACE),), states={"place": "place=1"})


def a_detour_only_from_where_it_stands() -> Case:
    """One variable can change only in a state of another that is in force at the start but has to be left."""
    machine = appliance(
        [component("p1")],
        [],
        [access("p1", Purpose.INSPECT, 1, states={"v0=1"})],
        {"v0": 3, "v1": 3},
        [
            preparation("v0=2", "v0=1", 1, 1, states={"v1=2"}),
            preparation("v0=2", "v0=0", 1, 1, way=1),
            preparation("v1=2", "v1=0", 1, 1, states={"v0=2"}, way=1),
        ],
    )
    return machine, Request((Target("p1", Purpose.INSPECT),), states={"v0": "v0=2"})


def free_round_trips() -> Case:
    """A variable that changes at (almost) no cost, and a cheap way home that turns out to be of no use."""
    machine = appliance(
        [component("p0"), component("p1"), component("p2")],
        [
            removal("p0", 0, off={"p2"}),
            removal("p1", 0, states={"v0=1", "v1=1"}),
            removal("p2", 1, states={"v1=0"}),
        ],
        variables={"v0": 2, "v1": 2},
        preparations=[
            preparation("v0=1", "v0=0", 0, 1, off={"p1"}),
            preparation("v0=1", "v0=0", 0, 2, way=1),
            preparation("v1=1", "v1=0", 0, 0),
        ],
    )
    return machine, Request((Target("p0", Purpose.REPLACE),), states={"v0": "v0=1"}, alternatives=0)


# Seeds of ``small_case`` on which the search once ran for minutes, in the plan itself or in its next-best one.
HARD_SEEDS = (70, 89, 147, 507, 684, 1418, 1868, 2014, 2102, 2986, 3779, 4037, 4230, 4456, 5219, 5450)
# Seeds on which a plan once failed its own simulation: a variable starts in a state that another's change needs.
ONCE_BROKEN_SEEDS = (1143, 1537, 1715, 2201, 2256, 2262, 2647, 2828)


def compare(case: Case, budget: Budget = BUDGET) -> str:
    """Assert that the answer is the oracle's, next-best plan included. What kind of case it was."""
    machine, request = case
    least = cheapest(machine, request)
    try:
        found = plan(machine, request, budget)
    except Unreachable:
        assert least is None
        return "unreachable"
    check(machine, request, found)
    assert found.optimal
    assert found.minutes == least
    check_alternatives(case, found)
    return "states change" if any(act.kind == "prepare" for act in found.acts) else "states stay"


def check_alternatives(case: Case, found: Plan) -> None:
    """Assert that each alternative is the cheapest plan that leaves out a way of every plan before it.

    So they are in order, no two use the same ways, and there are fewer than asked for only where there are no more.
    """
    machine, request = case
    before = [found]
    for other in found.alternatives:
        check(machine, request, other)
        assert other.optimal
        assert other.alternatives == ()
        assert before[-1].minutes <= other.minutes
        assert not any(earlier.ways <= other.ways for earlier in before)
        assert other.minutes == cheapest(machine, request, avoiding=tuple(earlier.ways for earlier in before))
        before.append(other)
    assert len(found.alternatives) <= max(request.alternatives, 0)
    assert found.alternatives_complete
    if len(found.alternatives) < request.alternatives:
        assert cheapest(machine, request, avoiding=tuple(earlier.ways for earlier in before)) is None


def random_case(seed: int) -> Case:
    """``small_case``, with three alternatives asked for in some of the cases."""
    machine, request = small_case(seed)
    return machine, replace(request, alternatives=1 if seed % ONE_IN else 3)


@pytest.mark.parametrize("first", range(0, CASES, A_BLOCK))
def test_random_small_appliances(first: int) -> None:
    kinds = Counter(compare(random_case(seed)) for seed in range(first, first + A_BLOCK) if seed not in HARD_SEEDS)
    assert min(kinds[kind] for kind in ("unreachable", "states change", "states stay")) > 0


@pytest.mark.parametrize("seed", ONCE_BROKEN_SEEDS)
def test_a_change_waits_for_the_state_it_needs(seed: int) -> None:
    machine, request = small_case(seed)
    compare((machine, request))
    compare((machine, replace(request, off=frozenset())))


@pytest.mark.parametrize("seed", HARD_SEEDS)
def test_hard_cases_are_bounded(seed: int) -> None:
    """Even where the budget ends first, plans can be carried out and bounds are true."""
    machine, request = small_case(seed)
    least = cheapest(machine, request)
    assert least is not None
    bound, plans = within_budget(machine, request, Budget(nodes=300))
    assert bound <= least
    for each in plans:
        check(machine, request, each)
        assert least <= each.minutes


def within_budget(machine: Appliance, request: Request, budget: Budget) -> tuple[float, tuple[Plan, ...]]:
    """The bound proved and the plans found, none where the budget ends too soon for one."""
    try:
        found = plan(machine, request, budget)
    except Undecided as undecided:
        return undecided.bound, ()
    return found.bound, (found, *found.alternatives)


@pytest.mark.parametrize(
    ("make", "minutes"),
    [(isolated_while_pulled_out, 9.0), (a_detour_only_from_where_it_stands, 6.0), (refitted_another_way, 14.0)],
)
def test_picked_machines_that_do_not_stand_as_usual(make: Callable[[], Case], minutes: float) -> None:
    machine, request = make()
    assert cheapest(machine, request) == minutes
    compare((machine, request), Budget())


def test_free_round_trips_keep_bounds_true() -> None:
    machine, request = free_round_trips()
    found = plan(machine, request, Budget(nodes=300))
    check(machine, request, found)
    assert found.bound <= cheapest(machine, request) == 3.0 <= found.minutes


def test_the_part_alone_and_the_whole_unit_are_alternatives() -> None:
    """One access path serves either way, so that the part's only removal is needed by it is not so in every plan."""
    machine = appliance(
        [component("pump", replaced_as="unit"), component("unit")],
        [removal("pump", 1), removal("unit", 4)],
        [access("pump", Purpose.REPLACE, 2)],
    )
    request = Request((Target("pump", Purpose.REPLACE),))
    compare((machine, request))
    found = plan(machine, request)
    assert (found.minutes, [other.minutes for other in found.alternatives]) == (3.0, [6.0])
