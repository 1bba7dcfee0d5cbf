"""Outcomes of jobs for people at a terminal."""

from __future__ import annotations

from rich.console import Console
from rich.table import Table

from firstoff.tables.shared import revision
from firstoff_contract.outcomes import OutcomeKept, OutcomeSummary


def kept(out: Console, answer: OutcomeKept) -> None:
    """What was kept of the job."""
    remedy = f", ended by {answer.remedy}" if answer.remedy else ""
    out.print(f"kept as {answer.id}: {answer.model}, {answer.on}: {answer.fault}{remedy}", markup=False)
    for name, found in (("there", answer.symptoms), ("not there", answer.absent), ("codes", answer.codes)):
        if found:
            out.print(f"  {name}: {', '.join(found)}", markup=False)
    for each in answer.outcomes:
        out.print(f"  {each.check}: {each.label}", markup=False)


def summary(out: Console, answer: OutcomeSummary) -> None:
    """How often each fault is the one: authored, counted and both."""
    out.print(f"{answer.model.label}: what jobs have shown", markup=False)
    out.print(answer.learned.said, markup=False)
    if answer.first:
        out.print(f"jobs from {answer.first} to {answer.last}", markup=False)
    if answer.left_out:
        out.print(f"kept, but not counted for this machine: {answer.left_out}", markup=False)
    table = Table("fault", "told as", "authored", "jobs", "now", box=None, pad_edge=False)
    for each in answer.faults:
        jobs = str(each.frequency.jobs or "")
        table.add_row(each.label, each.id, f"{each.authored_weight:.1%}", jobs, f"{each.frequency.weight:.1%}")
    out.print(table, markup=False)
    revision(out, answer.revision)
