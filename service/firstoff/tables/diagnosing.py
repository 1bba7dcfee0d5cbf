"""Diagnosis for people at a terminal."""

from __future__ import annotations

from rich.console import Console
from rich.table import Table

from firstoff_contract.diagnosis import CarryAnswer, Diagnosis, GuardNote, NextStep, ReadingNote, UnderstoodNote


def diagnosis(out: Console, answer: Diagnosis) -> None:
    """The likely faults, then what to do next and what each outcome would mean."""
    _understood(out, answer.understood)
    out.print(answer.said, markup=False)
    for finding in answer.conflict.findings if answer.conflict else ():
        out.print(f"  check again: {finding.label} ({finding.kind})", markup=False)
    for reading in answer.readings:
        _reading(out, reading)
    table = Table("fault", "share", "jobs", "moved most by", box=None, pad_edge=False)
    for fault in answer.faults[:8]:
        most = max(fault.moved, key=lambda each: abs(each.after - each.before), default=None)
        why = f"{most.finding}: {most.before:.0%} to {most.after:.0%}" if most else ""
        table.add_row(fault.label, f"{fault.share:.0%}", str(fault.frequency.jobs or ""), why)
    if answer.faults:
        out.print(table, markup=False)
    for pair in answer.pairs:
        out.print("perhaps both: " + " and ".join(each.label for each in pair.faults), markup=False)
    for fault in answer.faults[:8]:
        if fault.guard and not fault.guard.confirmed_by:
            _guard(out, fault.guard)
    if answer.next is not None:
        sure = "the least of all ways considered" if answer.exact else f"not proved least; at least {answer.bound}"
        out.print(f"expected to a repaired machine: {answer.expected_minutes} minutes ({sure})", markup=False)
        out.print(f"worked out for {answer.considered:.0%} of the shares: the likeliest faults", markup=False)
        _step(out, answer.next, "")
    out.print(answer.learned.said, markup=False)
    for mode in answer.service_modes:
        out.print(f"{mode.label}: {mode.instruction}", markup=False)
    out.print(answer.notice, style="italic", markup=False)


def carry(out: Console, answer: CarryAnswer) -> None:
    """Parts, tools and consumables, and the chance that one visit suffices."""
    _understood(out, answer.understood)
    out.print("parts: " + (", ".join(each.label for each in answer.parts) or "none"), markup=False)
    out.print(f"one visit suffices: {answer.chance:.0%}", markup=False)
    out.print("tools: " + ", ".join(each.label for each in answer.tools), markup=False)
    out.print("consumables: " + (", ".join(answer.consumables) or "none"), markup=False)
    out.print(answer.learned.said, markup=False)
    out.print(answer.notice, style="italic", markup=False)


def _reading(out: Console, note: ReadingNote) -> None:
    fits = {True: "fits", False: "does not fit", None: "cannot be judged by"}[note.fits]
    out.print(f"{note.label}: {fits} a sound machine, {note.expected}", markup=False)
    for said, faults in (("speaks for", note.supports), ("speaks against", note.rules_out)):
        if faults:
            out.print(f"  {said}: {', '.join(each.label for each in faults)}", markup=False)
    if note.circuit:
        out.print(f"  or, in the circuit alone: {', '.join(note.circuit)}", markup=False)
    for each in note.notes:
        out.print(f"  {each}", markup=False)


def _guard(out: Console, note: GuardNote) -> None:
    out.print(f"do not replace on suspicion: {note.part.label} ({note.why})", markup=False)
    if note.look_alikes:
        out.print("  looks alike and costs less: " + "; ".join(each.label for each in note.look_alikes), markup=False)
    out.print(
        "  confirmed by: " + ("; ".join(each.label for each in note.confirm) or "no check described"), markup=False
    )


def _step(out: Console, step: NextStep, indent: str) -> None:
    live = " (live)" if step.live else ""
    out.print(f"{indent}next: {step.label}{live}, {step.minutes} minutes", markup=False)
    if step.instruction:
        out.print(f"{indent}  {step.instruction}", markup=False)
    if step.opens and step.reach:
        out.print(f"{indent}  to get there, ask first: make-safe and plan with {step.reach}", markup=False)
    for then in step.then:
        after = f", then {then.next_step}" if then.next_step and not then.step else ""
        out.print(f"{indent}  - {then.outcome} ({then.probability:.0%}){after}", markup=False)
        if then.step:
            _step(out, then.step, indent + "    ")


def _understood(out: Console, notes: list[UnderstoodNote]) -> None:
    for note in notes:
        others = ", ".join(each.id for each in note.others)
        rest = f" (or: {others})" if others else ""
        out.print(f"{note.words!r} is taken for {note.taken_for.label}{rest}", markup=False)
