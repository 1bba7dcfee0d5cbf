from __future__ import annotations

from rdflib import PROV, RDF, RDFS, Graph, Literal, URIRef

from firstoff.authoring.history import Act, Version
from firstoff.authoring.provenance import provenance

BASE = "https://firstoff.example/graph/kettle/version/"
WHEN = "2026-03-01T09:30:00Z"
STORY = (
    Version(1, Act.FOUND, "aa", "", WHEN, "Found in the folder."),
    Version(2, Act.PUBLISHED, "bb", "jo at the bench", WHEN, "New element."),
    Version(3, Act.WITHDRAWN, "", "jo at the bench", WHEN, "Sold out."),
    Version(4, Act.RESTORED, "aa", "sam", WHEN, "Back again.", 1),
)


def test_the_story_of_a_platform() -> None:
    graph = provenance("kettle", STORY)
    assert {str(each) for each in graph.subjects(RDF.type, PROV.Entity)} == {BASE + number for number in "124"}
    second, publishing = URIRef(BASE + "2"), URIRef(BASE + "2/publishing")
    assert graph.value(second, PROV.wasRevisionOf) == URIRef(BASE + "1")
    assert graph.value(second, PROV.wasGeneratedBy) == publishing
    assert graph.value(publishing, RDFS.comment) == Literal("New element.")
    agent = graph.value(publishing, PROV.wasAssociatedWith)
    assert agent == URIRef("https://firstoff.example/agent/jo%20at%20the%20bench")
    assert graph.value(agent, RDFS.label) == Literal("jo at the bench")
    assert graph.value(second, PROV.wasInvalidatedBy) == URIRef(BASE + "3/publishing")
    fourth = URIRef(BASE + "4")
    assert graph.value(fourth, PROV.wasRevisionOf) is None
    assert graph.value(fourth, PROV.wasDerivedFrom) == URIRef(BASE + "1")


def test_nobody_is_named_for_what_was_found() -> None:
    graph = provenance("kettle", STORY[:1])
    assert not set(graph.subjects(RDF.type, PROV.Agent))


def test_it_is_read_back_from_turtle() -> None:
    graph = provenance("kettle", STORY)
    assert set(Graph().parse(data=graph.serialize(format="turtle"), format="turtle")) == set(graph)
