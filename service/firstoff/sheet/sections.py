"""The sections of a job sheet, one function each: from the plan to what its template prints.

A section is a name, a heading and the values for ``templates/sections/<name>.html``. ``sections_of`` lists them in the
order in which they are printed; a section that is None has nothing to say and is left out. To add one, write its
function and its template and put it into the list.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from markupsafe import Markup

from firstoff.sheet.condensing import runs
from firstoff.sheet.job import Job
from firstoff.sheet.picture import drawing_of, picture
from firstoff.sheet.recording import rows_of
from firstoff.sheet.steps import Told, lines_of, sentence_of_most
from firstoff.sheet.words import errand, listed, minutes

#: A picture up to this width in CSS pixels can be read in half the width of the paper.
_WIDEST_IN_A_COLUMN = 460.0


@dataclass(frozen=True, slots=True)
class Section:
    """``values`` are what the template ``name`` needs; a ``wide`` one takes the whole width of the paper."""

    name: str
    heading: str
    values: dict[str, Any] = field(default_factory=dict)
    wide: bool = False


def sections_of(job: Job) -> list[Section]:
    """The sections that have something to say, in order."""
    every = [
        cautions(job), kit(job), make_safe(job), out(job), back(job), finish(job), record(job),
        alternatives(job), drawing(job),
    ]  # fmt: skip
    return [section for section in every if section is not None]


def cautions(job: Job) -> Section | None:
    """What is to be known before anything is touched: cautions and bulletins."""
    found = job.plan.cautions
    bulletins = job.machine.bulletins
    return Section("cautions", "Before you begin", {"cautions": found, "bulletins": bulletins}) if found else None


def kit(job: Job) -> Section:
    """Tools, parts and consumables to carry."""
    return Section("kit", "Carry", {"kit": job.plan.kit})


def make_safe(job: Job) -> Section | None:
    """What the steps isolate, release and prove dead."""
    safe = job.plan.make_safe
    if not safe.needed:
        return None
    devices = [(device, device.instruction) for device in safe.devices]
    measures = runs([each.text for each in safe.prove_dead])
    return Section("make-safe", "Make safe", {"safe": safe, "devices": devices, "measures": measures})


def out(job: Job) -> Section:
    """The steps until the last target is served."""
    return _steps(job, "steps", "Out", out=True)


def back(job: Job) -> Section | None:
    """The steps that put everything back."""
    return _steps(job, "steps", "Back", out=False) if job.plan.refit else None


def _steps(job: Job, name: str, heading: str, *, out: bool) -> Section:
    plan = job.plan
    steps, before = (plan.steps, []) if out else (plan.refit, plan.steps)
    told = Told(tuple(plan.cautions), frozenset(point for each in plan.make_safe.prove_dead for point in each.points))
    shared = "" if out else sentence_of_most(steps)
    lines = lines_of(steps, before, told, why=len(plan.reach) > 1, shared=shared)
    return Section(name, heading, {"lines": lines, "shared": shared})


def finish(job: Job) -> Section | None:
    """What is left to do when all is back."""
    return Section("finish", "To finish", {"finish": job.plan.finish}) if job.plan.finish else None


def record(job: Job) -> Section | None:
    """The safety record with blanks for the readings; how to measure is said where a step does not say it already."""
    found = job.plan.record
    rows = rows_of(job.plan)
    return Section("record", "Safety record", {"record": found, "rows": rows}) if found and rows else None


def alternatives(job: Job) -> Section | None:
    """The next-best plans, a line each; what it is worth to lift a limit of the day; why each way was not taken."""
    others = [
        (minutes(other.minutes), other.optimal, listed(other.instead, most=4) or "the same acts in another way")
        for other in job.plan.alternatives
    ]
    liftings = [lifting.text for lifting in job.plan.liftings]
    rejected = [(each.of.label, each.way.label, each.reason) for each in job.plan.rejected]
    values = {"others": others, "liftings": liftings, "rejected": rejected}
    return Section("alternatives", "Other ways", values) if others or liftings or rejected else None


def drawing(job: Job) -> Section | None:
    """The picture of the plan, and the same in words."""
    if not job.diagram.boxes:
        return None
    drawn = drawing_of(job.diagram)
    shown = Markup(picture(job.diagram, inline=True))
    values = {"picture": shown, "diagram": job.diagram}
    return Section("picture", "What comes off first", values, wide=drawn.width > _WIDEST_IN_A_COLUMN)


def errands(job: Job) -> list[str]:
    """Every target with what is to be done."""
    return [errand(target) for target in job.plan.reach]
