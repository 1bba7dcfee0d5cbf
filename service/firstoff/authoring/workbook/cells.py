"""A cell's value and the terms it stands for, both ways.

A cell that takes several values has them one a line; names and terms may also be parted by semicolons. In a list of
texts a backslash and a line end inside a value are written ``\\\\`` and ``\\n``.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from difflib import get_close_matches

import pyoxigraph as ox

from firstoff.authoring.workbook.sheets import Column, Holds

Cell = str | int | float | bool | datetime | date | time | timedelta | None

_XSD = "http://www.w3.org/2001/XMLSchema#"
_STRING, _BOOLEAN = ox.NamedNode(_XSD + "string"), ox.NamedNode(_XSD + "boolean")
_DECIMAL, _INTEGER = ox.NamedNode(_XSD + "decimal"), ox.NamedNode(_XSD + "integer")
_NUMERIC = frozenset(_XSD + name for name in ("decimal", "integer", "double", "float"))
_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d{1,3})?")
_COMMA = re.compile(r"[+-]?\d+,\d+")
_WITH_UNIT = re.compile(r"(?P<number>[+-]?\d+([.,]\d+)?)\s*(?P<unit>[^\d\s.,][^\d]*)")
_SLUG = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_YES = {"yes": True, "true": True, "no": False, "false": False}
#: Numbers are written out in full, so their exponents are kept within what a person would read.
_MOST_DIGITS = 40
#: Digits that a spreadsheet keeps of a number; what has more stands as a text.
_EXACT_DIGITS = 15


class CellWrong(ValueError):
    """A cell that cannot be taken; ``rule`` is stable, ``mend`` says what to write instead."""

    def __init__(self, rule: str, message: str, mend: str) -> None:
        super().__init__(message)
        self.rule = rule
        self.message = message
        self.mend = mend


class NotForCells(ValueError):
    """A term that no cell of the column can hold."""


def is_slug(text: str) -> bool:
    """Whether ``text`` may be the name of a row: small letters, digits, single hyphens."""
    return _SLUG.fullmatch(text) is not None


def terms_of(
    value: Cell, column: Column, language: str | None, names: Mapping[str, str], terms: Mapping[str, str]
) -> list[ox.NamedNode | ox.Literal]:
    """What a cell says. ``names`` maps row names to IRIs, ``terms`` the column's vocabulary to labels.

    :raises CellWrong: the cell does not hold what the column takes.
    """
    if isinstance(value, (date, time, timedelta)):
        raise CellWrong(
            "date-in-cell",
            "A spreadsheet program has made a date of what was typed.",
            "Set the column's format to text and type it again.",
        )
    if column.holds is Holds.YES_NO:
        return [_yes_no(value)]
    if column.holds in (Holds.NUMBER, Holds.WHOLE):
        return [_number(value, column)]
    text = text_of(value)
    parts = _split(text, column)
    return [_term(part, column, language, names, terms) for part in parts]


def cell_of(values: Sequence[ox.NamedNode | ox.Literal], column: Column, names: Mapping[str, str]) -> Cell:
    """The cell that stands for ``values``; ``names`` maps IRIs to row names.

    :raises NotForCells: a value is of another kind than the column takes, or there are several where one is taken.
    """
    if not values:
        return None
    if not column.many and len(values) > 1:
        raise NotForCells(f"{len(values)} values under {column.title}, which takes one")
    if column.holds in (Holds.NUMBER, Holds.WHOLE):
        return _plain_number(values[0])
    shown = [_shown(value, column, names) for value in values]
    if not column.many:
        return shown[0]
    return "\n".join(_escaped(each) if column.holds in (Holds.TEXT, Holds.PLAIN) else each for each in shown)


def text_of(value: Cell) -> str:
    """What is read in a cell: numbers in full, yes and no, nothing for None."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return _written(Decimal(repr(value)))
    return str(value)


def _split(text: str, column: Column) -> list[str]:
    if not column.many:
        return [text]
    if column.holds in (Holds.TEXT, Holds.PLAIN):
        return [_unescaped(line) for line in text.split("\n") if line.strip()]
    return [part for part in re.split(r"[;\n]", text) if part.strip()]


def _term(
    text: str, column: Column, language: str | None, names: Mapping[str, str], terms: Mapping[str, str]
) -> ox.NamedNode | ox.Literal:
    if column.holds is Holds.TEXT:
        return ox.Literal(text, language=language) if language else ox.Literal(text)
    if column.holds is Holds.PLAIN:
        return ox.Literal(text)
    text = text.strip()
    if column.holds is Holds.ADDRESS or (column.holds is Holds.TERM and text.startswith("https://")):
        return _address(text)
    if column.holds is Holds.NAME:
        return _name(text, names)
    if column.holds is Holds.TERM:
        return _concept(text, column, terms)
    if text not in column.choices:
        raise CellWrong("no-such-choice", f"{text!r} is none of {', '.join(column.choices)}.", "Choose one of these.")
    return ox.Literal(text)


