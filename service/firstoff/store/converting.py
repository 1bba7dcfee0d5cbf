"""Our terms and those of the parser's library, which the embedded engine uses too."""

from __future__ import annotations

from functools import lru_cache

import pyoxigraph as ox

from firstoff.errors import EngineFailed, QueryRefused
from firstoff.store.canonical import CANONICAL, canonical
from firstoff.store.terms import Blank, Iri, Term, Text


def from_engine(term: object) -> Term | None:
    """Our term for one of the engine's; None for an unbound variable.

    :raises EngineFailed: for a term of a kind that ``put_graph`` lets in nowhere (a triple, a text with a direction).
    """
    if term is None:
        return None
    if isinstance(term, ox.NamedNode):
        return Iri(term.value)
    if isinstance(term, ox.BlankNode):
        return Blank(term.value)
    if isinstance(term, ox.Literal) and term.direction is None:
        return Text(term.value, term.datatype.value, term.language)
    raise EngineFailed(f"The engine answered with a term of an unexpected kind: {term!r}.")


@lru_cache(maxsize=1 << 14)
def answered(term: object) -> Term | None:
    """As ``from_engine``, spelt in the one way that every engine's answers are.

    The same few terms make up most answers: to look one up is twice as quick as to make it.
    """
    found = from_engine(term)
    if isinstance(found, Text) and found.datatype in CANONICAL:
        return Text(canonical(found.value, found.datatype), found.datatype)
    return found


def to_engine(term: Term) -> ox.NamedNode | ox.Literal:
    """The term as the parser's library has it; its ``str`` is safe in the text of a query.

    :raises QueryRefused: for a blank node, which cannot be bound into a query, and for what is no term of RDF.
    """
    if isinstance(term, Iri):
        return node(term)
    if isinstance(term, Blank):
        raise QueryRefused("A blank node cannot be bound into a query.")
    try:
        if term.language is not None:
            return ox.Literal(term.value, language=term.language)
        return ox.Literal(term.value, datatype=ox.NamedNode(term.datatype))
    except ValueError as error:
        raise QueryRefused(f"{term!r} is not a literal: {error}.") from error


def node(iri: Iri) -> ox.NamedNode:
    """:raises QueryRefused: it is no IRI."""
    try:
        return ox.NamedNode(iri.value)
    except ValueError as error:
        raise QueryRefused(f"{iri.value!r} is not an IRI.") from error
