"""Digests of content, independent of how it is written down."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable

import pyoxigraph as ox

from firstoff.store.turtle import triples_of


def graph_revision(turtle: str, *, file: str) -> str:
    """Sixteen hexadecimal digits that two Turtle documents share when they say the same.

    The digest is SHA-256 over the sorted N-Triples after blank nodes got canonical names (RDF Dataset
    Canonicalization 1.0, W3C Recommendation, 2024).

    :raises ContentSyntax: the document cannot be parsed.
    """
    triples = triples_of(turtle, file=file)
    dataset = ox.Dataset(ox.Quad(triple.subject, triple.predicate, triple.object) for triple in triples)
    dataset.canonicalize(ox.CanonicalizationAlgorithm.RDFC_1_0)
    lines = sorted(str(quad) for quad in dataset)
    return hashlib.sha256("\n".join(lines).encode()).hexdigest()[:16]


def combined(revisions: Iterable[str]) -> str:
    """One revision for several, whatever their order."""
    return hashlib.sha256("\n".join(sorted(revisions)).encode()).hexdigest()[:16]
