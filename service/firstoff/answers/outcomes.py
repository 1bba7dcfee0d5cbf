"""Outcomes of jobs: checked against the content and kept, and what they say of a model."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import TypeVar

from firstoff.answers.diagnosis_readings import outcome_label
from firstoff.answers.learning import Learned, frequency_note, learned_note
from firstoff.answers.names import codes_named, known
from firstoff.answers.notes import model_ref
from firstoff.appliance.model import Appliance
from firstoff.collection.catalogue import Collection
from firstoff.errors import BadRequest
from firstoff.outcomes import Outcome, OutcomeLog, digest
from firstoff_contract.diagnosis import OutcomeSeen
from firstoff_contract.outcomes import FaultFrequency, OutcomeKept, OutcomeReport, OutcomeSummary

Thing = TypeVar("Thing")
#: Days after which a job says nothing of the machines of today. Common practice, no source.
OLDEST = 25 * 365


def today_utc() -> date:
    """The day it is in Greenwich."""
    return datetime.now(UTC).date()


def outcome_kept(
    collection: Collection,
    log: OutcomeLog,
    asked: OutcomeReport,
    key: str,
    today: Callable[[], date] = today_utc,
) -> OutcomeKept:
    """Keep ``asked`` unless ``key`` came before; then say what was kept.

    :raises KeyReused: another report was sent with the key.
    :raises NotFound: a name is unknown.
    :raises BadRequest: the report contradicts itself, or does not say which fault it was.
    :raises StateFailed: it could not be kept.
    """
    # What is left at its default does not count, so that a field added later changes no digest.
    body = digest(asked.model_dump_json(exclude_defaults=True))
    told = digest(key)
    kept = log.add(told, body, lambda: _outcome(collection, asked, told, body, today()))
    return OutcomeKept(
        id=kept.id,
        model=kept.model,
        fault=kept.fault,
        remedy=kept.remedy,
        symptoms=list(kept.symptoms),
        absent=list(kept.absent),
        outcomes=[OutcomeSeen(check=check, label=label) for check, label in kept.checks],
        codes=list(kept.codes),
        on=kept.on,
        revision=kept.revision,
    )


def outcome_summary(appliance: Appliance, learned: Learned, outcomes: Sequence[Outcome]) -> OutcomeSummary:
    """How often each fault of ``appliance`` was the one; ``outcomes`` are all that are kept."""
    own = [each for each in outcomes if each.model in learned.models and each.fault in appliance.faults]
    of_platform = [each for each in outcomes if each.model in learned.models | learned.others]
    faults = [
        FaultFrequency(
            id=fault.id,
            label=fault.label,
            authored_weight=round(learned.authored.weight(fault.id), 6),
            frequency=frequency_note(learned, fault.id),
        )
        for fault in appliance.faults.values()
    ]
    days = sorted(each.on for each in own)
    return OutcomeSummary(
        model=model_ref(appliance),
        learned=learned_note(learned),
        faults=sorted(faults, key=lambda each: (-each.frequency.weight, each.id)),
        left_out=len(of_platform) - len(own),
        first=days[0] if days else None,
        last=days[-1] if days else None,
        revision=appliance.revision,
    )


def _outcome(collection: Collection, asked: OutcomeReport, key: str, body: str, today: date) -> Outcome:
    machine = _of_any_range(collection.appliances(asked.model))
    symptoms = known("symptom", asked.symptoms, machine.symptoms)
    absent = known("symptom", asked.absent, machine.symptoms)
    if both := sorted(symptoms & absent):
        raise BadRequest(f"{both[0]} is told as present and as absent.", mend="Give each symptom once.")
    return Outcome(
        key=key,
        body=body,
        on=_day(asked.on, today),
        model=machine.model,
        symptoms=tuple(sorted(symptoms)),
        absent=tuple(sorted(absent)),
        checks=tuple(sorted(_checks(machine, asked.outcomes).items())),
        codes=tuple(sorted(codes_named(machine, asked.codes))),
        fault=_fault(machine, asked),
        remedy=asked.remedy,
        revision=machine.revision,
    )


def _of_any_range(appliances: Sequence[Appliance]) -> Appliance:
    """The model with what any of its serial ranges has."""

    def any_of(each: Callable[[Appliance], Mapping[str, Thing]]) -> dict[str, Thing]:
        return {slug: thing for appliance in appliances for slug, thing in each(appliance).items()}

    return replace(
        appliances[0],
        symptoms=any_of(lambda each: each.symptoms),
        faults=any_of(lambda each: each.faults),
        checks=any_of(lambda each: each.checks),
        codes=any_of(lambda each: each.codes),
    )


def _checks(machine: Appliance, seen: Iterable[OutcomeSeen]) -> dict[str, str]:
    """By check the label of the outcome seen, as the check words it and in no other words."""
    found: dict[str, str] = {}
    for each in seen:
        known("check", [each.check], machine.checks)
        check = machine.checks[each.check]
        label = outcome_label(check, each)
        labels = [outcome.label for outcome in check.outcomes]
        if label not in labels:
            raise BadRequest(
                f"{check.id} does not end in the outcome given.", mend=f"Give one of: {'; '.join(labels)}."
            )
        if found.setdefault(check.id, label) != label:
            raise BadRequest(f"{check.id} is told with two outcomes.", mend="Give each check once.")
    return found


def _fault(machine: Appliance, asked: OutcomeReport) -> str:
    """The fault confirmed: the one named, or the only one that the remedy ends."""
    if asked.fault is not None:
        known("fault", [asked.fault], machine.faults)
    if asked.remedy is None:
        if asked.fault is None:
            raise BadRequest("It is not said which fault it was.", mend="Give fault, or the remedy that worked.")
        return asked.fault
    ended: dict[str, list[str]] = {}
    for fault in machine.faults.values():
        for remedy in fault.remedies:
            ended.setdefault(remedy.id, []).append(fault.id)
    known("remedy", [asked.remedy], ended)
    possible = sorted(ended[asked.remedy])
    if asked.fault is None and len(possible) > 1:
        raise BadRequest(
            f"{asked.remedy} ends more than one fault.", mend=f"Give the fault it was: {', '.join(possible)}."
        )
    if asked.fault is not None and asked.fault not in possible:
        raise BadRequest(
            f"{asked.remedy} does not end {asked.fault}.",
            mend=f"It ends {', '.join(possible)}. Give the fault it was, or another remedy.",
        )
    return asked.fault or possible[0]


def _day(on: str | None, today: date) -> str:
    if on is None:
        return today.isoformat()
    try:
        day = date.fromisoformat(on)
    except ValueError as error:
        raise BadRequest(f"There is no day {on}.", mend="Give on as year-month-day, such as 2026-11-27.") from error
    # West of the date line it is still yesterday, east of it already tomorrow.
    if day > today + timedelta(days=1):
        raise BadRequest(f"{on} has not come yet.", mend="Give the day the job was done.")
    if day < today - timedelta(days=OLDEST):
        raise BadRequest(f"{on} is more than 25 years ago.", mend="Give the day the job was done, or leave it out.")
    return on
