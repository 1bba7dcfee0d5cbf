"""Plans and what can be reached, for people at a terminal."""

from __future__ import annotations

from collections.abc import Sequence

from rich.console import Console
from rich.markup import escape

from firstoff.tables.shared import STATE_WORDS, cautions, prove, releases, revision, waits
from firstoff_contract.common import Ref
from firstoff_contract.reach import Exposed, Hidden, HiddenPart, WhileOpen, WithinReach
from firstoff_contract.removal import (
    ConnectionNote,
    Exposure,
    FasteningNote,
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

_MINIMISED = {"parts": "parts taken off", "single-use": "single-use parts broken", "exposure": "exposures"}


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
    cautions(out, answer.cautions)
    safe = answer.make_safe
    if safe.needed:
        out.print("\n[bold]What is made safe, in the steps below[/]")
        for device in safe.devices:
            out.print(f"  open {escape(device.label)}: {escape(device.instruction)}")
        releases(out, safe.release)
        prove(out, safe.prove_dead)
        if safe.upstream_only:
            out.print("  [bold]Nothing on the machine isolates this: isolate upstream.[/]")
        for point in safe.unknown:
            out.print(f"  unknown, treat as live: {escape(point)}")
    _steps(out, "Out", answer.steps)
    _steps(out, "Back", answer.refit)
    finish(out, answer.finish)
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
    revision(out, answer.revision)


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
    revision(out, answer.revision)


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
        cautions(out, step.cautions)
        minutes = f"  ({step.minutes:g} min)" if step.minutes else ""
        minutes += f"  (wait {step.wait_minutes:g} min)" if step.wait_minutes else ""
        out.print(f"[bold]{step.n:3}. {escape(step.label)}[/]{minutes}")
        if step.because:
            out.print(f"     {escape(step.because)}", style="italic")
        if step.competence:
            out.print(f"     only: {escape(step.competence)}")
        if step.persons > 1:
            out.print(f"     {step.persons} persons")
        if step.instruction:
            out.print(f"     {escape(step.instruction)}")
        held = [_fastening(each) for each in step.fastenings]
        held += [_connection(each) for each in step.connections]
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
        for said in _by_state(step.exposes):
            out.print(f"     within reach: {said}")


def _fastening(each: FasteningNote) -> str:
    torque = f"{each.torque_nm:g} N m" if each.torque_nm is not None else None
    size = f" {each.size}" if each.size else ""
    return f"{each.count} x {each.kind}{size}{_besides(each.drive, torque, each.single_use)}"


def _connection(each: ConnectionNote) -> str:
    seal = f"seal {each.seal}" if each.seal else None
    return f"{each.label}{_besides(each.lock, seal, each.single_use)}"


def _besides(first: str | None, second: str | None, single_use: bool) -> str:
    said = ", ".join(each for each in (first, second, "single use" if single_use else None) if each)
    return f" ({said})" if said else ""


def _by_state(points: Sequence[Exposure]) -> list[str]:
    """The points of each state in a line, the worst first."""
    return [
        f"{words}: {escape('; '.join(same))}"
        for state, words in STATE_WORDS.items()
        if (same := [point.label for point in points if point.state == state])
    ]


def finish(out: Console, finish: list[FinishNote]) -> None:
    if not finish:
        return
    out.print("\n[bold]To finish[/]")
    for each in finish:
        out.print(f"  [ ] {each.text}{waits(each.wait_minutes)}", markup=False)
        if each.competence:
            out.print(f"      only: {escape(each.competence)}")


def exposed(out: Console, answer: Exposed) -> None:
    """What is within reach, then what each next removal would open."""
    off = ", ".join(ref.label for ref in answer.off)
    out.print(f"[bold]{escape(answer.model.label)}[/]: {escape(f'off: {off}' if off else 'nothing off')}")
    out.print(escape(answer.notice), style="italic")
    cautions(out, answer.cautions)
    for said in _by_state(answer.bare):
        out.print(f"  bare: {said}", highlight=False)
    out.print("\n[bold]Within reach now[/]")
    _within(out, answer.now)
    out.print("\n[bold]One more removal[/]")
    for each in answer.next:
        first = _first(each.states)
        out.print(f"  {escape(each.way.label)}  ({each.minutes_out:g} + {each.minutes_back:g} min{escape(first)})")
        _within(out, each.opens, "    opens: ")
    revision(out, answer.revision)


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
    revision(out, answer.revision)


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
    revision(out, answer.revision)


def _behind(out: Console, title: str, parts: Sequence[HiddenPart]) -> None:
    if parts:
        out.print(f"\n[bold]{title}[/]")
    for each in parts:
        out.print(f"  {escape(each.component.label)}: {', '.join(each.purposes)}", highlight=False)
