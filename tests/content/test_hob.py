"""The hob on two phases: what its breaker leaves live, and that its currents, capacitors and coils belong together."""

from __future__ import annotations

import cmath
from math import pi, radians, sqrt

import pytest

from firstoff.answers.desk import Desk
from firstoff.appliance.circuit import LinkKind
from firstoff.appliance.model import Appliance
from firstoff.energy import live_points, situation_of
from firstoff.energy.words import PointCondition

MODELS = ("qmh60-420-n", "qmh60-450-b")
HOUSE = frozenset({"consumer-unit", "hob-switch"})


@pytest.fixture(params=MODELS)
def hob(request: pytest.FixtureRequest, desk: Desk) -> Appliance:
    return desk.opened.collection.appliances(request.param, "1")[0]


def states(hob: Appliance, *opened: str, neutral_proved: bool = False) -> dict[str, PointCondition]:
    """The state of every point of the hob itself, every capacitor discharged."""
    charged = [slug for slug, link in hob.circuit.links.items() if link.kind is LinkKind.CAPACITOR]
    situation = situation_of(hob, opened, (), charged, neutral_proved=neutral_proved)
    points = hob.circuit.points
    return {
        each: found.state for each, found in live_points(hob, situation).items() if points[each].component not in HOUSE
    }


def test_both_lines_are_volts_apart_by_their_angle(hob: Appliance) -> None:
    mains = hob.circuit.sources["mains"]
    one, two = (
        cmath.rect(mains.volts or 0.0, radians(hob.circuit.points[line].phase_angle or 0.0)) for line in mains.lines
    )
    assert abs(one - two) == pytest.approx(sqrt(3) * 230.0)
    assert abs(one + two) == pytest.approx(230.0)  # what the neutral carries of two equal currents


def test_nothing_in_the_hob_isolates_it(hob: Appliance) -> None:
    isolating = {device.component for device in hob.circuit.devices.values() if device.isolating}
    assert isolating == HOUSE


def test_the_switch_isolates_all_and_the_breaker_only_once_neutral_is_proved(hob: Appliance) -> None:
    assert set(states(hob, "hob-disconnect").values()) == {PointCondition.ISOLATED}
    assert states(hob, "cooker-breaker")["tb-n1"] is PointCondition.LIVE
    assert set(states(hob, "cooker-breaker", neutral_proved=True).values()) == {PointCondition.ISOLATED}


def test_no_key_makes_anything_safe(hob: Appliance) -> None:
    controls = [slug for slug, device in hob.circuit.devices.items() if not device.isolating]
    found = states(hob, *controls, neutral_proved=True)
    assert {found[point] for point in ("pa-dc-plus", "pb-dc-plus", "coil-fl-1", "hs-a", "ui-plus")} == {
        PointCondition.LIVE
    }


def test_a_coil_with_its_capacitors_resonates_just_below_the_working_range(hob: Appliance) -> None:
    """Thomson's formula with both capacitors of the zone in parallel; the boards work from 20 kHz up, with a pan."""
    links = hob.circuit.links
    for coil, board, place in (("fl", "a", 1), ("rl", "a", 2), ("fr", "b", 1), ("rr", "b", 2)):
        farads = sum(links[f"resonance-{board}-{side}-{place}"].farads or 0.0 for side in ("high", "low"))
        henries = links[f"coil-{coil}-winding"].henries or 0.0
        assert 19e3 < 1.0 / (2.0 * pi * sqrt(henries * farads)) < 22e3
