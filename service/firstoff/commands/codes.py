"""Display codes and service modes."""

from __future__ import annotations

from typing import Annotated

import typer

from firstoff.commands.shared import AsJson, Data, Model, Serial, ask
from firstoff.tables import codes as tables

_MOST_CODES = 10_000


def codes(
    model: Model,
    code: Annotated[
        str | None,
        typer.Argument(help="A code as the machine shows it, such as E4 or 'e 4'; to be told in full."),
    ] = None,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """List the codes a machine shows or stores; of one code what it says of the faults, what it does not prove, what to
    check first and how it is cleared. To go on from it: `firstoff diagnose MODEL --code CODE`."""
    if code is None:
        ask(data, as_json, lambda desk: desk.codes(model, serial, 0, _MOST_CODES), tables.codes)
    else:
        ask(data, as_json, lambda desk: desk.code(model, code, serial), tables.code)


def service_modes(
    model: Model,
    kind: Annotated[
        list[str] | None,
        typer.Option(help="stored-codes, readings, component-test, clearing or configuration only. Repeats."),
    ] = None,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """How to read stored codes, run the test programmes and clear codes on the machine itself, step by step, with the
    power each needs and what it makes live."""
    ask(data, as_json, lambda desk: desk.service_modes(model, serial, kind or []), tables.service_modes)
