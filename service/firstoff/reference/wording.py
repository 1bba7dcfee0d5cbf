"""How it is said what a property holds and how often a class takes it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from firstoff.authoring.glossary import Use
from firstoff.authoring.workbook.sheets import Holds

_ENGLISH = ("zero", "one", "two", "three", "four")
_PLAIN = {
    Holds.TEXT: "text with its language",
    Holds.PLAIN: "text without a language",
    Holds.NUMBER: "number",
    Holds.WHOLE: "whole number",
    Holds.YES_NO: "true or false",
    Holds.ADDRESS: "address",
    Holds.NAME: "resource",
}


@dataclass(frozen=True, slots=True)
class Piece:
    """Words, with the anchor within the page that they lead to, if any."""

    text: str
    anchor: str | None = None


def held(use: Use, labels: Mapping[str, str], vocabularies: Mapping[str, str]) -> tuple[Piece, ...]:
    """What a value is. ``labels`` are the labels of classes, ``vocabularies`` maps the start of the addresses of terms
    to the anchor of their vocabulary."""
    column = use.column
    if column.holds is Holds.NAME and column.classes:
        return _joined([Piece(labels.get(each, each), each) for each in column.classes])
    if column.holds is Holds.CHOICE:
        return (Piece("one of: " + ", ".join(column.choices)),)
    if column.holds is Holds.TERM:
        start = column.vocabulary
        name = start.rstrip("#").rpartition("/")[2].replace("-", " ")
        some = f", one of: {', '.join(column.choices)}" if column.choices else ""
        return Piece("term of "), Piece(name, vocabularies.get(start)), *([Piece(some)] if some else [])
    unit = [f"in {use.term.unit}"] if use.term is not None and use.term.unit else []
    return (Piece(", ".join([" ".join([_PLAIN[column.holds], *unit]), *use.bounds])),)


def how_many(use: Use) -> str:
    """The cardinality: exactly one, at least two, and so on."""
    if use.one_a_language:
        return "one a language, at least one" if use.fewest else "at most one a language"
    if use.most is None:
        return f"at least {_number(use.fewest)}" if use.fewest else "any number"
    if use.fewest == use.most:
        return f"exactly {_number(use.most)}"
    if not use.fewest:
        return f"at most {_number(use.most)}"
    return f"{_number(use.fewest)} to {_number(use.most)}"


def _number(count: int) -> str:
    return _ENGLISH[count] if count < len(_ENGLISH) else str(count)


def _joined(pieces: list[Piece]) -> tuple[Piece, ...]:
    """``a, b or c``."""
    said: list[Piece] = []
    for number, piece in enumerate(pieces):
        if number:
            said.append(Piece(" or " if number == len(pieces) - 1 else ", "))
        said.append(piece)
    return tuple(said)
