"""The audit trail, for people at a terminal."""

from __future__ import annotations

from collections.abc import Sequence

from rich.console import Console

from firstoff.access.trail import Read


def trail(out: Console, lines: Sequence[Read], last: str | None) -> None:
    """A line for each entry, and the digest of the last."""
    for each in lines:
        told = each.told
        if told:
            status = f" {told['status']}" if told.get("status") else ""
            who = told.get("who") or "nobody known"
            text = f"{told['when']}  {told['outcome']}{status}  {told['what']}  by {who} from {told.get('where')}"
        else:
            text = "(torn: a process died while it wrote this line)"
        out.print(f"{each.number:>5}  {text}", markup=False, highlight=False, soft_wrap=True)
    if last is not None:
        out.print(f"digest of the last line: {last}", markup=False, highlight=False, soft_wrap=True)
