from __future__ import annotations

import pytest

from firstoff.appliance.circuit import (
    Circuit,
    Point,
)
from firstoff.energy import Situation
from firstoff.energy.cuts import cut_graph
from firstoff.energy.network import network_of
from support.circuits import LOW, WATER, circuit, link, mains


def doubt(of: Circuit, situation: Situation) -> tuple[set[str], set[str]]:
    """The points in doubt, and the derived sources that doubt starts."""
    graph = cut_graph(network_of(of), situation)
    return {graph.network.points[number] for number in graph.doubt}, {feed.id for feed in graph.started_by_doubt}


def low(*origin: str) -> object:
    return mains("low", kind=LOW, lines=("s",), neutral="s0", protective_earth=None, derived_from=origin)


def held(*feeds: str) -> object:
    return mains("trapped", kind=WATER, lines=(), neutral=None, protective_earth=None, feeds=feeds, held_by="sump")


WIRE = link("wire", "conductor", "l", "a")
ISLAND = [link("coil", "winding", "f1", "f2"), link("c", "capacitor", "f2", "f3")]


@pytest.mark.parametrize(
    ("of", "situation", "points", "sources"),
    [
        # a source leads to all of it
        (circuit([WIRE], [mains()]), Situation(), set(), set()),
        # opening and disconnecting does not make a point unknown
        (circuit([WIRE], [mains()]), Situation(links_open=frozenset({"wire"})), set(), set()),
        # an island, a capacitor in it or not
        (circuit([WIRE, *ISLAND], [mains()]), Situation(), {"f1", "f2", "f3"}, set()),
        # a point without links
        (circuit([WIRE], [mains()], points=[Point("x", "x", "body")]), Situation(), {"x"}, set()),
        # no source at all
        (circuit([WIRE]), Situation(), {"l", "a"}, set()),
        # metal on earth, and with its bond open
        (circuit([link("g", "earth-bond", "pe", "m")], [mains()]), Situation(), set(), set()),
        (
            circuit([link("g", "earth-bond", "pe", "m")], [mains()]),
            Situation(bonds_open=frozenset({"g"})),
            {"m"},
            set(),
        ),
        # bonded together but to nothing
        (circuit([link("g", "earth-bond", "m", "k")], [mains()]), Situation(), {"m", "k"}, set()),
        # known only by way of earth
        (
            circuit([link("g", "earth-bond", "pe", "m"), link("w", "conductor", "m", "x")], [mains()]),
            Situation(),
            {"x"},
            set(),
        ),
        # a secondary of an island, and of a point that is not there; its own points have a source
        (circuit([WIRE, *ISLAND], [mains(), low("f1")]), Situation(), {"f1", "f2", "f3"}, {"low"}),
        (circuit([WIRE], [mains(), low("a", "absent")]), Situation(), set(), {"low"}),
        (circuit([WIRE], [mains(), low("a")]), Situation(), set(), set()),
        # what held water feeds is known, drained or not
        (circuit([link("p", "pipe", "w", "v")], [held("w")]), Situation(), set(), set()),
        (circuit([link("p", "pipe", "w", "v")], [held("w")]), Situation(released=frozenset({"trapped"})), set(), set()),
    ],
)
def test_what_nothing_is_known_of(of: Circuit, situation: Situation, points: set[str], sources: set[str]) -> None:
    assert doubt(of, situation) == (points, sources)
