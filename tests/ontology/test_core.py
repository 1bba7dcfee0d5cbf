"""The core ontology: every term is named and defined, within what an OWL RL reasoner takes."""

from __future__ import annotations

import pytest
import rdflib
from rdflib.namespace import DCTERMS, OWL, RDF, RDFS, SKOS, XSD

from firstoff.content import ontology_folder

FO = rdflib.Namespace("https://firstoff.example/ontology#")
CORE = rdflib.Graph().parse(ontology_folder() / "core.ttl")
TERMS = sorted(
    term for term in set(CORE.subjects(RDF.type, None)) if isinstance(term, rdflib.URIRef) and term.startswith(FO)
)
CLASSES = {term for term in TERMS if (term, RDF.type, OWL.Class) in CORE}
OBJECTS = {term for term in TERMS if (term, RDF.type, OWL.ObjectProperty) in CORE}
DATA = {term for term in TERMS if (term, RDF.type, OWL.DatatypeProperty) in CORE}

#: What core.ttl may say about a term. All of it is in the OWL 2 RL profile (W3C Recommendation, 2012, 4.3): named
#: classes in subclass axioms, domains and ranges; the rest are annotations.
AXIOMS = {RDF.type, RDFS.subClassOf, RDFS.subPropertyOf, RDFS.domain, RDFS.range}
ANNOTATIONS = {
    RDFS.label, RDFS.seeAlso, SKOS.definition, SKOS.closeMatch, DCTERMS.source, DCTERMS.title, DCTERMS.description,
    OWL.versionInfo, rdflib.URIRef("http://qudt.org/schema/qudt/hasUnit"),
}  # fmt: skip
#: Datatypes of the OWL 2 RL profile (4.2) that core.ttl uses.
DATATYPES = {XSD.string, XSD.decimal, XSD.integer, XSD.boolean}


def test_there_are_terms() -> None:
    assert len(CLASSES) >= 25
    assert len(OBJECTS | DATA) >= 100
    assert set(TERMS) == CLASSES | OBJECTS | DATA


@pytest.mark.parametrize("term", TERMS, ids=lambda term: term.removeprefix(FO))
def test_term_is_named_and_defined(term: rdflib.URIRef) -> None:
    for name in (RDFS.label, SKOS.definition):
        texts = [value for value in CORE.objects(term, name) if isinstance(value, rdflib.Literal)]
        assert [text.language for text in texts] == ["en"], name
        assert texts[0].strip() == str(texts[0]) != ""
    definition = str(CORE.value(term, SKOS.definition))
    assert definition[0].isupper()
    assert definition.endswith(".")
    words = str(CORE.value(term, RDFS.label)).split()
    camel = words[0] + "".join(word.capitalize() for word in words[1:])
    local = term.removeprefix(FO)
    assert local == (camel[0].upper() + camel[1:] if term in CLASSES else camel)


def test_each_term_is_of_one_sort() -> None:
    for term in TERMS:
        assert sum(term in sort for sort in (CLASSES, OBJECTS, DATA)) == 1, term


def test_only_constructs_of_owl_rl() -> None:
    assert {predicate for predicate in CORE.predicates() if predicate not in AXIOMS | ANNOTATIONS} == set()
    assert set(CORE.objects(None, RDF.type)) == {OWL.Ontology, OWL.Class, OWL.ObjectProperty, OWL.DatatypeProperty}
    assert not [node for node in CORE.all_nodes() if isinstance(node, rdflib.BNode)]


def test_domains_and_ranges_are_there() -> None:
    for prop in OBJECTS | DATA:
        assert set(CORE.objects(prop, RDFS.domain)) <= CLASSES, prop
    for prop in OBJECTS:
        assert set(CORE.objects(prop, RDFS.range)) <= CLASSES | {SKOS.Concept}, prop
    for prop in DATA:
        assert set(CORE.objects(prop, RDFS.range)) <= DATATYPES, prop


def test_labels_are_used_once_among_classes_and_among_properties() -> None:
    for sort in (CLASSES, OBJECTS | DATA):
        labels = [str(label) for term in sort for label in CORE.objects(term, RDFS.label)]
        assert len(labels) == len(set(labels))
