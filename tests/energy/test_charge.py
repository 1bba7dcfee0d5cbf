from __future__ import annotations

from itertools import product
from math import exp, isclose, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.appliance.circuit import (
    Circuit,
    EnergySource,
    Link,
)
from firstoff.energy import SAFE_STANDARD, SAFE_VOLTS, Situation, situation_of, stored
from firstoff.energy.charge import tied_across
from firstoff.energy.relaxation import Capacitor, Resistor, seconds_until
from support.circuits import appliance, circuit, link, mains


def capacitor(id_: str = "cap", start: str = "a", end: str = "z", **more: object) -> Link:
    fields: dict[str, object] = {"farads": 1e-6, "volts": 230.0, "current": "ac", **more}
    return link(id_, "capacitor", start, end, fields.pop("component", "board"), **fields)


def bleed(id_: str = "bleed", start: str = "a", end: str = "z", **more: object) -> Link:
    fields: dict[str, object] = {"ohms": 1e6, "bleeds": "cap", **more}
    return link(id_, "load", start, end, "board", **fields)


def behind_a_plug(*links: Link, tolerance: float = 0.0) -> Circuit:
    poles = [
        link("plug-l", "contact", "l", "a", device="plug"),
        link("plug-n", "contact", "n", "z", device="plug"),
        link("relay", "contact", "a", "r", device="relay"),
    ]
    return circuit([*poles, *links], [mains(upper_tolerance=tolerance)], ["plug"], ["relay"])


UNPLUGGED = Situation(opened=frozenset({"plug", "relay"}))
FULL = 2.0375  # RC = 1 s times ln(325.269 / 42.4), worked by hand


