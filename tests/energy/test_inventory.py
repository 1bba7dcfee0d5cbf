"""Every energy of a machine: none left out, what is not told said so, times that are never too short."""

from __future__ import annotations

from math import exp

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.answers.desk import Desk
from firstoff.appliance.circuit import EnergySource, LinkKind
from firstoff.appliance.terms import Concept
from firstoff.energy.curves import saturation
from firstoff.energy.heat import waiting
from firstoff.energy.inventory import WORST_FIRST, Energy, inventory
from firstoff.energy.verifying import UNKNOWN, USUAL, usual
from support.circuits import appliance, circuit, link, mains

HEAT, REFRIGERANT, GAS = Concept("heat", "heat"), Concept("refrigerant", "refrigerant"), Concept("gas", "gas")


def held(kind: Concept, **more: object) -> EnergySource:
    return EnergySource(id="held", label="held", kind=kind, held_by="body", **more)  # type: ignore[arg-type]


def only(source: EnergySource, ambient: float = 30.0) -> Energy:
    (found,) = inventory(appliance(circuit([], [source])), ambient)
    return found


def test_nothing_is_left_out_on_the_demo_machines(desk: Desk) -> None:
    for entry in desk.opened.collection.models:
        for each in desk.opened.collection.appliances(entry.id):
            found = inventory(each)
            capacitors = {id_ for id_, one in each.circuit.links.items() if one.kind is LinkKind.CAPACITOR}
            assert {energy.id for energy in found} == set(each.circuit.sources) | capacitors
            ranks = [WORST_FIRST.index(energy.kind) for energy in found]
            assert ranks == sorted(ranks)
            assert all(energy.release and energy.verify for energy in found)


def test_every_kind_of_the_vocabulary_has_its_words() -> None:
    assert set(WORST_FIRST) == set(USUAL)
    assert usual("magnetism") == UNKNOWN


@given(st.floats(46.0, 600.0), st.floats(0.5, 120.0), st.floats(-5.0, 44.0), st.none() | st.floats(0.0, 300.0))
def test_a_hot_part_is_cool_after_the_wait(start: float, constant: float, room: float, told: float | None) -> None:
    """Newton's law of cooling: after the minutes that are answered the part is at 45 degrees Celsius or below."""
    source = held(HEAT, start_celsius=start, safe_celsius=45.0, time_constant=constant, minutes=told)
    minutes, computed = waiting(source, room)
    assert minutes is not None
    assert room + (start - room) * exp(-minutes / constant) <= 45.0 + 1e-6
    assert told is None or minutes >= told
    assert computed or minutes == told


def test_a_room_as_hot_as_the_limit_never_cools_it() -> None:
    source = held(HEAT, start_celsius=100.0, safe_celsius=40.0, time_constant=5.0)
    assert waiting(source, 45.0) == (None, False)
    assert "how long it stays hot" in only(source, ambient=45.0).unknown


def test_refrigerant_at_room_temperature() -> None:
    found = only(held(REFRIGERANT, refrigerant=Concept("r600a", "R600a"), kilograms=0.058), ambient=20.0)
    assert found.absolute == pytest.approx(saturation.kilopascals_at("r600a", 20.0))
    assert found.absolute is not None
    assert found.gauge == pytest.approx(found.absolute - 101.325)
    assert found.hazard is not None
    assert "from outside the area" in found.hazard
    assert found.unknown == ()


@pytest.mark.parametrize("refrigerant", [None, Concept("r999", "R999")])
def test_an_unknown_refrigerant_has_no_pressure(refrigerant: Concept | None) -> None:
    found = only(held(REFRIGERANT, refrigerant=refrigerant))
    assert (found.gauge, found.absolute) == (None, None)
    assert set(found.unknown) == {"its charge", "which refrigerant it is, and so its pressure"}


def test_gas_says_what_to_do_about_a_leak_first() -> None:
    found = only(EnergySource(id="gas", label="gas", kind=GAS, feeds=("pipe",)))
    assert found.hazard is not None
    assert "no flame, no switch" in found.hazard
    assert found.unknown == ("its pressure",)
    assert "upstream" in found.release


def test_a_charge_is_given_at_its_worst() -> None:
    """C V^2 / 2 at the highest capacitance and the peak at the upper supply tolerance."""
    of = circuit([link("c", "capacitor", "a", "b", farads=1e-6, farad_tolerance=0.1, volts=230.0, current="ac")],
                 [mains(upper_tolerance=0.1)])  # fmt: skip
    found = next(each for each in inventory(appliance(of)) if each.id == "c")
    assert found.volts == pytest.approx(230.0 * 2**0.5 * 1.1)
    assert found.joules == pytest.approx(1.1e-6 * (230.0 * 2**0.5 * 1.1) ** 2 / 2.0)
    assert found.unknown == ("how long its charge lasts",)


def test_a_supply_without_a_voltage_is_said_to_be_unknown() -> None:
    found = next(each for each in inventory(appliance(circuit([], [mains(volts=None)]))) if each.id == "mains")
    assert "its voltage" in found.unknown


def test_devices_are_those_of_the_states(desk: Desk) -> None:
    (dryer,) = desk.opened.collection.appliances("tgd27-460-s")
    found = {each.id: each for each in inventory(dryer)}
    assert found["mains"].isolated_by == ("supply-plug",)
    assert found["board-12v"].isolated_by == ("supply-plug",)
    assert found["drum-weight"].isolated_by == ()
