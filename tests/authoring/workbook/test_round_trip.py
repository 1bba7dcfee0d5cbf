"""A workbook and a graph say the same, whichever way round."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from csvw import TableGroup
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from firstoff.authoring.importing import exported, write_tables
from firstoff.authoring.turtle import read_turtle
from firstoff.authoring.turtle_writing import write_turtle
from firstoff.authoring.workbook.csv_folder import read_folder
from firstoff.authoring.workbook.reading import read_tables
from firstoff.authoring.workbook.sheets import Workbook, load_workbook
from firstoff.authoring.workbook.telling import tables_of
from firstoff.authoring.workbook.xlsx import read_xlsx
from firstoff.content import data_folder
from support.workbooks import said, workbooks

MACHINES = sorted(data_folder().glob("*.ttl"))


@given(st.deferred(lambda: workbooks(load_workbook())))
@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
def test_a_random_workbook_comes_back(workbook: Workbook, tables: list) -> None:  # type: ignore[type-arg]
    first = read_tables(tables, workbook)
    assert [each for each in first.complaints if each.rule != "space-around"] == []
    turtle = write_turtle(first.triples, first.platform, workbook)
    again = read_turtle(turtle, "x.ttl").triples
    assert said(first.triples) == said(again)
    back = tables_of(again, workbook)
    second = read_tables(back, workbook)
    assert second.complaints == ()
    assert write_turtle(second.triples, second.platform, workbook) == turtle


@given(st.deferred(lambda: workbooks(load_workbook())))
@settings(max_examples=4, deadline=None, phases=[Phase.generate], suppress_health_check=list(HealthCheck))
def test_files_keep_every_cell(workbook: Workbook, tables: list) -> None:  # type: ignore[type-arg]
    first = read_tables(tables, workbook)
    told = tables_of(first.triples, workbook)
    turtle = write_turtle(first.triples, first.platform, workbook)
    with tempfile.TemporaryDirectory() as folder:
        for path, read in ((Path(folder) / "a.xlsx", read_xlsx), (Path(folder) / "csv", read_folder)):
            write_tables(told, path, workbook)
            found, complaints = read(path)
            again = read_tables(found, workbook)
            assert [*complaints, *again.complaints] == []
            assert write_turtle(again.triples, again.platform, workbook) == turtle


@pytest.mark.parametrize("path", MACHINES, ids=lambda path: path.stem)
def test_the_demo_machines_lose_nothing(path: Path, workbook: Workbook, tmp_path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    tables = exported(text, path.name, workbook)
    write_tables(tables, tmp_path / "a.xlsx", workbook)
    found, complaints = read_xlsx(tmp_path / "a.xlsx")
    again = read_tables(found, workbook)
    assert [*complaints, *again.complaints] == []
    assert said(read_turtle(text, path.name).triples) == said(again.triples)


def test_other_programs_read_the_folder(workbook: Workbook, tmp_path: Path) -> None:
    """Held to an independent reader of CSVW (W3C, Metadata Vocabulary for Tabular Data, 2015)."""
    path = MACHINES[0]
    tables = exported(path.read_text(encoding="utf-8"), path.name, workbook)
    write_tables(tables, tmp_path / "csv", workbook)
    group = TableGroup.from_file(tmp_path / "csv" / "csv-metadata.json")
    assert group.check_referential_integrity(log=None)
    lines = {table.title: table.lines for table in tables}
    for table in group.tables:
        title = str(table.url).removesuffix(".csv").replace("-", " ")
        assert len(list(table.iterdicts(strict=True))) == len(lines[title])
    removals = next(table for table in group.tables if str(table.url) == "removals.csv")
    first = next(removals.iterdicts())
    assert isinstance(first["needs_off"], list)
    assert first["minutes_out"] > 0
