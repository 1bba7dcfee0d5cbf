"""Plans that no other beats, against every situation there is; and the bounds that classes are dropped by."""

from __future__ import annotations

from collections import Counter
from random import Random
from typing import NoReturn

import pytest

from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.removal import Budget, Measure, Pareto, Planner, Request, Target, Undecided, Unreachable, situations
from firstoff.removal import planner as planner_module
from firstoff.removal.measures import amounts_of
from firstoff.removal.problem import Problem
from firstoff.removal.vectors import Vectors, beats
from support import figures
from support.figures import Exposures, unbeaten, with_figures
from support.instances import Shape, appliance, component, one_phase, preparation, removal, small_case

TARGET = Target("core", Purpose.REPLACE)


def vectors_of(found: Pareto) -> list[figures.Vector]:
    return [(p.figures.minutes, p.figures.parts, p.figures.single_use, p.figures.exposures) for p in found.plans]


def compare(machine: Appliance, request: Request, exposures: Exposures, budget: Budget) -> str:
    """Assert that the plans are the oracle's. What kind of case it was."""
    ends = unbeaten(machine, request, exposures)
    try:
        found = Planner(machine, exposures).pareto(request, budget)
    except Unreachable:
        assert not ends
        return "unreachable"
    except Undecided:
        return "undecided"
    got = vectors_of(found)
    assert got == sorted(got)
    if found.complete:
        assert set(got) == ends
        assert len(got) == len(ends)
        return "several" if len(got) > 1 else "one"
    assert all(any(figures.beats(end, vector) for end in ends) for vector in got)
    return "not proved"


@pytest.mark.parametrize("first", range(0, 400, 50))
def test_where_states_change(first: int) -> None:
    kinds: Counter[str] = Counter()
    for seed in range(first, first + 50):
        machine, request = small_case(seed)
        machine, exposures = with_figures(Random(seed), machine)
        kinds[compare(machine, request, exposures, Budget(nodes=3_000))] += 1
    assert kinds["one"] + kinds["several"] + kinds["unreachable"] == 50
    assert kinds["several"] > 0


@pytest.mark.parametrize("seed", range(60))
def test_by_classes(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where no state changes every plan uses each way once, so classes always come to an end."""
    monkeypatch.setattr(situations, "few", lambda *_: False)
    rng = Random(seed)
    machine, exposures = with_figures(rng, one_phase(rng, Shape(7, 13, 3, mutual=rng.choice((0.0, 0.2)))))
    targets = tuple(Target(f"p{rng.randrange(3)}", Purpose.REPLACE) for _ in range(rng.choice((1, 2))))
    assert compare(machine, Request(targets), exposures, Budget()) in ("one", "several", "unreachable")


@pytest.mark.parametrize("first", range(0, 100, 50))
def test_by_classes_where_states_change(first: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is not proved says so, and holds no plan that is beaten by another of it."""
    kinds: Counter[str] = Counter()
    for seed in range(first, first + 50):
        machine, request = small_case(seed)
        machine, exposures = with_figures(Random(seed), machine)
        monkeypatch.setattr(situations, "few", lambda *_: False)
        kinds[compare(machine, request, exposures, Budget(nodes=150))] += 1
        monkeypatch.undo()
    assert kinds["one"] + kinds["several"] > 10


@pytest.mark.parametrize("seed", range(4))
def test_many_parts(seed: int) -> None:
    """Too many for an oracle: what is best in each figure is there, and none beats another."""
    rng = Random(seed)
    machine, exposures = with_figures(rng, one_phase(rng, Shape(60, 85)))
    planner = Planner(machine, exposures)
    request = Request((Target("p0", Purpose.REPLACE),), alternatives=0)
    found = planner.pareto(request, Budget(nodes=4_000))
    got = vectors_of(found)
    assert not any(figures.beats(one, other) for one in got for other in got if one != other)
    for place, measure in enumerate(Measure):
        best = planner.plan(Request(request.targets, alternatives=0, minimise=measure))
        least = min((vector[place], vector[0]) for vector in got)
        assert least == (best.figures.of(measure), best.minutes)


def test_a_budget_that_ends_is_said() -> None:
    rng = Random(2)
    machine, exposures = with_figures(rng, one_phase(rng, Shape(120, 200)))
    found = Planner(machine, exposures).pareto(Request((Target("p0", Purpose.REPLACE),)), Budget(nodes=60))
    assert not found.complete
    assert found.plans


def test_where_time_ends_before_any_plan_it_is_the_one_that_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    def spent(*_: object) -> NoReturn:
        raise Undecided(0.0)

    machine, exposures = with_figures(Random(5), one_phase(Random(5), Shape(20, 30)))
    planner, request = Planner(machine, exposures), Request((Target("p0", Purpose.REPLACE),), alternatives=0)
    monkeypatch.setattr(planner_module, "unbeaten", spent)
    assert planner.pareto(request) == Pareto((planner.plan(request),), complete=False)


def test_nothing_to_reach_and_nothing_to_be_had() -> None:
    machine = appliance([component("core")], [])
    assert Planner(machine).pareto(Request(())) == Pareto((), complete=True)
    with pytest.raises(Unreachable):
        Planner(machine).pareto(Request((TARGET,)))


def ring() -> Appliance:
    """A variable whose three states lie on a ring, with a spur to a fourth."""
    return appliance(
        [component("core")],
        [removal("core", 1, 2, states=["v0=1"])],
        variables={"v0": 4},
        preparations=[
            preparation("v0=1", "v0=0", 4, 8),
            preparation("v0=2", "v0=1", 1, 1),
            preparation("v0=2", "v0=0", 2, 1),
            preparation("v0=3", "v0=1", 5, 7),
        ],
    )


@pytest.mark.parametrize(
    ("ways", "banned", "states", "minutes"),
    [
        ({"core-way0"}, (), {}, 3),
        # on the ring: out by it and home by the other two, 4 + 1 + 1; or against it, 2 + 1 + 8
        ({"v0=0>v0=1-0"}, (), {}, 6),
        # without the way round it is crossed both ways
        ({"v0=0>v0=1-0"}, ("v0=1>v0=2-0",), {}, 12),
        # the spur is crossed both ways, 5 + 7, wherever it starts
        ({"v0=1>v0=3-0"}, (), {}, 12),
        # from its far end one way is enough
        ({"v0=1>v0=3-0"}, (), {"v0": "v0=3"}, 7),
        # ring and spur: the larger of the two
        ({"v0=0>v0=1-0", "v0=1>v0=3-0"}, (), {}, 12),
        ({"core-way0", "v0=1>v0=3-0"}, (), {}, 15),
    ],
)
def test_what_ways_take_at_least(ways: set[str], banned: tuple[str, ...], states: dict[str, str], minutes: int) -> None:
    planner = Planner(ring())
    problem = Problem(planner.compiled(), Request((TARGET,), states=states), frozenset())
    amounts = {measure: amounts_of(ring(), measure, {}) for measure in Measure}
    least = Vectors(problem, amounts).least(frozenset(ways), frozenset(banned))
    assert least[0] == minutes * 1_000_000
    assert least[1] == len(ways & {"core-way0"})


def test_beating_is_in_everything() -> None:
    assert beats((1, 1, 1, 1), (1, 1, 1, 1))
    assert beats((0, 1, 1, 1), (1, 1, 1, 1))
    assert not beats((0, 1, 1, 2), (1, 1, 1, 1))
