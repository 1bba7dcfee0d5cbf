"""What is made smallest: against every situation there is, and by hand."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from firstoff.appliance.model import (
    Appliance,
    Connection,
    Fastening,
    Purpose,
)
from firstoff.appliance.terms import Concept
from firstoff.removal import Budget, Figures, Measure, Planner, Request, Target, Undecided, Unreachable
from support.figures import unbeaten, with_figures
from support.full_model import check
from support.instances import Shape, appliance, component, one_phase, preparation, removal, small_case

PLACE = {Measure.MINUTES: 0, Measure.PARTS: 1, Measure.SINGLE_USE: 2, Measure.EXPOSURE: 3}
GOAL = (Target("core", Purpose.REPLACE),)


def three_ways_in() -> tuple[Appliance, dict[str, tuple[int, int]]]:
    """The core comes out by the front (quick, breaks clips), the back (two parts, none broken) or the top (exposed)."""
    clip = Concept("clip", "clip")
    front = replace(
        removal("front", 1, 1),
        fastenings=(Fastening(clip, 4, single_use=True), Fastening(clip, 2)),
        connections=(Connection(clip, "seal", single_use=True), Connection(clip, "plug")),
        single_use=True,
    )
    machine = appliance(
        [component(slug) for slug in ("core", "front", "back", "rear", "top")],
        [
            removal("core", 1, 1, off=["front"]),
            removal("core", 1, 1, off=["back", "rear"], way=1),
            removal("core", 1, 1, off=["top"], way=2),
            front,
            removal("back", 3, 3),
            removal("rear", 2, 2),
            removal("top", 4, 3),
        ],
    )
    return machine, {"top-way0": (1, 1), "core-way0": (1, 0)}


@pytest.mark.parametrize(
    ("measure", "figures"),
    [
        # front: 4 minutes, its clips, seal and itself broken
        (Measure.MINUTES, Figures(4.0, 2, 6, 1)),
        # front and top alike in parts: the quicker
        (Measure.PARTS, Figures(4.0, 2, 6, 1)),
        # back and top alike in what they break: top is quicker
        (Measure.SINGLE_USE, Figures(9.0, 2, 0, 2)),
        # only the back is without exposure
        (Measure.EXPOSURE, Figures(12.0, 3, 0, 0)),
    ],
)
def test_each_measure_has_its_plan(measure: Measure, figures: Figures) -> None:
    machine, exposures = three_ways_in()
    found = Planner(machine, exposures).plan(Request(GOAL, minimise=measure))
    assert found.figures == figures
    assert found.optimal
    assert (found.bound, found.bound_minutes) == (figures.of(measure), figures.minutes)
    ranks = [(other.figures.of(measure), other.minutes) for other in found.alternatives]
    assert len(ranks) == 2
    assert [(figures.of(measure), figures.minutes), *ranks] == sorted([(figures.of(measure), figures.minutes), *ranks])


def test_taking_a_state_back_counts_as_such() -> None:
    machine = appliance(
        [component("core")],
        [removal("core", 1, 1, states=["v0=1"])],
        variables={"v0": 2},
        preparations=[preparation("v0=1", "v0=0", 1, 2), preparation("v0=1", "v0=0", 3, 3, way=1)],
    )
    exposures = {"v0=0>v0=1-0": (0, 5), "v0=0>v0=1-1": (1, 1)}
    planner = Planner(machine, exposures)
    assert planner.plan(Request(GOAL, minimise=Measure.MINUTES)).figures == Figures(5.0, 1, 0, 5)
    # Out by the first, which costs nothing, and back by the second.
    assert planner.plan(Request(GOAL, minimise=Measure.EXPOSURE)).figures == Figures(6.0, 1, 0, 1)


@pytest.mark.parametrize("first", range(0, 400, 50))
def test_against_every_situation(first: int) -> None:
    planned = 0
    for seed in range(first, first + 50):
        machine, request = small_case(seed)
        machine, exposures = with_figures(Random(seed), machine)
        ends = unbeaten(machine, request, exposures)
        planner = Planner(machine, exposures)
        for measure, place in PLACE.items():
            asked = replace(request, minimise=measure, alternatives=0)
            try:
                found = planner.plan(asked, Budget(nodes=2_000 if measure is Measure.MINUTES else 20_000))
            except Unreachable:
                assert not ends
                continue
            except Undecided:
                assert measure is Measure.MINUTES
                continue
            planned += 1
            figures = found.figures
            least = min((end[place], end[0]) for end in ends)
            assert (found.bound, found.bound_minutes) <= least
            if found.optimal:
                assert (figures.of(measure), figures.minutes) == least
            assert found.optimal or measure is Measure.MINUTES
            vector = (figures.minutes, figures.parts, figures.single_use, figures.exposures)
            assert any(all(a <= b for a, b in zip(end, vector, strict=True)) for end in ends)
            if measure is Measure.MINUTES:
                check(machine, asked, found)
    assert planned > 30


@pytest.mark.parametrize("seed", range(6))
def test_in_one_phase_the_figure_is_that_of_a_machine_that_counts_it_in_minutes(seed: int) -> None:
    """With so many parts that situations cannot be looked at: parts count as minutes where every removal takes one."""
    rng = Random(seed)
    machine = one_phase(rng, Shape(parts=60, ways=90, needs=3))
    target = Target("p0", Purpose.REPLACE)
    ones = replace(
        machine,
        removals={id_: replace(way, minutes_out=1.0, minutes_back=0.0) for id_, way in machine.removals.items()},
    )
    counted = Planner(ones).plan(Request((target,), alternatives=0))
    found = Planner(machine).plan(Request((target,), alternatives=0, minimise=Measure.PARTS))
    assert found.optimal
    assert found.figures.parts == counted.minutes == len(found.removed)


def test_a_budget_that_ends_gives_a_bound_in_the_measure() -> None:
    machine = one_phase(Random(3), Shape(parts=200, ways=320, needs=4))
    request = Request((Target("p0", Purpose.REPLACE),), alternatives=0, minimise=Measure.PARTS)
    best = Planner(machine).plan(request)
    cut = Planner(machine).plan(request, Budget(nodes=3))
    assert best.optimal
    assert not cut.optimal
    assert cut.bound <= best.figures.parts <= cut.figures.parts
    assert cut.bound == int(cut.bound)


def test_an_appliance_is_compiled_once_for_each_measure() -> None:
    machine, exposures = three_ways_in()
    planner = Planner(machine, exposures)
    assert planner.compiled(Measure.PARTS) is planner.compiled(Measure.PARTS)
    assert planner.compiled(Measure.PARTS) is not planner.compiled()


def test_ways_to_are_all_that_could_matter() -> None:
    machine, exposures = three_ways_in()
    planner = Planner(machine, exposures)
    assert planner.ways_to(Request(GOAL)) == frozenset(machine.removals)
    assert planner.ways_to(Request(GOAL, banned=frozenset({"core-way1"}))) == frozenset(machine.removals) - {
        "core-way1",
        "back-way0",
        "rear-way0",
    }
