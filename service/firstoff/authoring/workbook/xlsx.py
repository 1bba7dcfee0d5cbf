"""Tables in an XLSX workbook, by openpyxl."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from firstoff.authoring.findings import Severity
from firstoff.authoring.workbook.cells import Cell
from firstoff.authoring.workbook.package import looked_over
from firstoff.authoring.workbook.reading import FOR_PEOPLE, Complaint, Place
from firstoff.authoring.workbook.sheets import Column, Holds, Sheet, Workbook
from firstoff.authoring.workbook.tables import Line, Table, column_letter
from firstoff.errors import BadRequest, ContentBroken

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

#: Rows and columns of a sheet: far more than any machine needs.
MOST_ROWS, MOST_COLUMNS = 20_000, 300
#: Letters that a cell of a spreadsheet holds.
MOST_LETTERS = 32_767
_ROWS_FOR_LISTS = 1_000
_NEEDED, _OPTIONAL = "FFF2E3C6", "FFE8EDF2"
_READ_ME = (
    "This workbook describes one machine platform for firstoff.",
    "",
    "Each sheet takes one sort of thing, a row each. Headings are fixed; rest the pointer on one to see what it takes.",
    "Headings in the darker shade are needed in every row, the others where there is something to say.",
    "A name is written in small letters and digits with single hyphens, such as drain-pump, and is used once only.",
    "Other sheets refer to a row by its name. Where a cell takes several names, write one a line or part them by ;",
    "Fastenings, connections, reassembly checks, effects and outcomes have no name: their first column says whose.",
    "Numbers stand alone, with a decimal point and without a unit; the heading's note names the unit.",
    "A text in another language has a column of its own: head it 'label [es]', 'instruction [de]' and so on.",
    "The sheet 'choices' lists the words of every vocabulary. Empty sheets and columns may be taken away.",
    "",
    "Then: firstoff check FILE.xlsx, and firstoff import FILE.xlsx.",
)


def read_xlsx(path: Path) -> tuple[list[Table], list[Complaint]]:
    """Every sheet of a workbook as a table, and what of it cannot be read: formulas, merged cells, error values.

    :raises BadRequest: it is no workbook that may be opened.
    :raises OSError: it cannot be read.
    """
    looked_over(path)
    library = _openpyxl()
    try:
        book = library.load_workbook(path, keep_links=False)
    except Exception as problem:  # the library raises whatever its parsers do
        raise BadRequest(
            f"{path.name} cannot be read as a workbook: {problem}.", mend="Save it again as an XLSX workbook."
        ) from problem
    tables: list[Table] = []
    complaints: list[Complaint] = []
    for sheet in book.worksheets:
        if sheet.title.strip().casefold() in FOR_PEOPLE:
            continue
        if sheet.max_row > MOST_ROWS or sheet.max_column > MOST_COLUMNS:
            said = f"It reaches to row {sheet.max_row} and column {column_letter(sheet.max_column - 1)}."
            mend = "Delete the rows and columns behind the last that says something."
            complaints.append(_wrong("sheet-too-large", Place(sheet.title), said, mend))
            continue
        complaints += _merged(sheet)
        tables.append(_table(sheet, complaints))
    return tables, complaints


def write_xlsx(tables: Sequence[Table], workbook: Workbook, path: Path) -> None:
    """Write the tables with notes and drop-down lists.

    :raises ContentBroken: a text does not fit into a cell.
    :raises OSError: the file cannot be written.
    """
    library = _openpyxl()
    book = library.Workbook()
    read_me = book.active
    read_me.title = "read me"
    read_me.column_dimensions["A"].width = 110
    for number, text in enumerate(_READ_ME, start=1):
        read_me.cell(number, 1, text)
    lists = _choices(workbook)
    for table in tables:
        _write_table(book.create_sheet(table.title), table, workbook.titled[table.title], workbook, lists)
    _write_choices(book.create_sheet("choices"), workbook, lists)
    book.save(path)


def _openpyxl() -> Any:
    try:
        import openpyxl
    except ModuleNotFoundError as missing:
        raise BadRequest(
            "Workbooks need the library openpyxl.", mend="Install it with: pip install 'firstoff[workbook]'."
        ) from missing
    return openpyxl


def _merged(sheet: Worksheet) -> Iterator[Complaint]:
    for area in sheet.merged_cells.ranges:
        yield _wrong(
            "merged-cells",
            Place(sheet.title, area.min_row, column_letter(area.min_col - 1)),
            f"The cells {area.coord} are merged, so it cannot be told whose the value is.",
            "Part them, and write the value into each row it belongs to.",
        )


def _table(sheet: Worksheet, complaints: list[Complaint]) -> Table:
    header: list[str] = []
    lines: list[Line] = []
    for number, row in enumerate(sheet.iter_rows(), start=1):
        cells: list[Cell] = []
        for at, cell in enumerate(row):
            place = Place(sheet.title, number, column_letter(at))
            value = cell.value
            if cell.data_type == "f":
                mend = "Copy it and paste it as values."
                complaints.append(_wrong("formula-in-cell", place, "The cell holds a formula.", mend))
                value = None
            elif cell.data_type == "e":
                said = f"The cell holds the error {value}."
                complaints.append(_wrong("error-in-cell", place, said, "Write the value."))
                value = None
            cells.append(value)  # type: ignore[arg-type]
        if number == 1:
            header = ["" if cell is None else str(cell) for cell in cells]
        else:
            lines.append(Line(number, cells))
    return Table(sheet.title, header, lines)


def _write_table(sheet: Worksheet, table: Table, of: Sheet, workbook: Workbook, lists: dict[str, str]) -> None:
    from openpyxl.comments import Comment
    from openpyxl.styles import Alignment, Font, PatternFill

    columns = {column.title: column for column in of.columns}
    sheet.freeze_panes = "B2"
    for at, heading in enumerate(table.header):
        column = columns.get(heading.partition(" [")[0]) if at else None
        needed = at == 0 or (column is not None and column.needed and "[" not in heading)
        cell = sheet.cell(1, at + 1, heading)
        cell.font = Font(bold=True)
        cell.fill = PatternFill("solid", fgColor=_NEEDED if needed else _OPTIONAL)
        cell.alignment = Alignment(wrap_text=True, vertical="top")
        cell.comment = Comment(_note(of, column, needed), "firstoff", height=120, width=320)
        long = column is not None and column.holds is Holds.TEXT
        sheet.column_dimensions[column_letter(at)].width = 46 if long else max(14, len(heading) + 2)
        if column is not None:
            _offer(sheet, at, column, workbook, lists)
    for line in table.lines:
        for at, value in enumerate(line.cells):
            if value is not None:
                _write_cell(sheet, line.number, at, value)


def _write_cell(sheet: Worksheet, row: int, at: int, value: Cell) -> None:
    from openpyxl.styles import Alignment
    from openpyxl.utils.exceptions import IllegalCharacterError

    if isinstance(value, str) and ("\r" in value or len(value) > MOST_LETTERS):
        raise _no_cell(sheet, row, at)
    try:
        cell = sheet.cell(row, at + 1, value)
    except IllegalCharacterError as problem:
        raise _no_cell(sheet, row, at) from problem
    if isinstance(value, str):
        cell.data_type = "s"  # never a formula, whatever it begins with
        cell.number_format = "@"
        cell.alignment = Alignment(wrap_text="\n" in value or len(value) > 40, vertical="top")


def _no_cell(sheet: Worksheet, row: int, at: int) -> ContentBroken:
    return ContentBroken(
        f"Sheet {sheet.title}, row {row}, column {column_letter(at)}: the text holds control characters or is longer "
        f"than {MOST_LETTERS} letters, which no spreadsheet takes.",
        mend="Mend the text, or export to a folder of CSV files.",
    )


def _note(sheet: Sheet, column: Column | None, needed: bool) -> str:
    if column is None:
        whose = "The name by which other sheets refer to this row." if sheet.owner is None else "Whose this row is."
        return f"{sheet.note} {whose}"
    several = " Several: one a line." if column.many else ""
    kind = {Holds.TEXT: "text", Holds.NAME: f"name of a row: {_homes(column)}"}.get(column.holds, column.holds.value)
    return f"{column.note}{several} ({kind}{', needed' if needed else ''})"


def _homes(column: Column) -> str:
    from firstoff.authoring.workbook.sheets import words_of

    return " or ".join(words_of(each) for each in column.classes)


def _choices(workbook: Workbook) -> dict[str, str]:
    """The area of the sheet 'choices' that lists each vocabulary, by its start."""
    areas: dict[str, str] = {}
    for place, (start, terms) in enumerate(workbook.terms.items()):
        letter = column_letter(2 * place)
        areas[start] = f"choices!${letter}$2:${letter}${len(terms) + 1}"
    return areas


def _write_choices(sheet: Worksheet, workbook: Workbook, areas: dict[str, str]) -> None:
    from openpyxl.styles import Font

    for place, start in enumerate(areas):
        title = start.rstrip("#").rpartition("/")[2].replace("-", " ")
        sheet.cell(1, 2 * place + 1, title).font = Font(bold=True)
        sheet.column_dimensions[column_letter(2 * place)].width = 24
        sheet.column_dimensions[column_letter(2 * place + 1)].width = 32
        for row, (slug, label) in enumerate(workbook.terms[start].items(), start=2):
            sheet.cell(row, 2 * place + 1, slug)
            sheet.cell(row, 2 * place + 2, label)
    sheet.freeze_panes = "A2"


def _offer(sheet: Worksheet, at: int, column: Column, workbook: Workbook, areas: dict[str, str]) -> None:
    """A drop-down list; where a cell takes several it only offers, otherwise it insists."""
    from openpyxl.worksheet.datavalidation import DataValidation

    words = ["yes", "no"] if column.holds is Holds.YES_NO else list(column.choices)
    if words:
        formula = f'"{",".join(words)}"'
    elif column.holds is Holds.TERM:
        formula = areas[column.vocabulary]
    elif column.holds is Holds.NAME and len(column.classes) == 1:
        home = workbook.of_class[column.classes[0]].title
        formula = f"'{home}'!$A$2:$A${_ROWS_FOR_LISTS}"
    else:
        return
    # Names are typed before their row is written, and terms may be a house's own: the check tells what is unknown.
    insists = bool(words) and not column.many
    offered = DataValidation("list", formula1=formula, allow_blank=True, showErrorMessage=insists)
    offered.add(f"{column_letter(at)}2:{column_letter(at)}{_ROWS_FOR_LISTS}")
    sheet.add_data_validation(offered)


def _wrong(rule: str, place: Place, message: str, mend: str) -> Complaint:
    return Complaint(Severity.ERROR, rule, place, message, mend)
