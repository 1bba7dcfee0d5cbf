"""From a workbook to a checked Turtle file and back, with every finding at its sheet and row."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from firstoff.authoring.check import check_text
from firstoff.authoring.findings import Finding, Report
from firstoff.authoring.ontology import Ontology
from firstoff.authoring.turtle import read_turtle
from firstoff.authoring.turtle_writing import write_turtle
from firstoff.authoring.workbook.csv_folder import read_folder, write_folder
from firstoff.authoring.workbook.reading import Complaint, Place, read_tables
from firstoff.authoring.workbook.sheets import Workbook, load_workbook
from firstoff.authoring.workbook.tables import Table
from firstoff.authoring.workbook.telling import tables_of
from firstoff.authoring.workbook.wording import in_cells
from firstoff.authoring.workbook.xlsx import read_xlsx, write_xlsx
from firstoff.errors import BadRequest

OPENING = """Written from a workbook by `firstoff import`; change the workbook, or this file, not both.
"""


@dataclass(frozen=True, slots=True)
class Imported:
    """``turtle`` is None where the workbook could not be read whole; ``platform`` is the name of its platform."""

    platform: str
    turtle: str | None
    report: Report


@cache
def _own_workbook() -> Workbook:
    """The sheets as the package's own ontology has them, which a process reads once."""
    return load_workbook()


def is_workbook(path: Path) -> bool:
    """True for what is read as a workbook: an XLSX file (by its name), or a folder."""
    return path.is_dir() or path.suffix.casefold() in (".xlsx", ".xlsm", ".xltx", ".xltm", ".xls", ".ods")


def imported(path: Path, ontology: Ontology | None = None, workbook: Workbook | None = None) -> Imported:
    """Read the workbook at ``path`` and check what it says.

    Where part of it cannot be read that alone is told: what follows from it would only mislead.

    :raises BadRequest: it is no workbook, or none that may be opened.
    :raises OSError: it cannot be read.
    """
    workbook = workbook or _own_workbook()
    tables, complaints = _tables(path)
    reading = read_tables(tables, workbook)
    findings = tuple(_finding(each, str(path)) for each in (*complaints, *reading.complaints))
    report = Report(str(path), "", findings)
    if not report.ok:
        return Imported(reading.platform, None, report)
    turtle = write_turtle(reading.triples, reading.platform, workbook, OPENING)
    checked = check_text(turtle, f"{reading.platform}.ttl", ontology)
    placed = tuple(_placed(finding, reading.places, str(path), workbook) for finding in checked.findings)
    return Imported(reading.platform, turtle, Report(str(path), checked.digest, (*findings, *placed)))


def exported(turtle: str, name: str, workbook: Workbook | None = None) -> tuple[Table, ...]:
    """The tables that say what the Turtle text ``turtle`` of the file ``name`` says.

    :raises ContentSyntax: the text is no Turtle.
    :raises ContentBroken: a statement has no place in a workbook.
    """
    return tables_of(read_turtle(turtle, name).triples, workbook or _own_workbook())


def empty(languages: Iterable[str] = (), workbook: Workbook | None = None) -> tuple[Table, ...]:
    """Every sheet with its header alone; labels, texts and instructions have columns for ``languages`` as well."""
    workbook = workbook or _own_workbook()
    return tuple(
        Table(
            sheet.title,
            [
                sheet.key,
                *(
                    heading
                    for column in sheet.columns
                    for heading in (
                        column.title,
                        *(f"{column.title} [{each}]" for each in languages if column.in_languages),
                    )
                ),
            ],
            [],
        )
        for sheet in workbook.sheets
    )


def write_tables(tables: tuple[Table, ...], path: Path, workbook: Workbook | None = None) -> None:
    """Write tables to ``path``: a workbook where it ends in .xlsx, else a folder of CSV files.

    :raises BadRequest: ``path`` names another kind of file.
    :raises ContentBroken: a text does not fit into a cell.
    :raises OSError: it cannot be written.
    """
    workbook = workbook or _own_workbook()
    if path.suffix.casefold() == ".xlsx":
        write_xlsx(tables, workbook, path)
    elif path.suffix and not path.is_dir():
        raise BadRequest(
            f"{str(path)!r} is neither an XLSX workbook nor a folder.",
            mend="Name a file that ends in .xlsx, or a folder.",
        )
    else:
        write_folder(tables, workbook, path)


def _tables(path: Path) -> tuple[list[Table], list[Complaint]]:
    if path.is_dir():
        tables, complaints = read_folder(path)
        if not tables and not complaints:
            raise BadRequest(f"There is no CSV file in {str(path)!r}.", mend="Name a folder that holds some.")
        return tables, complaints
    if path.suffix.casefold() in (".xlsm", ".xltm", ".xls", ".ods"):
        raise BadRequest(
            f"{path.name} is a workbook with macros or of another format.", mend="Save it as an XLSX workbook."
        )
    return read_xlsx(path)


def _finding(complaint: Complaint, file: str) -> Finding:
    place = complaint.place or Place("")
    return Finding(
        complaint.severity,
        complaint.rule,
        None,
        None,
        complaint.message,
        complaint.mend,
        file,
        place.row,
        place.sheet or None,
        place.column,
    )


def _placed(finding: Finding, places: Mapping[str, Place], file: str, workbook: Workbook) -> Finding:
    place = places.get(finding.resource or "", Place(""))
    return replace(
        finding,
        file=file,
        line=place.row,
        sheet=place.sheet or None,
        message=in_cells(finding.message, workbook),
        mend=in_cells(finding.mend, workbook),
    )
