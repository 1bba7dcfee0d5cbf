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
def test_faults_can_be_confirmed(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(faults.faults_can_be_confirmed, turtle, ontology) == expected


def test_a_fault_whose_only_check_a_model_lacks(ontology: Ontology) -> None:
    """The buzzer is on some models only; a check of it says nothing on the others."""
    turtle = changed("fo:examines p:lamp ;", "fo:examines p:buzzer ;", start="p:lamp-look a").replace(
        " ; fo:speaksFor p:lamp-broken", ""
    )
    turtle = turtle.replace("fo:speaksFor p:no-supply", "fo:speaksFor p:no-supply, p:lamp-broken")
    found = problems(faults.faults_can_be_confirmed, turtle, ontology)
    assert sorted((each.rule, each.resource) for each in found) == [
        ("fault-without-check", "lamp-broken"),
        ("fault-without-check", "no-supply"),
    ]
    assert all("No check of box 10, early speaks for this fault" in each.message for each in found)


DIM = """
p:lamp-dim a fo:Fault ; rdfs:label "lamp dim"@en ; fo:origin origin:component ; fo:afflicts p:lamp ;
    fo:failureMode mode:open-circuit ; fo:relativeFrequency 1 ; fo:remedy p:clean-lamp ; fo:source p:notes .
p:clean-lamp a fo:Remedy ; rdfs:label "clean the lamp"@en ; fo:remedyKind remedy:clean ; fo:worksOn p:lamp .
"""


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        # every outcome treats the two alike
        (
            with_more(DIM).replace("fo:speaksFor p:lamp-broken", "fo:speaksFor p:lamp-broken, p:lamp-dim")
            .replace("fo:rulesOut p:lamp-broken", "fo:rulesOut p:lamp-broken, p:lamp-dim"),
            [("faults-alike", "lamp-broken")],
        ),
        # one outcome rules out one of them only
        (with_more(DIM).replace("fo:speaksFor p:lamp-broken", "fo:speaksFor p:lamp-broken, p:lamp-dim"), []),
        # the same is done about both
        (
            with_more(DIM.replace("fo:remedy p:clean-lamp", "fo:remedy p:new-lamp"))
            .replace("fo:speaksFor p:lamp-broken", "fo:speaksFor p:lamp-broken, p:lamp-dim")
            .replace("fo:rulesOut p:lamp-broken", "fo:rulesOut p:lamp-broken, p:lamp-dim"),
            [],
        ),
        # that no check speaks for either is told elsewhere
        (with_more(DIM).replace("fo:rulesOut p:lamp-broken", "fo:rulesOut p:lamp-broken, p:lamp-dim"), []),
    ],
    ids=["passes", "alike", "ruled out", "same remedy", "unconfirmed"],
)  # fmt: skip
def test_faults_are_told_apart(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(faults.faults_are_told_apart, turtle, ontology) == expected


def test_faults_of_different_models_need_not_be_told_apart(ontology: Ontology) -> None:
    """The bright lamp stands where the plain lamp stands on other models, so that no machine has both faults."""
    both = DIM.replace("fo:afflicts p:lamp", "fo:afflicts p:bright-lamp")
    turtle = with_more(both).replace("fo:speaksFor p:lamp-broken", "fo:speaksFor p:lamp-broken, p:lamp-dim")
    turtle = turtle.replace("fo:rulesOut p:lamp-broken", "fo:rulesOut p:lamp-broken, p:lamp-dim")
    assert problems(faults.faults_are_told_apart, turtle, ontology) == []


@pytest.mark.parametrize(
    ("turtle", "expected"),
    [
        (TURTLE, []),
        (changed("fo:accompanies symptom:light-out", "fo:accompanies symptom:noisy"),
         [("symptom-without-fault", "code-e1")]),
        (changed("fo:symptom symptom:light-out", "fo:symptom symptom:noisy"), [("symptom-without-fault", "code-e1")]),
        (changed("fo:accompanies symptom:light-out", "fo:accompanies symptom:dead"), []),
    ],
    ids=["passes", "other symptom", "other effect", "of another fault"],
)  # fmt: skip
def test_symptoms_have_faults(turtle: str, expected: Told, ontology: Ontology) -> None:
    assert told(faults.symptoms_have_faults, turtle, ontology) == expected


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
