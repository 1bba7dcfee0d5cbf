"""Answers as tables and lists for people at a terminal."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING

from rich.console import Console
from rich.markup import escape
from rich.table import Table

from firstoff_contract.catalogue import ModelList
from firstoff_contract.common import CautionNote, Ref
from firstoff_contract.energy import IsolationAnswer, IsolationSetNote, LivePoints, ProveDead, ReleaseNote
from firstoff_contract.reach import Exposed, Hidden, HiddenPart, WhileOpen, WithinReach
from firstoff_contract.record import RecordLine, SafetyRecord
from firstoff_contract.removal import (
    FinishNote,
    Lifting,
    LimitNote,
    Minimise,
    ParetoAnswer,
    PlanFigures,
    RejectedWay,
    RemovalPlan,
    Step,
)
from firstoff_contract.search import SearchAnswer

if TYPE_CHECKING:
    from firstoff.authoring.findings import Report

_WORD_STYLES = {"DANGER": "bold reverse", "WARNING": "bold", "CAUTION": "italic", "NOTICE": "dim"}
_MINIMISED = {"parts": "parts taken off", "single-use": "single-use parts broken", "exposure": "exposures"}
_STATE_WORDS = {
    "live": "[bold reverse]LIVE[/]",
    "off_not_isolated": "[bold]off, not isolated[/]",
    "isolated": "isolated",
    "unknown": "[bold]unknown: treat as live[/]",
}


def plan(out: Console, answer: RemovalPlan) -> None:
    """A removal plan: cautions, making safe, the steps out, the refit, the kit and the next-best plans."""
    targets = ", ".join(f"{target.component.label} ({target.purpose})" for target in answer.reach)
    proof = "proved the cheapest" if answer.optimal else f"no plan is under {answer.bound:g} min"
    if answer.minimise != "minutes":
        least = _MINIMISED[answer.minimise]
        proof = f"proved to have the fewest {least}" if answer.optimal else f"none has under {answer.bound:g} {least}"
    out.print(f"[bold]{escape(answer.model.label)}[/]: {escape(targets or 'closed up')}")
    if answer.off:
        out.print(f"off as found, put back: {escape(', '.join(ref.label for ref in answer.off))}")
    out.print(f"{answer.minutes:g} minutes out and back, {proof}.")
    out.print(_figures(answer.figures))
    out.print(escape(answer.notice), style="italic")
    _cautions(out, answer.cautions)
    safe = answer.make_safe
    if safe.needed:
        out.print("\n[bold]What is made safe, in the steps below[/]")
        for device in safe.devices:
            out.print(f"  open {escape(device.label)}: {escape(device.instruction)}")
        _releases(out, safe.release)
        _prove(out, safe.prove_dead)
        if safe.upstream_only:
            out.print("  [bold]Nothing on the machine isolates this: isolate upstream.[/]")
        for point in safe.unknown:
            out.print(f"  unknown, treat as live: {escape(point)}")
    _steps(out, "Out", answer.steps)
    _steps(out, "Back", answer.refit)
    _finish(out, answer.finish)
    if answer.waiting_minutes:
        out.print(f"\nWaits beside the work: up to {answer.waiting_minutes:g} minutes, one after the other.")
    out.print("\n[bold]Carry[/]")
    out.print(f"  tools: {escape(', '.join(tool.label for tool in answer.kit.tools) or 'none')}")
    for part in answer.kit.parts:
        out.print(f"  part: {escape(part.label)} {escape(part.part_number or '')}")
    for consumable in answer.kit.consumables:
        out.print(f"  new: {consumable.count} x {escape(consumable.label)}")
    for other in answer.alternatives:
        figure = _figure(answer.minimise, other.figures)
        out.print(f"\n[bold]Or {figure}in {other.minutes:g} minutes:[/] {escape('; '.join(other.instead))}")
    if not answer.alternatives_complete:
        out.print("\nThe search ended before all next-best plans were found: there may be more.")
    _limits(out, answer.limits, answer.liftings)
    _rejected(out, answer.rejected)
    _revision(out, answer.revision)


def pareto(out: Console, answer: ParetoAnswer) -> None:
    """The plans that no other beats, with what each is best at and does otherwise."""
    targets = ", ".join(f"{target.component.label} ({target.purpose})" for target in answer.reach)
    out.print(f"[bold]{escape(answer.model.label)}[/]: {escape(targets)}")
    proof = "proved to be all there are" if answer.complete else "there may be more; the time for proving it ended"
    out.print(f"Plans that no other beats: {len(answer.plans)}, {proof}.")
    out.print(escape(answer.notice), style="italic")
    for number, each in enumerate(answer.plans, 1):
        out.print(f"\n[bold]{number}. {each.figures.minutes:g} minutes.[/] {escape(each.text)}")
        out.print(f"   {_figures(each.figures)}")
        if number > 1:
            out.print(f"   otherwise than the quickest: {escape('; '.join(each.instead) or 'it leaves something out')}")
        out.print(f"   steps: {escape('; '.join(each.steps))}")
    _limits(out, answer.limits, [])
    _revision(out, answer.revision)


def _figures(figures: PlanFigures) -> str:
    """The figures besides minutes."""

    def some(count: int, thing: str) -> str:
        return f"{count} {thing}{'' if count == 1 else 's'}"

    return (
        f"{some(figures.parts, 'part')} taken off, {some(figures.single_use, 'single-use part')} broken, "
        f"{some(figures.exposures, 'exposure')} to a hazard."
    )


def _figure(minimise: Minimise, figures: PlanFigures) -> str:
    """What was made smallest, in a few words; nothing for minutes."""
    amounts = {"parts": figures.parts, "single-use": figures.single_use, "exposure": figures.exposures}
    return f"with {amounts[minimise]} {_MINIMISED[minimise]} " if minimise in amounts else ""


def _limits(out: Console, limits: list[LimitNote], liftings: list[Lifting]) -> None:
    """What the limits rule out, and what lifting them would be worth."""
    for limit in limits:
        out.print(f"\n[bold]Limit: {escape(limit.label)}[/]")
        for each in limit.rules_out:
            out.print(f"  rules out {escape(each.way.label)}: {escape(each.reason)}")
        if not limit.rules_out:
            out.print("  It rules out nothing that this plan could use.")
    for lifting in liftings:
        out.print(f"  {escape(lifting.text)}")


def _rejected(out: Console, ways: list[RejectedWay]) -> None:
    """The other ways, and why each was not taken."""
    if ways:
        out.print("\n[bold]Not taken[/]")
    for each in ways:
        out.print(f"  {escape(each.way.label)} (for {escape(each.of.label)}): {escape(each.reason)}")


def _steps(out: Console, title: str, steps: list[Step]) -> None:
    if not steps:
        return
    out.print(f"\n[bold]{title}[/]")
    for step in steps:
        _cautions(out, step.cautions)
        minutes = f"  ({step.minutes:g} min)" if step.minutes else ""
        minutes += f"  (wait {step.wait_minutes:g} min)" if step.wait_minutes else ""
        out.print(f"[bold]{step.n:3}. {escape(step.label)}[/]{minutes}")
        if step.because:
            out.print(f"     {escape(step.because)}", style="italic")
        if step.instruction:
            out.print(f"     {escape(step.instruction)}")
        held = [f"{each.count} x {each.kind}{f' {each.size}' if each.size else ''}" for each in step.fastenings]
        held += [each.label for each in step.connections]
        if held:
            out.print(f"     held by: {escape('; '.join(held))}")
        if step.tools:
            out.print(f"     tools: {escape(', '.join(tool.label for tool in step.tools))}")
        for hazard in step.exposures:
            out.print(f"     exposure: {escape(hazard.text)}")
        for each in step.renew:
            out.print(f"     renew: {each.count} x {escape(each.label)}")
        for each in step.consumables:
            out.print(f"     uses up: {escape(each.label)}")
        for hidden in step.hides_checks:
            out.print(f"     hides, so see it first: {hidden.component.label}: {hidden.text}", markup=False)
        for check in step.checks:
            before = " (before the next part goes on)" if check.before_cover else ""
            kind = f"{check.kind.label}: " if check.kind else ""
            out.print(f"     [ ] {kind}{check.text}{before}", markup=False)
        for point in step.exposes:
            out.print(f"     within reach: {escape(point.label)}: {_STATE_WORDS[point.state]}")


def exposed(out: Console, answer: Exposed) -> None:
    """What is within reach, then what each next removal would open."""
    off = ", ".join(ref.label for ref in answer.off)
    out.print(f"[bold]{escape(answer.model.label)}[/]: {escape(f'off: {off}' if off else 'nothing off')}")
    out.print(escape(answer.notice), style="italic")
    _cautions(out, answer.cautions)
    for state, words in _STATE_WORDS.items():
        bare = [point for point in answer.bare if point.state == state]
        if bare:
            volts = max(point.volts or 0.0 for point in bare)
            high = f", up to {volts:.4g} V" if state == "live" and volts else ""
            out.print(f"  Bare, {words}{high}: {escape('; '.join(point.label for point in bare))}", highlight=False)
    out.print("\n[bold]Within reach now[/]")
    _within(out, answer.now)
    out.print("\n[bold]One more removal[/]")
    for each in answer.next:
        first = _first(each.states)
        out.print(f"  {escape(each.way.label)}  ({each.minutes_out:g} + {each.minutes_back:g} min{escape(first)})")
        _within(out, each.opens, "    opens: ")
    _revision(out, answer.revision)


def _within(out: Console, found: Sequence[WithinReach], lead: str = "  ") -> None:
    for each in found:
        first = _first(each.states)
        out.print(f"{lead}{escape(each.component.label)}: {each.purpose}{escape(first)}", highlight=False)


def _first(states: Sequence[Ref]) -> str:
    return f"; first: {', '.join(state.label for state in states)}" if states else ""


def hidden(out: Console, answer: Hidden) -> None:
    """What stands behind a part."""
    out.print(f"[bold]{escape(answer.model.label)}[/]: behind the {escape(answer.component.label)}")
    _behind(out, "Cannot be reached while it is on", answer.always)
    _behind(out, "Reached sooner by taking it off", answer.usually)
    if not answer.always and not answer.usually:
        out.print("  nothing")
    if not answer.complete:
        out.print("The time ended before every part was looked at.", style="bold")
    _revision(out, answer.revision)


def while_open(out: Console, answer: WhileOpen) -> None:
    """Worn parts that a plan lays open."""
    out.print(f"[bold]{escape(answer.model.label)}[/]: {escape(', '.join(ref.label for ref in answer.reach))}")
    out.print(f"{answer.minutes:g} minutes. While it is open:")
    for each in answer.worth:
        part = f" {each.part_number}" if each.part_number else ""
        out.print(
            f"  [bold]{escape(each.component.label)}[/]{escape(part)}: {each.minutes_more:g} min more now", end=""
        )
        out.print(f" in place of {each.minutes_alone:g} min alone")
        for wear in each.wear:
            out.print(f"    {escape(wear.label)} ({escape(wear.failure_mode)})")
    if not answer.worth:
        out.print("  nothing with known wear")
    if not answer.complete:
        out.print("The time ended before every part was looked at.", style="bold")
    _revision(out, answer.revision)


def _behind(out: Console, title: str, parts: Sequence[HiddenPart]) -> None:
    if parts:
        out.print(f"\n[bold]{title}[/]")
    for each in parts:
        out.print(f"  {escape(each.component.label)}: {', '.join(each.purposes)}", highlight=False)


def _finish(out: Console, finish: list[FinishNote]) -> None:
    if not finish:
        return
    out.print("\n[bold]To finish[/]")
    for each in finish:
        out.print(f"  [ ] {each.text}{_waits(each.wait_minutes)}", markup=False)
        if each.competence:
            out.print(f"      only: {escape(each.competence)}")


def _waits(minutes: float | None) -> str:
    return f" Wait: {minutes:g} min." if minutes else ""


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
    _revision(out, answer.revision)


def _limit(out: Console, line: RecordLine) -> None:
    limit = line.limit
    if limit is not None:
        said = f"at most {limit.at_most:g}" if limit.at_most is not None else f"at least {limit.at_least:g}"
        clause = f", {limit.clause}" if limit.clause else ""
        out.print(f"  limit: {said} {limit.unit}. {limit.why}", markup=False)
        out.print(f"  from: {limit.standard}, {limit.edition}{clause} ({limit.confirmed})", markup=False)
    if line.verdict in ("not_measured", "unknown"):
        out.print(f"  how: {line.how}", markup=False)


def live_points(out: Console, answer: LivePoints) -> None:
    """Every point with its state, worst first, then what is stored."""
    out.print(f"[bold]{escape(answer.model.label)}[/]")
    out.print(f"open: {', '.join(answer.opened) or 'nothing'}; off: {', '.join(answer.off) or 'nothing'}", markup=False)
    out.print(escape(answer.notice), style="italic")
    table = Table(box=None, pad_edge=False)
    for heading in ("point", "state", "volts", "fed by", "cleared by"):
        table.add_column(heading, overflow="fold")
    worst = list(_STATE_WORDS)
    for point in sorted(answer.points, key=lambda each: (worst.index(each.state), each.label)):
        volts = f"{point.volts:.4g} {point.current or ''}" if point.volts is not None else ""
        source = point.fed_by[0].label if point.fed_by else ""
        load = ", through a load" if point.through_load else ""
        cleared = " or ".join(" + ".join(devices) for devices in point.cleared_by)
        table.add_row(escape(point.label), _STATE_WORDS[point.state], volts, escape(source + load), escape(cleared))
    out.print(table)
    for charge in answer.stored:
        volts = f"up to {charge.volts:.0f} V" if charge.volts is not None else "voltage not stated"
        wait = (
            f"wait {charge.wait_s:.0f} s, then measure" if charge.wait_s is not None else "no waiting time can be given"
        )
        out.print(f"[bold]Stored charge:[/] {escape(charge.label)}, {volts}; {wait}. {escape(charge.release)}")
    _revision(out, answer.revision)


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
        _prove(out, answer.prove_dead)
    if not (answer.sets or answer.prove_dead or answer.unknown):
        out.print("\nNothing that carries energy is described there. Treat it as live: isolate, prove dead.")
    _revision(out, answer.revision)


def _isolation_sets(out: Console, energy: str, sets: list[IsolationSetNote]) -> None:
    """The sets of one energy, any one of which will do, then what to release, each once."""
    choice = " (any one of these)" if len(sets) > 1 else ""
    out.print(f"\n[bold]{escape(energy)}[/]{choice}")
    for number, each in enumerate(sets):
        if number:
            out.print("  or")
        for n, device in enumerate(each.devices, 1):
            out.print(f"  {n}. open {escape(device.label)}: {escape(device.instruction)}")
    _releases(out, list({release.id: release for each in sets for release in each.release}.values()))


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
    _revision(out, answer.revision)


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


def _cautions(out: Console, cautions: list[CautionNote]) -> None:
    for each in cautions:
        out.print(
            f"  [{_WORD_STYLES[each.signal_word]}]{each.signal_word}[/] {escape(each.text)} {escape(each.protection)}"
        )


def _releases(out: Console, releases: list[ReleaseNote]) -> None:
    for each in releases:
        who = f" Only: {each.competence}." if each.competence else ""
        out.print(f"  release {escape(each.component.label)}: {escape(each.text + who)}")


def _prove(out: Console, steps: list[ProveDead]) -> None:
    for step in steps:
        out.print(f"  [ ] {step.text}", markup=False)


def _revision(out: Console, revision: str) -> None:
    out.print(f"\nrevision {revision}", style="dim")
