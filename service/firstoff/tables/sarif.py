"""Findings as SARIF, for editors and continuous integration.

Static Analysis Results Interchange Format 2.1.0, OASIS Standard, 2020. A row of a workbook is a logical location, as
SARIF's regions are of text.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from firstoff import __version__

if TYPE_CHECKING:
    from firstoff.authoring.findings import Finding, Report


def sarif(checked: Sequence[Report]) -> str:
    """One run with every finding of every report."""
    findings = [finding for report in checked for finding in report.findings]
    rules = sorted({finding.rule for finding in findings})
    driver = {"name": "firstoff", "version": __version__, "rules": [{"id": rule} for rule in rules]}
    run = {
        "tool": {"driver": driver},
        "results": [_result(finding, rules.index(finding.rule)) for finding in findings],
        "columnKind": "unicodeCodePoints",
    }
    document = {"$schema": "https://json.schemastore.org/sarif-2.1.0.json", "version": "2.1.0", "runs": [run]}
    return json.dumps(document, ensure_ascii=False, indent=2)


def _result(finding: Finding, rule: int) -> dict[str, Any]:
    named = f"{finding.label} ({finding.resource}): " if finding.label and finding.resource else ""
    location: dict[str, Any] = {"physicalLocation": {"artifactLocation": {"uri": finding.file.replace("\\", "/")}}}
    if finding.sheet is None and finding.line is not None:
        location["physicalLocation"]["region"] = {"startLine": finding.line}
    logical = [{"fullyQualifiedName": finding.where}] if finding.sheet is not None else []
    if finding.resource:
        logical.append({"name": finding.resource})
    if logical:
        location["logicalLocations"] = logical
    return {
        "ruleId": finding.rule,
        "ruleIndex": rule,
        "level": finding.severity.value,
        "message": {"text": f"{named}{finding.message} {finding.mend}"},
        "locations": [location],
    }
