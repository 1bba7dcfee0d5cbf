from __future__ import annotations

import pytest

from firstoff.appliance.circuit import (
    Circuit,
    Point,
)
from firstoff.energy import ProveKind, Situation, isolation
from support.circuits import WATER, circuit, link, mains


def machine() -> Circuit:
    links = [
        link("plug-l", "contact", "l", "a", device="plug"),
        link("plug-n", "contact", "n", "z", device="plug"),
        link("wire", "conductor", "a", "b"),
        link("heater", "load", "b", "z"),
        link("cap", "capacitor", "b", "z", volts=230.0),
        link("tap-1", "contact", "w", "inlet", device="stop-tap"),
        link("bond", "earth-bond", "pe", "chassis"),
        link("bond-2", "earth-bond", "pe", "back"),
        link("coil", "winding", "f1", "f2"),
    ]
    tap = mains("tap", kind=WATER, lines=(), neutral=None, protective_earth=None, feeds=("w",), volts=None)
    points = [
        Point("a", "terminal A", "board"),
        Point("back", "rear panel", "shell"),
        Point("chassis", "chassis stud", "board"),
    ]
    return circuit(links, [mains(), tap], ["plug", "stop-tap"], points=points)


def measured(touch: set[str], situation: Situation | None = None) -> list[tuple[str, ...]]:
    steps = isolation(machine(), touch, situation or Situation(released=frozenset({"cap"}))).prove_dead
    return [step.points for step in steps if step.kind is ProveKind.MEASURE]


@pytest.mark.parametrize(
    ("touch", "points"),
    [
        # to an earth of the same component; else to one of the appliance; the supply's own only where there is no other
        ({"a"}, [("a", "chassis")]),
        ({"z"}, [("z", "back")]),
        # each to earth, then between what can be fed by different poles
        ({"a", "z"}, [("a", "chassis"), ("z", "back"), ("a", "z")]),
        # one wire is one conductor
        ({"a", "b"}, [("a", "chassis"), ("b", "back")]),
        ({"a", "b", "z"}, [("a", "chassis"), ("b", "back"), ("z", "back"), ("a", "z")]),
        # an unknown point is measured, to earth alone; so is one that nobody described
        ({"f1", "a"}, [("a", "chassis"), ("f1", "back")]),
        ({"absent"}, [("absent", "back")]),
        # earthed metal and water are not
        ({"chassis"}, []),
        ({"inlet"}, []),
    ],
)
def test_what_is_measured(touch: set[str], points: list[tuple[str, ...]]) -> None:
    assert measured(touch) == points


def test_a_charged_capacitor_is_measured_across_once() -> None:
    assert measured({"a"}, Situation()) == [("a", "chassis"), ("b", "z")]
    assert measured({"b", "z"}, Situation()) == [("b", "back"), ("z", "back"), ("b", "z")]


@pytest.mark.parametrize("how", ["links_open", "links_in_doubt"])
def test_a_wire_that_is_or_may_be_undone_leads_to_no_conductor(how: str) -> None:
    """Beyond it each point is measured to earth alone; with the wire whole, the pair is measured too."""
    undone = Situation(released=frozenset({"cap"}), **{how: frozenset({"wire"})})
    assert measured({"b", "z"}, undone) == [("b", "back"), ("z", "back")]
    assert measured({"b", "z"}) == [("b", "back"), ("z", "back"), ("b", "z")]


def test_pairs_grow_with_the_conductors_and_not_with_the_points() -> None:
    many = [link(f"w{n}", "conductor", "a", f"a{n}") for n in range(20)]
    of = circuit(
        [link("plug", "contact", "l", "a", device="p"), link("n", "contact", "n", "z", device="p"), *many],
        [mains()],
        ["p"],
    )
    steps = isolation(of, {"z", *(f"a{n}" for n in range(20))}, Situation()).prove_dead
    assert sum(len(step.points) == 2 and "pe" not in step.points for step in steps) == 1


def test_metal_whose_bond_is_open_is_measured() -> None:
    situation = Situation(bonds_open=frozenset({"bond"}), released=frozenset({"cap"}))
    assert measured({"chassis"}, situation) == [("chassis", "back")]


def test_without_any_earth_one_point_is_named() -> None:
    of = circuit([link("plug-l", "contact", "l", "a", device="plug")], [mains(protective_earth=None)], ["plug"])
    steps = isolation(of, {"a"}, Situation()).prove_dead
    assert [step.points for step in steps] == [(), ("a",), ()]


def test_the_tester_is_proved_before_and_after() -> None:
    steps = isolation(machine(), {"a", "inlet"}, Situation(), safe_volts=50.0).prove_dead
    assert [step.kind for step in steps] == [
        ProveKind.PROVE_TESTER,
        ProveKind.MEASURE,
        ProveKind.MEASURE,
        ProveKind.PROVE_TESTER,
        ProveKind.VERIFY,
    ]
    assert "terminal A" in steps[1].text
    assert "below 50 V" in steps[1].text
    assert steps[-1].points == ("inlet",)


def test_nothing_electrical_needs_no_tester() -> None:
    assert [step.kind for step in isolation(machine(), {"inlet"}, Situation()).prove_dead] == [ProveKind.VERIFY]
    assert isolation(machine(), set(), Situation()).prove_dead == ()
