"""Tables as they stand in a workbook or a folder of CSV files: nothing is known of their meaning here."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from firstoff.authoring.workbook.cells import Cell


@dataclass(frozen=True, slots=True)
class Line:
    """A row; ``number`` is counted from 1 as the spreadsheet counts, the header being row 1."""

    number: int
    cells: Sequence[Cell]

    @property
    def blank(self) -> bool:
        """True where no cell says anything."""
        return all(is_blank(cell) for cell in self.cells)


@dataclass(frozen=True, slots=True)
class Table:
    """``title`` is that of the sheet or the name of the file."""

    title: str
    header: Sequence[str]
    lines: Sequence[Line]

    def cells(self, line: Line) -> Iterator[tuple[int, Cell]]:
        """Place of the column and value of every cell of ``line`` that says something."""
        return ((place, cell) for place, cell in enumerate(line.cells) if not is_blank(cell))


def is_blank(cell: Cell) -> bool:
    """True for a cell that says nothing: empty, or nothing but white space."""
    return cell is None or (isinstance(cell, str) and not cell.strip())


def column_letter(place: int) -> str:
    """The letters over the column at ``place``, counted from 0."""
    letters = ""
    place += 1
    while place:
        place, rest = divmod(place - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters
