"""Exposures to a hazard: what counts, when, and that the steps of a plan show all that its figure counts."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from firstoff.answers.bench import laid_out
from firstoff.answers.desk import Desk
from firstoff.answers.exposures import MOST_KILOGRAMS_ALONE, Hazard, charged_points, exposures_of, too_heavy_alone
from firstoff.appliance.circuit import Circuit, EnergySource, Link, LinkKind, Point
from firstoff.appliance.model import Appliance, Purpose, StateVariable
from firstoff.appliance.terms import Concept
from firstoff.errors import TargetUnreachable
from firstoff_contract.removal import PlanRequest
from support.circuits import circuit, link, mains
from support.instances import access, appliance, component, preparation, removal


def machine(**more: object) -> Appliance:
    """A core behind a cover; a capacitor across the core's terminals; refrigerant, a spring and heat in the core."""
    made = appliance(
        [component("cover"), replace(component("core"), kilograms=30.0), component("lever")],
        [
            replace(removal("cover", 1, states=["supply=1"]), bares=frozenset({"a"})),
            removal("core", 1, off=["cover"]),
            removal("lever", 1),
        ],
        [
            replace(access("core", Purpose.TEST, 1, states=["supply=1"]), bares=frozenset({"a", "b"})),
            replace(access("core", Purpose.INSPECT, 1, off=["cover"], states=["supply=0"], way=1)),
        ],
        variables={"supply": 2, "gas": 2},
        preparations=[preparation("supply=1", "supply=0", 1, 1), preparation("gas=1", "gas=0", 1, 1, off=["cover"])],
    )
    supply = StateVariable("supply", "supply", ("supply=0", "supply=1"), controls="mains")
    states = {**made.states, "supply=1": replace(made.states["supply=1"], devices_open=frozenset({"plug"}))}
    points = {slug: Point(slug, slug, "core") for slug in ("a", "b", "l", "n")}
    links = {
        "store": Link("store", "store", LinkKind.CAPACITOR, "a", "b", "core", farads=1e-6, volts=230.0, current="ac")
    }
    return replace(
        made, variables={**made.variables, "supply": supply}, states=states, circuit=Circuit(points, links), **more
    )


def held(kind: str, **more: object) -> Callable[[Appliance], Appliance]:
    """``machine`` with energy of a kind held by the core."""
    source = EnergySource(kind, f"{kind} of the core", Concept(kind, kind), held_by="core", **more)  # type: ignore[arg-type]

    def add(to: Appliance) -> Appliance:
        return replace(to, circuit=replace(to.circuit, sources={kind: source}))

    return add


def removal_with(of: Appliance, way: str, **more: object) -> Appliance:
    return replace(of, removals={**of.removals, way: replace(of.removals[way], **more)})


ROWS: list[tuple[str, Callable[[Appliance], Appliance], str, list[Hazard], list[Hazard]]] = [
    # what the row shows, the change, the way, exposures when done, exposures when taken back
    ("a charge reaches what it bares", lambda m: m, "cover-way0", [Hazard.STORED], []),
    ("a charge reaches what is measured", lambda m: m, "core-test0", [Hazard.STORED], []),
    ("too heavy for one, out and back", lambda m: m, "core-way0", [Hazard.WEIGHT], [Hazard.WEIGHT]),
    ("two persons lift it", lambda m: removal_with(m, "core-way0", persons=2), "core-way0", [], []),
    ("nothing about it", lambda m: m, "lever-way0", [], []),
    ("a spring is released", held("spring"), "core-way0", [Hazard.STORED, Hazard.WEIGHT], [Hazard.WEIGHT]),
    ("a spring is not felt by a look", held("spring"), "core-inspect1", [Hazard.LIVE], []),
    ("heat is", held("heat"), "core-inspect1", [Hazard.LIVE, Hazard.STORED], []),
    ("released before another part", held("spring", release_before=frozenset({"lever"})), "lever-way0",
     [Hazard.STORED], []),
    ("refrigerant is freed", held("refrigerant"), "core-way0", [Hazard.REFRIGERANT, Hazard.WEIGHT], [Hazard.WEIGHT]),
    ("refrigerant is recovered and charged", held("refrigerant", gone_in=frozenset({"gas=1"})), "gas=0>gas=1-0",
     [Hazard.REFRIGERANT], [Hazard.REFRIGERANT]),
    ("a cover off with the supply on", lambda m: m, "core-inspect1", [Hazard.LIVE], []),
    ("isolating is none", lambda m: m, "supply=0>supply=1-0", [], []),
]  # fmt: skip


