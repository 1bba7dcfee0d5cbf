from __future__ import annotations

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.appliance.circuit import (
    Circuit,
    Link,
    LinkKind,
    Point,
)
from firstoff.appliance.model import Appliance
from firstoff.appliance.terms import Concept
from firstoff.authoring import circuit
from firstoff.authoring.ontology import Ontology
from support.drafts import told
from support.small_platform import TURTLE, changed, with_more

Told = list[tuple[str, str | None]]
IDLE = (
    'p:idle a fo:Device ; rdfs:label "idle"@en ; fo:onComponent p:box ; fo:deviceKind device:relay .\n'
    'p:lone a fo:Point ; rdfs:label "lone"@en ; fo:onComponent p:box .'
)


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (with_more(IDLE), [("device-without-contact", "idle")]),
        # one throw of the changeover alone
        (changed(" ; fo:changeover true", "", start="p:key-rest"), [("changeover-without-second-throw", "key")]),
        # a link that is no contact does not count
        (changed("link:contact", "link:pipe", start="p:tap-seat"), [("device-without-contact", "tap")]),
    ],
    ids=["passes", "idle", "one throw", "no contact"],
)
def test_unused_devices(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(circuit.unused_devices, turtle, ontology) == expected


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [(TURTLE, []), (with_more(IDLE), [("point-without-link", "lone")])],
    ids=["passes", "lone"],
)
def test_unjoined_points(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(circuit.unjoined_points, turtle, ontology) == expected


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (with_more(IDLE).replace("fo:line p:socket-line", "fo:line p:lone"), [("floating-source", "mains")]),
        (with_more(IDLE).replace("fo:neutral p:low-minus", "fo:neutral p:lone"), [("floating-source", "low")]),
        (with_more(IDLE).replace("fo:feeds p:tap-inlet", "fo:feeds p:lone"), [("floating-source", "tap-water")]),
    ],
    ids=["passes", "line", "return", "water"],
)
def test_floating_sources(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(circuit.floating_sources, turtle, ontology) == expected


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        # the far side of a wire is the same joint
        (changed("fo:from p:lamp-line", "fo:from p:lamp-feed", start="p:lamp-bleed"), []),
        # the far side of a contact is not: the contact may be open
        (changed("fo:from p:lamp-line", "fo:from p:cord-line", start="p:lamp-bleed"),
         [("bleed-not-across-capacitor", "lamp-bleed")]),
        (changed("fo:to p:lamp-return", "fo:to p:chassis", start="p:lamp-bleed"),
         [("bleed-not-across-capacitor", "lamp-bleed")]),
        # either way round
        (changed("fo:from p:lamp-line ; fo:to p:lamp-return", "fo:from p:lamp-return ; fo:to p:lamp-line",
                 start="p:lamp-bleed"), []),
    ],
    ids=["passes", "wire between", "contact between", "elsewhere", "turned round"],
)  # fmt: skip
def test_bleeds_across(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(circuit.bleeds_across, turtle, ontology) == expected


POINTS = tuple(f"n{number}" for number in range(9))


@given(
    st.lists(st.tuples(st.sampled_from(POINTS), st.sampled_from(POINTS), st.sampled_from(list(LinkKind))), max_size=14)
)
def test_joints_are_connected_components(joined: list[tuple[str, str, LinkKind]]) -> None:
    links = {f"k{n}": Link(f"k{n}", "", kind, a, b, "c") for n, (a, b, kind) in enumerate(joined)}
    points = {point: Point(point, point, "c") for point in POINTS}
    concept = Concept("x", "x")
    appliance = Appliance("m", "m", "m", concept, "Marrowby", concept, "r", circuit=Circuit(points, links))
    kinds = {LinkKind.CONDUCTOR, LinkKind.FUSE}
    graph = nx.Graph()
    graph.add_nodes_from(POINTS)
    graph.add_edges_from((a, b) for a, b, kind in joined if kind in kinds)
    joints = circuit.joints(appliance, kinds)
    for one in POINTS:
        for other in POINTS:
            assert (joints[one] == joints[other]) == (other in nx.node_connected_component(graph, one))


TWO_LINES = changed("fo:line p:socket-line ;", "fo:line p:socket-line, p:spout ;", start="p:mains a")
LOOSE = (
    'p:loose-a a fo:Point ; rdfs:label "loose end"@en ; fo:onComponent p:box .\n'
    'p:loose-b a fo:Point ; rdfs:label "other end"@en ; fo:onComponent p:box .\n'
    'p:loose a fo:Link ; rdfs:label "loose wire"@en ; fo:onComponent p:box ; fo:linkKind link:conductor ;\n'
    "    fo:from p:loose-a ; fo:to p:loose-b ."
)


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        # a second line that the plug leaves closed
        (TWO_LINES, [("isolating-device-lacks-pole", "plug")]),
    ],
    ids=["passes", "a pole is missing"],
)
def test_isolating_poles(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(circuit.isolating_poles, turtle, ontology) == expected


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (changed("fo:lowerTolerance 0.10 ; ", "", start="p:mains a"), [("lower-tolerance-missing", "mains")]),
        (TWO_LINES, [("phase-angle-missing", "mains")]),
        (changed(" ; fo:atRest true", "", start="p:key-rest"), [("throw-without-rest", "key-rest")]),
    ],
    ids=["passes", "lower tolerance", "phase angle", "at rest"],
)
def test_supply_facts(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(circuit.supply_facts, turtle, ontology) == expected


def test_floating_parts(ontology: Ontology) -> None:
    assert told(circuit.floating_parts, TURTLE, ontology) == []
    assert told(circuit.floating_parts, with_more(LOOSE), ontology) == [("circuit-floats", "loose-a")]
