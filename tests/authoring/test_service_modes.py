"""Service modes that cannot be followed, or switch something on without a word of it."""

from __future__ import annotations

import pytest

from firstoff.authoring import service_modes
from firstoff.authoring.ontology import Ontology
from support.drafts import told
from support.small_platform import TURTLE, changed

Told = list[tuple[str, str | None]]
MODE = "p:self-test a"


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (changed("fo:order 3", "fo:order 4", start=MODE), [("service-steps-count", "self-test")]),
        (changed("fo:order 2", "fo:order 1", start=MODE), [("service-steps-count", "self-test")]),
        (changed('"enter"', '"read"', start=MODE), [("service-steps-ends", "self-test")]),
        (changed('"leave"', '"run"', start=MODE), [("service-steps-ends", "self-test")]),
    ],
    ids=["passes", "gap", "twice", "not entered", "not left"],
)
def test_steps_in_order(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(service_modes.steps_in_order, turtle, ontology) == expected


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (changed("fo:needsState p:supply-on ;", "", start=MODE), [("service-mode-supply", "self-test")]),
        (changed("p:supply-on", "p:upright", start=MODE), [("service-mode-supply", "self-test")]),
        (changed("p:supply-on", "p:supply-isolated", start=MODE), [("service-mode-supply", "self-test")]),
    ],
    ids=["passes", "not told", "another variable", "off"],
)
def test_power_is_told(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(service_modes.power_is_told, turtle, ontology) == expected


def test_a_mode_in_which_nothing_runs_may_have_the_supply_off(ontology: Ontology) -> None:
    quiet = changed("p:supply-on", "p:supply-isolated", start=MODE).replace("fo:runs p:lamp ; fo:closes p:key ; ", "")
    assert told(service_modes.power_is_told, quiet, ontology) == []


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (changed("fo:closes p:key", "fo:closes p:plug", start=MODE), [("service-step-isolating-device", "self-test")]),
    ],
)
def test_switched_by_controls(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(service_modes.switched_by_controls, turtle, ontology) == expected


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (changed(", p:self-test", ""), [("service-mode-without-caution", "self-test")]),
        (changed(", p:self-test", "").replace("fo:runs p:lamp ; ", ""), []),
    ],
    ids=["passes", "no caution", "nothing runs"],
)
def test_running_has_a_caution(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(service_modes.running_has_a_caution, turtle, ontology) == expected


def test_a_mode_told_in_one_sentence_has_nothing_to_hold(ontology: Ontology) -> None:
    start, end = TURTLE.index("p:self-test a"), TURTLE.index("p:finish-1 a")
    short = 'p:self-test a fo:ServiceMode ; rdfs:label "self test"@en ; fo:instruction "Hold the key."@en .\n'
    for rule in (
        service_modes.steps_in_order,
        service_modes.power_is_told,
        service_modes.switched_by_controls,
        service_modes.running_has_a_caution,
    ):
        assert told(rule, TURTLE[:start] + short + TURTLE[end:], ontology) == []
