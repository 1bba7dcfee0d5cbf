"""The safety record, for people at a terminal."""

from __future__ import annotations

from rich.console import Console
from rich.markup import escape

from firstoff.tables.shared import revision
from firstoff_contract.record import RecordLine, SafetyRecord

_VERDICT_WORDS = {
    "pass": "pass",
    "fail": "[bold reverse]FAIL[/]",
    "not_measured": "[bold]still open[/]",
    "unknown": "[bold]unknown: no pass[/]",
    "not_applicable": "does not apply",
}


def safety_record(out: Console, answer: SafetyRecord) -> None:
    """A safety record: what the limits rest on, every line with its limit and verdict, and what to do."""
    out.print(f"[bold]{escape(answer.model.label)}[/]: safety record")
    out.print(f"Limits: {escape(answer.standard.label if answer.standard else 'no standard is told')}")
    out.print(escape(answer.standard_note), style="italic")
    out.print("; ".join(f"{fact.name}: {fact.value or 'not told'}" for fact in answer.facts), markup=False)
    for line in answer.lines:
        out.print(f"\n[bold]{escape(line.label)}[/]: {_VERDICT_WORDS[line.verdict]}")
        _limit(out, line)
        for reading in line.readings:
            over = "more than " if reading.over_range else ""
            note = f" ({reading.note})" if reading.note else ""
            out.print(f"  read: {over}{reading.value:g} {reading.unit}{note}: ", end="", markup=False)
            out.print(_VERDICT_WORDS[reading.verdict])
        out.print(f"  {line.advice}", markup=False)
    out.print(f"\n[bold]As a whole:[/] {_VERDICT_WORDS[answer.verdict]}")
    for text in answer.advice:
        out.print(f"  {text}", markup=False)
    revision(out, answer.revision)


def _limit(out: Console, line: RecordLine) -> None:
    limit = line.limit
    if limit is not None:
        said = f"at most {limit.at_most:g}" if limit.at_most is not None else f"at least {limit.at_least:g}"
        clause = f", {limit.clause}" if limit.clause else ""
        out.print(f"  limit: {said} {limit.unit}. {limit.why}", markup=False)
        out.print(f"  from: {limit.standard}, {limit.edition}{clause} ({limit.confirmed})", markup=False)
    if line.verdict in ("not_measured", "unknown"):
        out.print(f"  how: {line.how}", markup=False)
