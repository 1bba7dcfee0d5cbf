from __future__ import annotations

import pytest

from firstoff.authoring.check import check_text
from firstoff.authoring.ontology import Ontology
from firstoff.authoring.references import references, unknown_references
from support.drafts import draft_of, problems
from support.small_platform import NAME, TURTLE, changed


def test_small_platform_points_to_nothing_unknown(ontology: Ontology) -> None:
    assert problems(references, TURTLE, ontology) == []


@pytest.mark.parametrize(
    ("old", "new", "resource", "words", "hint"),
    [
        ("fo:needsOff p:tray", "fo:needsOff p:trey", "cover-off", "fo:needsOff names p:trey", "p:tray"),
        (
            "drive:hexalobular-t20",
            "drive:hexalobuler-t20",
            "cover-off",
            "fo:drive names drive:hexalobuler-t20",
            "drive:hexalobular-t20",
        ),
        ("fo:reaches p:buzzer", "fo:reaches p:qqqq", "see-buzzer", "fo:reaches names p:qqqq", None),
    ],
)
def test_reference_to_nothing(
    old: str, new: str, resource: str, words: str, hint: str | None, ontology: Ontology
) -> None:
    (problem,) = problems(references, changed(old, new), ontology)
    assert (problem.rule, problem.resource) == ("unknown-reference", resource)
    assert words in problem.message
    assert (f"Did you mean {hint}?" in problem.mend) if hint else ("Did you mean" not in problem.mend)


def test_shapes_do_not_tell_it_again(ontology: Ontology) -> None:
    """fo:kind takes component kinds: a name that is in no vocabulary is told once, as a reference."""
    report = check_text(changed("fo:kind component:cover", "fo:kind component:covr"), NAME, ontology)
    assert [(finding.rule, finding.resource) for finding in report.findings] == [("unknown-reference", "cover")]


def test_unknown_references_are_whole_addresses(ontology: Ontology) -> None:
    draft = draft_of(changed("fo:reaches p:buzzer", "fo:reaches p:qqqq"), ontology)
    assert unknown_references(draft) == {"https://firstoff.example/platform/small-box/qqqq"}
