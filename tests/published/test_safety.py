"""The energy room against rules and values that others published.

Where a rule is of the law of the United States it is cited by its section of 29 CFR; numbers of standards by clause.
"""

from __future__ import annotations

from itertools import combinations
from math import isclose, sqrt

import pytest

from firstoff.appliance.circuit import Circuit
from firstoff.energy import (
    SAFE_STANDARD,
    SAFE_VOLTS,
    PointCondition,
    ProveKind,
    Situation,
    cleared_by,
    isolation,
    live_points,
    stored,
)
from support.circuits import circuit, link, mains

LIVE, OFF, ISOLATED = PointCondition.LIVE, PointCondition.OFF_NOT_ISOLATED, PointCondition.ISOLATED
POLARISED_FIXED = {"polarised": True, "fixed": True, "earthed_neutral": True}


def opened(*devices: str, released: tuple[str, ...] = ()) -> Situation:
    return Situation(opened=frozenset(devices), released=frozenset(released))


def cord_connected(ohms: float = 1e6, farads: float = 1e-6, tolerance: float = 0.0) -> Circuit:
    """A plug, an interlock in both poles, a heater, and a capacitor with a bleed resistor behind the plug."""
    links = [
        link("plug-l", "contact", "l", "a", device="plug"),
        link("plug-n", "contact", "n", "z", device="plug"),
        link("cap", "capacitor", "a", "z", "board", farads=farads, volts=230.0, current="ac"),
        link("bleed", "load", "a", "z", "board", ohms=ohms, bleeds="cap"),
        link("lock-l", "contact", "a", "h", device="interlock"),
        link("heater", "load", "h", "y"),
        link("lock-n", "contact", "y", "z", device="interlock"),
    ]
    return circuit(links, [mains(upper_tolerance=tolerance)], ["plug"], ["interlock"])


# --- 29 CFR 1910.147 and 1910.333 ----------------------------------------------------------------------


def test_an_interlock_is_not_the_means_of_isolation() -> None:
    """29 CFR 1910.333(b)(2)(ii)(B): control circuit devices and interlocks are not the sole means of isolation."""
    of = cord_connected()
    assert live_points(of, opened("interlock", released=("cap",)))["h"].state is OFF
    assert cleared_by(of, opened("interlock", released=("cap",)), "h") == (("plug",),)
    assert [each.devices for each in isolation(of, {"h"}, opened("interlock")).sets] == [("plug",)]


def test_a_switch_isolates_only_if_it_opens_every_ungrounded_conductor_together() -> None:
    """29 CFR 1910.147(b), energy isolating device: no pole operated on its own.

    Two one-pole switches are two devices, and neither alone does; one two-pole switch is one device, and does.
    """
    split = mains(lines=("l1", "l2"), neutral=None, volts=120.0)
    element = link("element", "load", "a", "b")
    apart = circuit(
        [link("p1", "contact", "l1", "a", device="s1"), link("p2", "contact", "l2", "b", device="s2"), element],
        [split],
        ["s1", "s2"],
    )
    together = circuit(
        [link("p1", "contact", "l1", "a", device="s"), link("p2", "contact", "l2", "b", device="s"), element],
        [split],
        ["s"],
    )
    assert live_points(apart, opened("s1"))["a"].state is LIVE
    assert [set(each) for each in cleared_by(apart, opened(), "a")] == [{"s1", "s2"}]
    assert live_points(together, opened("s"))["a"].state is ISOLATED
    assert cleared_by(together, opened(), "a") == (("s",),)


def test_a_charged_capacitor_is_treated_as_live_until_it_is_discharged() -> None:
    """29 CFR 1910.333(b)(2)(ii)(C)."""
    of = cord_connected()
    assert live_points(of, opened("plug"))["a"].state is LIVE
    assert live_points(of, opened("plug", released=("cap",)))["a"].state is ISOLATED


