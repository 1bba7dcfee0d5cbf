"""Tables for authors: a draft beside what is published, versions, differences."""

from __future__ import annotations

from collections.abc import Sequence

from rich.console import Console
from rich.markup import escape
from rich.table import Table

from firstoff_contract.authoring import (
    DifferenceNote,
    FaultPlace,
    FindingNote,
    GraphCheck,
    GraphList,
    ModelChange,
    Published,
    VersionList,
)

#: Lines of each sort that are shown of a model; --json has them all.
_MOST = 12


def preview(out: Console, answer: GraphCheck) -> None:
    """Findings, what the draft says otherwise, and what that changes model by model."""
    _findings(out, answer.findings)
    against = f"revision {answer.compared_with}" if answer.compared_with else "nothing: the platform is new"
    out.print(f"{answer.platform}: {'passed the check' if answer.ok else 'did not pass'}; compared with {against}")
    out.print(f"\n[bold]Said otherwise[/] ({len(answer.differences)})")
    differences(out, answer.differences[: 3 * _MOST])
    _more(out, len(answer.differences) - 3 * _MOST)
    if not answer.ok:
        out.print("\nWhat it would change for a technician is told once the errors are mended.")
        return
    out.print("\n[bold]What it changes for a technician[/]")
    if not answer.models:
        out.print("Nothing: no plan, no live point, no charge and no ranking differs.")
    for model in answer.models:
        _model(out, model)
    if not answer.complete:
        out.print("[yellow]Not every plan was compared: time ended.[/]")


def _model(out: Console, change: ModelChange) -> None:
    where = f", {change.serial_range}" if change.serial_range else ""
    out.print(f"\n[bold]{escape(change.model.label)}[/] ({escape(change.model.id + where)}): {change.sort}")
    plans = [
        f"{each.component.label}: {_minutes(each.minutes_before)} to {_minutes(each.minutes_after)} min; "
        f"off {', '.join(each.off_after) or 'nothing'}"
        + (f" (before {', '.join(each.off_before) or 'nothing'})" if each.off_before != each.off_after else "")
        for each in change.plans
    ]
    points = [
        f"{each.point.label} with {', '.join(ref.label for ref in each.opened) or 'nothing'} open: "
        f"{_condition(each.before)} becomes {_condition(each.after)}"
        for each in change.points
    ]
    charges = [
        f"{each.capacitor.label}: {_charge(each.volts_before, each.seconds_before)} becomes "
        f"{_charge(each.volts_after, each.seconds_after)}"
        for each in change.charges
    ]
    faults = [
        f"{each.symptom.label}: {_ranking(each.after)} (before {_ranking(each.before)})" for each in change.faults
    ]
    for title, lines in (("points", points), ("charges", charges), ("plans", plans), ("faults", faults)):
        if lines:
            out.print(f"  {title} ({len(lines)})")
            for line in lines[:_MOST]:
                out.print(f"    {line}", markup=False, highlight=False)
            _more(out, len(lines) - _MOST)


def _minutes(minutes: float | None) -> str:
    return "cannot be reached" if minutes is None else f"{minutes:g}"


def _condition(condition: str | None) -> str:
    return "not there" if condition is None else condition.replace("_", " ")


def _charge(volts: float | None, seconds: float | None) -> str:
    held = "unknown" if volts is None else f"{volts:.0f} V"
    return f"{held}, {'no time vouched for' if seconds is None else f'{seconds:.3g} s'}"


def _ranking(places: Sequence[FaultPlace]) -> str:
    told = [f"{each.fault.label} {each.share:.0%}" for each in places[:2]]
    return ", ".join(told) or "no fault"


def published(out: Console, done: Published) -> None:
    """The version, its differences and the models it touches."""
    _findings(out, done.warnings)
    version = done.version
    out.print(
        f"{done.platform}: version {version.number} {version.act} by {version.who or 'nobody known'}", markup=False
    )
    differences(out, done.differences[: 3 * _MOST])
    _more(out, len(done.differences) - 3 * _MOST)
    touched = ", ".join(f"{each.label} ({each.id})" for each in done.models)
    out.print(f"touches {touched or 'no model'}", markup=False, highlight=False)


def graphs(out: Console, answer: GraphList) -> None:
    table = Table(box=None, pad_edge=False)
    for heading in ("platform", "status", "versions", "revision", "models"):
        table.add_column(heading, overflow="fold")
    for each in answer.graphs:
        models = ", ".join(ref.id for ref in each.models)
        cells = (each.platform, each.status or "not served", str(each.versions), each.revision or "", models)
        table.add_row(*(escape(cell) for cell in cells))
    out.print(table)


def versions(out: Console, answer: VersionList) -> None:
    if not answer.versions:
        out.print(f"{answer.platform} was put into the folder by other means and never published.", markup=False)
        return
    table = Table(box=None, pad_edge=False)
    for heading in ("version", "what", "when", "who", "why", "revision"):
        table.add_column(heading, overflow="fold", no_wrap=heading in ("when", "revision"))
    for each in answer.versions:
        what = f"version {each.restored} {each.act}" if each.restored else each.act
        table.add_row(*(escape(t) for t in (str(each.number), what, each.when, each.who, each.why, each.revision)))
    out.print(table)


def differences(out: Console, found: Sequence[DifferenceNote]) -> None:
    """A line for each thing that differs."""
    if not found:
        out.print("no difference")
    for each in found:
        out.print(f"{each.what} {each.label} ({each.resource}): {each.sort}", markup=False, highlight=False)
        for sentence in each.sentences:
            out.print(f"    {sentence}", markup=False, highlight=False)


def _findings(out: Console, findings: Sequence[FindingNote]) -> None:
    for each in findings:
        place = each.file + (f", {each.sheet}" if each.sheet else "") + (f", line {each.line}" if each.line else "")
        style = "red" if each.severity == "error" else "yellow"
        out.print(f"[{style}]{each.severity}[/] {escape(place)}: {escape(each.message)} {escape(each.mend)}")


def _more(out: Console, count: int) -> None:
    if count > 0:
        out.print(f"    and {count} more; --json has them all")
