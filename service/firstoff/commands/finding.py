"""Search, and the list of models."""

from __future__ import annotations

from typing import Annotated

import typer

from firstoff.commands.shared import (
    AsJson,
    Data,
    Serial,
    ask,
)
from firstoff.errors import BadRequest
from firstoff.tables import content as tables


def search(
    words: Annotated[list[str], typer.Argument(help="Symptom, part, code or model; typing errors are forgiven.")],
    model: Annotated[str | None, typer.Option(help="The model in hand.")] = None,
    kind: Annotated[str | None, typer.Option(help="symptom, component, code or model only.")] = None,
    lang: Annotated[str | None, typer.Option(help="Language of the query, such as en.")] = None,
    limit: Annotated[int, typer.Option(min=1, max=50, help="How many hits at the most.")] = 10,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """Find symptoms, components, codes and models; a symptom lists its faults and the checks that tell them apart."""
    if kind not in (None, "symptom", "component", "code", "model"):
        raise BadRequest(f"{kind!r} is no kind.", mend="Give symptom, component, code or model.")
    ask(
        data,
        as_json,
        lambda desk: desk.search(" ".join(words), model=model, serial=serial, kind=kind, lang=lang, limit=limit),
        tables.hits,
    )


def models(
    number: Annotated[str | None, typer.Argument(help="Number as it stands on a rating plate.")] = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """List the models, or find the one a rating plate names."""
    ask(data, as_json, lambda desk: desk.models(number, 0, 200), tables.models)
