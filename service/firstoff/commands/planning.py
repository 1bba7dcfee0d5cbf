"""Plans, and what can be reached."""

from __future__ import annotations

from typing import Annotated

import typer

from firstoff.answers.requests import plan_request
from firstoff.commands.shared import (
    AsJson,
    Data,
    Limits,
    Model,
    Off,
    OutFile,
    Reach,
    Serial,
    Smallest,
    States,
    Tools,
    ask,
    write,
)
from firstoff.tables import planning as tables
from firstoff_contract.removal import PlanRequest


def plan(
    model: Model,
    reach: Reach = None,
    off: Off = None,
    state: States = None,
    tools: Tools = None,
    limit: Limits = None,
    minimise: Smallest = "minutes",
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """What comes off first: the cheapest plan that reaches every target, and how it all goes back."""
    ask(
        data,
        as_json,
        lambda desk: desk.removal_plan(model, asked_plan(reach, off, state, tools, limit, minimise, serial)),
        tables.plan,
    )


def pareto(
    model: Model,
    reach: Reach = None,
    off: Off = None,
    state: States = None,
    tools: Tools = None,
    limit: Limits = None,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """The plans that no other beats: in minutes, parts taken off, single-use parts broken, exposures to a hazard."""
    asked = asked_plan(reach, off, state, tools, limit, "minutes", serial)
    ask(data, as_json, lambda desk: desk.pareto(model, asked), tables.pareto)


def sheet(
    model: Model,
    reach: Reach = None,
    off: Off = None,
    state: States = None,
    tools: Tools = None,
    limit: Limits = None,
    minimise: Smallest = "minutes",
    serial: Serial = None,
    out: OutFile = None,
    data: Data = None,
) -> None:
    """The plan as a job sheet: one HTML page to print, or to save as PDF by a browser's print."""
    from firstoff.sheet import page

    write(
        data,
        out,
        lambda desk: page(desk.job_sheet(model, asked_plan(reach, off, state, tools, limit, minimise, serial))),
    )


def picture(
    model: Model,
    reach: Reach = None,
    off: Off = None,
    state: States = None,
    tools: Tools = None,
    limit: Limits = None,
    minimise: Smallest = "minutes",
    serial: Serial = None,
    out: OutFile = None,
    data: Data = None,
) -> None:
    """The plan as a picture: all that may have to come off, drawn in layers as SVG, with the plan's way through it."""
    from firstoff.sheet import picture as drawn

    write(
        data,
        out,
        lambda desk: drawn(
            desk.job_sheet(model, asked_plan(reach, off, state, tools, limit, minimise, serial)).diagram
        ),
    )


def asked_plan(
    reach: list[str] | None,
    off: list[str] | None,
    state: list[str] | None,
    tools: list[str] | None,
    limit: list[str] | None,
    minimise: str,
    serial: str | None,
) -> PlanRequest:
    return plan_request(
        reach or [],
        off=off or [],
        states=state or [],
        tools=tools or None,
        limits=limit or [],
        minimise=minimise,
        serial=serial,
    )


def exposed(
    model: Model,
    off: Off = None,
    state: States = None,
    tools: Tools = None,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """What is within reach as the machine stands, and what one more removal would open."""
    ask(
        data,
        as_json,
        lambda desk: desk.exposed(model, serial, off=off or [], states=state or [], tools=tools or None),
        tables.exposed,
    )


def while_open(
    model: Model,
    reach: Reach = None,
    off: Off = None,
    state: States = None,
    tools: Tools = None,
    limit: Limits = None,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """What is worth doing while the machine is open: worn parts that the plan lays open, and what doing them saves."""
    asked = asked_plan(reach, off, state, tools, limit, "minutes", serial)
    ask(data, as_json, lambda desk: desk.while_open(model, asked), tables.while_open)


def hidden(
    model: Model,
    component: Annotated[str, typer.Argument(help="The part in front.")],
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """What a part hides: every component that cannot be reached, or is best not reached, while it is on."""
    ask(data, as_json, lambda desk: desk.hidden(model, component, serial), tables.hidden)
