from __future__ import annotations

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.appliance.circuit import (
    Circuit,
    EnergySource,
    Link,
    LinkKind,
    Point,
)
from firstoff.appliance.model import Appliance
from firstoff.appliance.terms import Concept
from firstoff.authoring import isolation
from firstoff.authoring.ontology import Ontology
from support.drafts import draft_of, problems, told
from support.small_platform import TURTLE, changed, with_more

Told = list[tuple[str, str | None]]


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (changed("fo:devicesOpen p:plug", "fo:devicesOpen p:plug, p:key"),
         [("isolated-by-control-device", "supply-isolated")]),
        (changed(" ; fo:devicesOpen p:tap", ""), [("supply-never-isolated", "tap-water")]),
        (changed(" ; fo:controls energy:mains", ""), [("supply-never-isolated", "mains")]),
        # trapped water is held, not fed: it needs no valve
        (changed(" ; fo:devicesOpen p:tap", "").replace(
            "fo:feeds p:tap-inlet", 'fo:heldBy p:tray ; fo:release "Tip it out."@en'), []),
    ],
    ids=["passes", "control device", "no device", "no variable", "trapped"],
)  # fmt: skip
def test_isolated_by_isolating_devices(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(isolation.isolated_by_isolating_devices, turtle, ontology) == expected


FIXED = "fo:polarised true ; fo:fixed true ; fo:earthedNeutral true"
CORD = "fo:polarised false ; fo:fixed false ; fo:earthedNeutral false"
PAST_THE_PLUG = "fo:linkKind link:conductor ;\n    fo:from p:socket-neutral ; fo:to p:lamp-return ."
PIN = "fo:linkKind link:contact ;\n    fo:from p:socket-neutral ; fo:to p:lamp-return ; fo:contactOf p:plug ."


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        # the neutral pin does not open: the lamp's return and, through the lamp, its line stay live
        (changed(PIN, PAST_THE_PLUG),
         [("isolation-leaves-live", "cover-off"), ("isolation-leaves-live", "test-lamp"),
          ("isolation-leaves-live", "test-lamp")]),
        # fixed wiring with an earthed neutral, all lines open: neutral is no source
        (changed(PIN, PAST_THE_PLUG).replace(CORD, FIXED), []),
        # a changeover never counts as open
        (changed("fo:contactOf p:plug .", "fo:contactOf p:plug ; fo:changeover true ."),
         [("isolation-leaves-live", "cover-off"), ("isolation-leaves-live", "test-lamp"),
          ("isolation-leaves-live", "test-lamp")]),
        # a push button opens nothing that counts
        (changed("fo:devicesOpen p:plug", "fo:devicesOpen p:key"),
         [("isolation-leaves-live", "cover-off"), ("isolation-leaves-live", "test-lamp"),
          ("isolation-leaves-live", "test-lamp")]),
        # the secondary is alive while its primary is
        (changed("fo:bares p:lamp-line, p:lamp-return", "fo:bares p:low-plus").replace(PIN, PAST_THE_PLUG),
         [("isolation-leaves-live", "cover-off"), ("isolation-leaves-live", "test-lamp")]),
    ],
    ids=["passes", "one pole", "fixed", "changeover", "button", "secondary"],
)  # fmt: skip
def test_isolation_complete(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(isolation.isolation_complete, turtle, ontology) == expected


ALWAYS = """
p:always a fo:Point ; rdfs:label "socket lamp"@en ; fo:onComponent p:box .
p:bypass a fo:Link ; rdfs:label "wire past the plug"@en ; fo:onComponent p:box ; fo:linkKind link:conductor ;
    fo:from p:socket-line ; fo:to p:always .
"""


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (with_more(ALWAYS), [("never-cleared", "box")]),
        # within the outlet it is the supply's own
        (with_more(ALWAYS.replace("fo:onComponent p:box", "fo:onComponent p:socket")), []),
        # an open valve of the pipe is no isolating device
        (changed("fo:contactOf p:tap .", "fo:contactOf p:key .", start="p:tap-seat a"), [("never-cleared", "box")]),
        # a plug that model 20 lacks opens nothing there
        (changed("fo:leavesOut p:tray", "fo:leavesOut p:tray, p:cord").replace(
            "fo:onComponent p:cord ; fo:linkKind link:contact", "fo:onComponent p:box ; fo:linkKind link:contact"
         ).replace('"cord line"@en ; fo:onComponent p:cord', '"cord line"@en ; fo:onComponent p:box'),
         [("never-cleared", "box"), ("never-cleared", "bright-lamp"), ("never-cleared", "buzzer")]),
    ],
    ids=["passes", "past the plug", "in the outlet", "valve", "a model without plug"],
)  # fmt: skip
def test_clearable(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(isolation.clearable, turtle, ontology) == expected


def test_a_plug_that_a_model_lacks_isolates_nothing_there(ontology: Ontology) -> None:
    """The plug goes with the cord; its pins are said to be of the box, and nothing opens them on that model."""
    turtle = changed("fo:leavesOut p:tray", "fo:leavesOut p:tray, p:cord").replace(
        "fo:onComponent p:cord ; fo:linkKind link:contact", "fo:onComponent p:box ; fo:linkKind link:contact"
    )
    (problem,) = problems(isolation.isolated_by_isolating_devices, turtle, ontology)
    assert (problem.rule, problem.resource) == ("supply-never-isolated", "mains")
    assert "(on box 20)" in problem.message


def test_what_a_model_does_not_open_stays_live_there(ontology: Ontology) -> None:
    """A breaker of the tray opens the line and the plug the neutral; box 20 has no tray and its line stays closed."""
    turtle = with_more(
        'p:switch a fo:Device ; rdfs:label "tray switch"@en ; fo:onComponent p:tray ; fo:deviceKind device:plug .'
    )
    turtle = turtle.replace("fo:from p:socket-line ; fo:to p:cord-line ; fo:contactOf p:plug",
                            "fo:from p:socket-line ; fo:to p:cord-line ; fo:contactOf p:switch")  # fmt: skip
    turtle = turtle.replace("fo:devicesOpen p:plug", "fo:devicesOpen p:plug, p:switch")
    found = problems(isolation.isolation_complete, turtle, ontology)
    assert {(each.rule, each.resource) for each in found} == {
        ("isolation-leaves-live", "cover-off"),
        ("isolation-leaves-live", "test-lamp"),
    }
    assert all("(on box 20)" in each.message for each in found)


def test_what_stays_live_is_named(ontology: Ontology) -> None:
    found = problems(isolation.isolation_complete, changed(PIN, PAST_THE_PLUG), ontology)
    assert found[0].message == "It bares lamp line, which mains still feeds in the state supply isolated."


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        # behind a cover that comes off only once the plug is drawn
        (changed("fo:minutes 0.5 ;", "fo:minutes 0.5 ; fo:needsOff p:cover ;", start="p:plug a"),
         [("isolating-device-out-of-reach", "plug")]),
        # behind a tray that lifts out by hand
        (changed("fo:minutes 0.5 ;", "fo:minutes 0.5 ; fo:needsOff p:tray ;", start="p:plug a"), []),
        (changed("fo:needsState p:upright", "fo:needsState p:tilted", start="p:tap a"),
         [("isolating-device-out-of-reach", "tap")]),
    ],
    ids=["passes", "behind itself", "behind a tray", "state that needs it"],
)  # fmt: skip
def test_isolating_devices_in_reach(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert list(dict.fromkeys(told(isolation.isolating_devices_in_reach, turtle, ontology))) == expected


OPENS_PIPE = changed("fo:opens p:lamp-wire", "fo:opens p:lamp-wire, p:water-pipe")


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (OPENS_PIPE, [("water-not-shut-off", "cover-off")]),
        (OPENS_PIPE.replace("p:supply-isolated ; fo:minutesOut 2", "p:water-off ; fo:minutesOut 2"), []),
        # a pipe that no water enters
        (OPENS_PIPE.replace("fo:from p:tap-outlet", "fo:from p:chassis"), []),
    ],
    ids=["passes", "under pressure", "shut off", "dry"],
)  # fmt: skip
def test_wet_work_shut_off(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(isolation.wet_work_shut_off, turtle, ontology) == expected


def test_reached_from_the_socket(ontology: Ontology) -> None:
    whole = draft_of(TURTLE, ontology).whole
    assert whole is not None
    assert isolation.reached(whole, "mains", frozenset({"plug"})) == {"socket-line", "socket-neutral"}
    assert "chassis" not in isolation.reached(whole, "mains", frozenset())
    assert isolation.reached(whole, "water", frozenset({"tap"})) == {"tap-inlet"}
    assert isolation.reached(whole, "gas", frozenset()) == frozenset()


POINTS = tuple(f"n{number}" for number in range(8))
DEVICES = ("d1", "d2", "d3")


@given(
    st.lists(
        st.tuples(
            st.sampled_from(POINTS),
            st.sampled_from(POINTS),
            st.sampled_from([LinkKind.CONTACT, LinkKind.LOAD, LinkKind.EARTH_BOND, LinkKind.CAPACITOR]),
            st.sampled_from(DEVICES),
            st.booleans(),
        ),
        max_size=14,
    ),
    st.frozensets(st.sampled_from(DEVICES)),
)
def test_reached_is_what_stays_connected(
    joined: list[tuple[str, str, LinkKind, str, bool]], opened: frozenset[str]
) -> None:
    """Against connected components of networkx; ``n7`` and ``n6`` are a secondary of ``n1``."""
    links, graph = {}, nx.Graph()
    graph.add_nodes_from(POINTS)
    for number, (one, other, kind, device, changeover) in enumerate(joined):
        slug = f"k{number}"
        owner = device if kind is LinkKind.CONTACT else None
        links[slug] = Link(slug, slug, kind, one, other, "c", device=owner, changeover=changeover)
        is_open = kind is LinkKind.CONTACT and device in opened and not changeover
        if kind is not LinkKind.EARTH_BOND and not is_open:
            graph.add_edge(one, other)
    sources = {
        "mains": EnergySource("mains", "mains", Concept("mains", "mains"), lines=("n0",)),
        "low": EnergySource(
            "low", "low", Concept("extra-low-voltage", "low"), lines=("n7",), neutral="n6", derived_from=("n1",)
        ),
    }
    points = {point: Point(point, point, "c") for point in POINTS}
    concept = Concept("x", "x")
    appliance = Appliance("m", "m", "m", concept, "Marrowby", concept, "r", circuit=Circuit(points, links, {}, sources))
    expected = nx.node_connected_component(graph, "n0")
    if "n1" in expected:
        expected |= nx.node_connected_component(graph, "n7") | nx.node_connected_component(graph, "n6")
    assert isolation.reached(appliance, "mains", opened) == expected
