"""The ontology a file is checked against: core, shapes, vocabularies, and the digest of all three."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import pyoxigraph as ox
import rdflib
from rdflib.namespace import SH

from firstoff.appliance.model import Symptom
from firstoff.authoring.digest import ontology_digest, ontology_files
from firstoff.authoring.turtle import read_turtle, to_rdflib
from firstoff.authoring.words import sound_words
from firstoff.content import ontology_folder
from firstoff.store.terms import Iri

__all__ = ["FO", "VOCABULARY", "Ontology", "load_ontology", "ontology_digest", "ontology_of"]

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


def ontology_of(content: Path) -> Ontology:
    """The package's ontology with the words of a folder of content; read again only where a file changed."""
    return _kept(content, ontology_digest(content=content))


@lru_cache(maxsize=8)
def _kept(content: Path, _: str) -> Ontology:
    return load_ontology(content=content)


def load_ontology(folder: Path | None = None, content: Path | None = None) -> Ontology:
    """Read the ontology of ``folder`` (the package's own unless given), with the words of ``content`` that are sound.

    :raises ContentSyntax: a file of the ontology cannot be parsed.
    :raises OSError: a file is not there.
    """
    folder = folder or ontology_folder()
    core, shapes, *vocabularies = (
        read_turtle(path.read_text(encoding="utf-8"), path.name).triples for path in ontology_files(folder)
    )
    texts, _ = sound_words(content, folder)
    own = [triple for name, text in texts.items() for triple in read_turtle(text, name).triples]
    triples = [*(triple for document in vocabularies for triple in document), *own]
    kept = [triple for triple in triples if triple.predicate.value in (_RDF_TYPE, _ISOLATES)]
    return Ontology(
        shapes=to_rdflib(_with_words(shapes, own)),
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
        digest=ontology_digest(folder, content),
    )


def _with_words(shapes: Iterable[ox.Triple], own: Iterable[ox.Triple]) -> Iterator[ox.Triple]:
    """The shapes, with concepts of others let in where those of their vocabulary are."""
    added: dict[str, list[str]] = {}
    for triple in own:
        iri, scheme = _value(triple.subject), _value(triple.object)
        if triple.predicate.value == _SKOS + "inScheme" and not iri.startswith(VOCABULARY):
            added.setdefault(f"^{scheme}#", []).append(re.escape(iri))
    for triple in shapes:
        pattern = _value(triple.object)
        if triple.predicate.value == str(SH.pattern) and pattern in added:
            wider = f"{pattern}|^(?:{'|'.join(sorted(added[pattern]))})$"
            yield ox.Triple(triple.subject, triple.predicate, ox.Literal(wider))
        else:
            yield triple


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
    wanted = ox.NamedNode(VOCABULARY + "symptoms")
    slugs = {
        _value(triple.subject): Iri(_value(triple.subject)).slug
        for triple in triples
        if triple.predicate.value == _SKOS + "inScheme" and triple.object == wanted
    }
    labels = _labels(triples)
    return {slug: Symptom(slug, labels.get(iri, slug)) for iri, slug in slugs.items()}


def _value(term: object) -> str:
    return str(getattr(term, "value", ""))


def _slug(term: object) -> str:
    return _value(term).rpartition("#")[2]
