from __future__ import annotations

import pytest

from firstoff.appliance.model import Appliance
from firstoff.appliance.terms import Concept
from firstoff.energy.held import held_releases
from support.circuits import appliance, circuit, mains


def held(id_: str, kind: str, by: str, **more: object) -> object:
    none = {"lines": (), "neutral": None, "protective_earth": None, "volts": None, "current": None}
    return mains(id_, kind=Concept(kind, kind), held_by=by, **{**none, **more})


def machine() -> Appliance:
    sources = [
        mains(),
        held("charge", "refrigerant", "sealed-system", competence="licensed refrigeration technician"),
        held("hinge", "spring", "door", release="Pin the hinge."),
        held("drum-heat", "heat", "drum", minutes=20.0),
    ]
    inside = {"sealed-system": None, "compressor": "sealed-system", "valve": "compressor", "door": None, "drum": None}
    return appliance(circuit([], sources), inside)


@pytest.mark.parametrize(
    ("components", "reaching", "released", "expected"),
    [
        # what the part itself holds
        ({"door"}, set(), set(), ["hinge"]),
        # what it sits inside holds, at any depth
        ({"valve"}, set(), set(), ["charge"]),
        # what sits inside it does not hold more than its holder
        ({"sealed-system"}, set(), set(), ["charge"]),
        # nothing, released already, reaching a touched point
        (set(), set(), set(), []),
        ({"door"}, set(), {"hinge"}, []),
        (set(), {"drum-heat"}, set(), ["drum-heat"]),
        # a component that is not there
        ({"absent"}, set(), set(), []),
    ],
)
def test_what_is_held(components: set[str], reaching: set[str], released: set[str], expected: list[str]) -> None:
    found = held_releases(machine(), frozenset(components), frozenset(reaching), frozenset(released))
    assert [each.id for each in found] == expected


def test_what_sits_inside_a_part_is_held_with_it() -> None:
    of = appliance(circuit([], [held("s", "spring", "inner")]), {"outer": None, "middle": "outer", "inner": "middle"})
    assert [each.id for each in held_releases(of, frozenset({"outer"}), frozenset(), frozenset())] == ["s"]
    beside = appliance(circuit([], [held("s", "spring", "inner")]), {"outer": None, "side": "outer", "inner": "outer"})
    assert held_releases(beside, frozenset({"side"}), frozenset(), frozenset()) == ()


def test_a_circle_of_nesting_ends() -> None:
    of = appliance(circuit([], [held("s", "spring", "two")]), {"one": "two", "two": "one"})
    assert [each.id for each in held_releases(of, frozenset({"one"}), frozenset(), frozenset())] == ["s"]


def test_texts() -> None:
    every = frozenset({"sealed-system", "door", "drum"})
    charge, hinge, heat = held_releases(machine(), every, frozenset(), frozenset())
    assert "licensed" in charge.text
    assert charge.competence == "licensed refrigeration technician"
    assert (hinge.text, hinge.energy, hinge.component) == ("Pin the hinge.", "spring", "door")
    assert heat.minutes == 20.0
    assert "drum" in heat.text


def test_a_circuit_alone_knows_no_nesting() -> None:
    of = machine().circuit
    assert held_releases(of, frozenset({"valve"}), frozenset(), frozenset()) == ()
    assert [each.id for each in held_releases(of, frozenset({"door"}), frozenset(), frozenset())] == ["hinge"]
