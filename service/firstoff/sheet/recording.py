"""The lines of a safety record as they are filled in by hand."""

from __future__ import annotations

from dataclasses import dataclass

from firstoff.sheet.words import listed
from firstoff_contract.record import RecordLimit, RecordLine
from firstoff_contract.removal import RemovalPlan


@dataclass(frozen=True, slots=True)
class Row:
    """``limit`` and ``source`` are empty where there is no limit; ``how`` is empty where the sheet says it elsewhere.

    ``places`` each have a blank of their own: the parts whose earth was undone. ``others`` counts the rest.
    """

    line: RecordLine
    limit: str
    source: str
    how: str
    places: tuple[str, ...]
    others: int


def rows_of(plan: RemovalPlan) -> list[Row]:
    """The lines that apply to ``plan``."""
    lines = plan.record.lines if plan.record else []
    told = [step.instruction for step in (*plan.steps, *plan.refit)] + [each.text for each in plan.finish]
    return [_row(line, told) for line in lines if line.verdict != "not_applicable"]


def _row(line: RecordLine, told: list[str]) -> Row:
    opened = tuple(place.component.label for place in line.places if place.opened)
    return Row(
        line=line,
        limit=_limit(line),
        source=_source(line.limit) if line.limit else "",
        how="" if any(line.how in text for text in told) else line.how,
        places=opened,
        others=len(line.places) - len(opened),
    )


def _limit(line: RecordLine) -> str:
    if line.limit is None:
        missing = f": {listed(line.missing)} not known" if line.missing else ""
        return f"no limit is known{missing}" if line.kind == "measurement" else ""
    if line.limit.at_most is not None:
        return f"at most {line.limit.at_most:g} {line.limit.unit}"
    return f"at least {line.limit.at_least:g} {line.limit.unit}"


def _source(limit: RecordLimit) -> str:
    parts = [limit.standard, limit.edition, *([limit.clause] if limit.clause else []), limit.confirmed]
    return ", ".join(parts)
