"""Searches, models and the check of content, for people at a terminal."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING

from rich.console import Console
from rich.markup import escape
from rich.table import Table
from rich.text import Text

from firstoff.tables.shared import cautions, counted, revision
from firstoff_contract.catalogue import ComponentDetail, ComponentList, DeviceNote, ModelDetail, ModelList, StateNote
from firstoff_contract.search import SearchAnswer, SuggestAnswer

if TYPE_CHECKING:
    from firstoff.authoring.findings import Report


#: Options of the command line whose name is not the argument's.
_OPTIONS = {"states": "--state"}


def _option(argument: str) -> str:
    return _OPTIONS.get(argument, f"--{argument}")


def hits(out: Console, answer: SearchAnswer) -> None:
    """Hits, best first; symptoms with their faults."""
    if not answer.hits:
        out.print(f"{answer.query!r}: {answer.note}", markup=False)
        if answer.suggestions:
            out.print(f"Try: {', '.join(answer.suggestions)}", markup=False)
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


def completions(out: Console, answer: SuggestAnswer) -> None:
    """Completions, best first, with what is typed already underlined."""
    if not answer.completions:
        out.print(f"Nothing goes on from {answer.query!r}.", markup=False)
        return
    table = Table(box=None, pad_edge=False, show_header=False)
    for each in answer.completions:
        text = Text(each.text)
        for start, end in each.ranges:
            text.stylize("underline", start, end)
        table.add_row(text, each.kind, Text(each.id))
    out.print(table)
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


def model(out: Console, answer: ModelDetail, argument: Callable[[str], str] = _option) -> None:
    """A model with the names that requests may use; ``argument`` is how what takes them is called."""
    out.print(f"[bold]{escape(answer.label)}[/]  {escape(answer.number)}  ({escape(answer.status)})")
    out.print(f"{answer.kind} by {answer.maker}, platform {answer.platform.label}", markup=False)
    for each in answer.differs:
        changes = [f"without {ref.label}" for ref in each.leaves_out] + [f"with {ref.label}" for ref in each.adds]
        changes += [f"{new.label} in place of {old.label}" for old, new in each.replaces]
        if changes:
            out.print(f"{each.serials or 'this model'}: {', '.join(changes)}", markup=False)
    cautions(out, answer.cautions)
    _names(
        out, f"Devices ({argument('opened')})", [(each.id, f"{each.label}{_isolates(each)}") for each in answer.devices]
    )
    _names(out, f"Capacitors ({argument('released')})", [(each.id, each.label) for each in answer.capacitors])
    _names(
        out, f"States ({argument('states')})", [(each.id, f"{each.label}{_initially(each)}") for each in answer.states]
    )
    _names(out, f"Tools ({argument('tools')})", [(each.id, each.label) for each in answer.tools])
    if argument is _option:
        out.print(f"\nIts parts: firstoff parts {answer.id}; one of them: firstoff show {answer.id} PART", markup=False)
    revision(out, answer.revision)


def _isolates(device: DeviceNote) -> str:
    return f" ({device.kind}, isolates)" if device.isolating else f" ({device.kind})"


def _initially(state: StateNote) -> str:
    return " (at the start)" if state.initial else ""


def component(out: Console, answer: ComponentDetail, argument: Callable[[str], str] = _option) -> None:
    """A part with its points and ways in, by the names that requests may use."""
    number = f", part number {answer.part_number}" if answer.part_number else ""
    out.print(f"[bold]{escape(answer.label)}[/]: {escape(answer.kind)}, {escape(answer.zone)}{escape(number)}")
    if answer.supersedes:
        out.print(f"supersedes {', '.join(answer.supersedes)}", markup=False)
    if answer.replaced_as is not None:
        out.print(f"replaced as {answer.replaced_as.label}", markup=False)
    cautions(out, answer.cautions)
    _names(out, "Points", [(each.id, each.label) for each in answer.points])
    removals = [
        (each.id, f"{each.label} ({each.minutes_out:g} + {each.minutes_back:g} min)") for each in answer.removals
    ]
    _names(out, f"Removals ({argument('off')})", removals)
    ways = [(each.id, f"{each.purpose}: {each.label}{' (live)' if each.live else ''}") for each in answer.ways_in]
    _names(out, "Ways in", ways)
    _names(out, "Faults", [(each.id, each.label) for each in answer.faults])
    revision(out, answer.revision)


def components(out: Console, answer: ComponentList) -> None:
    """The parts of a model."""
    table = Table(box=None, pad_edge=False)
    for heading in ("part", "what it is", "where", "part number"):
        table.add_column(heading, overflow="fold")
    for each in answer.components:
        label = each.label + (f" ({'; '.join(each.serials)})" if each.serials else "")
        table.add_row(*(escape(text) for text in (each.id, label, each.zone, each.part_number or "")))
    out.print(table)
    revision(out, answer.revision)


def _names(out: Console, title: str, rows: Sequence[tuple[str, str]]) -> None:
    """Names with what they stand for, or nothing where there are none."""
    if not rows:
        return
    out.print(f"\n[bold]{escape(title)}[/]")
    table = Table(box=None, pad_edge=False, show_header=False)
    table.add_column(overflow="fold")
    table.add_column(overflow="fold")
    for name, label in rows:
        table.add_row(f"  {escape(name)}", escape(label))
    out.print(table)


def reports(out: Console, checked: Sequence[Report]) -> None:
    """What a check found, file by file."""
    for report in checked:
        errors = sum(finding.severity == "error" for finding in report.findings)
        warnings = len(report.findings) - errors
        verdict = "passed" if report.ok else "refused"
        out.print(
            f"[bold]{escape(str(report.file))}[/]: {verdict}, "
            f"{counted(errors, 'error')}, {counted(warnings, 'warning')}"
        )
        for finding in report.findings:
            place = [finding.where, finding.resource or ("" if finding.sheet else "the file")]
            told = ": ".join([finding.severity, *(each for each in place if each), finding.message])
            out.print(f"  {told}", markup=False)
            out.print(f"    {finding.mend} [{finding.rule}]", markup=False)


def reports_json(checked: Sequence[Report]) -> str:
    """The same for programs."""
    return json.dumps(
        [asdict(report) | {"ok": report.ok} for report in checked], default=str, ensure_ascii=False, indent=2
    )