@pytest.mark.parametrize(
    ("links", "situation", "wait"),
    [
        # one bleed across the terminals
        ([capacitor(), bleed()], UNPLUGGED, FULL),
        # the other way round, and tied by conductors
        ([capacitor(), bleed(start="z", end="a")], UNPLUGGED, FULL),
        ([capacitor(), bleed(start="w"), link("w", "conductor", "w", "a")], UNPLUGGED, FULL),
        # no bleed, or two beside each other: half the resistance
        ([capacitor()], UNPLUGGED, None),
        ([capacitor(), bleed(), bleed("second")], UNPLUGGED, FULL / 2.0),
        # one of two is gone
        ([capacitor(), bleed(), bleed("second")], Situation(frozenset({"plug"}), frozenset({"second"})), FULL),
        # the bleed, its wire or the capacitor is open, or may be
        ([capacitor(), bleed()], Situation(frozenset({"plug"}), frozenset({"bleed"})), None),
        ([capacitor(), bleed()], Situation(frozenset({"plug"}), frozenset({"cap"})), None),
        ([capacitor(), bleed()], Situation(frozenset({"plug"}), links_in_doubt=frozenset({"bleed"})), None),
        (
            [capacitor(), bleed(start="w"), link("w", "conductor", "w", "a")],
            Situation(frozenset({"plug"}), links_in_doubt=frozenset({"w"})),
            None,
        ),
        # a bleed behind a fuse or a contact, or to one terminal only
        ([capacitor(), bleed(start="w"), link("w", "fuse", "w", "a")], UNPLUGGED, None),
        ([capacitor(), bleed(start="w"), link("w", "contact", "w", "a")], UNPLUGGED, None),
        ([capacitor(), bleed(start="w")], UNPLUGGED, None),
        ([capacitor(), bleed(start="a", end="a")], UNPLUGGED, None),
        # a wire across both: whatever that is, no time is vouched for
        ([capacitor(), bleed(), link("short", "conductor", "a", "z")], UNPLUGGED, None),
        # no resistance, no capacitance or no voltage stated; not a resistor
        ([capacitor(), bleed(ohms=None)], UNPLUGGED, None),
        ([capacitor(), bleed(ohms=0.0)], UNPLUGGED, None),
        ([capacitor(farads=None), bleed()], UNPLUGGED, None),
        ([capacitor(volts=None), bleed()], UNPLUGGED, None),
        ([capacitor(), link("bleed", "winding", "a", "z", ohms=1e6, bleeds="cap")], UNPLUGGED, None),
        # another capacitor: beside it, through a load, behind a control that may close, by way of earth
        ([capacitor(), bleed(), capacitor("other", "a", "x")], UNPLUGGED, None),
        ([capacitor(), bleed(), link("coil", "winding", "a", "x"), capacitor("other", "x", "y")], UNPLUGGED, None),
        ([capacitor(), bleed(), capacitor("other", "r", "y")], UNPLUGGED, None),
        (
            [
                capacitor(end="m"),
                bleed(end="m"),
                link("g", "earth-bond", "pe", "m"),
                link("h", "earth-bond", "pe", "k"),
                capacitor("other", "k", "y"),
            ],
            UNPLUGGED,
            None,
        ),
        # one that is taken out, or lies behind a semiconductor, a converter or the open plug, does not matter
        (
            [capacitor(), bleed(), capacitor("other", "a", "x")],
            Situation(frozenset({"plug"}), frozenset({"other"})),
            FULL,
        ),
        ([capacitor(), bleed(), link("d", "semiconductor", "a", "x"), capacitor("other", "x", "y")], UNPLUGGED, FULL),
        ([capacitor(), bleed(), link("d", "converter", "a", "x"), capacitor("other", "x", "y")], UNPLUGGED, FULL),
        ([capacitor(), bleed(), capacitor("other", "l", "n")], UNPLUGGED, FULL),
        # below the safe voltage there is nothing to wait for
        ([capacitor(volts=12.0), bleed()], UNPLUGGED, 0.0),
        ([capacitor(volts=42.4, current="dc"), bleed()], UNPLUGGED, 0.0),
        # but without a bleed nothing is vouched for
        ([capacitor(volts=12.0)], UNPLUGGED, None),
    ],
)
def test_wait(links: list[Link], situation: Situation, wait: float | None) -> None:
    found = {each.link: each for each in stored(behind_a_plug(*links), situation)}["cap"]
    if wait is None:
        assert found.wait_s is None
    else:
        assert found.wait_s is not None
        assert isclose(found.wait_s, wait, abs_tol=5e-5)


@pytest.mark.parametrize("count", [1, 2])
def test_a_bleed_that_rises_with_heat_is_reckoned_hot(count: int) -> None:
    """By hand: 1 megohm that doubles hot gives R C = 2 s; two of them side by side half of that."""
    bleeds = [bleed(str(number), hot_cold_ratio=2.0) for number in range(count)]
    (found,) = stored(behind_a_plug(capacitor(), *bleeds), UNPLUGGED)
    assert found.wait_s is not None
    assert isclose(found.wait_s, 2.0 * FULL / count, abs_tol=5e-5)


def test_a_bleed_that_falls_with_heat_is_reckoned_cold() -> None:
    (found,) = stored(behind_a_plug(capacitor(), bleed(hot_cold_ratio=0.5)), UNPLUGGED)
    assert isclose(found.wait_s or 0.0, FULL, abs_tol=5e-5)


@pytest.mark.parametrize("count", [1, 2])
def test_a_bleed_that_follows_a_curve_gives_no_time(count: int) -> None:
    bleeds = [bleed(str(number), curve="ptc") for number in range(count)]
    (found,) = stored(behind_a_plug(capacitor(), *bleeds), UNPLUGGED)
    assert found.wait_s is None


