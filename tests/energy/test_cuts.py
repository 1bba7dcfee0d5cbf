from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.energy import PointCondition, Situation, cleared_by, isolation, live_points
from support.circuits import Case, Oracle, circuit, isolators_of, link, mains, random_case

LIVE, OFF = PointCondition.LIVE, PointCondition.OFF_NOT_ISOLATED


def ladder(rows: list[list[str]], series: bool = False) -> tuple:
    """Parallel branches from l to p, each a chain of contacts of the devices named."""
    links, every = [], set()
    for row, chain in enumerate(rows):
        here = "l"
        for place, device in enumerate(chain):
            there = "p" if place == len(chain) - 1 else f"q{row}-{place}"
            links.append(link(f"k{row}-{place}", "contact", here, there, device=device))
            here = there
            every.add(device)
    return circuit(links, [mains(neutral=None)], sorted(every))


@pytest.mark.parametrize(
    ("rows", "smallest"),
    [
        ([["a"]], {"a"}),
        # any one of a chain
        ([["a", "b", "c"]], {"a", "b", "c"}),
        # all branches
        ([["a"], ["b"], ["c"]], {"abc"}),
        # a device with poles in both branches is one device
        ([["a", "x"], ["b", "x"]], {"x"}),
        # no one device does, several pairs do
        ([["a", "b"], ["b", "c"], ["c", "a"]], {"ab", "bc", "ac"}),
        # the greedy choice (d is in three branches) is not smallest
        ([["a", "d"], ["a", "e"], ["b", "d"], ["b", "e"], ["a", "d", "e"]], {"ab", "de"}),
        ([["a", "b"], ["c", "d"]], {"ac", "ad", "bc", "bd"}),
    ],
)
def test_all_smallest_sets(rows: list[list[str]], smallest: set[str]) -> None:
    of = ladder(rows)
    found = cleared_by(of, Situation(), "p")
    assert {"".join(sorted(each)) for each in found} == smallest
    assert len(found) == len(smallest)
    assert {"".join(sorted(each.devices)) for each in isolation(of, {"p"}, Situation()).sets} == smallest


def test_twenty_five_devices_in_parallel_and_in_series() -> None:
    names = [f"d{number:02d}" for number in range(25)]
    (all_of_them,) = cleared_by(ladder([[name] for name in names]), Situation(), "p")
    assert set(all_of_them) == set(names)
    assert cleared_by(ladder([names]), Situation(), "p") == tuple((name,) for name in names)


def test_devices_already_open_are_built_upon() -> None:
    of = ladder([["a"], ["b", "c"]])
    assert cleared_by(of, Situation(opened=frozenset({"a"})), "p") == (("b",), ("c",))


@pytest.mark.parametrize(
    ("point", "situation", "expected"),
    [
        # nothing to open
        ("p", Situation(opened=frozenset({"plug"}), released=frozenset({"cap"})), ((),)),
        # charge alone: nothing to open either
        ("p", Situation(opened=frozenset({"plug"})), ((),)),
        ("p", Situation(), (("plug",),)),
        # controls are no help, before the plug nothing is
        ("c", Situation(opened=frozenset({"relay"})), (("plug",),)),
        ("l", Situation(), ()),
        # unknown: no island, no unbonded metal, no point that does not exist
        ("x", Situation(), ()),
        ("m", Situation(bonds_open=frozenset({"g"})), ()),
        ("absent", Situation(), ()),
        # on earth
        ("m", Situation(), ((),)),
        # a secondary that may be alive from an unknown primary is cleared on its own side only
        ("t", Situation(), (("fuse-switch",),)),
        ("s", Situation(), ()),
    ],
)
def test_cleared_by(point: str, situation: Situation, expected: tuple[tuple[str, ...], ...]) -> None:
    links = [
        link("plug-l", "contact", "l", "p", device="plug"),
        link("relay-1", "contact", "p", "c", device="relay"),
        link("cap", "capacitor", "p", "c", volts=230.0),
        link("coil", "winding", "x", "y"),
        link("g", "earth-bond", "pe", "m"),
        link("k", "contact", "s", "t", device="fuse-switch"),
    ]
    low = mains("low", lines=("s",), neutral=None, protective_earth=None, derived_from=("x",))
    of = circuit(links, [mains(neutral=None), low], ["plug", "fuse-switch"], ["relay"])
    assert cleared_by(of, situation, point) == expected


@settings(max_examples=250, deadline=None)
@given(st.integers(0, 2**32).map(lambda seed: random_case(seed, size=7, isolating=5, stray=0.01)))
def test_cleared_by_equals_trying_every_set(case: Case) -> None:
    of, where = case.circuit, case.situation
    openable = sorted(isolators_of(of) - where.opened)
    for point in sorted(case.touch):
        expected: set[frozenset[str]] = set()
        for size in range(len(openable) + 1):
            for devices in combinations(openable, size):
                after = Oracle(of, where).opening(devices)
                fed = after.reached(after.roots(), controls_closed=True)
                if point not in fed | after.doubtful():
                    expected.add(frozenset(devices))
            if expected:
                break
        found = cleared_by(of, where, point)
        assert {frozenset(each) for each in found} == expected
        assert len(found) == len(expected)


@settings(max_examples=150, deadline=None)
@given(st.integers(0, 2**32).map(lambda seed: random_case(seed, size=6, isolating=5, stray=0.0)))
def test_what_clears_a_point_isolates_it_once_released(case: Case) -> None:
    of, where = case.circuit, case.situation
    stores = frozenset(of.links) | frozenset(of.sources)
    for point in sorted(case.touch):
        for devices in cleared_by(of, where, point):
            after = Situation(
                opened=where.opened | set(devices),
                links_open=where.links_open,
                bonds_open=where.bonds_open,
                released=stores,
                neutral_proved=where.neutral_proved,
            )
            assert live_points(of, after)[point].state not in (LIVE, OFF)
