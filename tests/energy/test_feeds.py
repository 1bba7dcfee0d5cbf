from __future__ import annotations

from math import isclose

import pytest

from firstoff.energy.feeds import energy_feeds, peak_volts, stores, supply_tolerance
from firstoff.energy.network import network_of
from support.circuits import WATER, circuit, link, mains


@pytest.mark.parametrize(
    ("volts", "current", "tolerance", "peak"),
    [
        (230.0, "ac", 0.0, 325.26912),  # sqrt(2) x 230
        (230.0, "ac", 0.1, 357.79603),
        (120.0, None, 0.0, 169.70563),  # what is not said to be direct counts as alternating
        (325.0, "dc", 0.1, 357.5),
    ],
)
def test_highest_peak(volts: float, current: str | None, tolerance: float, peak: float) -> None:
    assert isclose(peak_volts(volts, current, tolerance), peak, rel_tol=1e-7)


def test_the_highest_supply_tolerance_counts() -> None:
    derived = mains("low", lines=("s",), neutral=None, derived_from=("l",), upper_tolerance=0.5)
    tap = mains("tap", kind=WATER, lines=(), neutral=None, feeds=("w",), upper_tolerance=0.9)
    second = mains("second", lines=("m",), neutral=None, upper_tolerance=0.15)
    assert supply_tolerance(circuit([], [mains(), derived, tap, second])) == 0.15
    assert supply_tolerance(circuit([])) == 0.0


def test_stores_are_capacitors_and_held_sources_that_feed_points() -> None:
    held = mains("trapped", kind=WATER, lines=(), neutral=None, feeds=("w",), held_by="sump", volts=None)
    spring = mains("spring", lines=(), neutral=None, protective_earth=None, held_by="sump", volts=None)
    links = [link("c1", "capacitor", "a", "b", volts=100.0, current="dc"), link("c2", "capacitor", "a", "b")]
    network = network_of(circuit(links, [mains(upper_tolerance=0.2), held, spring]))
    found = {feed.id: feed for feed in stores(network, "stored-charge")}
    assert set(found) == {"c1", "c2", "trapped"}
    assert (found["c1"].volts, found["c1"].current, found["c1"].kind) == (120.0, "dc", "stored-charge")
    assert (found["c2"].volts, found["c2"].known) == (None, False)
    assert found["trapped"].wet
    assert [feed.id for feed in energy_feeds(network)] == ["mains"]