@pytest.mark.parametrize("count", [1, 2])
@pytest.mark.parametrize(
    "lasting",
    [
        mains("battery", lines=("b",), neutral="z", protective_earth=None, volts=48.0, current="dc", held_by="board"),
        mains("secondary", lines=("b",), neutral="z", protective_earth=None, volts=230.0, derived_from=("l",)),
    ],
    ids=["battery", "secondary"],
)
def test_what_may_recharge_it_gives_no_time(lasting: EnergySource, count: int) -> None:
    """By a wire, and by way of a semiconductor that charges it."""
    for kind in ("conductor", "semiconductor"):
        plug = [link("plug-l", "contact", "l", "a", device="plug"), link("plug-n", "contact", "n", "z", device="plug")]
        links = [*plug, capacitor(), link("charger", kind, "b", "a"), *(bleed(str(n)) for n in range(count))]
        (found,) = stored(circuit(links, [mains(), lasting], ["plug"]), Situation(opened=frozenset({"plug"})))
        assert found.wait_s is None


@given(
    count=st.integers(1, 3),
    ohms=st.floats(1e4, 1e7),
    farads=st.floats(1e-8, 1e-3),
    ratio=st.floats(0.2, 12.0),
    tolerance=st.floats(0.0, 0.3),
    supply=st.floats(0.0, 0.15),
    hot=st.floats(0.0, 1.0),
    corner=st.floats(-1.0, 1.0),
)
@settings(max_examples=150, deadline=None)
def test_at_any_heat_and_corner_it_is_safe_after_the_wait(
    count: int, ohms: float, farads: float, ratio: float, tolerance: float, supply: float, hot: float, corner: float
) -> None:
    """Whatever the resistors are at, between cold and hot and within tolerance, the exponential is below the limit."""
    parts = [bleed(str(n), ohms=ohms, ohm_tolerance=tolerance, hot_cold_ratio=ratio) for n in range(count)]
    of = behind_a_plug(capacitor(farads=farads, farad_tolerance=tolerance), *parts, tolerance=supply)
    (found,) = stored(of, UNPLUGGED)
    assert found.wait_s is not None
    true_ohms = ohms * (1.0 + corner * tolerance) * (1.0 + hot * (ratio - 1.0)) / count
    true_farads = farads * (1.0 + abs(corner) * tolerance)
    left = 230.0 * sqrt(2.0) * (1.0 + supply) * exp(-found.wait_s / (true_ohms * true_farads))
    assert left <= SAFE_VOLTS * (1.0 + 1e-9)


def test_what_is_said_of_a_capacitor() -> None:
    of = behind_a_plug(capacitor(release="Bridge it with 10 kohm."), bleed(), tolerance=0.1)
    (found,) = stored(appliance(of), UNPLUGGED)
    assert (found.link, found.component, found.release) == ("cap", "board", "Bridge it with 10 kohm.")
    assert (found.safe_volts, found.standard) == (SAFE_VOLTS, SAFE_STANDARD)
    assert isclose(found.volts or 0.0, sqrt(2.0) * 230.0 * 1.1)


def test_a_setting_names_its_own_standard() -> None:
    (found,) = stored(behind_a_plug(capacitor()), UNPLUGGED, 60.0, "IEC 60204-1, 6.2.4")
    assert (found.safe_volts, found.standard) == (60.0, "IEC 60204-1, 6.2.4")
    assert "60 V" in found.release
    assert "discharge" in found.release


def test_released_capacitors_are_not_listed_and_removed_ones_are() -> None:
    of = behind_a_plug(capacitor(), bleed())
    assert stored(of, Situation(released=frozenset({"cap"}))) == ()
    (found,) = stored(of, situation_of(appliance(of), ["plug"], ["board"]))
    assert found.wait_s is None


@pytest.mark.parametrize("volts", [0.0, -1.0, float("nan")])
def test_a_safe_voltage_of_nothing_is_refused(volts: float) -> None:
    with pytest.raises(ValueError, match="above zero"):
        stored(behind_a_plug(capacitor()), UNPLUGGED, volts)


