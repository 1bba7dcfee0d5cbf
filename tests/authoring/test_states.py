from __future__ import annotations

import pytest

from firstoff.authoring import states
from firstoff.authoring.ontology import Ontology
from support.drafts import draft_of, problems, told
from support.small_platform import TURTLE, changed, with_more

Told = list[tuple[str, str | None]]


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        # two values of one variable, in each class that has needs
        (changed("fo:needsState p:supply-isolated, p:upright", "fo:needsState p:tilted, p:upright"),
         [("contradictory-states", "test-lamp")]),
        (changed("p:supply-isolated ;", "p:supply-isolated, p:supply-on ;", start="p:lamp-off"),
         [("contradictory-states", "lamp-off")]),
        (changed("fo:needsState p:water-off", "fo:needsState p:water-off, p:water-on", start="p:tilt a"),
         [("contradictory-states", "tilt")]),
        (changed("fo:needsState p:upright", "fo:needsState p:upright, p:tilted", start="p:tap a"),
         [("contradictory-states", "tap")]),
        (changed("p:supply-isolated", "p:supply-isolated, p:supply-on", start="p:lamp-ohms"),
         [("contradictory-states", "lamp-ohms")]),
    ],
    ids=["passes", "way in", "removal", "preparation", "device", "check"],
)  # fmt: skip
def test_contradictory_states(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(states.contradictory_states, turtle, ontology) == expected


def test_contradiction_names_both_states_and_the_variable(ontology: Ontology) -> None:
    turtle = changed("fo:needsState p:supply-isolated, p:upright", "fo:needsState p:tilted, p:upright")
    (problem,) = problems(states.contradictory_states, turtle, ontology)
    assert problem.message == "It needs tilted and upright at once, two values of posture."


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (changed("fo:fromState p:upright", "fo:fromState p:water-on"), [("preparation-crosses-variables", "tilt")]),
        (
            with_more('p:flat a fo:State ; rdfs:label "flat"@en ; fo:valueOf p:posture .'),
            [("state-never-given", "flat")],
        ),
    ],
    ids=["passes", "crosses", "never given"],
)
def test_preparations_of_one_variable(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(states.preparations_of_one_variable, turtle, ontology) == expected


def test_isolated_states_open_devices_of_the_supply(ontology: Ontology) -> None:
    whole = draft_of(TURTLE, ontology).whole
    assert whole is not None
    assert states.isolated_states(whole) == {"supply-isolated"}
    assert states.isolated_states(whole, "water") == {"water-off"}
    assert states.isolated_states(whole, "gas") == frozenset()


ISOLATED = "fo:needsState p:supply-isolated ;"


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        # a tool of the removal, a tool of a fastening, a bared point, an opened link
        (changed(ISOLATED, "fo:tool tool:pliers ;", start="p:lamp-off"), [("supply-not-isolated", "lamp-off")]),
        (changed(ISOLATED, "", start="p:cover-off"), [("supply-not-isolated", "cover-off")]),
        (changed(ISOLATED, "fo:bares p:lamp-line ;", start="p:lamp-off"), [("supply-not-isolated", "lamp-off")]),
        (changed(ISOLATED, "", start="p:cord-off"), [("supply-not-isolated", "cord-off")]),
        # fingers alone, and nothing bared
        (changed(ISOLATED, "", start="p:lamp-off"), []),
        # a test that is not called live, and an inspection that bares a point
        (changed("fo:needsState p:supply-isolated, p:upright ;", "", start="p:test-lamp"),
         [("supply-not-isolated", "test-lamp")]),
        (changed("fo:minutes 0.1 ;", "fo:minutes 0.1 ; fo:bares p:lamp-line ;", start="p:see-box"),
         [("supply-not-isolated", "see-box")]),
        # a state of another variable, and the initial state, are no isolation
        (changed(ISOLATED, "fo:needsState p:water-off ;", start="p:cover-off"), [("supply-not-isolated", "cover-off")]),
        (changed(ISOLATED, "fo:needsState p:supply-on ;", start="p:cover-off"), [("supply-not-isolated", "cover-off")]),
        # a machine without mains
        (changed(ISOLATED, "", start="p:cover-off").replace("energy:mains ; fo:line", "energy:water ; fo:line"), []),
    ],
    ids=["passes", "tool", "fastening's tool", "bares", "opens", "fingers", "test", "inspection", "other variable",
         "initial state", "no mains"],
)  # fmt: skip
def test_work_isolated(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(states.work_isolated, turtle, ontology) == expected


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (changed("p:supply-on", "p:supply-isolated", start="p:watch-lamp"), [("live-but-isolated", "watch-lamp")]),
        (changed("p:supply-on", "p:supply-isolated", start="p:lamp-look"), [("live-but-isolated", "lamp-look")]),
    ],
    ids=["passes", "way in", "check"],
)
def test_live_not_isolated(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(states.live_not_isolated, turtle, ontology) == expected
