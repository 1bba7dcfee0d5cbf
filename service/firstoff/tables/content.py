"""Searches, models and the check of content, for people at a terminal."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING

from rich.console import Console
from rich.markup import escape
from rich.table import Table

from firstoff.tables.shared import revision
from firstoff_contract.catalogue import ModelList
from firstoff_contract.search import SearchAnswer

if TYPE_CHECKING:
    from firstoff.authoring.findings import Report


def hits(out: Console, answer: SearchAnswer) -> None:
    """Hits, best first; symptoms with their faults."""
    if not answer.hits:
        words = f" Try: {', '.join(answer.suggestions)}." if answer.suggestions else ""
        out.print(f"Nothing good was found for {answer.query!r}.{words}", markup=False)
        return
    for hit in answer.hits:
        out.print(
            f"[bold]{escape(hit.label)}[/]  {hit.kind} {escape(hit.id)}  {hit.score:.2f}  "
            f"matched: {escape(hit.matched)}"
        )
        out.print(f"  on: {', '.join(hit.models)}", markup=False)
        for fault in hit.faults:
            out.print(f"  {fault.share:4.0%}  {escape(fault.label)}  ({escape(', '.join(fault.models))})")
            for check in fault.checks[:2]:
                out.print(
                    f"        check: {escape(check.label)} ({check.minutes:g} min{', live' if check.live else ''})"
                )
    revision(out, answer.revision)


def models(out: Console, answer: ModelList) -> None:
    """Models, or the nearest where none matched."""
    if not answer.models:
        out.print("No model has that number." + (" The nearest:" if answer.nearest else ""))
    table = Table(box=None, pad_edge=False)
    for heading in ("model", "number", "what it is", "maker", "platform"):
        table.add_column(heading)
    for each in answer.models or answer.nearest:
        table.add_row(*(escape(text) for text in (each.id, each.number, each.label, each.maker, each.platform.label)))
    out.print(table)


def reports(out: Console, checked: Sequence[Report]) -> None:
    """What a check found, file by file."""
    for report in checked:
        errors = sum(finding.severity == "error" for finding in report.findings)
        warnings = len(report.findings) - errors
        verdict = "passed" if report.ok else "refused"
        out.print(f"[bold]{escape(str(report.file))}[/]: {verdict}, {errors} errors, {warnings} warnings")
        for finding in report.findings:
            where = f"line {finding.line}: " if finding.line else ""
            out.print(f"  {finding.severity}: {where}{finding.resource or 'the file'}: {finding.message}", markup=False)
            out.print(f"    {finding.mend} [{finding.rule}]", markup=False)


def reports_json(checked: Sequence[Report]) -> str:
    """The same for programs."""
    return json.dumps(
        [asdict(report) | {"ok": report.ok} for report in checked], default=str, ensure_ascii=False, indent=2
    )