def _name(text: str, names: Mapping[str, str]) -> ox.NamedNode:
    if text in names:
        return ox.NamedNode(names[text])
    near = get_close_matches(text, names, n=1, cutoff=0.6)
    hint = f"Did you mean {near[0]}? " if near else ""
    raise CellWrong("unknown-name", f"No row is called {text!r}.", f"{hint}Write the name of a row that is there.")


def _concept(text: str, column: Column, terms: Mapping[str, str]) -> ox.NamedNode:
    allowed = {slug: terms.get(slug, slug) for slug in column.choices} if column.choices else terms
    if text in allowed:
        return ox.NamedNode(column.vocabulary + text)
    by_label = {label.casefold(): slug for slug, label in allowed.items()}
    if text.casefold() in by_label:
        return ox.NamedNode(column.vocabulary + by_label[text.casefold()])
    near = get_close_matches(text.casefold(), [*allowed, *by_label], n=1, cutoff=0.6)
    hint = f"Did you mean {by_label.get(near[0], near[0])}? " if near else ""
    raise CellWrong(
        "unknown-term",
        f"{text!r} is no term that {column.title} takes.",
        f"{hint}Take one from the list in the sheet 'choices'.",
    )


def _address(text: str) -> ox.NamedNode:
    try:
        if not re.match(r"[a-z][a-z0-9+.-]*:\S+$", text):
            raise ValueError
        return ox.NamedNode(text)
    except ValueError as error:
        raise CellWrong("no-address", f"{text!r} is no address.", "Write it in full, such as https://….") from error


def _yes_no(value: Cell) -> ox.Literal:
    told = value if isinstance(value, bool) else _YES.get(str(value).strip().casefold())
    if told is None:
        raise CellWrong("not-yes-or-no", f"{_short(value)} is neither yes nor no.", "Write yes or no.")
    return ox.Literal("true" if told else "false", datatype=_BOOLEAN)


def _number(value: Cell, column: Column) -> ox.Literal:
    text = repr(value) if isinstance(value, float) else str(value).strip()
    if isinstance(value, bool) or not _NUMBER.fullmatch(text):
        raise _no_number(value, text, column)
    number = Decimal(text)
    if abs(number.adjusted()) > _MOST_DIGITS:
        raise CellWrong("number-out-of-reach", f"{_short(value)} is no number of this trade.", "Correct the number.")
    if column.holds is Holds.WHOLE:
        if number != number.to_integral_value():
            raise CellWrong("no-whole-number", f"{_short(value)} is no whole number.", "Write a whole number.")
        return ox.Literal(str(int(number)), datatype=_INTEGER)
    written = _written(number)
    return ox.Literal(written if "." in written else f"{written}.0", datatype=_DECIMAL)


def _no_number(value: Cell, text: str, column: Column) -> CellWrong:
    if _COMMA.fullmatch(text):
        mend = f"Write {text.replace(',', '.')}, or format the cell as a number."
        return CellWrong("decimal-comma", f"{text!r} has a decimal comma.", mend)
    found = _WITH_UNIT.fullmatch(text)
    if found is not None:
        return CellWrong(
            "unit-in-cell",
            f"{text!r} has a unit in it; {column.title} takes the number alone.",
            f"Write the number alone, in the unit that the column's note names: {column.note}",
        )
    return CellWrong("no-number", f"{_short(value)} is no number.", "Write a number such as 2.5, or nothing.")


def _short(value: object) -> str:
    text = repr(value)
    return text if len(text) <= 60 else f"{text[:59]}…"


def _shown(value: ox.NamedNode | ox.Literal, column: Column, names: Mapping[str, str]) -> str:
    if isinstance(value, ox.NamedNode):
        if column.holds is Holds.NAME and value.value in names:
            return names[value.value]
        if column.holds is Holds.TERM:
            return value.value.removeprefix(column.vocabulary)
        if column.holds is Holds.ADDRESS:
            return value.value
    elif column.holds is Holds.YES_NO and value.datatype == _BOOLEAN and value.value in ("true", "false"):
        return "yes" if value.value == "true" else "no"
    elif (column.holds is Holds.TEXT or value.language is None) and column.holds in (
        Holds.TEXT, Holds.PLAIN, Holds.CHOICE,
    ) and (value.language is not None or value.datatype == _STRING):  # fmt: skip
        if not value.value.strip():
            raise NotForCells(f"an empty text under {column.title}")
        return value.value
    raise NotForCells(f"{value} under {column.title}, which takes a {column.holds.value}")


def _plain_number(value: ox.NamedNode | ox.Literal) -> Cell:
    if not isinstance(value, ox.Literal) or value.datatype.value not in _NUMERIC or not _NUMBER.fullmatch(value.value):
        raise NotForCells(f"{value} where a number is taken")
    number = Decimal(value.value)
    written = _written(number)
    if len(written.strip("-").replace(".", "").lstrip("0")) > _EXACT_DIGITS:
        return written
    return int(written) if "." not in written else float(written)


def _written(number: Decimal) -> str:
    """In full, without an exponent or zeros at the end."""
    text = format(number, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def _escaped(text: str) -> str:
    return text.replace("\\", "\\\\").replace("\n", "\\n")


def _unescaped(text: str) -> str:
    return re.sub(r"\\(\\|n)", lambda found: "\\" if found[1] == "\\" else "\n", text)
