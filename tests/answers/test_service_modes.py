"""Service modes of a machine that tells less than the demo machines do."""

from __future__ import annotations

from dataclasses import replace

import pytest
from rich.console import Console

from firstoff.answers.service_modes import service_mode_list
from firstoff.appliance.model import Appliance, ServiceStep
from firstoff.tables import codes as tables
from firstoff_contract.codes import ServiceModeList
from support.small_machine import compiled


@pytest.fixture(scope="module")
def fan() -> Appliance:
    return compiled()


def listed(of: Appliance, **change: object) -> ServiceModeList:
    mode = replace(of.service_modes["self-test"], **change)  # type: ignore[arg-type]
    return service_mode_list(replace(of, service_modes={mode.id: mode}), [])


def printed(answer: ServiceModeList) -> str:
    out = Console(width=200)
    with out.capture() as said:
        tables.service_modes(out, answer)
    return said.get()


def test_a_mode_that_is_told_in_one_sentence_counts_as_live(fan: Appliance) -> None:
    answer = listed(fan, steps=(), needs_states=frozenset())
    (mode,) = answer.service_modes
    assert mode.supply == "not-told"
    assert mode.cautions[0].signal_word == "WARNING"
    assert "take every point as live" in mode.cautions[0].text
    said = printed(answer)
    assert "not told: take it as ON" in said
    assert "Hold the key for five seconds." in said


def test_with_the_supply_off_nothing_is_said_to_run(fan: Appliance) -> None:
    (mode,) = listed(fan, steps=(), needs_states=frozenset({"supply-isolated"})).service_modes
    assert mode.supply == "off"
    assert mode.cautions == []


def test_a_part_without_a_point_is_said_to_be_live(fan: Appliance) -> None:
    described = {point.component for point in fan.circuit.points.values()}
    bare = next(slug for slug in sorted(fan.components) if slug not in described)
    answer = listed(fan, steps=(ServiceStep(1, "run", "Press the key.", runs=frozenset({bare})),))
    (step,) = answer.service_modes[0].steps
    assert [each.id for each in step.untold] == [bare]
    assert "take all of it as live" in printed(answer)


def test_what_runs_comes_before_the_step_that_runs_it(fan: Appliance) -> None:
    said = printed(listed(fan))
    assert 0 < said.index("SWITCHES ON: ") < said.index("LIVE in step 2") < said.index("2. Press the key.")


def test_no_mode_is_said_to_be_none(fan: Appliance) -> None:
    assert "No service mode is described." in printed(service_mode_list(replace(fan, service_modes={}), []))
