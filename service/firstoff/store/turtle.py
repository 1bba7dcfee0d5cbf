"""Turtle text read into triples."""

from __future__ import annotations

import re

import pyoxigraph as ox

from firstoff.errors import ContentSyntax

_RDF_1_2 = re.compile(rb"<<|@[A-Za-z][A-Za-z0-9-]*--")
_PLACE = re.compile(r"^Parser error (?:at|between) .*?: (?=\S)")


def triples_of(turtle: str, *, file: str) -> tuple[ox.Triple, ...]:
    """Each triple of a whole document once, in the order written; its blank nodes are its own and no other document's.

    Triples about triples and texts with a direction, which RDF 1.2 adds, are refused: nothing here reads them.

    :raises ContentSyntax: with the line and column, both counted from 1, where they are known.
    """
    content = encoded(turtle, file=file)
    try:
        quads = ox.parse(content, format=ox.RdfFormat.TURTLE, rename_blank_nodes=True)
        triples = tuple(dict.fromkeys(quad.triple for quad in quads))
    except SyntaxError as error:
        raise syntax_error(file, error) from error
    for triple in triples:
        value = triple.object
        if isinstance(value, ox.Triple):
            raise ContentSyntax(file, None, None, f"a triple about a triple ({value})")
        if isinstance(value, ox.Literal) and value.direction is not None:
            raise ContentSyntax(file, None, None, f"a text with a direction ({value})")
    return triples


def encoded(turtle: str, *, file: str) -> bytes:
    """The text in UTF-8.

    :raises ContentSyntax: it holds half of a surrogate pair.
    """
    try:
        return turtle.encode()
    except UnicodeEncodeError as error:
        line = turtle.count("\n", 0, error.start) + 1
        raise ContentSyntax(file, line, None, "half of a surrogate pair, which is no character") from error


def may_be_rdf_1_2(content: bytes) -> bool:
    """True where the text may hold what ``triples_of`` refuses; false where it surely does not."""
    return _RDF_1_2.search(content) is not None


def syntax_error(file: str, error: SyntaxError) -> ContentSyntax:
    """Our exception for the parser's."""
    return ContentSyntax(file, error.lineno, error.offset, _PLACE.sub("", str(error.msg)))
