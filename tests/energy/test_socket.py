"""The check of a socket: its patterns against nodal analysis, and what may not be concluded."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.answers.desk import Desk
from firstoff.appliance.circuit import Circuit, EnergySource, Point
from firstoff.energy.assume import parsed
from firstoff.energy.curves import resistance_of
from firstoff.energy.readings import Quantity, Setting, reading
from firstoff.energy.socket import Pattern, pairs, patterns
from firstoff.errors import BadRequest, NotFound
from support.circuits import circuit, link, mains

TOLD = {"lower_tolerance": 0.1, "hertz": 50.0, "earthed_neutral": True, "polarised": True}


def supply(angles: tuple[float, ...] = (0.0,), **more: object) -> tuple[Circuit, EnergySource]:
    lines = tuple(f"l{n}" for n in range(1, len(angles) + 1)) if len(angles) > 1 else ("l",)
    source = mains(lines=lines, **{**TOLD, **more})
    points = [Point(line, line, "socket", phase_angle=angle) for line, angle in zip(lines, angles, strict=True)]
    bond = link("bond", "earth-bond", "pe", "case")
    return circuit([bond, link("e", "load", lines[0], "n", ohms=1e5)], [source], points=points), source


KINDS = {
    "single phase": (0.0,), "split phase": (0.0, 180.0), "two of three phases": (0.0, 120.0),
    "three phases": (0.0, 120.0, 240.0),
}  # fmt: skip


def found(angles: tuple[float, ...], **more: object) -> dict[str, Pattern]:
    return {each.id: each for each in patterns(*supply(angles, **more))}


@pytest.mark.parametrize("angles", KINDS.values(), ids=KINDS)
def test_a_sound_supply_shows_what_a_meter_reads(angles: tuple[float, ...]) -> None:
    of, source = supply(angles)
    sound = patterns(of, source)[0].volts
    for pair in pairs(source):
        value = reading(of, *pair.points, Quantity.AC, Setting(), resistance_of).value
        assert value.nominal is not None
        low, high = sound[pair.name]
        assert low <= value.nominal <= high
        assert value.low is not None
        assert value.high is not None
        assert low <= value.low + 1e-6
        assert value.high - 1e-6 <= high


@pytest.mark.parametrize("angles", KINDS.values(), ids=KINDS)
def test_an_exchanged_line_shows_what_a_meter_reads(angles: tuple[float, ...]) -> None:
    of, source = supply(angles)
    for number, line in enumerate(source.lines, 1):
        suffix = f"-{number}" if len(source.lines) > 1 else ""
        pattern = found(angles)[f"swapped{suffix}"]
        fault = parsed(f"swapped:{line}", of)
        for pair in pairs(source):
            value = reading(of, *pair.points, Quantity.AC, Setting(), resistance_of, [fault]).value.nominal
            assert value is not None
            low, high = pattern.volts[pair.name]
            assert low <= value <= high, (line, pair.name)


@given(st.sampled_from(sorted(KINDS)), st.floats(0.9, 1.1), st.floats(0.0, 4.0))
def test_a_sound_supply_is_never_said_to_be_faulty(kind: str, factor: float, rise: float) -> None:
    """Whatever a sound supply shows within its tolerance fits the sound pattern."""
    of, source = supply(KINDS[kind])
    measured = {}
    for pair in pairs(source):
        nominal = reading(of, *pair.points, Quantity.AC, Setting(), resistance_of).value.nominal
        assert nominal is not None
        measured[pair.name] = nominal * factor + (rise if "earth" in pair.name else 0.0)
    assert patterns(of, source)[0].fits(measured)


#: single phase: what was measured, what it is seen to be; an open conductor shows anything to itself
MEASURED = [
    ({"line-neutral": 230.0, "line-earth": 229.0, "neutral-earth": 1.0}, {"sound"}),
    ({"line-neutral": 230.0, "line-earth": 1.0, "neutral-earth": 229.0}, {"swapped"}),
    ({"line-neutral": 0.0, "line-earth": 0.0, "neutral-earth": 0.0}, {"dead"}),
    ({"line-neutral": 0.0, "line-earth": 230.0, "neutral-earth": 230.0}, {"line-on-earth"}),
    ({"line-neutral": 195.0, "line-earth": 195.0, "neutral-earth": 1.0}, {"low"}),
    ({"line-neutral": 265.0, "neutral-earth": 1.0}, {"high"}),
    ({"line-neutral": 90.0, "line-earth": 230.0, "neutral-earth": 60.0}, set()),
]
OPEN = {"open-line", "open-neutral", "open-earth"}


@pytest.mark.parametrize(("measured", "expected"), MEASURED)
def test_what_fits(measured: dict[str, float], expected: set[str]) -> None:
    fitting = {name for name, each in found((0.0,)).items() if each.fits(measured)}
    assert fitting - OPEN == expected


def test_an_open_neutral_is_all_that_is_left() -> None:
    measured = {"line-neutral": 90.0, "line-earth": 230.0, "neutral-earth": 60.0}
    assert {name for name, each in found((0.0,)).items() if each.fits(measured)} == {"open-neutral"}


def test_nothing_is_said_of_a_conductor_that_leads_nowhere() -> None:
    for name in ("line", "neutral", "earth"):
        assert not any(name in pair.split("-") for pair in found((0.0,))[f"open-{name}"].volts)


def test_polarity_is_no_fault_where_the_plug_turns() -> None:
    assert "swapped" not in found((0.0,), polarised=False)
    assert "swapped" in found((0.0,), polarised=False, fixed=True)


def test_nothing_is_said_of_earth_where_the_neutral_is_not_declared_earthed() -> None:
    assert set(found((0.0,), earthed_neutral=False)["sound"].volts) == {"line-neutral"}


def test_lines_without_phase_angles_say_nothing_of_each_other() -> None:
    of = circuit([link("e", "load", "l1", "l2", ohms=5.0)], [mains(lines=("l1", "l2"), **TOLD)])
    assert "line1-line2" not in patterns(of, of.sources["mains"])[0].volts


@pytest.mark.parametrize(
    ("measured", "error", "says"),
    [
        (["line-neutral"], BadRequest, "no measured voltage"),
        (["line-neutral:2", "line-neutral:3"], BadRequest, "measured twice"),
        (["line-ground:2"], NotFound, "pair of conductors"),
    ],
)
def test_values_that_cannot_be_read(desk: Desk, measured: list[str], error: type[Exception], says: str) -> None:
    with pytest.raises(error, match=says):
        desk.socket_check("flb-316-k", "1", None, measured)


def test_every_demo_machine_has_its_check(desk: Desk) -> None:
    for entry in desk.opened.collection.models:
        answer = desk.socket_check(entry.id, None, None, [])
        assert answer.conditions[0].id == "sound"
        assert all(condition.fits is None for condition in answer.conditions)
    with pytest.raises(NotFound, match="supply"):
        desk.socket_check("flb-316-k", "1", "solar", [])
