"""From symptoms to the next check, and what to carry."""

from __future__ import annotations

from typing import Annotated

import typer

from firstoff.commands.shared import AsJson, Data, Model, Off, Serial, States, Tools, ask
from firstoff.errors import BadRequest
from firstoff.tables import diagnosing as tables
from firstoff_contract.diagnosis import DiagnosisRequest, OutcomeSeen

Symptoms = Annotated[list[str] | None, typer.Option("--symptom", help="Symptom that is there, or words. Repeats.")]


def diagnose(
    model: Model,
    symptom: Symptoms = None,
    absent: Annotated[list[str] | None, typer.Option(help="Symptom that is not there. Repeats.")] = None,
    outcome: Annotated[list[str] | None, typer.Option(help="What a check showed, as CHECK=LABEL. Repeats.")] = None,
    code: Annotated[list[str] | None, typer.Option(help="Code on the display. Repeats.")] = None,
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
        outcomes=[_seen(each) for each in outcome or []],
        codes=code or [],
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


def _seen(text: str) -> OutcomeSeen:
    check, equals, label = text.partition("=")
    if not equals:
        raise BadRequest(f"{text!r} does not say what was seen.", mend="Give --outcome CHECK=LABEL.")
    return OutcomeSeen(check=check.strip(), label=label.strip())
