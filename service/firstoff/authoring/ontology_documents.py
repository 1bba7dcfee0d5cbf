"""The ontology as RDF documents: core, shapes and vocabularies together, in the syntaxes of the W3C."""

from __future__ import annotations

from pathlib import Path
from typing import TypeVar

import pyoxigraph as ox

from firstoff.authoring.digest import ontology_files
from firstoff.authoring.turtle import read_turtle
from firstoff.content import ontology_folder

_Node = TypeVar("_Node")
_FORMATS = {
    "application/ld+json": ox.RdfFormat.JSON_LD,
    "application/rdf+xml": ox.RdfFormat.RDF_XML,
    "application/n-triples": ox.RdfFormat.N_TRIPLES,
}
TURTLE = "text/turtle"
#: The media types that ``ontology_document`` writes.
RDF_TYPES = (TURTLE, *_FORMATS)


def ontology_document(media_type: str, folder: Path | None = None) -> bytes:
    """The ontology of ``folder`` (the package's own unless given), always the same bytes for the same files.

    Turtle is the files themselves, one after the other, with their comments; they name no blank node.

    :raises KeyError: ``media_type`` is none of ``RDF_TYPES``.
    :raises ContentSyntax: a file cannot be parsed.
    :raises OSError: a file is not there.
    """
    texts = {path.name: path.read_text(encoding="utf-8") for path in ontology_files(folder or ontology_folder())}
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
