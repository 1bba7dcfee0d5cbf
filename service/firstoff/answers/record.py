"""The safety record as a contract answer: blank, or with readings judged."""

from __future__ import annotations

from collections.abc import Sequence

from firstoff.answers import names
from firstoff.answers.deeds import Deeds, deed_labels
from firstoff.answers.notes import component_ref, concept_ref, model_ref
from firstoff.appliance.circuit import LinkKind
from firstoff.appliance.model import (
    Appliance,
    FinishStep,
)
from firstoff.errors import BadRequest
from firstoff.handover import (
    CORD_KIND,
    HandoverError,
    Limit,
    Measurement,
    Quantity,
    Reading,
    Verdict,
    facts_of,
    measurements,
    overall,
    verdict,
)
from firstoff_contract.record import (
    EnteredConfirmation,
    EnteredReading,
    JudgedReading,
    RecordBody,
    RecordFact,
    RecordLimit,
    RecordLine,
    RecordPlace,
    RecordRequest,
    SafetyRecord,
)

_LABELS = {
    Quantity.EARTH: "earth continuity",
    Quantity.INSULATION: "insulation resistance",
    Quantity.LEAKAGE: "leakage current",
}
_STANDARD_NOTE = (
    "Local codes and the maker's instructions come first: where they ask for another limit or another edition, use "
    "theirs."
)
_FAILED = "Do not hand the machine over. Isolate it, lock it off"
_CAUSE = {
    Quantity.EARTH: "find the earth that is open or loose, tighten it on bare metal, and measure again.",
    Quantity.INSULATION: (
        "part the circuits to find where it is low, dry or renew that part, and measure again. Do not plug it in "
        "before."
    ),
    Quantity.LEAKAGE: "find the part that leaks by taking parts off the circuit one by one, and measure again.",
}


def safety_record_answer(appliance: Appliance, asked: RecordRequest) -> SafetyRecord:
    """The record of a model with what was entered; blank where nothing was.

    :raises NotFound: a line or a thing done is unknown; carries the nearest names.
    :raises BadRequest: a reading makes no sense.
    """
    things = {**appliance.components, **appliance.preparations, **appliance.states}
    deeds = None
    if asked.done is not None:
        deeds = Deeds(names.known("component, preparation or state", asked.done, things), {}, frozenset())
    body = record_body(appliance, deeds, asked.readings, asked.confirmed)
    return SafetyRecord(model=model_ref(appliance), revision=appliance.revision, **dict(body))


def record_body(
    appliance: Appliance,
    deeds: Deeds | None,
    readings: Sequence[EnteredReading] = (),
    confirmed: Sequence[EnteredConfirmation] = (),
) -> RecordBody:
    """The lines that prove the machine safe. ``deeds`` is None where nobody said what was done: then every line that
    depends on it is asked for.

    :raises NotFound: a confirmation names no line.
    :raises BadRequest: a reading makes no sense.
    """
    steps = {step.id: step for step in appliance.finish if step.recorded}
    names.known("line to confirm", (each.line for each in confirmed), steps)
    facts = facts_of(appliance)
    lines = [
        _measured(appliance, each, deeds, [r for r in readings if r.quantity == each.quantity.value])
        for each in measurements(facts)
    ]
    lines += [_confirmed(appliance, step, deeds, confirmed) for step in steps.values()]
    told = overall(Verdict(line.verdict) for line in lines)
    built_to = appliance.construction.built_to
    return RecordBody.model_validate(
        {
            "standard": concept_ref(built_to) if built_to else None,
            "standard_note": _STANDARD_NOTE,
            "facts": _facts(appliance),
            "lines": lines,
            "verdict": told.value,
            "advice": _advice(told, lines),
        }
    )


def _facts(appliance: Appliance) -> list[RecordFact]:
    facts = facts_of(appliance)
    corded = None if facts.corded is None else "cord and plug" if facts.corded else "fixed wiring"
    stationary = None if facts.stationary is None else "stationary" if facts.stationary else "portable"
    mains = ", ".join(each.label for each in appliance.circuit.sources.values() if each.kind.id == "mains")
    told = (
        ("kind of appliance", appliance.kind.label),
        ("supply", mains or None),
        ("protection class", facts.protection_class),
        ("stationary or portable", stationary),
        ("operation", facts.operation),
        ("rated input", None if facts.rated_watts is None else f"{facts.rated_watts:g} W"),
        ("connection", corded),
        ("length of the cord", None if facts.cord_metres is None else f"{facts.cord_metres:g} m"),
        (
            "earth conductor of the cord",
            None if facts.cord_square_millimetres is None else f"{facts.cord_square_millimetres:g} mm2",
        ),
    )
    return [RecordFact(name=name, value=value) for name, value in told]


