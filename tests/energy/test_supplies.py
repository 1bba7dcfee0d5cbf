"""Supplies as they are: what each kind leaves live, and that a second source is not cleared by opening the first."""

from __future__ import annotations

import pytest

from firstoff.appliance.circuit import Circuit, EnergySource, Link, Point
from firstoff.appliance.terms import Concept
from firstoff.energy import PointCondition, Situation, cleared_by, isolation, live_points
from support.circuits import LOW, circuit, link, mains

LIVE, ISOLATED = PointCondition.LIVE, PointCondition.ISOLATED
FIXED = {"fixed": True, "polarised": True, "earthed_neutral": True}


def poles(device: str, *pairs: tuple[str, str]) -> list[Link]:
    """One contact of ``device`` for each pair of points."""
    return [link(f"{device}-{one}", "contact", one, other, device=device) for one, other in pairs]


def states(of: Circuit, *opened: str, **more: object) -> dict[str, PointCondition]:
    found = live_points(of, Situation(frozenset(opened), **more))  # type: ignore[arg-type]
    return {point: state.state for point, state in found.items()}


def solar_and_mains() -> Circuit:
    """A fan fed by the mains through a converter that separates, and by panels through a switch of their own."""
    solar = EnergySource(id="solar", label="solar", kind=Concept("solar", "solar feed"), lines=("s",), neutral="s0",
                         volts=24.0, current="dc")  # fmt: skip
    low = mains("low", kind=LOW, lines=("d",), neutral="d0", protective_earth=None, volts=24.0, current="dc",
                derived_from=("a", "z"))  # fmt: skip
    links = [
        *poles("plug", ("l", "a"), ("n", "z")),
        link("primary", "winding", "a", "z"),
        *poles("panel-switch", ("s", "f"), ("s0", "f0")),
        link("diode", "semiconductor", "d", "f"),
        link("return", "conductor", "d0", "f0"),
        link("fan", "load", "f", "f0", ohms=48.0),
    ]
    return circuit(links, [mains(), low, solar], ["plug", "panel-switch"])


def test_opening_the_mains_leaves_what_the_sun_feeds() -> None:
    of = solar_and_mains()
    assert states(of, "plug")["a"] is ISOLATED
    assert states(of, "plug")["f"] is LIVE
    assert states(of, "panel-switch")["f"] is LIVE
    assert states(of, "plug", "panel-switch")["f"] is ISOLATED
    assert states(of, "plug", "panel-switch")["s"] is LIVE


def test_each_energy_has_its_own_set() -> None:
    sets = {each.energy: set(each.devices) for each in isolation(solar_and_mains(), {"f"}, Situation()).sets}
    assert sets == {"mains": {"plug"}, "solar": {"panel-switch"}}
    assert {frozenset(each) for each in cleared_by(solar_and_mains(), Situation(), "f")} == {
        frozenset({"plug", "panel-switch"})
    }


def test_a_battery_feeds_back_through_what_is_not_separated() -> None:
    """Backfeed: with the plug out the converter, not declared separated, lets the battery reach the mains side."""
    battery = EnergySource(id="battery", label="battery", kind=Concept("battery", "battery"), lines=("b",),
                           neutral="b0", volts=12.0, current="dc")  # fmt: skip
    links = [*poles("plug", ("l", "a"), ("n", "z")), link("charger", "converter", "a", "b"),
             link("charger-return", "conductor", "z", "b0")]  # fmt: skip
    of = circuit(links, [mains(), battery], ["plug"])
    assert states(of, "plug")["a"] is LIVE
    assert isolation(of, {"a"}, Situation()).upstream_only == ("battery",)


#: lines of the supply, devices with the poles they open, what is opened, points and what they are
KINDS = {
    "split phase: one open leg leaves the other": (
        ("l1", "l2"), {"one": [("l1", "a")], "two": [("l2", "b")]}, {"one"}, {"a": LIVE, "b": LIVE},
    ),
    "two phases: the two-pole breaker leaves the neutral": (
        ("l1", "l2"), {"breaker": [("l1", "a"), ("l2", "b")]}, {"breaker"}, {"a": LIVE, "b": LIVE, "z": LIVE},
    ),
    "two phases: the switch of three poles": (
        ("l1", "l2"), {"switch": [("l1", "a"), ("l2", "b"), ("n", "z")]}, {"switch"},
        {"a": ISOLATED, "b": ISOLATED, "z": ISOLATED, "l1": LIVE},
    ),
    "three phases: one pole left closed": (
        ("l1", "l2", "l3"), {"two": [("l1", "a"), ("l2", "b")], "third": [("l3", "c")]}, {"two"},
        {"a": LIVE, "b": LIVE, "c": LIVE},
    ),
}  # fmt: skip


@pytest.mark.parametrize(("lines", "devices", "opened", "expected"), KINDS.values(), ids=KINDS)
def test_supplies_of_several_lines(
    lines: tuple[str, ...],
    devices: dict[str, list[tuple[str, str]]],
    opened: set[str],
    expected: dict[str, PointCondition],
) -> None:
    links = [each for device, pairs in devices.items() for each in poles(device, *pairs)]
    if not any("z" in pair for pairs in devices.values() for pair in pairs):
        links.append(link("neutral", "conductor", "n", "z"))
    ends = [pair[1] for pairs in devices.values() for pair in pairs if pair[1] != "z"]
    links += [link(f"load-{end}", "load", end, "z", ohms=50.0) for end in ends]
    of = circuit(links, [mains(lines=lines, **FIXED)], list(devices), points=[Point("z", "z", "body")])
    found = states(of, *opened)
    assert {point: found[point] for point in expected} == expected


def test_two_phases_with_the_neutral_proved_dead() -> None:
    """Fixed, earthed neutral, all lines open: the neutral is dead once it was measured so, not before."""
    links = [*poles("breaker", ("l1", "a"), ("l2", "b")), link("neutral", "conductor", "n", "z"),
             link("one", "load", "a", "z"), link("two", "load", "b", "z")]  # fmt: skip
    of = circuit(links, [mains(lines=("l1", "l2"), **FIXED)], ["breaker"])
    assert states(of, "breaker")["a"] is LIVE
    assert states(of, "breaker", neutral_proved=True)["a"] is ISOLATED
    unpolarised = circuit(links, [mains(lines=("l1", "l2"), **{**FIXED, "polarised": False})], ["breaker"])
    assert states(unpolarised, "breaker", neutral_proved=True)["a"] is LIVE