@pytest.mark.parametrize(("change", "way", "done", "back"), [row[1:] for row in ROWS], ids=[row[0] for row in ROWS])
def test_what_counts(
    change: Callable[[Appliance], Appliance], way: str, done: list[Hazard], back: list[Hazard]
) -> None:
    found = exposures_of(change(machine())).get(way)
    assert [each.hazard for each in (found.done if found else ())] == done
    assert [each.hazard for each in (found.taken_back if found else ())] == back


def test_refrigerant_that_is_gone_by_then_is_not_freed() -> None:
    recovered = held("refrigerant", gone_in=frozenset({"gas=1"}))(machine())
    late = removal_with(recovered, "core-way0", needs_states=frozenset({"gas=1"}))
    assert [each.hazard for each in exposures_of(late)["core-way0"].done] == [Hazard.WEIGHT]


def test_what_may_be_lifted_alone() -> None:
    """23 kg: the load constant of the revised lifting equation, doi 10.1080/00140139308967940."""
    assert MOST_KILOGRAMS_ALONE == 23.0
    plain = machine()
    for kilograms, heavy in ((None, False), (23.0, False), (23.1, True)):
        parts = {**plain.components, "core": replace(plain.components["core"], kilograms=kilograms)}
        assert too_heavy_alone(replace(plain, components=parts), plain.removals["core-way0"]) is heavy


def test_a_low_voltage_is_no_charge_to_count() -> None:
    store = link("store", LinkKind.CAPACITOR.value, "plus", "minus", volts=12.0, current="dc", farads=1e-3)
    assert charged_points(replace(machine(), circuit=circuit([store], [mains()]))) == frozenset()
    high = circuit([replace(store, volts=325.0)], [mains()])
    assert charged_points(replace(machine(), circuit=high)) == {"plus", "minus"}
    assert charged_points(replace(machine(), circuit=circuit([], [mains()]))) == frozenset()


MODELS = ("flb-316-k", "tgd27-460-s")


@pytest.mark.parametrize("model", MODELS)
def test_the_steps_show_all_that_the_figure_counts(desk: Desk, model: str) -> None:
    shown = 0
    for component_ in desk.opened.collection.appliances(model, "1")[0].components:
        for purpose in Purpose:
            asked = PlanRequest(reach=[f"{component_}:{purpose.value}"], serial="1", minimise="exposure")
            try:
                plan = desk.removal_plan(model, asked)
            except TargetUnreachable:
                continue
            steps = [*plan.steps, *plan.refit]
            assert sum(len(step.exposures) for step in steps) == plan.figures.exposures
            assert sum(step.action == "remove" for step in steps) == plan.figures.parts
            assert sum(each.count for step in plan.refit for each in step.renew) <= plan.figures.single_use
            assert plan.bound == plan.figures.exposures
            shown += plan.figures.exposures
    assert shown > 50


def test_fewer_exposures_for_more_minutes(desk: Desk) -> None:
    """Behind the duct cover nothing can be charged; at the board, which is quicker, the board's capacitor can."""
    quick = desk.removal_plan("flb-316-k", PlanRequest(reach=["damper:test"], serial="1"))
    safe = desk.removal_plan("flb-316-k", PlanRequest(reach=["damper:test"], serial="1", minimise="exposure"))
    assert quick.minutes < safe.minutes
    assert (quick.figures.exposures, safe.figures.exposures) == (1, 0)
    assert [note.kind for step in quick.steps for note in step.exposures] == ["stored"]


def test_the_bench_holds_them(desk: Desk) -> None:
    bench = laid_out(desk.opened.collection.appliances("flb-316-k", "1")[0])
    assert bench.exposures == exposures_of(bench.appliance)
