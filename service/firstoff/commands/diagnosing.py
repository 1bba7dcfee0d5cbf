"""From symptoms to the next check, and what to carry."""

from __future__ import annotations

from typing import Annotated

import typer
from pydantic import ValidationError

from firstoff.commands.shared import AsJson, Data, Model, Off, Serial, States, Tools, ask
from firstoff.errors import BadRequest
from firstoff.tables import diagnosing as tables
from firstoff_contract.diagnosis import DiagnosisRequest, OutcomeSeen, ReadingSeen

_READING = (
    "Give --reading 'RED BLACK QUANTITY=VALUE; opened DEVICE; off PART' with voltage, ac-voltage, dc-voltage or "
    "resistance; what is not told was shut, fitted and at 20 degrees Celsius."
)

Symptoms = Annotated[list[str] | None, typer.Option("--symptom", help="Symptom that is there, or words. Repeats.")]


def diagnose(
    model: Model,
    symptom: Symptoms = None,
    absent: Annotated[list[str] | None, typer.Option(help="Symptom that is not there. Repeats.")] = None,
    outcome: Annotated[
        list[str] | None, typer.Option(help="What a check showed, as CHECK=LABEL or CHECK=VALUE. Repeats.")
    ] = None,
    reading: Annotated[
        list[str] | None,
        typer.Option(
            help="What a meter showed, as 'RED BLACK QUANTITY=VALUE', such as 'tb-l1 tb-l2 voltage=118'. How the "
            "machine stood then goes after semicolons: '; opened DEVICE', '; off PART', '; actuated DEVICE', "
            "'; released CAPACITOR', '; at CELSIUS'. Repeats."
        ),
    ] = None,
    code: Annotated[list[str] | None, typer.Option(help="Code on the display. Repeats.")] = None,
    tried: Annotated[list[str] | None, typer.Option(help="Remedy done that did not help. Repeats.")] = None,
    tree: Annotated[bool, typer.Option("--tree", help="The whole decision tree.")] = False,
    off: Off = None,
    states: States = None,
    tools: Tools = None,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """What is probably wrong, and the next check or remedy on the quickest expected way to a repair."""
    asked = DiagnosisRequest(
        symptoms=symptom or [],
        absent=absent or [],
        outcomes=[seen(each) for each in outcome or []],
        readings=[reading_told(each) for each in reading or []],
        codes=code or [],
        tried=tried or [],
        off=off or [],
        states=states or [],
        tools=tools,
        tree=tree,
        serial=serial,
    )
    ask(data, as_json, lambda desk: desk.diagnosis(model, asked), tables.diagnosis)


def carry(
    model: Model,
    symptom: Symptoms = None,
    parts: Annotated[int, typer.Option(min=0, max=10, help="How many parts at the most.")] = 3,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """What to carry so that one visit is likeliest to suffice."""
    ask(data, as_json, lambda desk: desk.carry(model, serial, symptom or [], parts), tables.carry)


def reading_told(text: str) -> ReadingSeen:
    """``RED BLACK QUANTITY=VALUE; opened DEVICE; off PART`` as a reading; the quantity may be left out.

    :raises BadRequest: it does not say that.
    """
    first, *clauses = text.split(";")
    probes, equals, value = first.partition("=")
    words = probes.split()
    if not equals or len(words) not in (2, 3):
        raise BadRequest(f"{text!r} is no reading.", mend=_READING)
    stood: dict[str, object] = {}
    for clause in clauses:
        name, things = (clause.split() or [""])[0], clause.split()[1:]
        if name == "at" and len(things) == 1:
            stood["celsius"] = things[0]
        elif name in ("opened", "actuated", "off", "released") and things:
            stood[name] = things
        else:
            raise BadRequest(f"{clause.strip()!r} does not say how the machine stood.", mend=_READING)
    try:
        return ReadingSeen.model_validate(
            {"between": words[:2], "quantity": words[2] if len(words) == 3 else "voltage", "value": value} | stood
        )
    except ValidationError as error:
        wrong = error.errors()[0]
        raise BadRequest(f"{text!r}: {wrong['loc'][0]}: {wrong['msg']}.", mend=_READING) from error


def seen(text: str, option: str = "--outcome") -> OutcomeSeen:
    """``CHECK=LABEL`` or ``CHECK=VALUE`` as given to ``option``.

    :raises BadRequest: it does not say that.
    """
    check, equals, label = text.partition("=")
    if not equals:
        raise BadRequest(f"{text!r} does not say what was seen.", mend=f"Give {option} CHECK=LABEL or CHECK=VALUE.")
    return OutcomeSeen(check=check.strip(), label=label.strip())
