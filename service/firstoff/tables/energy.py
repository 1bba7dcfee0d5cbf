"""Live points and isolation, for people at a terminal."""

from __future__ import annotations

from itertools import groupby

from rich.console import Console
from rich.markup import escape
from rich.table import Table

from firstoff.tables.shared import STATE_WORDS, cautions, prove, releases, revision
from firstoff_contract.energies import ComponentCurves, Energies, Saturation
from firstoff_contract.energy import IsolationAnswer, IsolationSetNote, LivePoints
from firstoff_contract.procedure import Procedure, ProcedureNote
from firstoff_contract.reading import ReadingAnswer
from firstoff_contract.socket import SocketCheck


def live_points(out: Console, answer: LivePoints) -> None:
    """Every point with its state, worst first, then what is stored."""
    out.print(f"[bold]{escape(answer.model.label)}[/]")
    out.print(f"open: {', '.join(answer.opened) or 'nothing'}; off: {', '.join(answer.off) or 'nothing'}", markup=False)
    if answer.assume:
        out.print(f"assumed: {', '.join(answer.assume)}", markup=False)
    out.print(escape(answer.notice), style="italic")
    table = Table(box=None, pad_edge=False)
    for heading in ("point", "state", "volts", "fed by", "cleared by"):
        table.add_column(heading, overflow="fold")
    worst = list(STATE_WORDS)
    for point in sorted(answer.points, key=lambda each: (worst.index(each.state), each.label)):
        volts = f"{point.volts:.4g} {point.current or ''}" if point.volts is not None else ""
        source = point.fed_by[0].label if point.fed_by else ""
        load = ", through a load" if point.through_load else ""
        load += f", if {point.fault}" if point.fault else ""
        cleared = " or ".join(" + ".join(devices) for devices in point.cleared_by)
        table.add_row(escape(point.label), STATE_WORDS[point.state], volts, escape(source + load), escape(cleared))
    out.print(table)
    for charge in answer.stored:
        volts = f"up to {charge.volts:.0f} V" if charge.volts is not None else "voltage not stated"
        volts += f", {charge.joules:g} J" if charge.joules is not None else ""
        wait = (
            f"wait {charge.wait_s:.0f} s, then measure" if charge.wait_s is not None else "no waiting time can be given"
        )
        out.print(f"[bold]Stored charge:[/] {escape(charge.label)}, {volts}; {wait}. {escape(charge.release)}")
    revision(out, answer.revision)


def isolation(out: Console, answer: IsolationAnswer) -> None:
    """Isolation sets by energy, one of each to be carried out, with releases and the prove-dead list."""
    out.print(f"[bold]{escape(answer.model.label)}[/]: to touch {escape(', '.join(answer.touch))}")
    out.print(escape(answer.notice), style="italic")
    for energy in dict.fromkeys(each.energy for each in answer.sets):
        _isolation_sets(out, energy, [each for each in answer.sets if each.energy == energy])
    for each in answer.if_neutral_proved:
        devices = ", ".join(device.label for device in each.devices)
        out.print(f"\n[bold]{escape(each.energy)}, only once neutral is measured dead to earth:[/] {escape(devices)}")
    if answer.upstream_only:
        out.print(f"\n[bold]Isolate upstream:[/] {escape(', '.join(answer.upstream_energies))}")
    for point in answer.unknown:
        out.print(f"[bold]Unknown, treat as live:[/] {escape(point)}")
    if answer.prove_dead:
        out.print("\n[bold]Prove dead[/]")
        prove(out, answer.prove_dead)
    if not (answer.sets or answer.prove_dead or answer.unknown):
        out.print("\nNothing that carries energy is described there. Treat it as live: isolate, prove dead.")
    revision(out, answer.revision)


def _isolation_sets(out: Console, energy: str, sets: list[IsolationSetNote]) -> None:
    """The sets of one energy, any one of which will do, then what to release, each once."""
    choice = " (any one of these)" if len(sets) > 1 else ""
    out.print(f"\n[bold]{escape(energy)}[/]{choice}")
    for number, each in enumerate(sets):
        if number:
            out.print("  or")
        for n, device in enumerate(each.devices, 1):
            takes = f" ({device.minutes:g} min)" if device.minutes else ""
            out.print(f"  {n}. open {escape(device.label)}{takes}: {escape(device.instruction)}")
    releases(out, list({release.id: release for each in sets for release in each.release}.values()))


