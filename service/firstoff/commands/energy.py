"""What is live and how to make it safe."""

from __future__ import annotations

from typing import Annotated

import typer

from firstoff.answers.energies import saturation_answer
from firstoff.answers.reading import ReadingRequest
from firstoff.commands.planning import asked_plan
from firstoff.commands.shared import (
    OUT,
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
from firstoff.drawing import MOST_COLUMNS, picture
from firstoff.tables import energy as tables


def live(
    model: Model,
    opened: Annotated[list[str] | None, typer.Option(help="Device that is open. Repeats.")] = None,
    off: Annotated[
        list[str] | None, typer.Option(help="Component that is off, or the removal that took it off. Repeats.")
    ] = None,
    released: Annotated[list[str] | None, typer.Option(help="Capacitor discharged and proved dead. Repeats.")] = None,
    at: Annotated[list[str] | None, typer.Option(help="Point or component to show. Repeats. All where none.")] = None,
    assume: Annotated[
        list[str] | None,
        typer.Option(help="Fault taken to be there, such as welded:DEVICE, open:LINK or open-neutral. Repeats."),
    ] = None,
    worst: Annotated[bool, typer.Option("--worst", help="The worst over no fault and every single one.")] = False,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """What is still live: the state of every point, what feeds it and what would clear it."""
    ask(
        data,
        as_json,
        lambda desk: desk.live_points(
            model,
            serial,
            opened=opened or [],
            off=off or [],
            released=released or [],
            at=at or [],
            assume=assume or [],
            worst=worst,
        ),
        tables.live_points,
    )


def supply(
    model: Model,
    opened: Annotated[list[str] | None, typer.Option(help="Device that is open. Repeats.")] = None,
    off: Annotated[
        list[str] | None, typer.Option(help="Component that is off, or the removal that took it off. Repeats.")
    ] = None,
    released: Annotated[list[str] | None, typer.Option(help="Capacitor discharged and proved dead. Repeats.")] = None,
    at: Annotated[
        list[str] | None,
        typer.Option(help="Point or component to draw with what leads there. Repeats. All where none."),
    ] = None,
    columns: Annotated[
        int, typer.Option(min=1, max=MOST_COLUMNS, help="Columns side by side: 1 for a phone, 2 or 3 for paper.")
    ] = 1,
    serial: Serial = None,
    out: OutFile = None,
    data: Data = None,
) -> None:
    """The supply as a single-line drawing (SVG): from the plug to the loads, what is open, live or isolated."""
    write(
        data,
        out,
        lambda desk: picture(
            desk.supply(model, serial, opened=opened or [], off=off or [], released=released or [], at=at or []),
            columns=columns,
        ),
    )


def isolate(
    model: Model,
    touch: Annotated[list[str], typer.Argument(help="Points or components to be touched.")],
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """How to make points safe to touch: what to open in which order, what to release, where to prove dead."""
    ask(data, as_json, lambda desk: desk.isolation(model, serial, touch=touch), tables.isolation)


def make_safe(
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
    """How to make the machine safe for a plan and restore it, step by step, in the order of 29 CFR 1910.147."""
    asked = asked_plan(reach, off, state, tools, limit, minimise, serial)
    ask(data, as_json, lambda desk: desk.make_safe(model, asked), tables.procedure)


def reading(
    model: Model,
    red: Annotated[str, typer.Argument(help="Point of the red probe; `firstoff show MODEL PART` lists points.")],
    black: Annotated[str, typer.Argument(help="Point of the black probe.")],
    quantity: Annotated[str, typer.Option(help="voltage, ac-voltage, dc-voltage or resistance.")] = "voltage",
    opened: Annotated[list[str] | None, typer.Option(help="Device that is open. Repeats.")] = None,
    actuated: Annotated[
        list[str] | None, typer.Option(help="Device whose changeover contact is thrown over. Repeats.")
    ] = None,
    off: Annotated[
        list[str] | None, typer.Option(help="Component that is off, or the removal that took it off. Repeats.")
    ] = None,
    released: Annotated[list[str] | None, typer.Option(help="Capacitor discharged and proved dead. Repeats.")] = None,
    assume: Annotated[list[str] | None, typer.Option(help="Fault taken to be there. Repeats.")] = None,
    celsius: Annotated[float | None, typer.Option(help="Temperature of the parts in degrees Celsius.")] = None,
    measured: Annotated[str | None, typer.Option(help="What the meter shows, such as 230, '12.4 kohm' or OL.")] = None,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """What a meter should read between two points, and which faults a measured value supports or rules out."""
    asked = ReadingRequest(
        between=(red, black),
        quantity=quantity,
        opened=tuple(opened or ()),
        actuated=tuple(actuated or ()),
        off=tuple(off or ()),
        released=tuple(released or ()),
        assume=tuple(assume or ()),
        celsius=celsius,
        measured=measured,
        serial=serial,
    )
    ask(data, as_json, lambda desk: desk.reading(model, asked), tables.reading)


def energies(
    model: Model,
    ambient: Annotated[float | None, typer.Option(help="Temperature of the room in degrees Celsius.")] = None,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """Every energy of a machine, worst first: how much, what releases it, how long, how to verify, who may."""
    ask(data, as_json, lambda desk: desk.energies(model, serial, ambient), tables.energies)


def curve(
    model: Model,
    component: Annotated[str, typer.Argument(help="The part whose sensor it is.")],
    celsius: Annotated[float | None, typer.Option(help="Temperature in degrees Celsius.")] = None,
    ohms: Annotated[float | None, typer.Option(help="Resistance in ohms.")] = None,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """Resistance of a sensor over temperature, and the temperature at a resistance."""
    ask(data, as_json, lambda desk: desk.curves(model, component, serial, celsius, ohms), tables.curves)


def refrigerant(
    name: Annotated[str, typer.Argument(help="R134a, R290 or R600a.")],
    celsius: Annotated[float | None, typer.Option(help="Temperature in degrees Celsius.")] = None,
    gauge: Annotated[float | None, typer.Option(help="Gauge pressure in kilopascals.")] = None,
    absolute: Annotated[float | None, typer.Option(help="Absolute pressure in kilopascals.")] = None,
    ambient: Annotated[float, typer.Option(help="Pressure of the air in kilopascals.")] = 101.325,
    as_json: AsJson = False,
) -> None:
    """Saturation pressure of a refrigerant at a temperature, or the temperature at a pressure."""
    found = saturation_answer(name, celsius=celsius, gauge=gauge, absolute=absolute, ambient=ambient)
    if as_json:
        print(found.model_dump_json(indent=2))
    else:
        tables.saturation(OUT, found)


def socket(
    model: Model,
    measured: Annotated[
        list[str] | None, typer.Option(help="Volts between two conductors, such as line-neutral:229. Repeats.")
    ] = None,
    of: Annotated[str | None, typer.Option("--supply", help="Which supply, where there are several.")] = None,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """Is the socket in order: what a sound supply shows, and what may be the matter with what was measured."""
    ask(data, as_json, lambda desk: desk.socket_check(model, serial, of, measured or []), tables.socket_check)
