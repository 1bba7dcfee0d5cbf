"""The check of a platform's file: syntax, then shapes, then what needs thought beyond shapes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from firstoff.authoring import (
    circuit,
    earth,
    faults,
    handling,
    isolation,
    names,
    plates,
    proof,
    references,
    service_modes,
    states,
    texts,
    variants,
    ways,
)
from firstoff.authoring.digest import digest_of
from firstoff.authoring.draft import Draft, read_draft
from firstoff.authoring.findings import Finding, Problem, Report, Severity, error
from firstoff.authoring.ontology import Ontology, load_ontology
from firstoff.authoring.shapes import shape_problems
from firstoff.authoring.turtle import read_turtle, to_rdflib
from firstoff.errors import ContentBroken, ContentSyntax

Rule = Callable[[Draft], Iterable[Problem]]

#: Everything looked at beyond the shapes, in the order of the findings.
RULES: tuple[Rule, ...] = (
    names.one_platform,
    names.classes,
    names.addresses,
    names.in_english,
    names.model_slugs,
    texts.languages_lacking,
    texts.reviewed_has_source,
    references.references,
    plates.numbers_read_alike,
    plates.serial_ranges,
    states.contradictory_states,
    states.preparations_of_one_variable,
    states.work_isolated,
    states.live_not_isolated,
    ways.never,
    ways.never_reached,
    ways.fixed_components,
    faults.nothing_inside_itself,
    handling.fastenings_have_tools,
    handling.customer_ways,
    circuit.unused_devices,
    circuit.unjoined_points,
    circuit.floating_sources,
    circuit.bleeds_across,
    circuit.isolating_poles,
    circuit.supply_facts,
    circuit.floating_parts,
    isolation.isolated_by_isolating_devices,
    isolation.isolation_complete,
    isolation.isolating_devices_in_reach,
    isolation.wet_work_shut_off,
    earth.earth_wires_named,
    earth.removed_parts_unbonded,
    isolation.clearable,
    variants.guards_left_out,
    variants.circuits_cut,
    variants.primaries_left_out,
    variants.remedies_left_out,
    faults.checks_have_ways_in,
    faults.faults_can_be_confirmed,
    faults.faults_are_told_apart,
    faults.symptoms_have_faults,
    faults.remedies_can_be_done,
    service_modes.steps_in_order,
    service_modes.power_is_told,
    service_modes.switched_by_controls,
    service_modes.running_has_a_caution,
    proof.checks_in_time,
    proof.limits_known,
)


def check_file(path: Path, ontology: Ontology | None = None) -> Report:
    """Check one Turtle file against the ontology (the package's own unless given).

    :raises OSError: the file cannot be read.
    """
    return _check(path.read_bytes(), str(path), ontology or load_ontology())[0]


def check_text(turtle: str, name: str, ontology: Ontology | None = None) -> Report:
    """Check a Turtle text as if it stood in the file ``name``, which is ``<platform>.ttl``."""
    return _check(turtle.encode(), name, ontology or load_ontology())[0]


def check_beside(
    turtle: str, name: str, others: Mapping[str, tuple[str, str]], ontology: Ontology | None = None
) -> Report:
    """As ``check_text``, and that no model number reads like one of ``others``: slug to number and file."""
    report, draft = _check(turtle.encode("utf-8", "surrogatepass"), name, ontology or load_ontology())
    return report if draft is None else _beside(report, draft, others)


def check_files(paths: Sequence[Path], ontology: Ontology | None = None) -> tuple[Report, ...]:
    """Check several files, and that no model number of one reads like a model number of another.

    :raises OSError: a file cannot be read.
    """
    ontology = ontology or load_ontology()
    checks = {path: _check(path.read_bytes(), str(path), ontology) for path in paths}
    numbers = {path: plates.model_numbers(draft) if draft else {} for path, (_, draft) in checks.items()}
    reports: list[Report] = []
    for path, (report, draft) in checks.items():
        others = {
            slug: (number, other.name) for other in checks if other != path for slug, number in numbers[other].items()
        }
        reports.append(report if draft is None else _beside(report, draft, others))
    return tuple(reports)


def _beside(report: Report, draft: Draft, others: Mapping[str, tuple[str, str]]) -> Report:
    """The report with the model numbers that read like one of another file."""
    told = {(finding.rule, finding.resource) for finding in report.findings}
    more = [_placed(each, draft) for each in plates.alike(plates.model_numbers(draft), others)]
    fresh = (finding for finding in more if (finding.rule, finding.resource) not in told)
    return replace(report, findings=_ordered((*report.findings, *fresh)))


def _check(content: bytes, name: str, ontology: Ontology) -> tuple[Report, Draft | None]:
    digest = digest_of(content, ontology.digest)
    try:
        document = read_turtle(content.decode("utf-8"), name)
    except UnicodeDecodeError as problem:
        line = content[: problem.start].count(b"\n") + 1
        return Report(name, digest, (_unreadable(name, line, "this line is not UTF-8"),)), None
    except ContentSyntax as problem:
        return Report(name, digest, (_unreadable(name, problem.line, problem.expected),)), None
    draft = read_draft(name, document, ontology)
    return Report(name, digest, _ordered(_placed(problem, draft) for problem in _problems(draft))), draft


def _problems(draft: Draft) -> Iterator[Problem]:
    graph = to_rdflib(draft.document.triples)
    unknown = references.unknown_references(draft)
    found = list(shape_problems(draft.document, graph, draft.ontology, draft.owners, unknown))
    broken = [draft.broken] if draft.broken is not None else []
    for rule in RULES:
        try:
            found.extend(rule(draft))
        except ContentBroken as problem:  # told by a shape as a rule, which knows the mend
            broken.append(problem.detail)
    if broken and not any(problem.severity is Severity.ERROR for problem in found):
        found.append(error("cannot-be-read", None, broken[0], "Mend the resource that is named."))
    yield from dict.fromkeys(found)


def _placed(problem: Problem, draft: Draft) -> Finding:
    slug = problem.resource or ""
    return Finding(
        problem.severity,
        problem.rule,
        problem.resource,
        draft.labels.get(slug),
        problem.message,
        problem.mend,
        draft.name,
        draft.document.lines.get(slug),
    )


def _unreadable(name: str, line: int | None, expected: str) -> Finding:
    return Finding(
        Severity.ERROR,
        "syntax",
        None,
        None,
        f"The file cannot be read: {expected}. Nothing of it was looked at.",
        "Mend this line, or the end of the statement before it.",
        name,
        line,
    )


def _ordered(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    return tuple(
        sorted(
            findings, key=lambda each: (each.severity is not Severity.ERROR, each.line or 0, each.rule, each.message)
        )
    )
