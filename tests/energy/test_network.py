from __future__ import annotations

import pytest

from firstoff.appliance.circuit import (
    Circuit,
    Device,
    EnergySource,
    LinkKind,
    Point,
)
from firstoff.energy import Situation
from firstoff.energy.network import circuit_of, closed_links, earthed, network_of, source_points, spread
from support.circuits import KIND, MAINS, WATER, appliance, circuit, link, mains


def names(of: Circuit, situation: Situation | None) -> set[str]:
    network = network_of(of)
    return {network.points[number] for number in earthed(network, situation)}


def bonded() -> Circuit:
    links = [
        link("g1", "earth-bond", "pe", "chassis"),
        link("g2", "earth-bond", "chassis", "door"),
        link("g3", "earth-bond", "n", "pe"),
        link("g4", "earth-bond", "n", "beyond"),
        link("wire", "conductor", "chassis", "wired"),
        link("g5", "earth-bond", "s0", "chassis"),
        link("g6", "earth-bond", "apart", "apart-too"),
    ]
    low = mains("low", lines=("s",), neutral="s0", derived_from=("l",), protective_earth=None)
    return circuit(links, [mains(), low])


@pytest.mark.parametrize(
    ("situation", "on_earth"),
    [
        # every bond closed: not the neutral, nor what lies behind it, nor what only a wire joins
        (None, {"pe", "chassis", "door", "s0"}),
        (Situation(), {"pe", "chassis", "door", "s0"}),
        # an open bond takes all behind it
        (Situation(bonds_open=frozenset({"g2"})), {"pe", "chassis", "s0"}),
        (Situation(bonds_open=frozenset({"g1"})), {"pe"}),
        # a bond listed among opened links is open too
        (Situation(links_open=frozenset({"g1"})), {"pe"}),
    ],
)
def test_what_is_on_protective_earth(situation: Situation | None, on_earth: set[str]) -> None:
    assert names(bonded(), situation) == on_earth


def test_a_bond_that_a_device_opens_is_open_with_it() -> None:
    links = [link("g", "earth-bond", "pe", "chassis", device="plug")]
    of = circuit(links, [mains()], isolating=["plug"])
    assert names(of, Situation()) == {"pe", "chassis"}
    assert names(of, Situation(opened=frozenset({"plug"}))) == {"pe"}


def test_a_line_drawn_as_protective_earth_is_no_earth() -> None:
    assert names(circuit([link("g", "earth-bond", "l", "chassis")], [mains(protective_earth="l")]), None) == set()


def test_closed_links_by_kind_of_opening() -> None:
    links = [
        link("pole", "contact", "l", "a", device="plug"),
        link("throw", "contact", "l", "b", device="plug", changeover=True),
        link("no-device", "contact", "l", "c"),
        link("not-a-contact", "conductor", "l", "d", device="plug"),
        link("connector", "conductor", "l", "e"),
    ]
    network = network_of(circuit(links, [mains()], isolating=["plug"]))
    closed = closed_links(network, ["plug", "no-such-device"], ["connector", "no-such-link"])
    assert dict(zip((each.id for each in links), closed, strict=True)) == {
        "pole": 0, "throw": 1, "no-device": 1, "not-a-contact": 1, "connector": 0,
    }  # fmt: skip


def test_points_that_are_not_declared_are_kept() -> None:
    source = EnergySource("mains", "mains", MAINS, lines=("l",), protective_earth="pe")
    of = Circuit(
        points={"a": Point("a", "a", "body")},
        links={"x": link("x", "conductor", "a", "undeclared")},
        devices={"d": Device("d", "d", KIND, "body", isolating=True)},
        sources={"mains": source},
    )
    assert set(network_of(of).points) == {"a", "undeclared", "l", "pe"}


def test_circuit_of_takes_either() -> None:
    of = bonded()
    assert circuit_of(of) is of
    assert circuit_of(appliance(of)) is of


def test_source_points_put_lines_first() -> None:
    assert source_points(mains(lines=("l1", "l2"), neutral="n")) == ("l1", "l2", "n")
    assert source_points(mains(kind=WATER, lines=(), neutral=None, feeds=("w",))) == ("w",)


def test_spread_takes_the_shortest_way_and_none_through_a_barrier() -> None:
    links = [
        link("far1", "conductor", "l", "x"),
        link("far2", "conductor", "x", "y"),
        link("near", "conductor", "l", "e"),
        link("from-e", "conductor", "e", "y"),
        link("last", "conductor", "y", "z"),
    ]
    network = network_of(circuit(links, [mains()]))
    found = spread(network, closed_links(network, ()), frozenset({network.index["e"]}), [(network.index["l"], "mains")])
    assert found.path(network, network.index["z"]) == ("l", "far1", "x", "far2", "y", "last", "z")
    assert found.source[network.index["e"]] is None
    assert found.source[network.index["z"]] == "mains"


def test_every_kind_but_the_earth_bond_has_neighbours() -> None:
    links = [link(kind.value, kind.value, "l", f"at-{kind.value}") for kind in LinkKind]
    network = network_of(circuit(links, [mains()]))
    reached = {network.points[other] for _, other in network.neighbours[network.index["l"]]}
    assert reached == {f"at-{kind.value}" for kind in LinkKind if kind is not LinkKind.EARTH_BOND}
