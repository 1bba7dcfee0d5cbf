"""The tools: name, when to use it, what it takes, what it asks the desk, how its answer is told."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any

from pydantic import TypeAdapter
from rich.console import Console

from firstoff.answers.desk import Desk
from firstoff.assistants import asking
from firstoff.tables import codes, content, diagnosing, energy, planning, record
from firstoff_contract.catalogue import ComponentDetail, ComponentList, ModelDetail
from firstoff_contract.codes import CodeDetail
from firstoff_contract.common import Answer
from firstoff_contract.diagnosis import CarryAnswer, Diagnosis
from firstoff_contract.energy import IsolationAnswer, LivePoints
from firstoff_contract.procedure import Procedure
from firstoff_contract.reading import ReadingAnswer
from firstoff_contract.record import SafetyRecord
from firstoff_contract.removal import RemovalPlan
from firstoff_contract.search import SearchAnswer


@dataclass(frozen=True, slots=True)
class Tool:
    """A question of the trade. ``named`` is True where its text tells names already."""

    name: str
    title: str
    description: str
    asked: type[Answer]
    answer: Any
    ask: Callable[[Desk, Any], Answer]
    table: Callable[[Console, Any], None]
    named: bool = False

    def input_schema(self) -> dict[str, Any]:
        """JSON Schema of the arguments."""
        return dict(_untitled(self.asked.model_json_schema()))

    def output_schema(self) -> dict[str, Any]:
        """JSON Schema of the structured answer, an object at its root."""
        return {"type": "object", **_untitled(TypeAdapter(self.answer).json_schema(mode="serialization"))}


def _untitled(schema: Any) -> Any:
    """A schema without the titles made of the names of its fields, which an assistant would read for nothing."""
    if isinstance(schema, dict):
        return {k: _untitled(v) for k, v in schema.items() if not (k == "title" and isinstance(v, str))}
    return [_untitled(each) for each in schema] if isinstance(schema, list) else schema


def _parts(out: Console, answer: ComponentList | ComponentDetail) -> None:
    if isinstance(answer, ComponentDetail):
        content.component(out, answer, argument=str)
    else:
        content.components(out, answer)


def _ask_parts(desk: Desk, asked: asking.Parts) -> ComponentList | ComponentDetail:
    if asked.component is not None:
        return desk.component(asked.model, asked.component, asked.serial)
    return desk.components(asked.model, asked.serial, asked.offset, asked.limit)


def _ask_live(desk: Desk, asked: asking.Liveness) -> LivePoints:
    return desk.live_points(
        asked.model,
        asked.serial,
        opened=asked.opened,
        off=asked.off,
        released=asked.released,
        at=asked.at,
        assume=asked.assume,
        worst=asked.worst,
    )


def _ask_search(desk: Desk, asked: asking.Finding) -> SearchAnswer:
    return desk.search(
        asked.query, model=asked.model, serial=asked.serial, kind=asked.kind, lang=asked.lang, limit=asked.limit
    )


TOOLS = (
    Tool(
        "find",
        "Find a symptom, part, code or model",
        "Look up what somebody's words mean: a symptom, a component, a display code or a model, best first, in "
        "English, Spanish or German. Use it to turn words into the names that the other tools take. A symptom comes "
        "with its likely faults and the checks that tell them apart, but without access or safety: go on with "
        "diagnose.",
        asking.Finding,
        SearchAnswer,
        _ask_search,
        content.hits,
        named=True,
    ),
    Tool(
        "describe_machine",
        "What is known of a machine",
        "Resolve a rating-plate number (spaces, slashes, case and O for 0 are forgiven) and tell what is known of the "
        "model: how it differs by serial range, bulletins and recalls, cautions, and the names of its devices, "
        "capacitors, states and tools. Use it first, and again whenever a name for opened, released, states or tools "
        "is needed. A near miss is an error that names the nearest: ask the person, do not choose for them.",
        asking.OfMachine,
        ModelDetail,
        lambda desk, asked: desk.model(asked.model, asked.serial),
        partial(content.model, argument=str),
        named=True,
    ),
    Tool(
        "parts",
        "The components of a machine, or one of them",
        "List the components of a machine; or with component, tell one of them: part number, ways in, removals, "
        "points for a probe, faults and cautions. Use it for the names of components and points. It does not say what "
        "must come off first: that is removal_plan.",
        asking.Parts,
        ComponentList | ComponentDetail,
        _ask_parts,
        _parts,
        named=True,
    ),
    Tool(
        "removal_plan",
        "What comes off first",
        "The cheapest plan to reach one or more parts and put everything back: making safe, steps out with the "
        "warnings before each, refit with its checks, what ends the job, tools, parts and consumables. reach takes "
        "component or component:purpose (inspect, test, live-test, replace; replace where none is given). Say "
        "what is off already (off), in which states the machine stands (states), which tools are at hand (tools, all "
        "where left out), "
        "the limits of the day (limits: alone, no-refrigerant-licence, machine-fixed). Without reach, a machine that "
        "stands open is closed up. optimal says whether it is proved that no plan is better.",
        asking.Planning,
        RemovalPlan,
        lambda desk, asked: desk.removal_plan(asked.model, asked),
        planning.plan,
    ),
    Tool(
        "make_safe",
        "Making safe for a job, and restoring",
        "The procedure around a plan: shut down, isolate, lock and tag, release stored energy, prove dead, and the way "
        "back to supply. Use it before any work and always before a live test. It takes what removal_plan takes; ask "
        "both for the same job.",
        asking.Planning,
        Procedure,
        lambda desk, asked: desk.make_safe(asked.model, asked),
        energy.procedure,
    ),
    Tool(
        "live_points",
        "What is still live",
        "The state of every point a hand or probe can touch, with the devices that are open now: live, off but not "
        "isolated, isolated, or unknown (treat as live), with what feeds it and what would clear it, and stored "
        "charge. opened takes every device that is really open; a device left out counts as closed. Use it for 'can "
        "I touch this?', and ask again after every change.",
        asking.Liveness,
        LivePoints,
        _ask_live,
        energy.live_points,
    ),
    Tool(
        "isolation",
        "How to isolate what is to be touched",
        "For points or components to be touched: every smallest set of isolating devices, in an order that can be "
        "carried out, for electricity, water, gas and other energies; what to release afterwards; where to prove dead. "
        "Buttons, relays and thermostats never count as isolation.",
        asking.Touching,
        IsolationAnswer,
        lambda desk, asked: desk.isolation(asked.model, asked.serial, touch=asked.touch),
        energy.isolation,
    ),
    Tool(
        "diagnose",
        "What is probably wrong, and what to do next",
        "From findings to ranked faults and the next check or remedy on the quickest expected way to a repaired "
        "machine. Give symptoms there and absent (names, or the customer's words), codes, outcomes of checks (check "
        "and the label of the outcome, as an earlier answer words it), meter readings, and remedies tried in vain. "
        "Give all findings each time: nothing is remembered. Do the one next step, then ask again with what it showed. "
        "A part with a guard is not replaced on suspicion.",
        asking.Diagnosing,
        Diagnosis,
        lambda desk, asked: desk.diagnosis(asked.model, asked),
        diagnosing.diagnosis,
    ),
    Tool(
        "carry_list",
        "What to carry to the visit",
        "Before the visit: the parts likeliest to make one visit suffice for these symptoms, with that chance, and the "
        "tools and consumables.",
        asking.Carrying,
        CarryAnswer,
        lambda desk, asked: desk.carry(asked.model, asked.serial, asked.symptoms, asked.parts),
        diagnosing.carry,
    ),
    Tool(
        "display_code",
        "What a code on the display says, and what it does not",
        "What sets a code, how it moves the faults, what it does not prove, what to check first and how it is cleared. "
        "Use it before a part is ordered on account of a code; with other findings besides, use diagnose.",
        asking.Code,
        CodeDetail,
        lambda desk, asked: desk.code(asked.model, asked.code, asked.serial),
        codes.code,
    ),
    Tool(
        "expected_reading",
        "What a meter should read",
        "The value to expect between two points, with its band, what could mislead, and which faults would show "
        "otherwise; with measured, which faults that value supports or rules out. Say how the machine stands: opened, "
        "actuated, off, released. Ohms are only asked of what is isolated and discharged. A value that is unknown says "
        "nothing about safety.",
        asking.Metering,
        ReadingAnswer,
        lambda desk, asked: desk.reading(asked.model, asked.request()),
        energy.reading,
    ),
    Tool(
        "safety_record",
        "What proves the machine safe before it is handed over",
        "The measurements and confirmations that end a job on this machine, each with its limit, standard and edition. "
        "Without readings, the blank record; with readings and confirmed, a verdict for each line. Only pass as a "
        "whole lets the machine be handed over; not measured or unknown is no pass.",
        asking.Recording,
        SafetyRecord,
        lambda desk, asked: desk.safety_record(asked.model, asked),
        record.safety_record,
    ),
)

BY_NAME = {tool.name: tool for tool in TOOLS}
