"""The demo machines are whole, and show what the service has to cope with."""

from __future__ import annotations

from itertools import combinations

import pytest

from firstoff.answers.desk import Desk
from firstoff.appliance.circuit import LinkKind
from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.energy import opens_protection

MODELS = (
    "flb-316-k",
    "flb-316-t",
    "mdr60-510-f",
    "mdr60-560-z",
    "qmh60-420-n",
    "qmh60-450-b",
    "tem34-210-c",
    "tem34-260-h",
    "tgd27-410-k",
    "tgd27-460-s",
)
TESTED = {"flb": "defrost-heater", "mdr": "drain-pump", "qmh": "coil-fl", "tem": "magnetron", "tgd": "drive-motor"}


@pytest.fixture(params=MODELS)
def appliance(request: pytest.FixtureRequest, desk: Desk) -> Appliance:
    return desk.opened.collection.appliances(request.param, "1")[0]


def test_size(appliance: Appliance) -> None:
    zones = {component.zone.id for component in appliance.components.values()}
    found = {
        "components": len(appliance.components),
        "zones": len(zones),
        "cautions": len(appliance.cautions),
        "points": len(appliance.circuit.points),
        "symptoms": len(appliance.symptoms),
        "faults": len(appliance.faults),
        "checks": len(appliance.checks),
    }
    least = {"components": 45, "zones": 3, "cautions": 10, "points": 25, "symptoms": 10, "faults": 20, "checks": 20}
    assert {name: count for name, count in found.items() if count < least[name]} == {}


def test_every_removal_is_complete(appliance: Appliance) -> None:
    for removal in appliance.removals.values():
        assert removal.fastenings, removal.id
        assert removal.checks, removal.id
        assert removal.instruction, removal.id
        assert removal.sources, removal.id
        assert removal.minutes_out > 0, removal.id
        assert removal.minutes_back > 0, removal.id


def test_more_than_one_way_in(appliance: Appliance) -> None:
    ways = [removal.component for removal in appliance.removals.values()]
    assert any(ways.count(component) > 1 for component in ways)


def test_testing_can_be_shorter_than_replacing(desk: Desk, appliance: Appliance) -> None:
    from firstoff_contract.removal import PlanRequest

    def minutes(component: str, purpose: str) -> float:
        return desk.removal_plan(appliance.model, PlanRequest(reach=[f"{component}:{purpose}"], serial="1")).minutes

    tested = TESTED[appliance.model[:3]]
    assert minutes(tested, "test") < minutes(tested, "replace")


def test_mutual_needs(appliance: Appliance) -> None:
    def circular(a: str, b: str) -> bool:
        of_a = [r for r in appliance.removals.values() if r.component == a]
        of_b = [r for r in appliance.removals.values() if r.component == b]
        return any(b in r.needs_off for r in of_a) and any(a in r.needs_off for r in of_b)

    assert any(circular(a, b) for a, b in combinations(appliance.components, 2))


def test_a_removal_opens_an_earth_bond_and_one_an_isolating_connector(appliance: Appliance) -> None:
    """A machine on fixed wiring has no connector to pull: what isolates it stays in the house."""
    links, devices = appliance.circuit.links, appliance.circuit.devices
    fixed = any(source.fixed for source in appliance.circuit.sources.values())
    opened = {links[slug] for removal in appliance.removals.values() for slug in removal.opens}
    assert any(link.kind is LinkKind.EARTH_BOND for link in opened)
    assert any(link.device is not None and devices[link.device].isolating for link in opened) is not fixed


def test_states_exclude_each_other(appliance: Appliance) -> None:
    assert sum(len(variable.states) >= 2 for variable in appliance.variables.values()) >= 3


def test_a_check_has_to_be_made_live_with_guards_on(appliance: Appliance) -> None:
    live = [path for path in appliance.access_paths.values() if path.live]
    assert any(path.needs_fitted for path in live)
    assert any(check.live for check in appliance.checks.values())


def test_every_check_can_be_reached(appliance: Appliance) -> None:
    for check in appliance.checks.values():
        purposes = {path.purpose for path in appliance.access_paths.values() if path.component == check.component}
        assert check.purpose in purposes or check.purpose is Purpose.REPLACE, check.id


def test_every_fault_is_spoken_for_and_has_a_remedy(appliance: Appliance) -> None:
    spoken = {
        fault for check in appliance.checks.values() for outcome in check.outcomes for fault in outcome.speaks_for
    }
    assert set(appliance.faults) <= spoken
    assert all(fault.remedies for fault in appliance.faults.values())


def test_isolated_supply_opens_isolating_devices_only(appliance: Appliance) -> None:
    for state in appliance.states.values():
        assert all(appliance.circuit.devices[device].isolating for device in state.devices_open)


def test_loads_agree_with_their_rating(appliance: Appliance) -> None:
    """R = V^2 / P at work within the stated tolerance, where a load gives all three; a lamp has less when cold."""
    for link in appliance.circuit.links.values():
        if link.ohms and link.rated_volts and link.rated_watts and link.kind is LinkKind.LOAD:
            expected = link.rated_volts**2 / link.rated_watts / (link.hot_cold_ratio or 1.0)
            assert link.ohms == pytest.approx(expected, rel=max(link.ohm_tolerance, 0.02)), link.id


def test_bonds_end_on_protective_earth(appliance: Appliance) -> None:
    """Every earth bond is joined to a source's protective earth by other bonds (networkx as oracle)."""
    import networkx as nx

    circuit = appliance.circuit
    bonds = nx.Graph((x.start, x.end) for x in circuit.links.values() if x.kind is LinkKind.EARTH_BOND)
    earths = [source.protective_earth for source in circuit.sources.values() if source.protective_earth]
    reached = set().union(*(nx.node_connected_component(bonds, earth) for earth in earths))
    assert set(bonds) == reached


def test_parts_that_carry_a_bond_say_so(appliance: Appliance) -> None:
    bonds = {s: x for s, x in appliance.circuit.links.items() if x.kind is LinkKind.EARTH_BOND}
    protected = {removal.component for removal in appliance.removals.values() if opens_protection(appliance, removal)}
    for link in bonds.values():
        holders = {appliance.circuit.points[point].component for point in (link.start, link.end)}
        removable = holders & {removal.component for removal in appliance.removals.values()}
        assert removable <= protected | {"wall-socket"}, link.id


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("flb-316-k", "flb-316-t"),
        ("mdr60-510-f", "mdr60-560-z"),
        ("qmh60-420-n", "qmh60-450-b"),
        ("tgd27-410-k", "tgd27-460-s"),
    ],
)
def test_models_of_a_platform_differ(desk: Desk, first: str, second: str) -> None:
    one, other = (desk.opened.collection.appliances(model, "1")[0] for model in (first, second))
    assert set(one.components) != set(other.components)
