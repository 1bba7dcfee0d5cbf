"""Tables read into statements, with the row behind each, and everything about them that cannot be taken."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches

import pyoxigraph as ox

from firstoff.authoring.findings import Severity
from firstoff.authoring.names import PLATFORM
from firstoff.authoring.ontology import FO
from firstoff.authoring.references import MODEL
from firstoff.authoring.workbook.cells import Cell, CellWrong, is_slug, terms_of
from firstoff.authoring.workbook.sheets import Column, Holds, Sheet, Workbook
from firstoff.authoring.workbook.tables import Line, Table, column_letter

_TYPE = ox.NamedNode("http://www.w3.org/1999/02/22-rdf-syntax-ns#type")
_HEADING = re.compile(r"(?P<title>.*?)(\s*\[(?P<language>no language|[A-Za-z]{2,3}(-[A-Za-z0-9]{1,8})*)\])?")
#: Sheets for people, of which nothing is read.
FOR_PEOPLE = ("read me", "choices")


@dataclass(frozen=True, slots=True)
class Place:
    """Where something stands: the sheet, the row counted from 1, and the letter of the column, where it is known."""

    sheet: str
    row: int | None = None
    column: str | None = None


@dataclass(frozen=True, slots=True)
class Complaint:
    """Something about a table that cannot be taken, or that is worth a look."""

    severity: Severity
    rule: str
    place: Place | None
    message: str
    mend: str


@dataclass(frozen=True, slots=True)
class Reading:
    """``triples`` in the order of sheets, rows and columns; ``places`` by the name of a row."""

    platform: str
    triples: tuple[ox.Triple, ...]
    places: Mapping[str, Place]
    complaints: tuple[Complaint, ...]

    @property
    def ok(self) -> bool:
        """True where everything was taken."""
        return not any(each.severity is Severity.ERROR for each in self.complaints)


@dataclass(slots=True)
class _Reader:
    workbook: Workbook
    names: dict[str, str] = field(default_factory=dict)
    places: dict[str, Place] = field(default_factory=dict)
    complaints: list[Complaint] = field(default_factory=list)

    def wrong(self, rule: str, place: Place | None, message: str, mend: str) -> None:
        self.complaints.append(Complaint(Severity.ERROR, rule, place, message, mend))

    def doubtful(self, rule: str, place: Place | None, message: str, mend: str) -> None:
        self.complaints.append(Complaint(Severity.WARNING, rule, place, message, mend))


@dataclass(frozen=True, slots=True)
class _Headed:
    """A table whose sheet is known, with the column and language behind each place of its header."""

    sheet: Sheet
    table: Table
    key: int
    columns: Mapping[int, tuple[Column, str | None]]


def read_tables(tables: Sequence[Table], workbook: Workbook) -> Reading:
    """What the tables of one machine say. Whatever cannot be taken is told and left out."""
    reader = _Reader(workbook)
    headed = [each for each in (_headed(reader, table) for table in tables) if each is not None]
    headed.sort(key=lambda each: workbook.sheets.index(each.sheet))
    platform = _named(reader, headed)
    triples = [triple for each in headed for triple in _statements(reader, each)]
    return Reading(platform, tuple(triples), reader.places, tuple(reader.complaints))


def _headed(reader: _Reader, table: Table) -> _Headed | None:
    title = table.title.strip().casefold()
    sheet = reader.workbook.titled.get(title)
    place = Place(table.title)
    if sheet is None:
        if title not in FOR_PEOPLE:
            near = get_close_matches(title, reader.workbook.titled, n=1, cutoff=0.6)
            hint = f"Did you mean {near[0]!r}? " if near else ""
            told = reader.wrong if near else reader.doubtful
            told("unknown-sheet", place, "There is no sheet of this name, so nothing of it was read.",
                 f"{hint}Name it as the template does, or take it away.")  # fmt: skip
        return None
    key: int | None = None
    columns: dict[int, tuple[Column, str | None]] = {}
    titles = {column.title.casefold(): column for column in sheet.columns}
    seen: set[str] = set()
    for at, heading in enumerate(table.header):
        text = " ".join(heading.split()).casefold().rstrip("*").strip()
        where = Place(table.title, 1, column_letter(at))
        if not text:
            if any(at < len(line.cells) and line.cells[at] not in (None, "") for line in table.lines):
                reader.wrong("no-heading", where, "A column with values has no heading.", "Give it one, or empty it.")
            continue
        if text in seen:
            reader.wrong("heading-twice", where, f"The heading {heading!r} stands twice.", "Take one of them away.")
            continue
        seen.add(text)
        if text == sheet.key:
            key = at
            continue
        found = _HEADING.fullmatch(text)
        column = titles.get(found["title"] if found else "")
        language = found["language"] if found else None
        if column is None or (language and column.holds is not Holds.TEXT):
            near = get_close_matches(text, [sheet.key, *titles], n=1, cutoff=0.6)
            hint = f"Did you mean {near[0]!r}? " if near else ""
            reader.wrong("unknown-column", where, f"The sheet {sheet.title} takes no column {heading!r}.",
                         f"{hint}Name it as the template does, or take it away.")  # fmt: skip
            continue
        spoken = None if language == "no language" else (language or "en")
        columns[at] = (column, spoken if column.holds is Holds.TEXT else None)
    if key is None:
        if any(not line.blank for line in table.lines):
            reader.wrong("no-key-column", Place(table.title, 1), f"There is no column {sheet.key!r}.", "Add it.")
        return None
    return _Headed(sheet, table, key, columns)


def _named(reader: _Reader, headed: Sequence[_Headed]) -> str:
    """Collect the names of all rows; the platform's own is returned, empty where it cannot be told."""
    rows = [
        (each.sheet, Place(each.table.title, line.number, column_letter(each.key)), _key(line, each))
        for each in headed
        if each.sheet.owner is None
        for line in each.table.lines
        if not line.blank
    ]
    platforms = [name for sheet, _, name in rows if sheet.of == "Platform" and is_slug(name)]
    if len(platforms) != 1:
        told = ", ".join(platforms) or "none"
        reader.wrong("one-platform", Place("platform"), f"A workbook describes exactly one platform. Found: {told}.",
                     "Give the sheet 'platform' one row with a name such as maker-machine.")  # fmt: skip
    platform = platforms[0] if platforms else ""
    for sheet, place, name in rows:
        if not is_slug(name):
            said = f"{name!r} is no name for a row." if name else "A row that says something has no name."
            reader.wrong("no-name", place, said,
                         "Write small letters and digits with single hyphens, such as drain-pump.")  # fmt: skip
        elif name in reader.places:
            first = reader.places[name]
            reader.wrong("name-used-twice", place,
                         f"{name!r} is the name of row {first.row} of the sheet {first.sheet} already.",
                         "Give each row a name of its own, over all sheets.")  # fmt: skip
        else:
            reader.places[name] = place
            reader.names[name] = _iri(sheet, name, platform)
    return platform


