from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.authoring.check import RULES, Rule, check_file, check_files, check_text
from firstoff.authoring.digest import digest_of
from firstoff.authoring.findings import Severity
from firstoff.authoring.ontology import Ontology, load_ontology
from firstoff.authoring.turtle import read_turtle
from support.drafts import draft_of, problems
from support.small_platform import FILE, NAME, TURTLE, changed, with_more


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.__name__)
def test_small_platform_passes_every_rule(rule: Rule, ontology: Ontology) -> None:
    assert problems(rule, TURTLE, ontology) == []


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.__name__)
def test_every_rule_bears_an_empty_file(rule: Rule, ontology: Ontology) -> None:
    assert {problem.rule for problem in problems(rule, "", ontology)} <= {"one-platform"}


def test_rules_and_mends_are_written_alike(ontology: Ontology) -> None:
    spoilt = changed("fo:needsOff p:tray", "fo:needsOff p:trey").replace("fo:needsState p:supply-isolated ;", "")
    findings = check_text(spoilt, NAME, ontology).findings
    assert len(findings) > 2
    for finding in findings:
        assert finding.rule == finding.rule.lower().replace("_", "-")
        assert finding.message[0].isupper() or finding.message.startswith("fo:")
        assert finding.message.endswith(".")
        assert finding.mend.endswith(".")


def test_place_of_a_finding(ontology: Ontology) -> None:
    turtle = changed("fo:minutesOut 0.2", "fo:minutesOut 0")
    (finding,) = check_text(turtle, NAME, ontology).findings
    assert (finding.severity, finding.rule) == (Severity.ERROR, "removal-minutes-out")
    assert (finding.resource, finding.label, finding.file) == ("tray-off", "drip tray out", NAME)
    assert (
        finding.line
        == turtle.splitlines().index(next(x for x in turtle.splitlines() if x.startswith("p:tray-off"))) + 1
    )
    assert finding.message.endswith('Found: "0".')


def test_blank_node_is_told_at_its_resource(ontology: Ontology) -> None:
    (finding,) = check_text(changed("fo:count 4", "fo:count 0"), NAME, ontology).findings
    assert (finding.rule, finding.resource) == ("fastening-count", "cover-off")


def test_missing_value_is_told_once(ontology: Ontology) -> None:
    turtle = changed(' ; rdfs:label "inside"@en', "")
    (finding,) = check_text(turtle, NAME, ontology).findings
    assert (finding.rule, finding.message.endswith("Found: none.")) == ("label", True)


def test_syntax_error_and_nothing_else(ontology: Ontology) -> None:
    report = check_text(TURTLE.replace("fo:order 1 ;", "fo:order 1"), NAME, ontology)
    (finding,) = report.findings
    assert (finding.rule, finding.severity, finding.file) == ("syntax", Severity.ERROR, NAME)
    assert finding.line == next(n for n, line in enumerate(TURTLE.splitlines(), 1) if line.startswith("p:finish-1"))
    assert not report.ok


def test_file_that_is_not_utf8(tmp_path: Path, ontology: Ontology) -> None:
    path = tmp_path / NAME
    path.write_bytes(b"# first\n# caf\xe9\n")
    (finding,) = check_file(path, ontology).findings
    assert (finding.rule, finding.line) == ("syntax", 2)


def test_errors_come_before_warnings(ontology: Ontology) -> None:
    turtle = with_more("""
p:lone a fo:Point ; rdfs:label "lone"@en ; fo:onComponent p:box .
""").replace("fo:minutesOut 0.2", "fo:minutesOut 0")
    findings = check_text(turtle, NAME, ontology).findings
    severities = [finding.severity for finding in findings]
    assert severities == sorted(severities)
    assert severities.count(Severity.ERROR) == 1
    assert severities.count(Severity.WARNING) == 1


def test_file_and_text_give_the_same(ontology: Ontology) -> None:
    by_file, by_text = check_file(FILE, ontology), check_text(TURTLE, str(FILE), ontology)
    assert by_file == by_text
    assert by_file.ok
    assert by_file.digest == digest_of(FILE.read_bytes(), ontology.digest)


def test_without_an_ontology_the_package_s_own_is_read(ontology: Ontology) -> None:
    assert check_text("", "x.ttl") == check_text("", "x.ttl", ontology)


def test_model_numbers_are_compared_across_files(tmp_path: Path, ontology: Ontology) -> None:
    one, other = tmp_path / NAME, tmp_path / "other-box.ttl"
    one.write_text(TURTLE, encoding="utf-8")
    moved = TURTLE.replace("small-box", "other-box").replace("model/box-", "model/boxy-")
    other.write_text(moved.replace('"BOX 20"', '"B0X/20"').replace('"BOX 10"', '"BOXY 10"'), encoding="utf-8")
    first, second = check_files([one, other], ontology)
    assert [(finding.rule, finding.resource) for finding in first.errors] == [("numbers-read-alike", "box-20")]
    assert [(finding.rule, finding.resource) for finding in second.errors] == [("numbers-read-alike", "boxy-20")]
    assert "other-box.ttl" in first.errors[0].message
    assert all(report.ok for report in check_files([one], ontology))


ONTOLOGY = load_ontology()
STATEMENTS = tuple(f"{triple} ." for triple in read_turtle(TURTLE, NAME).triples)


@settings(max_examples=40)
@given(missing=st.frozensets(st.integers(0, len(STATEMENTS) - 1), max_size=4))
def test_a_file_that_passes_can_be_served(missing: frozenset[int]) -> None:
    """Whatever statements are missing, the check ends in a report, and where it is ok every model compiles."""
    turtle = "\n".join(statement for number, statement in enumerate(STATEMENTS) if number not in missing)
    report = check_text(turtle, NAME, ONTOLOGY)
    left = draft_of(turtle, ONTOLOGY)
    assert left.broken is None or not report.ok
    assert bool(left.variants) == (left.broken is None)
