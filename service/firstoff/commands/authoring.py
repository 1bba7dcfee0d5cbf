"""Check content, and bring it in from workbooks and back."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from firstoff.commands.shared import ERR, OUT, AsJson, Data, settings_for
from firstoff.errors import BadRequest
from firstoff.tables import content as tables
from firstoff.tables.sarif import sarif

AsSarif = Annotated[bool, typer.Option("--sarif", help="Print findings as SARIF 2.1.0, for editors and CI.")]
Overwrite = Annotated[bool, typer.Option("--overwrite", help="Write over what is there.")]


def check(
    files: Annotated[
        list[Path] | None,
        typer.Argument(help="Turtle files, XLSX workbooks, folders of CSV files. Default: every file of the folder."),
    ] = None,
    data: Data = None,
    record: Annotated[bool, typer.Option("--record", help="Keep the digests that passed beside the files.")] = False,
    as_sarif: AsSarif = False,
    as_json: AsJson = False,
) -> None:
    """Check content: syntax, shapes, and what needs thought. Exit status 1 where there is an error, 0 otherwise.

    A finding names the line, or the sheet and row; says what is wrong and how to mend it. Words of your own in
    `words/*.ttl` beside the content are checked with it. With `--record`, Turtle files that passed are served without
    being checked again until they, the words or the shapes change.
    """
    from firstoff.authoring import read_record, record_file, recorded, write_record
    from firstoff.authoring.check import check_files
    from firstoff.authoring.importing import imported, is_workbook
    from firstoff.authoring.ontology import ontology_of
    from firstoff.authoring.words import sound_words

    folder = settings_for(data).data
    chosen = files or sorted(folder.glob("*.ttl"))
    if not chosen:
        raise BadRequest(f"There is no Turtle file in {str(folder)!r}.", mend="Name files, or a folder with --data.")
    for file in chosen:
        if not file.exists():
            raise BadRequest(f"There is no file {str(file)!r}.", mend="Name a Turtle file or workbook that is there.")
    turtle = [file for file in chosen if not is_workbook(file)]
    with ERR.status(f"checking {len(chosen)} files"):
        ontology = ontology_of(folder)
        reports = [
            *check_files(turtle, ontology),
            *(imported(file, ontology).report for file in chosen if is_workbook(file)),
            *sound_words(folder)[1],
        ]
    if record:
        for place in sorted({file.parent for file in turtle}):
            beside = record_file(place)
            own = [report for file, report in zip(turtle, reports, strict=False) if file.parent == place]
            write_record(recorded(read_record(beside), own), beside)
    if as_sarif:
        print(sarif(reports))
    elif as_json:
        print(tables.reports_json(reports))
    else:
        tables.reports(OUT, reports)
    if not all(report.ok for report in reports):
        raise typer.Exit(1)


def ontology(
    out: Annotated[Path | None, typer.Option("--out", help="HTML file to write. Default: standard output.")] = None,
) -> None:
    """The words in which machines are described, as a page to read: classes, properties, vocabularies.

    A service answers the same at /ontology, and there as RDF too.
    """
    from firstoff.authoring.glossary import load_glossary
    from firstoff.reference import ontology_page

    page = ontology_page(load_glossary())
    if out is None:
        print(page)
        return
    _write(out, page)
    ERR.print(f"wrote {out}", markup=False, highlight=False)


def template(
    out: Annotated[Path, typer.Argument(help="Workbook to write (.xlsx), or a folder for CSV files.")],
    language: Annotated[
        list[str] | None, typer.Option(help="Language besides English to write texts in, such as es. Repeats.")
    ] = None,
    overwrite: Overwrite = False,
) -> None:
    """An empty workbook to describe a machine in: a sheet for each sort of thing, with notes and drop-down lists."""
    from firstoff.authoring.importing import empty, write_tables

    _may_write(out, overwrite)
    write_tables(empty(_languages(language)), out)
    ERR.print(f"wrote {out}", markup=False, highlight=False)


def import_workbook(
    workbook: Annotated[Path, typer.Argument(help="XLSX workbook, or folder of CSV files.")],
    out: Annotated[
        Path | None, typer.Option("--out", help="Turtle file or folder to write to. Default: the present folder.")
    ] = None,
    overwrite: Overwrite = False,
    data: Data = None,
    as_sarif: AsSarif = False,
) -> None:
    """Turn a workbook into a Turtle file, and check it.

    `--data` names the folder of content whose own words it may use.

    Nothing is written where the workbook cannot be read whole. Exit status 1 where there is an error, 0 otherwise.
    """
    from firstoff.authoring.importing import imported
    from firstoff.authoring.ontology import ontology_of

    if not workbook.exists():
        raise BadRequest(f"There is no workbook {str(workbook)!r}.", mend="Name a workbook that is there.")
    with ERR.status(f"reading {workbook.name}"):
        found = imported(workbook, ontology_of(settings_for(data).data))
    if as_sarif:
        print(sarif([found.report]))
    else:
        tables.reports(OUT, [found.report])
    if found.turtle is None:
        ERR.print("Nothing was written: mend what is named above first.")
        raise typer.Exit(1)
    target = _target(out, f"{found.platform}.ttl")
    _may_write(target, overwrite)
    _write(target, found.turtle)
    fit = "" if found.report.ok else "; it will not be served until the errors are mended"
    ERR.print(f"wrote {target}{fit}", markup=False, highlight=False)
    if not found.report.ok:
        raise typer.Exit(1)


def export(
    file: Annotated[Path, typer.Argument(help="Turtle file of a platform.")],
    out: Annotated[Path, typer.Argument(help="Workbook to write (.xlsx), or a folder for CSV files.")],
    overwrite: Overwrite = False,
) -> None:
    """Turn a Turtle file into a workbook. Every statement is in it; comments of the file are not."""
    from firstoff.authoring.importing import exported, write_tables

    if not file.is_file():
        raise BadRequest(f"There is no file {str(file)!r}.", mend="Name a Turtle file that is there.")
    _may_write(out, overwrite)
    write_tables(exported(file.read_text(encoding="utf-8"), file.name), out)
    ERR.print(f"wrote {out}", markup=False, highlight=False)


def _languages(given: list[str] | None) -> list[str]:
    import re

    for each in given or []:
        if not re.fullmatch(r"[a-z]{2,3}(-[A-Za-z0-9]{1,8})*", each) or each == "en":
            raise BadRequest(
                f"{each!r} is no language besides English.", mend="Give a language tag, such as es, de or fr-CA."
            )
    return list(dict.fromkeys(given or []))


def _target(out: Path | None, name: str) -> Path:
    if out is None:
        return Path(name)
    return out / name if out.is_dir() else out


def _write(path: Path, text: str) -> None:
    """Whole or not at all."""
    aside = path.with_name(f"{path.name}.new")
    try:
        aside.write_text(text, encoding="utf-8")
        aside.replace(path)
    except OSError as error:
        reason = error.strerror or str(error)
        raise BadRequest(f"Cannot write {str(path)!r}: {reason}.", mend="Name another place with --out.") from error


def _may_write(path: Path, overwrite: bool) -> None:
    there = any(path.iterdir()) if path.is_dir() else path.exists()
    if there and not overwrite:
        raise BadRequest(
            f"{str(path)!r} is there already and was left as it is.", mend="Name another place, or add --overwrite."
        )
