"""Questions of diagnosis and handover: what is wrong, what to carry, the safety record, what jobs have shown."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from uuid import uuid4

from ..asking import Names, Question, json_body, model_form, model_path, names, or_blank, query
from ..contract.diagnosis import CarryAnswer, Diagnosis, OutcomeSeen, ReadingSeen
from ..contract.outcomes import OutcomeKept, OutcomeReport, OutcomeSummary
from ..contract.record import EnteredConfirmation, EnteredReading, SafetyRecord

_SENT = {"content-type": "application/json"}


def diagnosis(
    model: str,
    *,
    symptoms: Names = (),
    absent: Names = (),
    codes: Names = (),
    outcomes: Sequence[OutcomeSeen] = (),
    readings: Sequence[ReadingSeen] = (),
    tried: Names = (),
    off: Names = (),
    states: Names = (),
    tools: Names | None = None,
    tree: bool = False,
    serial: str | None = None,
) -> Question[Diagnosis]:
    """From findings to the likely faults and the next step on the quickest expected way to a repair.

    ``absent`` are symptoms looked for and not there, ``outcomes`` what checks showed, ``tried`` remedies that did not
    help; ``off``, ``states`` and ``tools`` say how the machine stands and what is at hand. ``tree`` asks for the whole
    decision tree.
    """
    asked = Question(
        model_path("/v1/models/{}/diagnosis", model),
        model_form(Diagnosis),
        query=query(symptoms=symptoms, absent=absent, codes=codes, tree=tree, serial=serial),
    )
    if not (outcomes or readings or names(tried) or names(off) or names(states) or tools is not None):
        return asked
    body = json_body(
        symptoms=names(symptoms),
        absent=names(absent),
        codes=names(codes),
        outcomes=[each.model_dump(mode="json") for each in outcomes],
        readings=[each.model_dump(mode="json") for each in readings],
        tried=names(tried),
        off=names(off),
        states=names(states),
        tools=None if tools is None else names(tools),
        tree=tree,
        serial=serial,
    )
    return replace(asked, method="POST", query=(), body=body, headers=_SENT)


def carry(
    model: str, symptoms: Names = (), *, parts: int | None = None, serial: str | None = None
) -> Question[CarryAnswer]:
    """The parts likeliest to make one visit suffice, at most ``parts``, with tools and consumables."""
    asked = query(symptoms=symptoms, parts=parts, serial=serial)
    return Question(model_path("/v1/models/{}/carry", model), model_form(CarryAnswer), query=asked)


def safety_record(
    model: str,
    *,
    done: Names | None = None,
    readings: Sequence[EnteredReading] = (),
    confirmed: Sequence[EnteredConfirmation] = (),
    serial: str | None = None,
) -> Question[SafetyRecord]:
    """What proves the machine safe after work; with ``readings`` or ``confirmed``, judged. Unknown is never a pass.

    ``done`` are components taken off, preparations made and states brought about (nothing is known of them where it is
    not given, none was where it is empty).
    """
    address = model_path("/v1/models/{}/safety-record", model)
    if not readings and not confirmed:
        return Question(address, model_form(SafetyRecord), query=query(done=or_blank(done), serial=serial))
    body = json_body(
        readings=[each.model_dump(mode="json") for each in readings],
        confirmed=[each.model_dump(mode="json") for each in confirmed],
        done=None if done is None else names(done),
        serial=serial,
    )
    return Question(address, model_form(SafetyRecord), "POST", body=body, headers=_SENT)


def outcomes(model: str, *, serial: str | None = None) -> Question[OutcomeSummary]:
    """What jobs have shown of a model."""
    return Question(model_path("/v1/models/{}/outcomes", model), model_form(OutcomeSummary), query=query(serial=serial))


def tell_outcome(report: OutcomeReport, *, idempotency_key: str | None = None) -> Question[OutcomeKept]:
    """Tell which fault a job was. Needs the outcome key.

    ``idempotency_key`` is a UUID, a new one for each job; one is made where none is given. Give your own, and the same
    again, to tell a job once more after there was no answer: it counts once.
    """
    headers = {**_SENT, "idempotency-key": idempotency_key or str(uuid4())}
    body = report.model_dump_json().encode()
    return Question("/v1/outcomes", model_form(OutcomeKept), "POST", headers=headers, body=body, key="outcome_key")
