"""A graph told as tables: the way back from Turtle to a workbook."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

import pyoxigraph as ox

from firstoff.authoring.names import PLATFORM
from firstoff.authoring.ontology import FO
from firstoff.authoring.references import MODEL
from firstoff.authoring.workbook.cells import Cell, NotForCells, cell_of
from firstoff.authoring.workbook.sheets import Column, Holds, Sheet, Workbook
from firstoff.authoring.workbook.tables import Line, Table
from firstoff.errors import ContentBroken

_TYPE = "http://www.w3.org/1999/02/22-rdf-syntax-ns#type"
Node = ox.NamedNode | ox.BlankNode
Value = ox.NamedNode | ox.BlankNode | ox.Literal


def tables_of(triples: Iterable[ox.Triple], workbook: Workbook) -> tuple[Table, ...]:
    """Every statement of a platform's graph as a cell, rows in the order in which their subjects first appear.

    Sheets without rows are there with their header. Texts in other languages than English have columns of their own.

    :raises ContentBroken: a statement has no place in a workbook; the message names it.
    """
    told = _Told(triples, workbook)
    tables = tuple(told.table(sheet) for sheet in workbook.sheets)
    told.all_said()
    return tables


class _Told:
    def __init__(self, triples: Iterable[ox.Triple], workbook: Workbook) -> None:
        self.workbook = workbook
        self.said: dict[Node, dict[str, list[Value]]] = {}
        for triple in triples:
            if isinstance(triple.subject, (ox.NamedNode, ox.BlankNode)) and not isinstance(triple.object, ox.Triple):
                self.said.setdefault(triple.subject, {}).setdefault(triple.predicate.value, []).append(triple.object)
        self.names = {
            node.value: node.value.rpartition("/")[2]
            for node in self.said
            if isinstance(node, ox.NamedNode) and node.value.startswith((PLATFORM, MODEL))
        }

    def table(self, sheet: Sheet) -> Table:
        rows = list(self._rows(sheet))
        headings = [heading for column in sheet.columns for heading in self._headings(column, [row for _, row in rows])]
        lines = [
            Line(number, [key, *(self._cell(row, column, language, key) for column, language in headings)])
            for number, (key, row) in enumerate(rows, start=2)
        ]
        for _, row in rows:
            for column in sheet.columns:
                row.pop(column.iri, None)
        return Table(sheet.title, [sheet.key, *(_heading(*each) for each in headings)], lines)

    def all_said(self) -> None:
        """:raises ContentBroken: a statement was not told."""
        for node, properties in self.said.items():
            for prop, values in properties.items():
                raise ContentBroken(
                    f"{node} {_short(prop)} {values[0]} has no place in a workbook.",
                    mend="Run `firstoff check` on the file and mend what it names, then export again.",
                )

    def _rows(self, sheet: Sheet) -> Iterator[tuple[str, dict[str, list[Value]]]]:
        of = ox.NamedNode(FO + sheet.of)
        if sheet.owner is None:
            for node, properties in self.said.items():
                if properties.get(_TYPE) == [of] and isinstance(node, ox.NamedNode) and node.value in self.names:
                    properties.pop(_TYPE)
                    yield self.names[node.value], properties
            return
        for node, properties in self.said.items():
            if not isinstance(node, ox.NamedNode) or node.value not in self.names:
                continue
            for part in list(properties.get(str(sheet.owned_by), [])):
                inner = self.said.get(part, {}) if isinstance(part, ox.BlankNode) else {}
                if inner.get(_TYPE) == [of]:
                    inner.pop(_TYPE)
                    properties[str(sheet.owned_by)].remove(part)
                    yield self.names[node.value], inner
            if properties.get(str(sheet.owned_by)) == []:
                properties.pop(str(sheet.owned_by))

    def _headings(self, column: Column, rows: Sequence[Mapping[str, list[Value]]]) -> list[tuple[Column, str | None]]:
        if column.holds is not Holds.TEXT:
            return [(column, None)]
        used = {_language(value) for row in rows for value in row.get(column.iri, [])}
        return [(column, language) for language in ("en", *sorted(used - {"en"}))]

    def _cell(self, row: Mapping[str, list[Value]], column: Column, language: str | None, key: str) -> Cell:
        values = [
            value for value in row.get(column.iri, []) if column.holds is not Holds.TEXT or _language(value) == language
        ]
        try:
            if any(isinstance(value, ox.BlankNode) for value in values):
                raise NotForCells(f"something in square brackets under {column.title}")
            return cell_of([v for v in values if not isinstance(v, ox.BlankNode)], column, self.names)
        except NotForCells as problem:
            raise ContentBroken(
                f"{key}: {problem}; it has no place in a workbook.",
                mend="Run `firstoff check` on the file and mend what it names, then export again.",
            ) from problem


def _heading(column: Column, language: str | None) -> str:
    if column.holds is not Holds.TEXT or language == "en":
        return column.title
    return f"{column.title} [{language}]"


def _language(value: Value) -> str:
    return (value.language or "no language") if isinstance(value, ox.Literal) else "no language"


def _short(prop: str) -> str:
    return f"fo:{prop.removeprefix(FO)}" if prop.startswith(FO) else f"<{prop}>"
