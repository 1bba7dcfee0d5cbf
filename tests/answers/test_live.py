"""Live points as integrators see them, on the demo machines."""

from __future__ import annotations

import networkx as nx
import pytest

from firstoff.answers.desk import Desk
from firstoff.appliance.circuit import LinkKind
from firstoff.appliance.model import Appliance
from firstoff_contract.energy import LivePoint, LivePoints

DRYER, FRIDGE = "tgd27-460-s", "flb-316-t"
MODELS = (DRYER, FRIDGE, "tgd27-410-k", "flb-316-k")


def ask(desk: Desk, model: str, serial: str | None = "1", **said: list[str]) -> LivePoints:
    """With a serial number of the first range where the model has any."""
    asked: dict[str, list[str]] = {"opened": [], "off": [], "released": []}
    return desk.live_points(model, serial, **(asked | said))


def point(answer: LivePoints, slug: str) -> LivePoint:
    return next(each for each in answer.points if each.id == slug)


def capacitors(appliance: Appliance) -> list[str]:
    return [slug for slug, link in appliance.circuit.links.items() if link.kind is LinkKind.CAPACITOR]


def appliance_of(desk: Desk, model: str) -> Appliance:
    return desk.opened.collection.appliances(model, "1")[0]


@pytest.mark.parametrize("model", MODELS)
def test_every_point_is_answered_once(desk: Desk, model: str) -> None:
    answer = ask(desk, model)
    assert [each.id for each in answer.points] == sorted(appliance_of(desk, model).circuit.points)


@pytest.mark.parametrize("model", MODELS)
def test_live_is_what_the_graph_reaches(desk: Desk, model: str) -> None:
    """networkx as oracle: with charge released, live is what closed links reach from a mains conductor, earth apart."""
    appliance = appliance_of(desk, model)
    circuit = appliance.circuit
    controls = sorted(slug for slug, device in circuit.devices.items() if not device.isolating)
    for opened in ([], controls, controls[::2], ["plug" if model.startswith("flb") else "supply-plug"]):
        graph = nx.Graph()
        graph.add_nodes_from(circuit.points)
        for link in circuit.links.values():
            is_open = link.device in opened and not link.changeover
            if link.kind is not LinkKind.EARTH_BOND and not is_open:
                graph.add_edge(link.start, link.end)
        fed: set[str] = set()
        for source in circuit.sources.values():
            if source.derived_from:
                continue
            for start in (*source.lines, source.neutral, *source.feeds):
                fed |= nx.node_connected_component(graph, start) if start else set()
        for source in circuit.sources.values():
            if set(source.derived_from) & fed:
                for start in (*source.lines, source.neutral):
                    fed |= nx.node_connected_component(graph, start) if start else set()
        answer = ask(desk, model, opened=opened, released=capacitors(appliance))
        assert {each.id for each in answer.points if each.state == "live"} == fed


def test_the_power_button_is_no_isolation(desk: Desk) -> None:
    """With all controls of the dryer open, line 2 still stands on the heater, by way of the coil on its far end."""
    appliance = appliance_of(desk, DRYER)
    controls = [s for s, d in appliance.circuit.devices.items() if not d.isolating and s != "high-limit-contact"]
    answer = ask(desk, DRYER, opened=controls, released=capacitors(appliance))
    far_end = point(answer, "heater-1")
    assert far_end.state == "live"
    assert far_end.through_load
    assert far_end.volts == 120
    assert far_end.current == "ac"
    assert far_end.fed_by[0].what == "source"
    assert far_end.fed_by[-1].id == "heater-1"
    assert far_end.cleared_by == [["appliance-connector"], ["supply-plug"]]


def test_a_control_alone_leaves_points_off_but_not_isolated(desk: Desk) -> None:
    answer = ask(desk, FRIDGE, opened=["defrost-relay"], released=capacitors(appliance_of(desk, FRIDGE)))
    assert point(answer, "heater-1").state == "off_not_isolated"
    assert point(answer, "heater-1").cleared_by == [["appliance-coupler"], ["plug"]]


def test_standby_changes_nothing(desk: Desk) -> None:
    before, after = ask(desk, FRIDGE), ask(desk, FRIDGE, opened=["standby-button"])
    worst = {each.id for each in before.points if each.state == "live"}
    still = {each.id for each in after.points if each.state == "live"}
    assert still == worst  # charge and back-feed keep even what lies behind its contacts live


def test_both_sides_of_an_unpolarised_plug_count(desk: Desk) -> None:
    answer = ask(desk, FRIDGE, released=capacitors(appliance_of(desk, FRIDGE)))
    for slug in ("plug-l", "plug-n"):
        assert point(answer, slug).state == "live"


def test_charge_keeps_points_live_until_released(desk: Desk) -> None:
    held = ask(desk, FRIDGE, opened=["plug"])
    assert {each.link for each in held.stored} == set(capacitors(appliance_of(desk, FRIDGE)))
    bus = next(each for each in held.stored if each.link == "bus-capacitor")
    assert bus.volts == pytest.approx(325 * 1.1, rel=0.01)
    assert bus.wait_s is not None
    assert bus.wait_s > 0
    assert bus.safe_volts == 42.4
    assert "60335" in bus.standard
    assert any(each.state == "live" and each.energy == "stored-charge" for each in held.points)
    released = ask(desk, FRIDGE, opened=["plug"], released=[each.link for each in held.stored])
    assert released.stored == []
    live = {each.id for each in released.points if each.state == "live" and each.energy != "water"}
    assert live == {"socket-l", "socket-n"}


def test_an_open_earth_bond_makes_metal_unknown(desk: Desk) -> None:
    answer = ask(desk, FRIDGE, off=["rear-cover"], opened=["plug"])
    assert point(answer, "rear-cover-metal").state == "unknown"


def test_numbers_in_the_request_are_echoed_sorted(desk: Desk) -> None:
    answer = ask(desk, DRYER, opened=["supply-plug", "power-control", "supply-plug"], off=["top-panel"])
    assert answer.opened == ["power-control", "supply-plug"]
    assert answer.off == ["top-panel"]
