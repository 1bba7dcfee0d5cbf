from __future__ import annotations

import re
from pathlib import Path

import pyoxigraph as ox
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.authoring import check
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


def test_every_rule_name_has_an_example() -> None:
    """Each name that a module gives to a problem stands in a test beside this one."""
    sources = [path.read_text(encoding="utf-8") for path in Path(check.__file__).parent.glob("*.py")]
    tests = "\n".join(path.read_text(encoding="utf-8") for path in Path(__file__).parent.glob("test_*.py"))
    names = {name for text in sources for name in re.findall(r'(?:error|warning)\(\s*"([a-z-]+)"', text)}
    assert len(names) > 25
    assert {name for name in names if f'"{name}"' not in tests} == set()


def test_what_no_rule_tells_is_told_all_the_same(ontology: Ontology, monkeypatch: pytest.MonkeyPatch) -> None:
    """Content that cannot be compiled never passes, even if no shape and no rule knew why."""
    monkeypatch.setattr(check, "shape_problems", lambda *_: iter(()))
    (finding,) = check_text(changed("fo:minutesOut 0.2", "fo:minutesOut 0.2, 0.3"), NAME, ontology).findings
    assert (finding.rule, finding.severity) == ("cannot-be-read", Severity.ERROR)


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
    report = check_text(changed("fo:order 1 ;", "fo:order 1", start="p:finish-1"), NAME, ontology)
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
TRIPLES = read_turtle(TURTLE, NAME).triples
PLACES = st.integers(0, len(TRIPLES) - 1)


def edited(edits: list[tuple[str, int, int]]) -> str:
    """The small platform with statements dropped, or given the value or the property of another."""
    triples = list(TRIPLES)
    for edit, place, other in edits:
        subject, prop, value = triples[place].subject, triples[place].predicate, triples[place].object
        if edit == "value":
            triples[place] = ox.Triple(subject, prop, TRIPLES[other].object)
        elif edit == "property":
            triples[place] = ox.Triple(subject, TRIPLES[other].predicate, value)
    dropped = {place for edit, place, _ in edits if edit == "drop"}
    return "\n".join(f"{triple} ." for place, triple in enumerate(triples) if place not in dropped)


@settings(max_examples=25)
@given(st.lists(st.tuples(st.sampled_from(["drop", "value", "property"]), PLACES, PLACES), max_size=6))
def test_a_file_that_passes_can_be_served(edits: list[tuple[str, int, int]]) -> None:
    """Whatever is said or left unsaid, the check ends in a report, and where it is ok every model compiles."""
    turtle = edited(edits)
    report = check_text(turtle, NAME, ONTOLOGY)
    draft = draft_of(turtle, ONTOLOGY)
    assert draft.broken is None or not report.ok
    assert bool(draft.variants) == (draft.broken is None)
