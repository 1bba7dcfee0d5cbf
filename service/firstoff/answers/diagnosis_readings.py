"""What a meter showed, as a finding: how likely the value is beside each fault that the content describes."""

from __future__ import annotations

from collections.abc import Iterable

from firstoff.answers.names import known
from firstoff.answers.reading import ReadingRequest, Taken, expected_value, measured_value, reading_notes, taken
from firstoff.appliance.model import Appliance, Check, Fault, Outcome
from firstoff.diagnosis import Reading
from firstoff.energy.readings import Quantity, Verdict
from firstoff.errors import BadRequest
from firstoff_contract.common import Ref
from firstoff_contract.diagnosis import OutcomeSeen, ReadingNote, ReadingSeen

#: Likelihood of a value beside a fault that it does not fit: a probe on the wrong pin, a value misread. Nothing is
#: ruled out for good by one reading. Common practice, no source.
MISTAKEN = 0.02
#: Likelihood of a value that does not fit a sound machine beside a fault that leaves the circuit alone: it may have
#: done something to the circuit that the content does not tell. Common practice, no source.
BESIDE = 0.1
#: Failure modes that change no conductor, coil or contact by themselves.
MECHANICAL = frozenset(
    (
        "blocked", "dirty", "frozen-open", "iced", "leaking", "low-charge", "low-efficiency", "misaligned",
        "overloaded", "seized", "stretched", "stuck-closed", "unbalanced", "worn",
    )
)  # fmt: skip

#: Failure modes that no ohmmeter meets besides, as it is used with the supply isolated.
UNPOWERED = MECHANICAL | {"half-supply", "supply-missing", "supply-out-of-range", "wrong-installation", "wrong-setting"}


def readings_of(appliance: Appliance, seen: Iterable[ReadingSeen]) -> tuple[tuple[Reading, ...], list[ReadingNote]]:
    """Readings as findings, and what those that were measured say.

    :raises NotFound: a name is unknown.
    :raises BadRequest: a reading makes no sense, or a likelihood is no probability.
    """
    found, notes = list[Reading](), list[ReadingNote]()
    for each in seen:
        if each.likelihoods or not (each.between or each.value):
            found.append(_given(appliance, each))
        else:
            reading, note = _measured(appliance, each)
            found.append(reading)
            notes.append(note)
    return tuple(found), notes


def _given(appliance: Appliance, seen: ReadingSeen) -> Reading:
    if seen.between or seen.value or not seen.likelihoods:
        raise BadRequest(
            "A reading has two points and a value, or likelihoods, and not both.",
            mend="Give between with two points, quantity and value.",
        )
    known("fault", seen.likelihoods, appliance.faults)
    if any(not 0 <= each <= 1 for each in seen.likelihoods.values()):
        raise BadRequest("A likelihood is not between 0 and 1.", mend="Give each likelihood as 0 to 1.")
    return Reading(seen.label or "reading", seen.likelihoods)


def _measured(appliance: Appliance, seen: ReadingSeen) -> tuple[Reading, ReadingNote]:
    if not seen.value.strip():
        raise BadRequest("A reading has no value.", mend="Give value as the meter shows it, such as 230 or OL.")
    got = taken(
        appliance,
        ReadingRequest(
            between=tuple(seen.between),
            quantity=seen.quantity,
            opened=tuple(seen.opened),
            actuated=tuple(seen.actuated),
            off=tuple(seen.off),
            released=tuple(seen.released),
            celsius=seen.celsius,
            measured=seen.value,
        ),
    )
    points = " and ".join(appliance.circuit.points[slug].label for slug in got.between)
    label = seen.label or f"{got.found.quantity.value.replace('-', ' ')} {seen.value.strip()} between {points}"
    by_fault = {each.fault: each for each in got.judged if each.fault is not None}
    verdicts = {slug: each.verdict for slug, each in by_fault.items()}
    likelihoods = {slug: _likelihood(fault, got, verdicts.get(slug)) for slug, fault in appliance.faults.items()}
    note = ReadingNote(
        label=label,
        expected=expected_value(appliance, got.found).text,
        fits=got.fits,
        supports=_named(appliance, verdicts, Verdict.SUPPORTS),
        rules_out=_named(appliance, verdicts, Verdict.RULES_OUT),
        circuit=sorted(
            assumption.text
            for each in got.judged
            if each.fault is None and each.verdict is Verdict.SUPPORTS
            for assumption in each.assumptions
        ),
        notes=reading_notes(appliance, got.found),
    )
    return Reading(label, likelihoods), note


def _likelihood(fault: Fault, got: Taken, verdict: Verdict | None) -> float:
    if verdict is Verdict.RULES_OUT:
        return MISTAKEN
    alone = UNPOWERED if got.found.quantity is Quantity.OHMS else MECHANICAL
    leaves_alone = not fault.alters and fault.failure_mode.id in alone
    return BESIDE if verdict is None and leaves_alone and got.fits is False else 1.0


def _named(appliance: Appliance, verdicts: dict[str, Verdict | None], wanted: Verdict) -> list[Ref]:
    return [
        Ref(id=slug, label=appliance.faults[slug].label) for slug, each in sorted(verdicts.items()) if each is wanted
    ]


def outcome_label(check: Check, seen: OutcomeSeen) -> str:
    """The label of the outcome that was seen, told by its words or by a value within its bounds.

    :raises BadRequest: it is a value, and no outcome has it; says which there are.
    """
    bounded = [each for each in check.outcomes if each.at_least is not None or each.at_most is not None]
    if not bounded or any(seen.label == each.label for each in check.outcomes):
        return seen.label
    try:
        value = measured_value(seen.label)
    except BadRequest:
        return seen.label
    # At a bound that two outcomes share the healthy one has it: outcomes are in that order.
    for each in bounded:
        if _within(each, value):
            return each.label
    raise BadRequest(
        f"{seen.label!r} lies in no outcome of {check.label}.",
        mend=f"Read again, or give one of: {'; '.join(each.label for each in check.outcomes)}.",
    )


def _within(outcome: Outcome, value: float) -> bool:
    least = float("-inf") if outcome.at_least is None else outcome.at_least
    most = float("inf") if outcome.at_most is None else outcome.at_most
    return least <= value <= most
