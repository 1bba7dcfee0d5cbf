"""Isolation answers on the demo machines."""

from __future__ import annotations

import pytest

from firstoff.answers.desk import Desk
from firstoff.errors import BadRequest, NotFound

MODELS = ("tgd27-460-s", "flb-316-t", "tgd27-410-k", "flb-316-k")


@pytest.mark.parametrize("model", MODELS)
def test_a_set_leaves_nothing_live_and_none_of_its_devices_is_spare(desk: Desk, model: str) -> None:
    """For every component with points: open the first set of each energy, release, and ask what is live."""
    appliance = desk.opened.collection.appliances(model, "1")[0]
    touched = sorted({point.component for point in appliance.circuit.points.values()} - {"wall-socket"})
    for component in touched:
        answer = desk.isolation(model, "1", touch=[component])
        first = {each.energy: each for each in reversed(answer.sets)}
        devices = [device.id for each in first.values() for device in each.devices]
        released = [r.id for each in answer.sets for r in each.release if r.id in appliance.circuit.links]

        def unsafe(opened: list[str], released: list[str] = released, touch: list[str] = answer.touch) -> set[str]:
            after = desk.live_points(model, "1", opened=opened, off=[], released=released)
            return {each.id for each in after.points if each.id in touch and each.state in ("live", "off_not_isolated")}

        if not answer.upstream_only:
            assert not unsafe(devices), component
        for device in devices:
            assert unsafe([each for each in devices if each != device]), (component, device)


def test_supply_side_points_can_only_be_isolated_upstream(desk: Desk) -> None:
    answer = desk.isolation("tgd27-460-s", None, touch=["socket-l1"])
    assert answer.upstream_only
    assert answer.upstream_energies == ["mains"]
    assert not [each for each in answer.sets if each.energy == "mains" and each.devices]


def test_control_devices_are_in_no_set(desk: Desk) -> None:
    """29 CFR 1910.333(b)(2)(ii)(B): control devices are not the sole means of isolation."""
    for model in MODELS:
        circuit = desk.opened.collection.appliances(model, "1")[0].circuit
        for component in {point.component for point in circuit.points.values()}:
            for each in desk.isolation(model, "1", touch=[component]).sets:
                assert all(circuit.devices[device.id].isolating for device in each.devices)


def test_connector_behind_a_live_cover_is_no_set(desk: Desk) -> None:
    """The dryer's inner connector isolates the motor, but getting at it bares live points first."""
    answer = desk.isolation("tgd27-460-s", None, touch=["drive-motor"])
    assert [[device.id for device in each.devices] for each in answer.sets if each.energy == "mains"] == [
        ["supply-plug"]
    ]


def test_tester_is_proved_before_and_after(desk: Desk) -> None:
    """29 CFR 1910.333(b)(2)(iv)(B) asks it above 600 V; common practice below."""
    kinds = [step.kind for step in desk.isolation("flb-316-k", "1", touch=["compressor"]).prove_dead]
    assert kinds[0] == "prove_tester"
    assert kinds[-1] == "prove_tester"
    assert "measure" in kinds


def test_water_has_its_own_set(desk: Desk) -> None:
    answer = desk.isolation("flb-316-t", None, touch=["water-inlet-valve"])
    by_energy = {each.energy: [device.id for device in each.devices] for each in answer.sets}
    assert by_energy["water"] == ["stop-tap-valve"]
    assert by_energy["mains"] in (["plug"], ["appliance-coupler"])


def test_refrigerant_has_no_device_and_says_who_may(desk: Desk) -> None:
    answer = desk.isolation("flb-316-k", "1", touch=["compressor"])
    refrigerant = next(each for each in answer.sets if each.energy == "refrigerant")
    assert refrigerant.devices == []
    assert refrigerant.release[0].competence


def test_spring_force_is_released(desk: Desk) -> None:
    answer = desk.isolation("tgd27-460-s", None, touch=["idler-spring"])
    assert any(release.energy == "spring" for each in answer.sets for release in each.release)


def test_names_are_looked_up(desk: Desk) -> None:
    with pytest.raises(NotFound) as caught:
        desk.isolation("flb-316-k", "1", touch=["compresor"])
    assert caught.value.nearest[0].startswith("compressor")
    with pytest.raises(BadRequest):
        desk.isolation("flb-316-t", None, touch=[])