_PART_WORDS = {"make_safe": "Make safe", "work": "Work", "live_test": "With the supply on", "restore": "Restore"}


def procedure(out: Console, answer: Procedure) -> None:
    """The procedure, part by part, with a box for each step and the plan's steps that it stands for."""
    targets = ", ".join(f"{each.component.label} ({each.purpose})" for each in answer.reach) or "closed up"
    out.print(f"[bold]{escape(answer.model.label)}[/]: {escape(targets)}")
    out.print(escape(answer.notice), style="italic")
    out.print(escape(answer.standard))
    cautions(out, answer.cautions)
    if not answer.needed:
        out.print("\nNothing that carries energy comes within reach by this plan.")
    out.print(f"\n[bold]Plug in hand:[/] {escape(answer.sole_control.text)}")
    if answer.upstream_only:
        out.print("[bold]Some energy can only be isolated upstream of the appliance.[/]")
    for point in answer.unknown:
        out.print(f"[bold]Unknown, treat as live:[/] {escape(point)}")
    for part, steps in groupby(answer.steps, key=lambda step: step.part):
        out.print(f"\n[bold]{_PART_WORDS[part]}[/]")
        for step in steps:
            who = f" Only: {step.competence}." if step.competence else ""
            out.print(f"  [ ] {step.n}. {step.text}{who}{_of_plan(step)}", markup=False)
            if step.clause:
                out.print(f"        {step.clause}", markup=False, style="dim")
    if answer.prove_dead:
        out.print("\n[bold]Wherever it says to prove dead[/]")
        prove(out, answer.prove_dead)
    revision(out, answer.revision)


def _of_plan(step: ProcedureNote) -> str:
    """Which steps of the plan it stands for."""
    said = [
        f"{words} {', '.join(str(ref.n) for ref in step.plan_steps if ref.way == way)}"
        for way, words in (("steps", "out"), ("refit", "back"))
        if any(ref.way == way for ref in step.plan_steps)
    ]
    return f" (plan: {'; '.join(said)})" if said else ""


_VERDICT_WORDS = {
    "supports": "[bold]speaks for it[/]",
    "fits_too": "fits too",
    "rules_out": "ruled out",
    "tells_nothing": "tells nothing",
    None: "",
}


def reading(out: Console, answer: ReadingAnswer) -> None:
    """The expected value, what could mislead, and what would be read under each fault."""
    red, black = answer.between
    words = answer.quantity.replace("ac-voltage", "a.c. voltage").replace("dc-voltage", "d.c. voltage")
    out.print(f"[bold]{escape(answer.model.label)}[/]: {words} from {escape(red.label)} to {escape(black.label)}")
    out.print(
        f"open: {', '.join(answer.opened) or 'nothing'}; thrown over: {', '.join(answer.actuated) or 'nothing'}; "
        f"off: {', '.join(answer.off) or 'nothing'}; parts at {answer.celsius:g} degrees Celsius",
        markup=False,
    )
    if answer.assume:
        out.print(f"assumed: {', '.join(answer.assume)}", markup=False)
    out.print(escape(answer.notice), style="italic")
    out.print(f"\n[bold]expected:[/] {escape(answer.expected.text)}")
    if answer.low_impedance is not None:
        out.print(f"on a low-impedance meter: {answer.low_impedance:g} V", markup=False)
    if answer.turned is not None:
        out.print(f"with the plug turned: {answer.turned.text}", markup=False)
    if answer.measured is not None or answer.measured_open:
        value = "open circuit (OL)" if answer.measured_open else f"{answer.measured:g} {answer.unit}"
        said = {True: "fits the machine as assumed", False: "[bold]does not fit[/]", None: "cannot be judged"}
        out.print(f"[bold]measured:[/] {value}: {said[answer.fits]}")
    for note in answer.notes:
        out.print(f"  {note}", markup=False)
    if answer.faults:
        table = Table(box=None, pad_edge=False)
        for heading in ("fault", "then", "measured"):
            table.add_column(heading, overflow="fold")
        for each in answer.faults:
            then = each.expected.text if each.expected is not None else "cannot be taken"
            table.add_row(escape(each.label), escape(then), _VERDICT_WORDS[each.verdict])
        out.print(table)
    revision(out, answer.revision)


