"""What the safety record needs, and checks that can be made in time."""

from __future__ import annotations

import pytest

from firstoff.authoring import proof
from firstoff.authoring.findings import Severity
from firstoff.authoring.ontology import Ontology
from support.drafts import problems, told
from support.small_platform import TURTLE, changed


def test_small_platform_can_be_proved_safe(ontology: Ontology) -> None:
    assert problems(proof.limits_known, TURTLE, ontology) == []
    assert problems(proof.checks_in_time, TURTLE, ontology) == []


#: what is taken away, the facts that are told to be missing
MISSING = [
    (" ; fo:builtTo standard:iec-60335", ("fo:builtTo",)),
    (' ; fo:protectionClass "I"', ("fo:protectionClass",)),
    (" ; fo:stationary true", ("fo:stationary",)),
    (' ; fo:operation "combined"', ("fo:operation",)),
    (" ; fo:cordMetres 2", ("fo:cordMetres",)),
    (" ; fo:cordSquareMillimetres 0.75", ("fo:cordSquareMillimetres",)),
    ("p:mains a fo:EnergySource", ("fo:fixed",)),
]


@pytest.mark.parametrize(("old", "facts"), MISSING)
def test_a_missing_fact_is_told_once(old: str, facts: tuple[str, ...], ontology: Ontology) -> None:
    turtle = TURTLE.replace(" ;\n    fo:builtTo", " ; fo:builtTo")
    assert old in turtle
    found = problems(
        proof.limits_known, turtle.replace(old, "p:mains-gone a fo:Zone" if "mains" in old else "", 1), ontology
    )
    assert len(found) == len(facts)
    for problem, fact in zip(found, facts, strict=True):
        assert (problem.rule, problem.resource) == ("limit-not-known", "small-box")
        assert problem.severity is Severity.WARNING
        assert fact in problem.message


def test_rated_input_of_every_model(ontology: Ontology) -> None:
    """It is missing only where neither the model nor its platform tells it."""
    only_model = TURTLE.replace(" ;\n    fo:ratedInput 60", "", 1)
    assert only_model != TURTLE
    (problem,) = problems(proof.limits_known, only_model, ontology)
    assert "fo:ratedInput" in problem.message


def test_a_check_cannot_be_before_the_cover_and_after_the_supply(ontology: Ontology) -> None:
    turtle = changed("fo:afterSupply true", "fo:afterSupply true ; fo:beforeCover true", start="p:lamp-off")
    assert told(proof.checks_in_time, turtle, ontology) == [("check-too-late", "lamp-off")]
