from __future__ import annotations

import pytest

from firstoff.authoring import faults
from firstoff.authoring.ontology import Ontology
from support.drafts import problems, told
from support.small_platform import TURTLE, changed, with_more

Told = list[tuple[str, str | None]]


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        # no way in for a test of that part, only for another purpose
        (changed("purpose:test", "purpose:replace", start="p:test-lamp"), [("check-without-way-in", "lamp-ohms")]),
        (
            changed("fo:reaches p:lamp", "fo:reaches p:cover", start="p:test-lamp"),
            [("check-without-way-in", "lamp-ohms")],
        ),
        (changed(" ; fo:live true", "", start="p:watch-lamp"), [("live-check-by-dead-way", "lamp-look")]),
        (changed(" ; fo:live true", "", start="p:lamp-look"), [("dead-check-by-live-way", "lamp-look")]),
    ],
    ids=["passes", "other purpose", "other part", "dead way", "live way"],
)
def test_checks_have_ways_in(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(faults.checks_have_ways_in, turtle, ontology) == expected


def test_a_substitute_inherits_the_way_in(ontology: Ontology) -> None:
    """A check of the bright lamp goes by the way in to the plain lamp, whose place it takes."""
    check = """
p:bright-ohms a fo:Check ; rdfs:label "resistance of the bright lamp"@en ; fo:examines p:bright-lamp ;
    fo:checkPurpose purpose:test ; fo:quantity quantity:resistance ; fo:between p:lamp-line, p:lamp-return ;
    fo:minutes 2 ; fo:instruction "Read the ohms."@en ; fo:source p:notes ;
    fo:outcome [ a fo:Outcome ; rdfs:label "some"@en ; fo:healthy true ],
        [ a fo:Outcome ; rdfs:label "none"@en ; fo:healthy false ] .
"""
    assert problems(faults.checks_have_ways_in, with_more(check), ontology) == []
    without = with_more(check).replace("fo:original p:lamp", "fo:original p:cover")
    assert ("check-without-way-in", "bright-ohms") in told(faults.checks_have_ways_in, without, ontology)


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (changed(" ; fo:speaksFor p:lamp-broken", ""), [("fault-without-check", "lamp-broken")]),
        # to rule a fault out is not to speak for it
        (changed("fo:speaksFor p:lamp-broken", "fo:rulesOut p:lamp-broken"), [("fault-without-check", "lamp-broken")]),
    ],
    ids=["passes", "none", "ruled out only"],
)
def test_faults_are_told_apart(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(faults.faults_are_told_apart, turtle, ontology) == expected


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (changed("fo:worksOn p:lamp", "fo:worksOn p:box"), [("remedy-cannot-be-done", "new-lamp")]),
        # the glass is replaced as the lamp, which comes off
        (changed("fo:worksOn p:lamp", "fo:worksOn p:lamp-glass"), []),
        # cleaning needs no removal
        (changed("remedy:replace ; fo:worksOn p:lamp", "remedy:clean ; fo:worksOn p:box"), []),
    ],
    ids=["passes", "fixed", "as a unit", "cleaned"],
)
def test_remedies_can_be_done(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(faults.remedies_can_be_done, turtle, ontology) == expected


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (with_more("p:box fo:sitsInside p:tray ."), [("sits-inside-itself", "box")]),
        (with_more("p:box fo:sitsInside p:box ."), [("sits-inside-itself", "box")]),
        (with_more("p:lamp fo:replacedAs p:lamp-glass ."), [("replaced-as-itself", "lamp")]),
    ],
    ids=["passes", "two", "one", "replaced"],
)
def test_nothing_inside_itself(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(faults.nothing_inside_itself, turtle, ontology) == expected


def test_a_circle_of_assemblies_is_told_step_by_step(ontology: Ontology) -> None:
    (problem,) = problems(faults.nothing_inside_itself, with_more("p:box fo:sitsInside p:tray ."), ontology)
    assert problem.message == "The parts run in a circle: box sits inside drip tray sits inside box."
