"""Codes and service modes for people at a terminal."""

from __future__ import annotations

from rich.console import Console
from rich.table import Table

from firstoff_contract.codes import (
    CodeDetail,
    CodeList,
    DrivenPoint,
    ServiceModeDetail,
    ServiceModeList,
    ServiceStepNote,
)
from firstoff_contract.common import CautionNote, Ref

_SUPPLY = {"on": "ON", "off": "off", "not-told": "not told: take it as ON"}
_STATES = {"live": "LIVE", "unknown": "UNKNOWN: take it as live"}


def codes(out: Console, answer: CodeList) -> None:
    """Every code with the faults it points to."""
    table = Table("code", "means", "points to", box=None, pad_edge=False)
    for each in answer.codes:
        table.add_row(each.notation, each.label, "; ".join(fault.label for fault in each.faults) or "nothing described")
    out.print(table, markup=False)
    _modes(out, answer.read_with, answer.clear_with)
    out.print(answer.notice, style="italic", markup=False)


def code(out: Console, answer: CodeDetail) -> None:
    """One code: what it says, what it does not, what to do first, how it goes."""
    out.print(f"{answer.code.notation}: {answer.code.label}", markup=False)
    if answer.set_when:
        out.print(f"shown when: {answer.set_when}", markup=False)
    if answer.code.symptoms:
        there = "; ".join(each.label for each in answer.code.symptoms)
        out.print(f"counts as there, unless it is given as absent: {there}", markup=False)
    table = Table("fault", "before", "with the code", "", box=None, pad_edge=False)
    for each in answer.faults:
        besides = "" if each.pointed_to else "not pointed to"
        table.add_row(each.label, f"{each.before:.0%}", f"{each.after:.0%}", besides)
    out.print(table, markup=False)
    out.print("It does not prove:", markup=False)
    for said in answer.does_not_prove:
        out.print(f"  - {said}", markup=False)
    if answer.first is not None:
        live = " (live)" if answer.first.live else ""
        out.print(f"first: {answer.first.label}{live}, {answer.first.minutes} minutes", markup=False)
        if answer.first.instruction:
            out.print(f"  {answer.first.instruction}", markup=False)
        if answer.first.opens and answer.first.reach:
            out.print(f"  to get there, ask first: make-safe and plan with {answer.first.reach}", markup=False)
    if answer.clearing:
        out.print(f"it goes: {answer.clearing}", markup=False)
    _modes(out, answer.read_with, answer.clear_with)
    out.print(answer.notice, style="italic", markup=False)


def service_modes(out: Console, answer: ServiceModeList) -> None:
    """Each mode with its cautions before its steps."""
    out.print(answer.notice, style="italic", markup=False)
    if not answer.service_modes:
        out.print("No service mode is described.", markup=False)
    for mode in answer.service_modes:
        _mode(out, mode)


def _modes(out: Console, read: list[Ref], clear: list[Ref]) -> None:
    for said, modes in (("stored codes are read in", read), ("and cleared in", clear)):
        if modes:
            out.print(f"{said}: {', '.join(each.label for each in modes)}", markup=False)


def _mode(out: Console, mode: ServiceModeDetail) -> None:
    out.print(f"\n{mode.label}", style="bold", markup=False)
    for caution in mode.cautions:
        _caution(out, caution)
    out.print(f"  supply: {_SUPPLY[mode.supply]}", markup=False)
    if mode.needs_states:
        out.print(f"  needs: {'; '.join(each.label for each in mode.needs_states)}", markup=False)
    if mode.needs_fitted:
        out.print(f"  fitted: {'; '.join(each.label for each in mode.needs_fitted)}", markup=False)
    if not mode.steps:
        out.print(f"  {mode.instruction}", markup=False)
    for step in mode.steps:
        _step(out, step)


def _caution(out: Console, caution: CautionNote) -> None:
    out.print(f"  {caution.signal_word} {caution.text} {caution.protection}", markup=False)


def _step(out: Console, step: ServiceStepNote) -> None:
    minutes = f"  ({step.minutes:g} min)" if step.minutes is not None else ""
    if step.runs or step.live:
        on = ", ".join(each.label for each in step.runs) or "an output"
        out.print(f"     Step {step.order} SWITCHES ON: {on}", markup=False)
    for untold in step.untold:
        out.print(f"     {untold.label}: no point of it is described; take all of it as live", markup=False)
    for state, said in _STATES.items():
        points = [each for each in step.live if each.state == state]
        if points:
            out.print(f"     {said} in step {step.order}: {'; '.join(map(_point, points))}", markup=False)
    out.print(f"  {step.order}. {step.text}{minutes}", markup=False)
    if step.shows:
        out.print(f"     A sound machine: {step.shows}", markup=False)


def _point(point: DrivenPoint) -> str:
    volts = f" ({point.volts:g} V)" if point.volts is not None else ""
    return f"{point.label}{volts}"
