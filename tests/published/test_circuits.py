"""Textbook circuits: readings whose formula is in every book on circuits, named beside each."""

from __future__ import annotations

import cmath
import math

import pytest

from firstoff.appliance.circuit import Circuit, Point
from firstoff.energy.curves import resistance_of
from firstoff.energy.readings import Quantity, Setting, reading
from support.circuits import circuit, link, mains

SUPPLY = {"hertz": 50.0, "current": "ac", "upper_tolerance": 0.0, "polarised": True, "earthed_neutral": True}


def volts(of: Circuit, red: str, black: str) -> float:
    nominal = reading(of, red, black, Quantity.AC, Setting(), resistance_of).value.nominal
    assert nominal is not None
    return nominal


def test_voltage_divider() -> None:
    """U R2 / (R1 + R2)."""
    links = [link("r1", "load", "l", "a", ohms=100.0), link("r2", "load", "a", "n", ohms=300.0)]
    assert volts(circuit(links, [mains(**SUPPLY)]), "a", "n") == pytest.approx(172.5, rel=1e-4)


def test_wheatstone_bridge_in_balance() -> None:
    """R1/R2 = R3/R4 gives no voltage between the middles (Wheatstone 1843, from memory)."""
    arms = [("r1", "l", "a", 100.0), ("r2", "a", "n", 200.0), ("r3", "l", "b", 50.0), ("r4", "b", "n", 100.0)]
    whole = circuit([link(i, "load", x, y, ohms=r) for i, x, y, r in arms], [mains(**SUPPLY)])
    assert volts(whole, "a", "b") == pytest.approx(0.0, abs=1e-6)


def test_star_and_delta() -> None:
    """Delta of 30 ohm equals star of 10 ohm (Kennelly 1899, from memory): 20 ohm between any two."""
    delta = circuit([link(x + y, "load", x, y, ohms=30.0) for x, y in ("ab", "bc", "ca")])
    found = reading(delta, "a", "b", Quantity.OHMS, Setting(), resistance_of)
    assert found.value.nominal == pytest.approx(20.0)


def test_open_neutral_with_unequal_loads() -> None:
    """Millman's theorem (1940, from memory): the star point is the mean of the phases by conductance."""
    ohms = {"u": 20.0, "v": 50.0, "w": 100.0}
    angles = {"u": 0.0, "v": 240.0, "w": 120.0}
    points = [Point(name, name, "body", phase_angle=angle) for name, angle in angles.items()]
    links = [link(f"r{name}", "load", name, "star", ohms=r) for name, r in ohms.items()]
    links.append(link("extra", "load", "n", "far", ohms=1.0))
    of = circuit(links, [mains(lines=("u", "v", "w"), **SUPPLY)], points=points)
    phasors = {name: 230.0 * cmath.exp(1j * math.radians(angle)) for name, angle in angles.items()}
    star = sum(phasors[name] / ohms[name] for name in ohms) / sum(1.0 / each for each in ohms.values())
    for name in ohms:
        assert volts(of, name, "star") == pytest.approx(abs(phasors[name] - star), rel=1e-4)


def test_balanced_three_phase_has_root_three_between_lines() -> None:
    """230 V to neutral are 398.4 V between lines, 230 sqrt 3 (IEC 60038: 230/400 V)."""
    points = [Point(n, n, "body", phase_angle=a) for n, a in (("u", 0.0), ("v", 120.0), ("w", 240.0))]
    of = circuit([link("r", "load", "u", "v", ohms=10.0)], [mains(lines=("u", "v", "w"), **SUPPLY)], points=points)
    for one, other in (("u", "v"), ("v", "w"), ("u", "w")):
        assert volts(of, one, other) == pytest.approx(230.0 * math.sqrt(3.0), rel=1e-6)


def test_resistor_and_capacitor_in_series() -> None:
    """|V_C| = V / sqrt(1 + (2 pi f R C)^2), the low-pass of first order (from memory)."""
    links = [link("r", "load", "l", "a", ohms=1000.0), link("c", "capacitor", "a", "n", farads=1e-6)]
    expected = 230.0 / math.hypot(1.0, 2 * math.pi * 50 * 1e-3)
    assert volts(circuit(links, [mains(**SUPPLY)]), "a", "n") == pytest.approx(expected, rel=1e-3)


def test_a_meter_loads_what_it_measures() -> None:
    """A divider of two 10 megohm, read with 10 megohm, shows a third and not a half (from memory)."""
    links = [link("r1", "load", "l", "a", ohms=10e6), link("r2", "load", "a", "n", ohms=10e6)]
    assert volts(circuit(links, [mains(**SUPPLY)]), "a", "n") == pytest.approx(230.0 / 3.0, rel=1e-4)
