"""What a service mode makes live."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.answers.desk import Desk
from firstoff.appliance.model import Appliance
from firstoff.energy import PointCondition, driven, live_points, situation_of
from support.random_platforms import cases
from support.small_machine import compiled

NOT_SAFE = (PointCondition.LIVE, PointCondition.UNKNOWN)


@pytest.fixture(scope="module")
def fan() -> Appliance:
    return compiled()


def ids(of: Appliance, **asked: frozenset[str]) -> tuple[set[str], frozenset[str], frozenset[str]]:
    found = driven(
        of, asked.get("opened", frozenset()), asked.get("runs", frozenset()), asked.get("closes", frozenset())
    )
    return {state.id for state in found.points}, found.only_so, found.untold


def test_what_runs_is_live(fan: Appliance) -> None:
    points, _, untold = ids(fan, runs=frozenset({"fan"}), closes=frozenset({"relay"}))
    assert {"fan-line", "fan-return"} <= points
    assert untold == frozenset()


def test_nothing_runs_nothing_is_told(fan: Appliance) -> None:
    assert ids(fan) == (set(), frozenset(), frozenset())


def test_with_the_plug_out_nothing_but_charge_is_live(fan: Appliance) -> None:
    out = driven(fan, frozenset({"plug"}), frozenset({"fan"}), frozenset({"relay"}))
    assert {state.source for state in out.points} <= {"fan-capacitor"}


def test_a_part_without_a_point_is_not_taken_for_safe(fan: Appliance) -> None:
    points = {point.component for point in fan.circuit.points.values()}
    bare = next(slug for slug in sorted(fan.components) if slug not in points)
    assert ids(fan, runs=frozenset({bare}))[2] == {bare}


def test_the_relay_of_the_heater_makes_its_harness_live(desk: Desk) -> None:
    """A two-pole relay: with it open nothing behind it is live, with it closed all the way to the heater is."""
    fridge = desk.opened.collection.appliances("flb-316-t", None)[0]
    points, only_so, _ = ids(fridge, runs=frozenset({"defrost-heater"}), closes=frozenset({"defrost-relay"}))
    behind = {slug for slug, point in fridge.circuit.points.items() if point.component == "freezer-connector"} & only_so
    assert {fridge.circuit.points[slug].component for slug in only_so} > {"defrost-heater", "main-board"}
    assert behind
    assert only_so <= points


@given(cases(), st.data())
def test_it_is_what_live_points_says(case: object, data: st.DataObject) -> None:
    """Every point told is unsafe as everywhere else; none of a running part that is unsafe is left out; those that are
    so only by the devices are safe or merely off with them open."""
    appliance = case.platform  # type: ignore[attr-defined]
    devices, parts = sorted(appliance.circuit.devices), sorted(appliance.components)
    runs = frozenset(data.draw(st.lists(st.sampled_from(parts), max_size=3))) if parts else frozenset()
    closes = frozenset(data.draw(st.lists(st.sampled_from(devices), max_size=2))) if devices else frozenset()
    found = driven(appliance, (), runs, closes)
    running = live_points(appliance, situation_of(appliance, (), ()))
    idle = live_points(appliance, situation_of(appliance, closes, ()))
    told = {state.id for state in found.points}
    assert all(running[slug].state in NOT_SAFE for slug in told)
    for slug, state in running.items():
        if state.state in NOT_SAFE and appliance.circuit.points[slug].component in runs:
            assert slug in told
        if slug in found.only_so:
            assert idle[slug].state not in NOT_SAFE
        if slug not in told and state.state in NOT_SAFE:
            assert idle[slug].state in NOT_SAFE
