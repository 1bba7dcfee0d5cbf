"""The indexed graph answers as rdflib's own does, and the shapes find the same in both."""

from __future__ import annotations

import pytest
import rdflib
from hypothesis import given
from hypothesis import strategies as st
from rdflib.namespace import XSD

from firstoff.authoring.indexed import IndexedGraph
from firstoff.authoring.ontology import Ontology
from firstoff.authoring.references import unknown_references
from firstoff.authoring.shapes import shape_problems
from support.drafts import draft_of
from support.small_platform import TURTLE, changed, with_more

NODES = (rdflib.URIRef("urn:a"), rdflib.URIRef("urn:b"), rdflib.BNode("c"))
PROPERTIES = (rdflib.URIRef("urn:p"), rdflib.URIRef("urn:q"))
LITERALS = (
    rdflib.Literal("1"),
    rdflib.Literal("1", lang="en"),
    rdflib.Literal("1", datatype=XSD.integer),
    rdflib.Literal("1.0", datatype=XSD.decimal),
    rdflib.Literal("urn:a"),
)
TRIPLES = st.tuples(st.sampled_from(NODES), st.sampled_from(PROPERTIES), st.sampled_from((*NODES, *LITERALS)))


@given(st.lists(TRIPLES, max_size=25))
def test_it_answers_as_rdflib_does(triples: list[tuple[rdflib.term.Node, rdflib.term.Node, rdflib.term.Node]]) -> None:
    ours, theirs = IndexedGraph(triples), rdflib.Graph()
    for triple in triples:
        theirs.add(triple)  # type: ignore[arg-type]
    assert set(ours) == set(theirs)
    assert len(ours) == len(theirs)
    for prop in (*PROPERTIES, None):
        for node in (*NODES, None):
            assert list(ours.objects(node, prop)) == list(theirs.objects(node, prop))
            for value in (*NODES, *LITERALS, None):
                assert ((node, prop, value) in ours) == ((node, prop, value) in theirs)
        for value in (*NODES, *LITERALS, None):
            assert list(ours.subjects(prop, value)) == list(theirs.subjects(prop, value))


def test_it_is_only_added_to() -> None:
    with pytest.raises(NotImplementedError):
        IndexedGraph().remove((NODES[0], PROPERTIES[0], NODES[1]))


@pytest.mark.parametrize(
    "turtle",
    [
        TURTLE,
        changed("fo:minutesOut 0.2", "fo:minutesOut 0"),
        changed("fo:minutesOut 0.2", "fo:minutesOut 0.2, 0.3"),
        changed("fo:minutesOut 0.2", 'fo:minutesOut "soon"'),
        changed(' ; rdfs:label "inside"@en', ""),
        changed("fo:removes p:tray", "fo:removes p:notes"),
        changed("fo:count 4", "fo:count 0"),
        with_more("p:lamp fo:colour 1 ; fo:kilograms -1 ."),
        TURTLE.replace("fo:linkKind link:load", "fo:linkKind link:capacitor"),
    ],
    ids=["passes", "zero", "two", "word", "no label", "wrong class", "count", "unknown property", "wrong kind"],
)
def test_shapes_find_the_same_in_both(turtle: str, ontology: Ontology) -> None:
    draft = draft_of(turtle, ontology)
    found = []
    for make in (IndexedGraph, rdflib.Graph):
        graph = make()
        for triple in as_rdflib(turtle):
            graph.add(triple)
        found.append(set(shape_problems(draft.document, graph, ontology, draft.owners, unknown_references(draft))))
    assert found[0] == found[1]
    assert bool(found[0]) == (turtle != TURTLE)


def as_rdflib(turtle: str) -> rdflib.Graph:
    return rdflib.Graph().parse(data=turtle, format="turtle")
