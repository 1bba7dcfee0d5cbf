"""What is taken along: every question it lists has an answer, no other has, and its rows leave nothing out."""

from __future__ import annotations

from dataclasses import replace

import pytest

from firstoff.answers.desk import Desk
from firstoff.answers.pocket import pocket_answer, reachable
from firstoff.answers.requests import plan_request
from firstoff.appliance.model import Appliance
from firstoff.collection.opening import Opened
from firstoff.errors import BadRequest, SerialNeeded, TargetUnreachable
from firstoff.settings import Settings
from firstoff_contract.pocket import Pocket
from support.small_machine import compiled

MODELS = ["tgd27-460-s", "flb-316-t", "mdr60-510-f", "qmh60-450-b", "tem34-260-h"]


def pocket_of(desk: Desk, model: str) -> Pocket:
    return desk.pocket(model, "23500001")


def test_reach_by_hand() -> None:
    """Of a machine small enough to see: ways in by purpose, and parts that come off."""
    machine = compiled()
    found = set(reachable(machine))
    for path in machine.access_paths.values():
        assert f"{path.component}:{path.purpose.value}" in found or path.purpose.value == "replace"
    for removal in machine.removals.values():
        assert f"{removal.component}:replace" in found
    bare = replace(machine, access_paths={}, removals={})
    assert not list(reachable(bare))


@pytest.mark.parametrize("model", ["tgd27-460-s", "tem34-260-h"])
def test_a_plan_can_be_asked_for_every_target_listed_and_for_no_other(desk: Desk, opened: Opened, model: str) -> None:
    (machine,) = opened.collection.appliances(model, "23500001")
    listed = pocket_of(desk, model).reach
    assert len(listed) == len(set(listed))
    for each in listed:
        assert desk.removal_plan(model, plan_request(reach=[each])).steps is not None
    replaced = {each.partition(":")[0] for each in listed if each.endswith(":replace")}
    tested = {each.partition(":")[0] for each in listed if each.endswith(":live-test")}
    for component in sorted(machine.components.keys() - replaced)[:5]:
        with pytest.raises(TargetUnreachable):
            desk.removal_plan(model, plan_request(reach=[component]))
    for component in sorted(machine.components.keys() - tested):
        with pytest.raises(BadRequest):
            desk.removal_plan(model, plan_request(reach=[f"{component}:live-test"]))


@pytest.mark.parametrize("model", MODELS)
def test_touch_is_every_component_that_isolation_says_something_about(desk: Desk, opened: Opened, model: str) -> None:
    (machine,) = opened.collection.appliances(model, "23500001")
    listed = set(pocket_of(desk, model).touch)
    assert {point.component for point in machine.circuit.points.values()} <= listed
    for component in machine.components:
        told = desk.isolation(model, "23500001", touch=[component])
        if component not in listed:
            assert not [*told.sets, *told.prove_dead, *told.unknown, *told.upstream_energies], component


@pytest.mark.parametrize("model", MODELS)
def test_rows(desk: Desk, opened: Opened, model: str) -> None:
    (machine,) = opened.collection.appliances(model, "23500001")
    rows = pocket_of(desk, model).rows
    circuit = machine.circuit
    assert {point for row in rows for point in row.points} == circuit.points.keys()
    assert sorted(row.device for row in rows if row.device) == sorted(circuit.devices)
    seen: set[str] = set()
    for row in rows:
        assert row.parent is None or row.parent in seen, "a row stands below the one it hangs from"
        seen.add(row.id)
        assert {*row.line, *row.beyond} <= {*row.points}
        if row.device:
            device = circuit.devices[row.device]
            assert (row.label, row.isolating, row.component) == (device.label, device.isolating, device.component)
            contacts = [each for each in circuit.links.values() if each.device == row.device]
            assert {end for each in contacts for end in (each.start, each.end)} <= {*row.points}
        else:
            assert not row.isolating
            assert not row.beyond
    assert len(seen) == len(rows)


def test_rows_do_not_depend_on_what_is_open(desk: Desk) -> None:
    """A device has points on both of its sides: what leads to it, and what it feeds."""
    rows = {row.device: row for row in pocket_of(desk, "tgd27-460-s").rows}
    plug = rows["supply-plug"]
    assert plug.line
    assert plug.beyond
    assert not {*plug.line} & {*plug.beyond}


def test_a_machine_of_which_serial_ranges_differ_needs_its_serial(desk: Desk) -> None:
    with pytest.raises(SerialNeeded):
        desk.pocket("flb-316-k", None)


def test_notices_come_with_the_parts_they_touch(desk: Desk, opened: Opened) -> None:
    """Each answer computed from the pocket can tell which of them it has to carry."""
    found = 0
    for entry in opened.collection.models:
        for machine in opened.collection.appliances(entry.id):
            pocket = pocket_answer(machine, Settings())
            assert pocket.circuit is not None
            assert [each.note.id for each in pocket.circuit.bulletins] == sorted(_bulletins(machine))
            found += len(pocket.circuit.bulletins)
    assert found


def _bulletins(machine: Appliance) -> set[str]:
    return {each.id for each in machine.bulletins}