def test_a_plug_in_ones_own_control_is_not_enough_while_a_capacitor_holds_charge() -> None:
    """29 CFR 1910.147(a)(2)(iii)(A) lets cord and plug equipment off where the plug is under sole control and out."""
    (found,) = isolation(cord_connected(), {"a"}, opened("plug")).sets
    assert found.devices == ()
    assert [release.id for release in found.release] == ["cap"]


def test_shut_off_then_release_then_verify() -> None:
    """29 CFR 1910.147(d)(3) to (6): isolate, then stored energy, then verification."""
    found = isolation(cord_connected(), {"a"}, opened())
    (only,) = found.sets
    assert only.devices == ("plug",)
    assert [release.id for release in only.release] == ["cap"]
    assert found.prove_dead


def test_proved_dead_with_a_tester_that_is_proved_before_and_after() -> None:
    """29 CFR 1910.333(b)(2)(iv)(B); before and after is asked above 600 V and common practice below."""
    kinds = [step.kind for step in isolation(cord_connected(), {"a", "z"}, opened()).prove_dead]
    assert kinds[0] is kinds[-1] is ProveKind.PROVE_TESTER
    assert set(kinds[1:-1]) == {ProveKind.MEASURE}


def test_every_ungrounded_conductor_of_a_fixed_supply_and_its_neutral() -> None:
    """29 CFR 1910.147(b) speaks of ungrounded conductors alone; the neutral is dead only once that is proved."""
    links = [link("p", "contact", "l", "a", device="breaker"), link("heater", "load", "a", "n")]
    of = circuit(links, [mains(**POLARISED_FIXED)], ["breaker"])
    assert live_points(of, opened("breaker"))["a"].state is LIVE
    proved = Situation(opened=frozenset({"breaker"}), neutral_proved=True)
    assert live_points(of, proved)["a"].state is ISOLATED


# --- stored charge ---------------------------------------------------------------------------------------


def test_the_safe_voltage_names_its_clause() -> None:
    """IEC 60335-1, 8.1.4: 42.4 V peak or direct."""
    assert SAFE_VOLTS == 42.4
    assert "IEC 60335-1, 8.1.4" in SAFE_STANDARD


@pytest.mark.parametrize(("safe", "seconds"), [(60.0, 1.690), (50.0, 1.873), (42.4, 2.038), (34.0, 2.258)])
def test_discharge_of_one_microfarad_through_one_megohm(safe: float, seconds: float) -> None:
    """t = RC ln(V0 / V) from 325.27 V, 1 megohm, 1 microfarad."""
    (found,) = stored(cord_connected(), opened("plug"), safe, "as given")
    assert isclose(found.volts or 0.0, 325.27, abs_tol=5e-3)
    assert found.wait_s is not None
    assert isclose(found.wait_s, seconds, abs_tol=6e-4)


def test_plug_pins_after_one_second() -> None:
    """34 V after 1 s at 230 V asks for RC of no more than 0.4428 s (IEC 60335-1, 22.5, clause from memory)."""
    (found,) = stored(cord_connected(ohms=0.4428e6), opened("plug"), 34.0, "IEC 60335-1, 22.5")
    assert found.wait_s is not None
    assert isclose(found.wait_s, 1.0, abs_tol=2e-4)


def test_residual_voltage_of_machines_after_five_seconds() -> None:
    """IEC 60204-1, 6.2.4: 60 V in 5 s. From 325.27 V that is RC = 5 / ln(325.27 / 60) = 2.9583 s."""
    (found,) = stored(cord_connected(ohms=2.9583e6), opened("plug"), 60.0, "IEC 60204-1, 6.2.4")
    assert found.wait_s is not None
    assert isclose(found.wait_s, 5.0, abs_tol=1e-3)
    assert found.standard == "IEC 60204-1, 6.2.4"