def _measured(
    appliance: Appliance, measurement: Measurement, deeds: Deeds | None, entered: Sequence[EnteredReading]
) -> RecordLine:
    readings = [Reading(measurement.quantity, each.value, each.unit, each.over_range) for each in entered]
    try:
        told = verdict(readings, measurement)
        judged = [
            JudgedReading.model_validate(each.model_dump(exclude={"quantity"}) | {"verdict": verdict([r], measurement)})
            for each, r in zip(entered, readings, strict=True)
        ]
    except HandoverError as error:
        raise BadRequest(error.detail, mend=error.mend) from error
    return RecordLine.model_validate(
        {
            "id": measurement.quantity.value,
            "kind": "measurement",
            "label": _LABELS[measurement.quantity],
            "how": measurement.how,
            "with_supply": measurement.with_supply,
            "unit": measurement.unit,
            "limit": _limit(measurement.limit, measurement.unit) if measurement.limit else None,
            "missing": list(measurement.missing),
            "places": _places(appliance, deeds)
            if measurement.needed and measurement.quantity is Quantity.EARTH
            else [],
            "readings": judged,
            "verdict": told.value,
            "advice": _line_advice(measurement, told),
        }
    )


def _limit(limit: Limit, unit: str) -> RecordLimit:
    return RecordLimit(
        at_most=limit.at_most,
        at_least=limit.at_least,
        unit=unit,
        standard=limit.standard.title,
        edition=limit.standard.edition,
        clause=limit.standard.clause or None,
        confirmed=limit.standard.confirmed,
        why=limit.why,
    )


def _line_advice(measurement: Measurement, told: Verdict) -> str:
    label = _LABELS[measurement.quantity]
    if told is Verdict.NOT_APPLICABLE:
        return measurement.why_not
    if told is Verdict.PASS:
        return f"The {label} is within the limit."
    if told is Verdict.FAIL:
        return f"{_FAILED}, {_CAUSE[measurement.quantity]}"
    if measurement.missing:
        return (
            f"No limit is known, since this is not told: {', '.join(measurement.missing)}. Read it off the rating "
            "plate and judge by the standard that holds there; until then the machine is not proved safe."
        )
    if told is Verdict.UNKNOWN:
        return f"The range of the instrument ended short of the limit. Measure the {label} again in a suitable range."
    return f"Not measured: measure the {label} before the machine is handed over."


def _places(appliance: Appliance, deeds: Deeds | None) -> list[RecordPlace]:
    """Parts with a point on protective earth, those first whose bond was undone; cord and socket aside."""
    points, components = appliance.circuit.points, appliance.components
    supply = {
        points[earth].component
        for source in appliance.circuit.sources.values()
        if (earth := source.protective_earth or "") in points
    }
    found: dict[str, bool] = {}
    for slug, link in appliance.circuit.links.items():
        if link.kind is not LinkKind.EARTH_BOND:
            continue
        opened = deeds is not None and slug in deeds.bonds
        for part in (points[link.start].component, points[link.end].component):
            if part in components and part not in supply and components[part].kind.id != CORD_KIND:
                found[part] = found.get(part, False) or opened
    places = [RecordPlace(component=component_ref(appliance, part), opened=opened) for part, opened in found.items()]
    return sorted(places, key=lambda place: (not place.opened, place.component.label, place.component.id))


def _confirmed(
    appliance: Appliance, step: FinishStep, deeds: Deeds | None, entered: Sequence[EnteredConfirmation]
) -> RecordLine:
    own = [each for each in entered if each.line == step.id]
    applies = not step.only_after or deeds is None or bool(step.only_after & deeds.things)
    after = deed_labels(appliance, step.only_after)
    if own:
        told, advice = "pass", f"Confirmed by {own[-1].by}."
    elif not applies:
        told, advice = "not_applicable", f"Only after: {', '.join(after)}."
    else:
        only = f", which only this person may do: {step.competence}" if step.competence else ""
        unsaid = " Or say what was done on the machine, if it was none of this." if deeds is None and after else ""
        said = f" It belongs to: {', '.join(after)}." if after else ""
        told, advice = "not_measured", f"Not confirmed{only}.{said}{unsaid} Do not hand the machine over before."
    return RecordLine.model_validate(
        {
            "id": step.id,
            "kind": "confirmation",
            "label": step.label,
            "how": step.text,
            "with_supply": not step.before_supply,
            "unit": None,
            "limit": None,
            "missing": [],
            "competence": step.competence,
            "only_after": after,
            "confirmed_by": own[-1].by if own else None,
            "note": own[-1].note if own else None,
            "verdict": told,
            "advice": advice,
        }
    )


def _advice(told: Verdict, lines: Sequence[RecordLine]) -> list[str]:
    """What to do with the machine as a whole."""
    if told is Verdict.PASS:
        return ["Every line that applies is within its limit: sign, date and hand over."]
    named = {
        word: [line.label for line in lines if line.verdict == word] for word in ("fail", "unknown", "not_measured")
    }
    said = []
    if named["fail"]:
        said.append(f"Failed: {', '.join(named['fail'])}. {_FAILED}, tell the customer, and find the cause.")
    if named["unknown"]:
        said.append(f"Not known to be safe: {', '.join(named['unknown'])}. Unknown is never a pass.")
    if named["not_measured"]:
        said.append(f"Still open: {', '.join(named['not_measured'])}. Do not hand the machine over before.")
    return said
