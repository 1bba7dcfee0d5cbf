"""Solutions and graphs as the W3C's formats, counted while they are written: too many rows or bytes end it.

JSON: https://www.w3.org/TR/sparql11-results-json/; XML: https://www.w3.org/TR/rdf-sparql-XMLres/; CSV and TSV:
https://www.w3.org/TR/sparql11-results-csv-tsv/. The engine writes these too, but counts no rows on its way.
"""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Callable, Iterator, Sequence
from typing import BinaryIO, Generic, TypeVar, cast
from xml.sax.saxutils import escape, quoteattr

import pyoxigraph as ox

from firstoff.errors import AnswerTooLarge, NotAcceptable
from firstoff.sparql.asking import (
    CSV_RESULTS,
    JSON_LD,
    JSON_RESULTS,
    N_TRIPLES,
    RDF_XML,
    TSV_RESULTS,
    TURTLE,
    XML_RESULTS,
    Answer,
    Limits,
)

_STRING = "http://www.w3.org/2001/XMLSchema#string"
_NOT_IN_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")  # XML 1.0, 2.2
_NAME_START = (  # Namespaces in XML 1.0, 3: NCName
    "A-Z_a-z\xc0-\xd6\xd8-\xf6\xf8-\u02ff\u0370-\u037d\u037f-\u1fff\u200c-\u200d\u2070-\u218f\u2c00-\u2fef"
    "\u3001-\ud7ff\uf900-\ufdcf\ufdf0-\ufffd\U00010000-\U000effff"
)
_ENDS_IN_A_NAME = re.compile(f"[{_NAME_START}][{_NAME_START}.0-9\xb7\u0300-\u036f\u203f-\u2040-]*$")
_XML_HEAD = '<?xml version="1.0"?>\n<sparql xmlns="http://www.w3.org/2005/sparql-results#">'
_WRITES_AS = {"application/json": JSON_RESULTS, "application/xml": XML_RESULTS}
_GRAPH_FORMATS = {
    TURTLE: ox.RdfFormat.TURTLE,
    N_TRIPLES: ox.RdfFormat.N_TRIPLES,
    RDF_XML: ox.RdfFormat.RDF_XML,
    JSON_LD: ox.RdfFormat.JSON_LD,
}

T = TypeVar("T")
Row = Sequence[ox.NamedNode | ox.BlankNode | ox.Literal | None]


class _Counted(io.RawIOBase):
    """Bytes written, up to a number."""

    def __init__(self, most: int) -> None:
        self._most = most
        self.parts: list[bytes] = []
        self.size = 0

    def writable(self) -> bool:
        return True

    def write(self, data: bytes, /) -> int:  # type: ignore[override]
        self.size += len(data)
        if self.size > self._most:
            raise AnswerTooLarge(f"The answer has more than {self._most:,} bytes.")
        self.parts.append(bytes(data))
        return len(data)


def truth(value: bool, media_type: str) -> Answer:
    """The answer to an ASK. CSV and TSV have no form for it (their section 1): the word alone is what engines write."""
    word = "true" if value else "false"
    bodies = {
        JSON_RESULTS: f'{{"head":{{}},"boolean":{word}}}',
        XML_RESULTS: f"{_XML_HEAD}<head/><boolean>{word}</boolean></sparql>",
    }
    return Answer(bodies.get(_WRITES_AS.get(media_type, media_type), word).encode(), media_type, 1)


def table(variables: Sequence[str], rows: Iterator[Row], media_type: str, limits: Limits) -> Answer:
    """The answer to a SELECT.

    :raises AnswerTooLarge: it has more rows or bytes than ``limits`` allow.
    :raises NotAcceptable: a value cannot be written in the format.
    """
    written = _Counted(limits.bytes)
    counted = _Rows(rows, limits.rows)
    for text in _WRITERS[_WRITES_AS.get(media_type, media_type)](variables, counted):
        written.write(text.encode())
    return Answer(b"".join(written.parts), media_type, counted.count)


def graph(triples: Iterator[ox.Triple], media_type: str, limits: Limits) -> Answer:
    """The answer to a CONSTRUCT or DESCRIBE; the same errors as ``table``."""
    written = _Counted(limits.bytes)
    counted = _Rows(triples, limits.rows)
    fit = map(_fit_for_xml, counted) if media_type == RDF_XML else counted
    ox.serialize(fit, cast(BinaryIO, written), format=_GRAPH_FORMATS[media_type])
    return Answer(b"".join(written.parts), media_type, counted.count)


def _fit_for_xml(triple: ox.Triple) -> ox.Triple:
    """The triple, if RDF/XML can hold it: the engine writes what is no XML, or reads otherwise, without a word."""
    value = triple.object.value if isinstance(triple.object, ox.Literal) else ""
    if not _ENDS_IN_A_NAME.search(triple.predicate.value) or _NOT_IN_XML.search(value) or "\r" in value:
        raise NotAcceptable(f"RDF/XML cannot hold the triple {str(triple)[:200]}.", mend=f"Ask for {TURTLE}.")
    return triple


