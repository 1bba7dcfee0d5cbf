"""Turtle texts as documents in the syntaxes of the W3C."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeVar

import pyoxigraph as ox

from firstoff.authoring.turtle import read_turtle

_Node = TypeVar("_Node")
_FORMATS = {
    "application/ld+json": ox.RdfFormat.JSON_LD,
    "application/rdf+xml": ox.RdfFormat.RDF_XML,
    "application/n-triples": ox.RdfFormat.N_TRIPLES,
}
TURTLE = "text/turtle"
#: The media types that ``rdf_document`` writes.
RDF_TYPES = (TURTLE, *_FORMATS)


def rdf_document(texts: Mapping[str, str], media_type: str) -> bytes:
    """The Turtle ``texts`` by file name as one document, always the same bytes for the same texts.

    Turtle is the texts themselves, one after the other, with their comments.

    :raises KeyError: ``media_type`` is none of ``RDF_TYPES``.
    :raises ContentSyntax: a text cannot be parsed.
    """
    if media_type == TURTLE:
        return "\n".join(texts.values()).encode()
    triples: list[ox.Triple] = []
    prefixes: dict[str, str] = {}
    for name, text in texts.items():
        document = read_turtle(text, name)
        triples.extend(document.triples)
        prefixes |= document.prefixes
    written = ox.serialize(_named_in_order(triples), format=_FORMATS[media_type], prefixes=prefixes)
    return written or b""


def _named_in_order(triples: list[ox.Triple]) -> list[ox.Triple]:
    """Blank nodes named by where they first stand, not by chance as the parser names them."""
    names: dict[ox.BlankNode, ox.BlankNode] = {}

    def named(node: _Node) -> _Node | ox.BlankNode:
        if not isinstance(node, ox.BlankNode):
            return node
        return names.setdefault(node, ox.BlankNode(f"b{len(names)}"))

    return [ox.Triple(named(each.subject), each.predicate, named(each.object)) for each in triples]
