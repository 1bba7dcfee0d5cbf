"""The vocabularies as the service reads them."""

from __future__ import annotations

import pytest

from firstoff.appliance.vocabulary import Vocabulary, read_vocabulary
from firstoff.store.embedded import EmbeddedStore
from firstoff.store.terms import Iri

GRAPH = Iri("https://firstoff.example/graph/vocabulary/1")
KINDS, SYMPTOMS = "https://firstoff.example/vocabulary/device-kinds", "https://firstoff.example/vocabulary/symptoms"
MODES = "https://firstoff.example/vocabulary/failure-modes"
TURTLE = f"""
@prefix fo: <https://firstoff.example/ontology#> .
@prefix skos: <http://www.w3.org/2004/02/skos/core#> .
@prefix k: <{KINDS}#> .
@prefix s: <{SYMPTOMS}#> .
@prefix m: <{MODES}#> .
k:plug a skos:Concept ; skos:inScheme <{KINDS}> ; skos:prefLabel "plug"@en, "Stecker"@de ; fo:isolates true .
k:valve a skos:Concept ; skos:inScheme <{KINDS}> ; skos:prefLabel "valve"@en ; fo:isolates 1 .
k:relay a skos:Concept ; skos:inScheme <{KINDS}> ; skos:prefLabel "relay"@en ; fo:isolates false .
k:button a skos:Concept ; skos:inScheme <{KINDS}> ; skos:prefLabel "Knopf"@de .
k:knob skos:prefLabel "no concept"@en ; fo:isolates true .
s:warm a skos:Concept ; skos:inScheme <{SYMPTOMS}> ; skos:prefLabel "too warm"@en, "zu warm"@DE ;
    skos:altLabel "a bit warm"@en, "hot"@en, "lauwarm"@de, "without a language" .
m:thin a skos:Concept ; skos:inScheme <{MODES}> ; fo:wear true .
m:cut a skos:Concept ; skos:inScheme <{MODES}> ; fo:wear false .
s:mute a skos:Concept ; skos:inScheme <{SYMPTOMS}> .
"""


@pytest.fixture(scope="module")
def vocabulary() -> Vocabulary:
    store = EmbeddedStore()
    store.put_graph(GRAPH, TURTLE, file="v.ttl")
    return read_vocabulary(store, GRAPH)


def test_kinds_that_isolate(vocabulary: Vocabulary) -> None:
    assert vocabulary.isolating_kinds == {"plug", "valve"}


def test_failure_modes_that_are_wear(vocabulary: Vocabulary) -> None:
    assert vocabulary.wear_modes == {"thin"}


def test_labels_are_english(vocabulary: Vocabulary) -> None:
    labels = {Iri(iri).slug: label for iri, label in vocabulary.labels.items()}
    assert labels == {"plug": "plug", "valve": "valve", "relay": "relay", "warm": "too warm"}


def test_names_put_the_label_first(vocabulary: Vocabulary) -> None:
    assert vocabulary.names[KINDS + "#plug"] == (("de", "Stecker"), ("en", "plug"))
    assert vocabulary.names[SYMPTOMS + "#warm"] == (
        ("de", "zu warm"),
        ("en", "too warm"),
        ("de", "lauwarm"),
        ("en", "a bit warm"),
        ("en", "hot"),
    )


def test_symptoms(vocabulary: Vocabulary) -> None:
    assert set(vocabulary.symptoms) == {"warm", "mute"}
    assert vocabulary.symptoms["warm"].label == "too warm"
    assert vocabulary.symptoms["warm"].labels == {
        "de": ("zu warm", "lauwarm"),
        "en": ("too warm", "a bit warm", "hot"),
    }
    assert (vocabulary.symptoms["mute"].label, vocabulary.symptoms["mute"].labels) == ("mute", {})


def test_an_empty_store_has_no_words() -> None:
    assert read_vocabulary(EmbeddedStore(), GRAPH) == Vocabulary.empty()
    assert Vocabulary.empty() == Vocabulary({}, {}, {}, frozenset(), frozenset())
