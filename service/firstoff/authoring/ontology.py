"""The ontology a file is checked against: core, shapes, vocabularies, and the digest of all three."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import pyoxigraph as ox
import rdflib

from firstoff.appliance.model import Symptom
from firstoff.authoring.digest import ontology_digest, ontology_files
from firstoff.authoring.turtle import read_turtle, to_rdflib
from firstoff.content import ontology_folder

__all__ = ["FO", "VOCABULARY", "Ontology", "load_ontology", "ontology_digest"]

FO = "https://firstoff.example/ontology#"
VOCABULARY = "https://firstoff.example/vocabulary/"
_RDF_TYPE = "http://www.w3.org/1999/02/22-rdf-syntax-ns#type"
_LABEL = "http://www.w3.org/2000/01/rdf-schema#label"
_OWL = "http://www.w3.org/2002/07/owl#"
_SKOS = "http://www.w3.org/2004/02/skos/core#"
_ISOLATES = FO + "isolates"


@dataclass(frozen=True, slots=True)
class Ontology:
    """``classes`` and ``properties`` are local names of the core, ``words`` maps each to its label in English;
    ``concepts`` maps the IRI of each concept to its label.

    ``kept`` holds what the shapes ask of the vocabularies: which resources are concepts and which kinds isolate.
    ``digest`` is SHA-256 over the files, in hexadecimal digits.
    """

    shapes: rdflib.Graph
    kept: rdflib.Graph
    classes: frozenset[str]
    properties: frozenset[str]
    words: Mapping[str, str]
    concepts: Mapping[str, str]
    isolating_kinds: frozenset[str]
    symptoms: Mapping[str, Symptom]
    digest: str


def load_ontology(folder: Path | None = None) -> Ontology:
    """Read the ontology of ``folder`` (the package's own unless given).

    :raises ContentSyntax: a file cannot be parsed.
    :raises OSError: a file is not there.
    """
    folder = folder or ontology_folder()
    core, shapes, *vocabularies = (
        read_turtle(path.read_text(encoding="utf-8"), path.name).triples for path in ontology_files(folder)
    )
    triples = [triple for document in vocabularies for triple in document]
    kept = [triple for triple in triples if triple.predicate.value in (_RDF_TYPE, _ISOLATES)]
    return Ontology(
        shapes=to_rdflib(shapes),
        kept=to_rdflib(kept),
        classes=_declared(core, "Class"),
        properties=_declared(core, "ObjectProperty") | _declared(core, "DatatypeProperty"),
        words={_slug(triple.subject): _value(triple.object) for triple in core if triple.predicate.value == _LABEL},
        concepts=_labels(triples),
        isolating_kinds=frozenset(
            _slug(triple.subject)
            for triple in triples
            if triple.predicate.value == _ISOLATES and _value(triple.object) == "true"
        ),
        symptoms=_symptoms(triples),
        digest=ontology_digest(folder),
    )


def _declared(triples: tuple[ox.Triple, ...], kind: str) -> frozenset[str]:
    wanted = ox.NamedNode(_OWL + kind)
    return frozenset(
        _slug(triple.subject)
        for triple in triples
        if triple.predicate.value == _RDF_TYPE and triple.object == wanted and _value(triple.subject).startswith(FO)
    )


def _labels(triples: list[ox.Triple]) -> dict[str, str]:
    wanted = ox.NamedNode(_SKOS + "Concept")
    labels = {
        _value(triple.subject): _slug(triple.subject)
        for triple in triples
        if triple.predicate.value == _RDF_TYPE and triple.object == wanted
    }
    for triple in triples:
        label = triple.object
        if triple.predicate.value == _SKOS + "prefLabel" and isinstance(label, ox.Literal) and label.language == "en":
            labels[_value(triple.subject)] = label.value
    return labels


def _symptoms(triples: list[ox.Triple]) -> dict[str, Symptom]:
    start = VOCABULARY + "symptoms#"
    return {
        iri.removeprefix(start): Symptom(iri.removeprefix(start), label)
        for iri, label in _labels(triples).items()
        if iri.startswith(start)
    }


def _value(term: object) -> str:
    return str(getattr(term, "value", ""))


def _slug(term: object) -> str:
    return _value(term).rpartition("#")[2]