def _iri(sheet: Sheet, name: str, platform: str) -> str:
    if sheet.of == "Platform":
        return PLATFORM + name
    return MODEL + name if sheet.of == "Model" else f"{PLATFORM}{platform}/{name}"


def _key(line: Line, headed: _Headed) -> str:
    cell = line.cells[headed.key] if headed.key < len(line.cells) else None
    return "" if cell is None else str(cell).strip()


def _statements(reader: _Reader, headed: _Headed) -> Iterator[ox.Triple]:
    for line in headed.table.lines:
        if line.blank:
            continue
        name = _key(line, headed)
        place = Place(headed.table.title, line.number, column_letter(headed.key))
        subject: ox.NamedNode | ox.BlankNode
        if headed.sheet.owner is None:
            own = reader.places.get(name)
            if own is None or own != place:
                continue
            subject = ox.NamedNode(reader.names[name])
        else:
            if not _belongs(reader, headed, name, place):
                continue
            subject = ox.BlankNode()
            yield ox.Triple(ox.NamedNode(reader.names[name]), ox.NamedNode(str(headed.sheet.owned_by)), subject)
        yield ox.Triple(subject, _TYPE, ox.NamedNode(FO + headed.sheet.of))
        yield from _values(reader, headed, line, subject)


def _belongs(reader: _Reader, headed: _Headed, name: str, place: Place) -> bool:
    home = next(sheet for sheet in reader.workbook.sheets if sheet.of == headed.sheet.owner)
    found = reader.places.get(name)
    if found is not None and found.sheet.strip().casefold() == home.title:
        return True
    theirs = [each for each, where in reader.places.items() if where.sheet.strip().casefold() == home.title]
    near = get_close_matches(name, theirs, n=1, cutoff=0.6)
    hint = f"Did you mean {near[0]}? " if near else ""
    said = (
        f"The sheet {home.title} has no row {name!r}."
        if name
        else f"The row does not say what it is {headed.sheet.key}."
    )
    reader.wrong("unknown-name", place, said, f"{hint}Write the name of a row of that sheet.")
    return False


def _values(reader: _Reader, headed: _Headed, line: Line, subject: ox.NamedNode | ox.BlankNode) -> Iterator[ox.Triple]:
    for at, cell in headed.table.cells(line):
        if at not in headed.columns:
            continue
        column, language = headed.columns[at]
        place = Place(headed.table.title, line.number, column_letter(at))
        try:
            values = terms_of(cell, column, language, reader.names, reader.workbook.terms.get(column.vocabulary, {}))
        except CellWrong as wrong:
            reader.wrong(wrong.rule, place, f"{column.title}: {wrong.message}", wrong.mend)
            continue
        if _space_around(cell, column):
            reader.doubtful("space-around", place, f"{column.title}: the text begins or ends with a space.",
                            "Take the space away.")  # fmt: skip
        for value in values:
            yield ox.Triple(subject, ox.NamedNode(column.iri), value)


def _space_around(cell: Cell, column: Column) -> bool:
    return isinstance(cell, str) and column.holds in (Holds.TEXT, Holds.PLAIN) and cell != cell.strip()