class _Rows(Generic[T]):
    """Counts what passes, up to a number."""

    def __init__(self, rows: Iterator[T], most: int) -> None:
        self._rows = rows
        self._most = most
        self.count = 0

    def __iter__(self) -> Iterator[T]:
        return self

    def __next__(self) -> T:
        row = next(self._rows)
        self.count += 1
        if self.count > self._most:
            raise AnswerTooLarge(f"The answer has more than {self._most:,} rows.")
        return row


def _as_json(variables: Sequence[str], rows: Iterator[Row]) -> Iterator[str]:
    yield f'{{"head":{{"vars":{json.dumps(list(variables))}}},"results":{{"bindings":['
    between = ""
    for row in rows:
        bound = {name: _json_term(term) for name, term in zip(variables, row, strict=True) if term is not None}
        yield between + json.dumps(bound, ensure_ascii=False, separators=(",", ":"))
        between = ","
    yield "]}}"


def _json_term(term: ox.NamedNode | ox.BlankNode | ox.Literal) -> dict[str, str]:
    if isinstance(term, ox.NamedNode):
        return {"type": "uri", "value": term.value}
    if isinstance(term, ox.BlankNode):
        return {"type": "bnode", "value": term.value}
    if term.language is not None:
        return {"type": "literal", "value": term.value, "xml:lang": term.language}
    if term.datatype.value == _STRING:
        return {"type": "literal", "value": term.value}
    return {"type": "literal", "value": term.value, "datatype": term.datatype.value}


def _as_xml(variables: Sequence[str], rows: Iterator[Row]) -> Iterator[str]:
    head = "".join(f"<variable name={quoteattr(name)}/>" for name in variables)
    yield f"{_XML_HEAD}<head>{head}</head><results>"
    for row in rows:
        bound = zip(variables, row, strict=True)
        cells = (f"<binding name={quoteattr(name)}>{_xml_term(term)}</binding>" for name, term in bound if term)
        yield f"<result>{''.join(cells)}</result>"
    yield "</results></sparql>"


def _xml_term(term: ox.NamedNode | ox.BlankNode | ox.Literal) -> str:
    if _NOT_IN_XML.search(term.value):
        raise NotAcceptable("XML cannot hold a character of this answer.", mend=f"Ask for {JSON_RESULTS}.")
    value = escape(term.value, {"\r": "&#13;"})  # a bare return would be read as a line feed (XML 1.0, 2.11)
    if isinstance(term, ox.NamedNode):
        return f"<uri>{value}</uri>"
    if isinstance(term, ox.BlankNode):
        return f"<bnode>{value}</bnode>"
    if term.language is not None:
        return f"<literal xml:lang={quoteattr(term.language)}>{value}</literal>"
    if term.datatype.value == _STRING:
        return f"<literal>{value}</literal>"
    return f"<literal datatype={quoteattr(term.datatype.value)}>{value}</literal>"


def _as_csv(variables: Sequence[str], rows: Iterator[Row]) -> Iterator[str]:
    """Values without what kind of term they are; that is how the format is."""
    line = io.StringIO(newline="")
    writer = csv.writer(line, lineterminator="\r\n")

    def written(cells: Sequence[str]) -> str:
        line.seek(0)
        line.truncate()
        if len(cells) == 1 and not cells[0]:
            return "\r\n"  # the writer would put quotes, which tell an empty text from nothing
        writer.writerow(cells)
        return line.getvalue()

    yield written(variables)
    for row in rows:
        yield written([_csv_cell(term) for term in row])


def _csv_cell(term: ox.NamedNode | ox.BlankNode | ox.Literal | None) -> str:
    if term is None:
        return ""
    return str(term) if isinstance(term, ox.BlankNode) else term.value


def _as_tsv(variables: Sequence[str], rows: Iterator[Row]) -> Iterator[str]:
    yield "\t".join(f"?{name}" for name in variables) + "\n"
    for row in rows:
        yield "\t".join("" if term is None else _tsv_cell(term) for term in row) + "\n"


def _tsv_cell(term: ox.NamedNode | ox.BlankNode | ox.Literal) -> str:
    """As in Turtle (4.1), tabs escaped since they separate."""
    return str(term).replace("\t", "\\t").replace("\n", "\\n").replace("\r", "\\r")


_WRITERS: dict[str, Callable[[Sequence[str], Iterator[Row]], Iterator[str]]] = {
    JSON_RESULTS: _as_json,
    XML_RESULTS: _as_xml,
    CSV_RESULTS: _as_csv,
    TSV_RESULTS: _as_tsv,
}
