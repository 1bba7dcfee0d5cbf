"""Blank nodes as addresses of their own kind, and back (RDF 1.1 Concepts, 3.5).

A graph goes to a remote engine in several requests, and a label of a blank node holds within one request only.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable

import pyoxigraph as ox

from firstoff.errors import ContentSyntax
from firstoff.store.terms import Blank, Iri, Term

GENID = "https://firstoff.example/.well-known/genid/"


def named(triples: Iterable[ox.Triple], graph: Iri, *, file: str) -> list[ox.Triple]:
    """The triples with an address for each blank node, which no other graph has.

    :raises ContentSyntax: the document has such an address already.
    """
    start = GENID + hashlib.sha256(graph.value.encode()).hexdigest()[:16] + "/"
    known: dict[object, ox.NamedNode] = {}

    def term(given: object) -> object:
        if isinstance(given, ox.NamedNode) and given.value.startswith(GENID):
            raise ContentSyntax(file, None, None, f"an address that stands for a blank node ({given.value})")
        if isinstance(given, ox.BlankNode):
            return known.setdefault(given, ox.NamedNode(f"{start}{len(known)}"))
        return given

    return [ox.Triple(term(each.subject), each.predicate, term(each.object)) for each in triples]  # type: ignore[arg-type]


def unnamed(term: Term | None) -> Term | None:
    """The blank node that an address stands for; any other term as it is."""
    if isinstance(term, Iri) and term.value.startswith(GENID):
        return Blank(term.value.removeprefix(GENID))
    return term
