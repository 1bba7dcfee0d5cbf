"""The shared vocabularies: labels, symptoms, which device kinds isolate and which failure modes are wear."""

from __future__ import annotations

from dataclasses import dataclass

from firstoff.appliance.model import Symptom
from firstoff.appliance.statements import FO
from firstoff.store.interface import Store
from firstoff.store.terms import Iri, Text

_SKOS = "http://www.w3.org/2004/02/skos/core#"
_SYMPTOMS = "https://firstoff.example/vocabulary/symptoms"


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """Labels and all names (language, text) of concepts by IRI, the symptoms, and slugs of device kinds that isolate
    and of failure modes that come with use."""

    labels: dict[str, str]
    names: dict[str, tuple[tuple[str, str], ...]]
    symptoms: dict[str, Symptom]
    isolating_kinds: frozenset[str]
    wear_modes: frozenset[str]

    @classmethod
    def empty(cls) -> Vocabulary:
        return cls({}, {}, {}, frozenset(), frozenset())


def read_vocabulary(store: Store, graph: Iri) -> Vocabulary:
    """The vocabularies that ``graph`` holds, in one pass."""
    symptoms: set[str] = set()
    marked: dict[str, set[str]] = {FO + "isolates": set(), FO + "wear": set()}
    names: dict[str, list[tuple[bool, str, str]]] = {}
    for row in store.select("concepts", {"graph": graph}):
        concept, prop, value = row["concept"], row["property"], row["value"]
        if not isinstance(concept, Iri) or not isinstance(prop, Iri):
            continue
        if prop.value in marked and isinstance(value, Text) and value.value in ("true", "1"):
            marked[prop.value].add(concept.slug)
        elif prop.value == _SKOS + "inScheme" and value == Iri(_SYMPTOMS):
            symptoms.add(concept.value)
        elif isinstance(value, Text) and value.language is not None:
            alternative = prop.value != _SKOS + "prefLabel"
            names.setdefault(concept.value, []).append((alternative, value.language.lower(), value.value))
    ordered = {iri: tuple((language, text) for _, language, text in sorted(each)) for iri, each in names.items()}
    labels = {
        iri: text
        for iri, each in names.items()
        for alternative, language, text in each
        if language == "en" and not alternative
    }
    found = {Iri(iri).slug: _symptom(iri, labels, ordered.get(iri, ())) for iri in sorted(symptoms)}
    isolating, wear = (frozenset(each) for each in marked.values())
    return Vocabulary(labels, ordered, found, isolating, wear)


def _symptom(iri: str, labels: dict[str, str], names: tuple[tuple[str, str], ...]) -> Symptom:
    by_language: dict[str, tuple[str, ...]] = {}
    for language, text in names:
        by_language[language] = (*by_language.get(language, ()), text)
    slug = Iri(iri).slug
    return Symptom(slug, labels.get(iri, slug), by_language)
