"""What several tables share."""

from __future__ import annotations

from rich.console import Console
from rich.markup import escape

from firstoff_contract.common import CautionNote, Grounded
from firstoff_contract.energy import ProveDead, ReleaseNote

WORD_STYLES = {"DANGER": "bold reverse", "WARNING": "bold", "CAUTION": "italic", "NOTICE": "dim"}


STATE_WORDS = {
    "live": "[bold reverse]LIVE[/]",
    "off_not_isolated": "[bold]off, not isolated[/]",
    "isolated": "isolated",
    "unknown": "[bold]unknown: treat as live[/]",
}


def cautions(out: Console, cautions: list[CautionNote]) -> None:
    """What to look out for, each after its signal word."""
    for each in cautions:
        out.print(
            f"  [{WORD_STYLES[each.signal_word]}]{each.signal_word}[/] {escape(each.text)} {escape(each.protection)}"
        )


def releases(out: Console, releases: list[ReleaseNote]) -> None:
    """What to release, and who alone may."""
    for each in releases:
        who = f" Only: {each.competence}." if each.competence else ""
        out.print(f"  release {escape(each.component.label)}: {escape(each.text + who)}")


def prove(out: Console, steps: list[ProveDead]) -> None:
    """Boxes to tick while proving dead."""
    for step in steps:
        out.print(f"  [ ] {step.text}", markup=False)


def waits(minutes: float | None) -> str:
    """How long to let it rest, or nothing."""
    return f" Wait: {minutes:g} min." if minutes else ""


def grounds(out: Console, answer: Grounded) -> None:
    """That an answer rests on a draft, and the bulletins that touch it."""
    if answer.draft:
        out.print("[bold]DRAFT[/] Nobody has reviewed this content: verify it on the machine first.")
    for each in answer.bulletins:
        out.print(f"[bold]{escape(each.kind)}[/]: {escape(each.label)}. {escape(each.text)}")


def revision(out: Console, revision: str) -> None:
    """Which revision of the graph the answer is from."""
    out.print(f"\nrevision {revision}", style="dim")


def counted(number: int, noun: str) -> str:
    """A number with its noun, which takes an s from two on and at nought."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