def test_a_bleed_that_names_no_capacitor_of_the_circuit_ties_nothing() -> None:
    of = behind_a_plug(bleed(bleeds="elsewhere"))
    assert not tied_across(of, "bleed", frozenset())


def after(volts: float, ohms: float, farads: float, seconds: float, steps: int = 400) -> float:
    """The voltage left on a capacitor after ``seconds``: du/dt = -u / RC by the classical Runge-Kutta method."""
    h = seconds / steps
    for _ in range(steps):
        k1 = -volts / (ohms * farads)
        k2 = -(volts + h / 2 * k1) / (ohms * farads)
        k3 = -(volts + h / 2 * k2) / (ohms * farads)
        k4 = -(volts + h * k3) / (ohms * farads)
        volts += h / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
    return volts


@settings(max_examples=60, deadline=None)
@given(
    volts=st.floats(40.0, 400.0),
    current=st.sampled_from(["ac", "dc", None]),
    ohms=st.floats(1e3, 1e7),
    farads=st.floats(1e-8, 1e-3),
    tolerances=st.tuples(st.floats(0.0, 0.2), st.floats(0.0, 0.3), st.floats(0.0, 0.15)),
    safe=st.sampled_from([SAFE_VOLTS, 34.0, 60.0]),
)
def test_the_wait_brings_every_corner_of_the_tolerances_below_the_limit(
    volts: float, current: str | None, ohms: float, farads: float, tolerances: tuple[float, float, float], safe: float
) -> None:
    of_ohms, of_farads, of_supply = tolerances
    of = behind_a_plug(
        capacitor(volts=volts, current=current, farads=farads, farad_tolerance=of_farads),
        bleed(ohms=ohms, ohm_tolerance=of_ohms),
        tolerance=of_supply,
    )
    (found,) = stored(of, UNPLUGGED, safe, "any")
    assert found.wait_s is not None
    peak = volts if current == "dc" else volts * sqrt(2.0)
    left = [
        after(peak * (1 + a * of_supply), ohms * (1 + b * of_ohms), farads * (1 + c * of_farads), found.wait_s)
        for a, b, c in product((-1, 0, 1), repeat=3)
    ]
    assert max(left) <= safe * (1 + 1e-6)
    if found.wait_s:
        # no longer than it has to be
        assert max(left) >= safe * (1 - 1e-6)


def test_capacitors_that_share_are_solved_together() -> None:
    """Two in a row, each with its own bleed: as ``relaxation`` has it, and longer than either alone."""
    links = [capacitor(), bleed(), capacitor("other", "z", "x"), bleed("more", start="z", end="x", bleeds="other")]
    found = {each.link: each.wait_s for each in stored(behind_a_plug(*links), UNPLUGGED)}
    volts = 230.0 * sqrt(2.0)
    parts = [Capacitor(0, 1, 1e-6, 1e-6, volts), Capacitor(1, 2, 1e-6, 1e-6, volts)]
    expected = seconds_until(parts, [Resistor(0, 1, 1e6), Resistor(1, 2, 1e6)], 3, 42.4)
    assert expected is not None
    assert found == {"cap": pytest.approx(expected), "other": pytest.approx(expected)}
    assert expected > FULL


def test_a_winding_or_a_supply_in_the_group_gives_no_time() -> None:
    pair = [capacitor(), bleed(), bleed("second")]
    coil = link("coil", "winding", "a", "x", ohms=5.0)
    assert {each.wait_s for each in stored(behind_a_plug(*pair, coil), UNPLUGGED)} == {None}
    assert {each.wait_s for each in stored(behind_a_plug(*pair), Situation())} == {None}


def test_the_energy_of_a_charge() -> None:
    """C U^2 / 2 at the peak: 1 microfarad at 325.27 V holds 0.0529 J."""
    (found,) = stored(behind_a_plug(capacitor(), bleed()), UNPLUGGED)
    assert found.joules == pytest.approx(0.0529, abs=1e-4)
