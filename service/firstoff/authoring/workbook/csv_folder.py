"""Tables in a folder of CSV files (RFC 4180) with metadata beside them.

The metadata follows the Metadata Vocabulary for Tabular Data (CSVW, W3C Recommendation, 2015), under the name that the
recommendation gives it. It is written for other programs; reading needs the header rows alone.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from firstoff.authoring.findings import Severity
from firstoff.authoring.workbook.cells import text_of
from firstoff.authoring.workbook.reading import FOR_PEOPLE, Complaint, Place
from firstoff.authoring.workbook.sheets import Column, Holds, Sheet, Workbook
from firstoff.authoring.workbook.tables import Line, Table

METADATA = "csv-metadata.json"
#: Bytes of one file: far more than any machine needs.
MOST_BYTES = 20_000_000


def read_folder(folder: Path) -> tuple[list[Table], list[Complaint]]:
    """Every CSV file of ``folder`` as a table, and what of them cannot be read.

    :raises OSError: the folder cannot be read.
    """
    tables: list[Table] = []
    complaints: list[Complaint] = []
    for path in sorted(folder.glob("*.csv")):
        title = path.stem.replace("-", " ").replace("_", " ")
        if title.casefold() in FOR_PEOPLE:
            continue
        if path.stat().st_size > MOST_BYTES:
            said = f"The file has more than {MOST_BYTES // 1_000_000} MB."
            complaints.append(_wrong("too-large", title, None, said, "Look whether it is the right file."))
            continue
        try:
            tables.append(_table(path.read_bytes().decode("utf-8-sig"), title))
        except UnicodeDecodeError as problem:
            row = problem.object[: problem.start].count(b"\n") + 1
            complaints.append(_wrong("not-utf-8", title, row, "This row is not UTF-8.", "Save the file as CSV UTF-8."))
        except csv.Error as problem:
            complaints.append(_wrong("not-csv", title, None, f"It cannot be read: {problem}.", "Save it as CSV again."))
    return tables, complaints


def write_folder(tables: Sequence[Table], workbook: Workbook, folder: Path) -> None:
    """Write the tables and their metadata; a table without rows gets no file.

    :raises OSError: a file cannot be written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    for table in tables:
        text = io.StringIO(newline="")
        writer = csv.writer(text, lineterminator="\r\n")
        writer.writerow(table.header)
        for line in table.lines:
            writer.writerow([text_of(cell) for cell in line.cells])
        (folder / _file(table.title)).write_text(text.getvalue(), encoding="utf-8", newline="")
    document = json.dumps(metadata(tables, workbook), indent=2, ensure_ascii=False)
    (folder / METADATA).write_text(document + "\n", encoding="utf-8")


def metadata(tables: Sequence[Table], workbook: Workbook) -> dict[str, Any]:
    """The CSVW table group that describes ``tables``."""
    written = {table.title for table in tables}
    return {
        "@context": "http://www.w3.org/ns/csvw",
        "tables": [_described(table, workbook.titled[table.title], workbook, written) for table in tables],
    }


def _described(table: Table, sheet: Sheet, workbook: Workbook, written: set[str]) -> dict[str, Any]:
    columns = list(_columns(table, sheet))
    keys = [{"name": _name(sheet.key), "titles": sheet.key, "datatype": "string", "required": True}]
    schema: dict[str, Any] = {"columns": keys + [described for _, described in columns]}
    foreign = [
        {"columnReference": described["name"], "reference": {"resource": _file(home), "columnReference": "name"}}
        for column, described in columns
        if len(column.classes) == 1 and (home := workbook.of_class[column.classes[0]].title) in written
    ]
    if sheet.owner is None:
        schema["primaryKey"] = "name"
    else:
        home = workbook.of_class[sheet.owner].title
        reference = {"resource": _file(home), "columnReference": "name"}
        foreign.insert(0, {"columnReference": _name(sheet.key), "reference": reference})
    if foreign:
        schema["foreignKeys"] = foreign
    return {"url": _file(table.title), "dc:title": sheet.title, "dc:description": sheet.note, "tableSchema": schema}


def _columns(table: Table, sheet: Sheet) -> Iterator[tuple[Column, dict[str, Any]]]:
    by_title = {column.title: column for column in sheet.columns}
    for heading in table.header[1:]:
        title, _, language = heading.partition(" [")
        column = by_title[title]
        described: dict[str, Any] = {"name": _name(heading), "titles": heading, "dc:description": column.note}
        described["datatype"] = _datatype(column)
        if column.holds is Holds.TEXT and language != "no language]":
            described["lang"] = language.rstrip("]") or "en"
        if column.many:
            described["separator"] = "\n"
        if column.needed and not language:
            described["required"] = True
        yield column, described


def _datatype(column: Column) -> Any:
    if column.holds is Holds.YES_NO:
        return {"base": "boolean", "format": "yes|no"}
    return {Holds.NUMBER: "decimal", Holds.WHOLE: "integer"}.get(column.holds, "string")


def _table(text: str, title: str) -> Table:
    first = text.partition("\n")[0]
    separator = ";" if first.count(";") > first.count(",") else ","
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    header: list[str] = []
    lines: list[Line] = []
    for number, cells in enumerate(reader, start=1):
        if number == 1:
            header = cells
        else:
            lines.append(Line(number, cells))
    return Table(title, header, lines)


def _file(title: str) -> str:
    return f"{title.replace(' ', '-')}.csv"


def _name(heading: str) -> str:
    return heading.replace(" [", "_").replace("]", "").replace(" ", "_").replace("-", "_")


def _wrong(rule: str, title: str, row: int | None, message: str, mend: str) -> Complaint:
    return Complaint(Severity.ERROR, rule, Place(title, row), message, mend)
