"""What ends the job: the machine's finish list as far as the plan gives cause for it, and the safety record's lines."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from firstoff.answers.deeds import Deeds, deed_labels, deeds_of
from firstoff.answers.notes import component_ref
from firstoff.answers.record import record_body
from firstoff.answers.refit import hidden_checks
from firstoff.appliance.model import Appliance
from firstoff.removal import Act
from firstoff_contract.record import RecordBody, RecordLine
from firstoff_contract.removal import FinishNote, HiddenCheck


@dataclass(frozen=True, slots=True)
class Closing:
    """How a plan ends well.

    ``hidden`` are the checks that each act hides, by its number; ``record`` the blank safety record, None where nothing
    was taken off or bared; of the finish list ``before`` is done while the supply is still off, ``after`` once it is
    back.
    """

    hidden: Mapping[int, list[HiddenCheck]]
    record: RecordBody | None
    before: tuple[FinishNote, ...]
    after: tuple[FinishNote, ...]


def closing_of(
    appliance: Appliance, acts: Sequence[Act], off: frozenset[str], states: Mapping[str, str], *, bared: bool
) -> Closing:
    """What a plan of ``acts`` asks for at its end, begun with ``off`` missing and ``states`` in force.

    ``bared`` says that it lays points bare.
    """
    deeds = deeds_of(appliance, acts, off, states)
    record = record_body(appliance, deeds) if bared or deeds.removals or off else None
    before, after = finish_of(appliance, deeds, record)
    return Closing(hidden_checks(appliance, acts), record, before, after)


def finish_of(
    appliance: Appliance, deeds: Deeds, record: RecordBody | None
) -> tuple[tuple[FinishNote, ...], tuple[FinishNote, ...]]:
    """The finish steps that apply, with the measurements of ``record`` and the checks of refitted parts that need the
    supply; those before the supply and those after, in order, counted from 1 through both."""
    steps = [step for step in appliance.finish if not step.only_after or step.only_after & deeds.things]
    before = [_note(appliance, deeds, step.id) for step in steps if step.before_supply]
    after = [_note(appliance, deeds, step.id) for step in steps if not step.before_supply]
    lines = [line for line in record.lines if line.verdict != "not_applicable"] if record else []
    measured = [line for line in lines if line.kind == "measurement"]
    before += [_measure(line) for line in measured if not line.with_supply]
    first = [_measure(line) for line in measured if line.with_supply]
    counted = [*before, *first, *_tried(appliance, deeds), *after]
    numbered = [each.model_copy(update={"order": n}) for n, each in enumerate(counted, 1)]
    return tuple(numbered[: len(before)]), tuple(numbered[len(before) :])


def _note(appliance: Appliance, deeds: Deeds, slug: str) -> FinishNote:
    step = next(each for each in appliance.finish if each.id == slug)
    cause = deed_labels(appliance, step.only_after & deeds.things)
    return FinishNote(
        order=step.order,
        text=step.text,
        wait_minutes=step.wait_minutes,
        why=f"In this plan: {', '.join(cause)}." if cause else None,
        competence=step.competence,
        recorded=step.recorded,
    )


def _measure(line: RecordLine) -> FinishNote:
    opened = [place.component.label for place in line.places if place.opened]
    first = f" First at: {', '.join(opened)}." if opened else ""
    return FinishNote(
        order=0,
        text=f"Measure {line.label}: {limit_words(line)}. {line.how}{first}",
        why="It proves the machine safe; enter it in the safety record.",
        competence=line.competence,
        recorded=True,
    )


def limit_words(line: RecordLine) -> str:
    """The limit in words, or that there is none."""
    if line.limit is None:
        missing = ", ".join(line.missing)
        return f"no limit is known, since this is not told: {missing}" if missing else "it does not apply"
    if line.limit.at_most is not None:
        return f"at most {line.limit.at_most:g} {line.limit.unit} ({line.limit.standard}, {line.limit.edition})"
    return f"at least {line.limit.at_least:g} {line.limit.unit} ({line.limit.standard}, {line.limit.edition})"


def _tried(appliance: Appliance, deeds: Deeds) -> list[FinishNote]:
    """Checks of refitted parts that can only be made with the supply back, each once."""
    found: dict[tuple[str, str], FinishNote] = {}
    for component, removal in deeds.removals.items():
        for check in removal.checks:
            if check.after_supply:
                label = component_ref(appliance, component).label
                found[component, check.text] = FinishNote(
                    order=0, text=check.text, wait_minutes=check.wait_minutes, why=f"Refitted: {label}."
                )
    return list(found.values())