def energies(out: Console, answer: Energies) -> None:
    """Every energy with what to do about it."""
    out.print(f"[bold]{escape(answer.model.label)}[/], in a room of {answer.ambient:g} degrees Celsius")
    out.print(escape(answer.notice), style="italic")
    for each in answer.energies:
        size = f": {each.size}" if each.size else ""
        out.print(f"\n[bold]{escape(each.energy.replace('-', ' '))}[/]  {escape(each.label)}{escape(size)}")
        if each.hazard:
            out.print(f"  [bold]{escape(each.hazard)}[/]")
        if each.isolated_by:
            out.print(f"  isolated by: {', '.join(device.label for device in each.isolated_by)}", markup=False)
        out.print(f"  release: {each.release}", markup=False)
        if each.minutes is not None:
            how = "computed; never permission" if each.computed else "as told; never permission"
            out.print(f"  wait: {each.minutes:.2g} min ({how})", markup=False)
        out.print(f"  verify: {each.verify}", markup=False)
        if each.competence:
            out.print(f"  only: {each.competence}", markup=False)
        if each.unknown:
            out.print(f"  not known: {'; '.join(each.unknown)}", markup=False)
    revision(out, answer.revision)


def curves(out: Console, answer: ComponentCurves) -> None:
    """Resistance over temperature."""
    out.print(f"[bold]{escape(answer.model.label)}[/]: {escape(answer.component.label)}")
    for each in answer.curves:
        out.print(
            f"\n{each.link.label} ({each.kind}, {each.lowest_celsius:g} to {each.highest_celsius:g} C)", markup=False
        )
        if each.celsius is not None:
            ends = [value for value in (each.celsius_low, each.celsius_high) if value is not None]
            band = f" ({ends[0]:g} to {ends[-1]:g})" if len(ends) == 2 else ""
            out.print(f"  {answer.ohms:g} ohm: {each.celsius:g} degrees Celsius{band}", markup=False)
            continue
        table = Table(box=None, pad_edge=False)
        for heading in ("degrees Celsius", "ohm", "from", "to"):
            table.add_column(heading, justify="right")
        for row in each.table:
            table.add_row(*(f"{value:g}" for value in (row.celsius, row.ohms, row.ohms_low, row.ohms_high)))
        out.print(table)
    revision(out, answer.revision)


def saturation(out: Console, answer: Saturation) -> None:
    """Pressure and temperature of a refrigerant."""
    burns = " It burns (A3)." if answer.flammable else ""
    out.print(
        f"{answer.refrigerant.label} at {answer.celsius:g} degrees Celsius: {answer.kilopascals_absolute:g} kPa "
        f"absolute, {answer.kilopascals_gauge:g} kPa gauge where the air has {answer.ambient_kilopascals:g} kPa."
        f"{burns}",
        markup=False,
    )
    out.print(f"within {answer.error:.3%} of {answer.source}", markup=False, style="dim")


def socket_check(out: Console, answer: SocketCheck) -> None:
    """Pairs with what a sound supply shows, then what may be the matter."""
    out.print(f"[bold]{escape(answer.model.label)}[/]: {escape(answer.supply.label)}")
    out.print(escape(answer.notice), style="italic")
    table = Table(box=None, pad_edge=False)
    for heading in ("between", "sound", "measured"):
        table.add_column(heading, overflow="fold")
    for each in answer.pairs:
        sound = "nothing can be said" if each.low is None else f"{each.low:g} to {each.high:g} V"
        table.add_row(escape(each.pair), sound, "" if each.measured is None else f"{each.measured:g} V")
    out.print(table)
    for condition in answer.conditions:
        fits = {True: "[bold]fits[/]", False: "does not fit", None: ""}[condition.fits]
        danger = " [bold reverse]DANGER[/]" if condition.danger and condition.fits is not False else ""
        shown = ", ".join(f"{pair} {low:g} to {high:g} V" for pair, (low, high) in condition.volts.items())
        out.print(f"\n{escape(condition.label)}{danger}  {fits}")
        out.print(f"  {shown or 'any voltage'}", markup=False)
        if condition.fits is not False:
            out.print(f"  {condition.mend}", markup=False)
    for note in answer.notes:
        out.print(f"\n{note}", markup=False)
    revision(out, answer.revision)
