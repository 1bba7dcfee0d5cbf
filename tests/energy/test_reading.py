"""What the meter reads: bands that hold, unknowns that are never numbers, ghosts that collapse."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.appliance.circuit import Circuit, Link
from firstoff.energy.assume import World
from firstoff.energy.errors import BadReading
from firstoff.energy.reading import Asked, resistance, voltage
from firstoff.energy.words import Situation
from support.circuits import circuit, link, mains

AC = {"hertz": 50.0, "current": "ac", "lower_tolerance": 0.06}


def ladder(seed: int) -> tuple[Circuit, list[tuple[str, str]]]:
    """A random resistive circuit between l and n, with capacitors now and then."""
    random = np.random.default_rng(seed)
    names = ["l", "n", *"abcd"[: int(random.integers(1, 5))]]
    pairs = [(name, names[int(random.integers(place))]) for place, name in enumerate(names) if place >= 2]
    pairs += [tuple(random.choice(names, 2, replace=False)) for _ in range(int(random.integers(1, 4)))]
    links = []
    for number, (one, other) in enumerate(pairs):
        ohms = float(10.0 ** random.uniform(1, 5))
        links.append(link(f"r{number}", "load", str(one), str(other), ohms=ohms, ohm_tolerance=0.1))
    if random.uniform() < 0.4:
        links[0] = link("c", "capacitor", links[0].start, links[0].end, farads=1e-6, farad_tolerance=0.2)
    return circuit(links, [mains(**AC)]), [(str(a), str(b)) for a, b in pairs]


def drawn(each: Link, random: np.random.Generator) -> Link:
    """The part as one of its tolerance may be."""
    if each.farads is not None:
        return replace(each, farads=each.farads * (1 + random.uniform(-0.2, 0.2)), farad_tolerance=0.0)
    assert each.ohms is not None
    return replace(each, ohms=each.ohms * (1 + random.uniform(-0.1, 0.1)), ohm_tolerance=0.0)


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 2**32))
def test_no_machine_within_its_tolerances_reads_outside_the_band(seed: int) -> None:
    whole, pairs = ladder(seed)
    random = np.random.default_rng(seed + 1)
    asked = Asked(pairs[int(random.integers(len(pairs)))])
    band, ohms = voltage(World(whole), asked), resistance(World(whole), asked, supply_off=True).ohms
    for _ in range(6):
        volts = 230.0 * random.uniform(0.94, 1.10)
        source = mains(**{**AC, "volts": volts, "upper_tolerance": 0.0, "lower_tolerance": 0.0})
        one = replace(
            whole, links={id_: drawn(each, random) for id_, each in whole.links.items()}, sources={"mains": source}
        )
        seen = voltage(World(one), asked)
        assert seen.ac.nominal is not None
        assert seen.ac_low.nominal is not None
        assert band.ac.holds(seen.ac.nominal)
        assert band.ac_low.holds(seen.ac_low.nominal)
        measured = resistance(World(one), asked, supply_off=True).ohms.nominal
        assert measured is not None
        assert ohms.holds(measured)


def behind(kind: str) -> Circuit:
    """Two resistors across the supply, with something between them."""
    links = [
        link("r1", "load", "l", "a", ohms=100.0),
        link("what", kind, "a", "b"),
        link("r2", "load", "b", "n", ohms=100.0),
    ]
    return circuit(links, [mains(**AC)])


@pytest.mark.parametrize("kind", ["semiconductor", "converter", "load", "capacitor"])
def test_what_is_behind_an_unknown_is_no_number(kind: str) -> None:
    found = voltage(World(behind(kind)), Asked(("b", "n"))).ac
    assert found.nominal is None
    assert found.depends_on == ("what",)


def test_an_unknown_across_the_supply_does_not_matter() -> None:
    links = [link("what", "converter", "l", "n"), link("r", "load", "l", "n", ohms=10.0)]
    assert voltage(World(circuit(links, [mains(**AC)])), Asked(("l", "n"))).ac.nominal == pytest.approx(230.0)


def test_an_unknown_in_series_that_is_opened_leaves_a_known_reading() -> None:
    opened = Situation(links_open=frozenset({"what"}))
    assert voltage(World(behind("converter")), Asked(("b", "n"), opened)).ac_low.nominal == pytest.approx(0.0, abs=0.1)


def test_a_ghost_collapses_on_the_low_input() -> None:
    """100 pF at 50 Hz is 31.8 megohm: 230 V x 10 / |10 - j31.8| = 69 V, and 0.02 V on 3 kilohm."""
    links = [link("switch", "contact", "l", "a", device="s"), link("r", "load", "l", "n", ohms=10.0)]
    found = voltage(World(circuit(links, [mains(**AC)], ["s"])), Asked(("a", "n"), Situation(frozenset({"s"}))))
    assert found.ac.nominal == pytest.approx(68.9, abs=0.2)
    assert found.ac_low.nominal == pytest.approx(0.0217, abs=0.001)
    assert found.ghost


def test_two_lines_of_undeclared_phase_have_no_voltage_between_them() -> None:
    whole = circuit([link("r", "load", "l", "m", ohms=10.0)], [mains(lines=("l", "m"), **AC)])
    assert voltage(World(whole), Asked(("l", "m"))).ac.nominal is None
    assert voltage(World(whole), Asked(("l", "n"))).ac.nominal == pytest.approx(230.0)


def test_resistance_is_measured_dead() -> None:
    whole = circuit([link("r", "load", "l", "n", ohms=10.0)], [mains(**AC)])
    found = resistance(World(whole), Asked(("l", "n")))
    assert found.ohms.nominal is None
    assert found.live == ("l", "n")


def test_no_path_reads_ol_and_parallel_paths_are_told() -> None:
    links = [
        link("r", "load", "a", "b", ohms=100.0),
        link("other", "load", "a", "b", ohms=300.0),
        link("far", "load", "c", "d", ohms=1.0),
    ]
    world = World(circuit(links))
    assert resistance(world, Asked(("a", "c")), supply_off=True).ohms.nominal == math.inf
    found = resistance(world, Asked(("a", "b")), supply_off=True)
    assert found.ohms.nominal == pytest.approx(75.0)
    assert found.shared == ("r", "other")


@pytest.mark.parametrize("points", [("a", "a"), ("a", "nowhere")])
def test_readings_that_nobody_can_take(points: tuple[str, str]) -> None:
    with pytest.raises(BadReading):
        resistance(World(circuit([link("r", "load", "a", "b", ohms=1.0)])), Asked(points))


@pytest.mark.parametrize("value", [{"ohms": -1.0}, {"farads": 0.0}])
def test_impossible_parts(value: dict[str, float]) -> None:
    with pytest.raises(BadReading, match="impossible"):
        resistance(World(circuit([link("r", "load", "a", "b", **value)])), Asked(("a", "b")), supply_off=True)
