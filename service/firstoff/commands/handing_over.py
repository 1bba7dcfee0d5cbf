"""What proves the machine safe after work."""

from __future__ import annotations

from typing import Annotated

import typer

from firstoff.answers.requests import record_request
from firstoff.commands.shared import (
    AsJson,
    Data,
    Model,
    Serial,
    ask,
)
from firstoff.tables import record as tables


def record(
    model: Model,
    earth: Annotated[
        list[str] | None, typer.Option(help="Earth continuity in ohms: 0.08, '80 mohm'. Repeats for each place.")
    ] = None,
    insulation: Annotated[
        list[str] | None, typer.Option(help="Insulation resistance in megohms: 12, '900 kohm', '>500'. Repeats.")
    ] = None,
    leakage: Annotated[
        list[str] | None, typer.Option(help="Leakage current in milliamperes: 0.4, '400 uA'. Repeats.")
    ] = None,
    confirm: Annotated[
        list[str] | None, typer.Option(help="Line that was done and by whom: finish-leak='A. Technician'. Repeats.")
    ] = None,
    done: Annotated[
        list[str] | None,
        typer.Option(help="Component taken off, preparation made or state brought about. Repeats. '' for none."),
    ] = None,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """What proves the machine safe after work: readings against their limits. Blank without readings."""
    asked = record_request(
        earth=earth or [],
        insulation=insulation or [],
        leakage=leakage or [],
        confirm=confirm or [],
        done=done,
        serial=serial,
    )
    ask(data, as_json, lambda desk: desk.safety_record(model, asked), tables.safety_record)