def test_the_tolerances_of_supply_and_parts_lengthen_the_wait() -> None:
    """The same discharge from 1.1 times the nominal peak: sqrt(2) x 230 x 1.1 = 357.80 V."""
    (found,) = stored(cord_connected(tolerance=0.1), opened("plug"))
    assert isclose(found.volts or 0.0, sqrt(2.0) * 253.0)
    assert found.wait_s is not None
    assert found.wait_s > 2.038


# --- cuts -------------------------------------------------------------------------------------------------

BRIDGE = {"1": ("s", "a"), "2": ("s", "b"), "3": ("a", "b"), "4": ("a", "t"), "5": ("b", "t")}


def bridge(isolating: str = "12345") -> Circuit:
    """The bridge network; elements not named as isolating are opened by controls."""
    links = [link(f"k{name}", "contact", *ends, device=name) for name, ends in BRIDGE.items()]
    control = [name for name in BRIDGE if name not in isolating]
    return circuit(links, [mains(lines=("s",), neutral=None)], isolating, control)


@pytest.mark.parametrize(
    ("isolating", "cuts"),
    [
        # the two smallest
        ("12345", [{"1", "2"}, {"4", "5"}]),
        # the other two come out where they are all there is
        ("135", [{"1", "3", "5"}]),
        ("234", [{"2", "3", "4"}]),
        # and a path that no element of a cut opens leaves none
        ("13", []),
    ],
)
def test_minimal_cuts_of_the_bridge_network(isolating: str, cuts: list[set[str]]) -> None:
    """Minimal cuts {1,2} {4,5} {1,3,5} {2,3,4}: textbook example of reliability theory (from memory)."""
    found = isolation(bridge(isolating), {"t"}, opened())
    assert [set(each.devices) for each in found.sets] == cuts
    assert found.upstream_only == (() if cuts else ("mains",))


def test_all_minimal_cuts_of_the_bridge_network_by_liveness() -> None:
    of = bridge()
    cutting = [
        frozenset(devices)
        for size in range(6)
        for devices in combinations(BRIDGE, size)
        if live_points(of, opened(*devices))["t"].state is ISOLATED
    ]
    minimal = {each for each in cutting if not any(other < each for other in cutting)}
    assert minimal == {frozenset("12"), frozenset("45"), frozenset("135"), frozenset("234")}


@pytest.mark.parametrize("p", [0.1, 0.5, 0.9])
def test_reliability_of_the_bridge_network(p: float) -> None:
    """R = 2p^2 + 2p^3 - 5p^4 + 2p^5 for elements that work with probability p (textbook, from memory)."""
    of = bridge()
    reliability = sum(
        p ** (5 - size) * (1.0 - p) ** size
        for size in range(6)
        for devices in combinations(BRIDGE, size)
        if live_points(of, opened(*devices))["t"].state is LIVE
    )
    assert isclose(reliability, 2 * p**2 + 2 * p**3 - 5 * p**4 + 2 * p**5)


def test_cut_sets_of_a_fault_tree() -> None:
    """OR(AND(OR(X1, X3), X2), AND(X4, OR(X3, X5))) has the cut sets {1,2} {2,3} {3,4} {4,5}.

    Langseth and Jensen 2003, Reliability Engineering and System Safety 80:49-62, example 4. The top event is that t is
    cut off, so an OR is a series and an AND a parallel of what conducts; X3 is one device with two poles.
    """
    links = [
        link("k1", "contact", "s", "q", device="1"),
        link("k3", "contact", "q", "m", device="3"),
        link("k2", "contact", "s", "m", device="2"),
        link("k4", "contact", "m", "t", device="4"),
        link("k3-2", "contact", "m", "r", device="3"),
        link("k5", "contact", "r", "t", device="5"),
    ]
    of = circuit(links, [mains(lines=("s",), neutral=None)], "12345")
    found = {frozenset(each.devices) for each in isolation(of, {"t"}, opened()).sets}
    assert found == {frozenset("12"), frozenset("23"), frozenset("34"), frozenset("45")}
