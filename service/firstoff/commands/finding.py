"""Search, type-ahead, and the list of models."""

from __future__ import annotations

from typing import Annotated

import typer

from firstoff.commands.shared import (
    AsJson,
    Data,
    Model,
    Serial,
    ask,
)
from firstoff.errors import BadRequest
from firstoff.tables import content as tables

_MOST_PARTS = 10_000


def search(
    words: Annotated[list[str], typer.Argument(help="Symptom, part, code or model; typing errors are forgiven.")],
    model: Annotated[str | None, typer.Option(help="The model in hand.")] = None,
    kind: Annotated[str | None, typer.Option(help="symptom, component, code or model only.")] = None,
    lang: Annotated[str | None, typer.Option(help="Language to answer in, such as en.")] = None,
    limit: Annotated[int, typer.Option(min=1, max=50, help="How many hits at the most.")] = 10,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """Find symptoms, components, codes and models; a symptom lists its faults and the checks that tell them apart."""
    if kind not in (None, "symptom", "component", "code", "model"):
        raise BadRequest(f"{kind!r} is no kind.", mend="Give symptom, component, code or model.")
    query = _typed(words)
    ask(
        data,
        as_json,
        lambda desk: desk.search(query, model=model, serial=serial, kind=kind, lang=lang, limit=limit),
        tables.hits,
    )


def suggest(
    words: Annotated[list[str], typer.Argument(help="What is typed so far; typing errors are forgiven.")],
    model: Annotated[str | None, typer.Option(help="The model in hand.")] = None,
    lang: Annotated[str | None, typer.Option(help="Language where the query shows none.")] = None,
    limit: Annotated[int, typer.Option(min=1, max=50, help="How many completions at the most.")] = 10,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """Go on from a half-typed query: what is typed already is underlined. End it with a space to have the next word."""
    query = _typed(words)
    ask(
        data,
        as_json,
        lambda desk: desk.suggest(query, model=model, serial=serial, lang=lang, limit=limit),
        tables.completions,
    )


def _typed(words: list[str]) -> str:
    """What was typed, with a replacement character for bytes that are no text: they could not be printed again."""
    return " ".join(words).encode("utf-8", "surrogateescape").decode("utf-8", "replace")


def models(
    number: Annotated[str | None, typer.Argument(help="Number as it stands on a rating plate.")] = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """List the models, or find the one a rating plate names."""
    ask(data, as_json, lambda desk: desk.models(number, 0, 200), tables.models)


def show(
    model: Model,
    component: Annotated[str | None, typer.Argument(help="A part of it, to be shown instead of the model.")] = None,
    serial: Serial = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """What a model is made of, by the names that the other commands take: devices, states, tools, parts; of a part its
    points, removals and ways in."""
    if component is None:
        ask(data, as_json, lambda desk: desk.model(model, serial), tables.model)
    else:
        ask(data, as_json, lambda desk: desk.component(model, component, serial), tables.component)


def parts(model: Model, serial: Serial = None, data: Data = None, as_json: AsJson = False) -> None:
    """List the parts of a model, by the names that the other commands take."""
    ask(data, as_json, lambda desk: desk.components(model, serial, 0, _MOST_PARTS), tables.components)
