"""Turtle text read into triples, and the lines where resources start."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import pyoxigraph as ox
import rdflib

from firstoff.authoring.indexed import IndexedGraph
from firstoff.errors import ContentSyntax

_PLACE = re.compile(r"^Parser error (?:at|between) .*?: (?=\S)")
_SUBJECT = re.compile(r"^(?:[A-Za-z][\w.-]*)?:(?P<local>[\w-]+)|^<(?P<iri>[^>]+)>")
_NUMBERS = re.compile(r"^[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?$")
_XSD = "http://www.w3.org/2001/XMLSchema#"
_NUMERIC = frozenset(_XSD + name for name in ("integer", "decimal", "double", "float"))


@dataclass(frozen=True, slots=True)
class Document:
    """A Turtle document: its triples, its prefixes (name to namespace), and the first line of each slug."""

    triples: tuple[ox.Triple, ...]
    prefixes: Mapping[str, str]
    lines: Mapping[str, int]

    def shortened(self, iri: str) -> str:
        """``iri`` with the document's own prefixes, in angle brackets where none fits."""
        fitting = [(len(space), name) for name, space in self.prefixes.items() if space and iri.startswith(space)]
        if not fitting:
            return f"<{iri}>"
        length, name = max(fitting)
        return f"{name}:{iri[length:]}"


def read_turtle(text: str, name: str) -> Document:
    """Parse a whole document.

    :raises ContentSyntax: with the line and what was expected there; a document with an error gives nothing.
    """
    parser = ox.parse(text.encode(), format=ox.RdfFormat.TURTLE)
    try:
        triples = tuple(quad.triple for quad in parser)
    except SyntaxError as error:
        expected = _PLACE.sub("", str(error.msg)).rstrip(".")
        raise ContentSyntax(name, error.lineno, error.offset, expected) from error
    if any(isinstance(term, ox.Triple) for triple in triples for term in (triple.subject, triple.object)):
        raise ContentSyntax(name, None, None, "A triple that speaks of a triple is not taken here")
    if any(isinstance(triple.object, ox.Literal) and triple.object.direction is not None for triple in triples):
        raise ContentSyntax(name, None, None, "A text with a direction is not taken here")
    return Document(triples, dict(parser.prefixes), subject_lines(text))


def subject_lines(text: str) -> dict[str, int]:
    """The line, counted from 1, at which each slug first stands at the start of a line."""
    lines: dict[str, int] = {}
    for number, line in enumerate(text.splitlines(), start=1):
        found = _SUBJECT.match(line)
        if found is None:
            continue
        slug = found["local"] or re.split(r"[/#]", found["iri"])[-1]
        lines.setdefault(slug, number)
    return lines


def to_rdflib(triples: Iterable[ox.Triple]) -> IndexedGraph:
    """The graph that the shapes are held against."""
    made: dict[object, rdflib.URIRef | rdflib.BNode | rdflib.Literal] = {}

    def node(term: object) -> rdflib.URIRef | rdflib.BNode | rdflib.Literal:
        if term not in made:
            made[term] = _node(term)
        return made[term]

    return IndexedGraph((node(each.subject), node(each.predicate), node(each.object)) for each in triples)


def _node(term: object) -> rdflib.URIRef | rdflib.BNode | rdflib.Literal:
    if isinstance(term, ox.NamedNode):
        return rdflib.URIRef(term.value)
    if isinstance(term, ox.BlankNode):
        return rdflib.BNode(term.value)
    if isinstance(term, ox.Literal):
        return _literal(term)
    raise TypeError(f"Turtle has no term of this kind: {term!r}")


def _literal(term: ox.Literal) -> rdflib.Literal:
    if term.language is not None:
        return rdflib.Literal(term.value, lang=term.language)
    datatype = term.datatype.value
    # "ten"^^xsd:integer is a word: the shapes say so, rdflib would only log it
    if datatype == _XSD + "string" or (datatype in _NUMERIC and not _NUMBERS.match(term.value)):
        return rdflib.Literal(term.value)
    return rdflib.Literal(term.value, datatype=rdflib.URIRef(datatype))
