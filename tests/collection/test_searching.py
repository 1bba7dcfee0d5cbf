"""What goes into the search index: each symptom, component, code and model once, by all its names."""

from __future__ import annotations

import pytest

from firstoff.appliance.vocabulary import Vocabulary
from firstoff.collection import searching
from firstoff.collection.catalogue import Collection, ModelEntry
from firstoff.collection.opening import Opened, put_words
from firstoff.search import Entry, Phrase
from firstoff.store.embedded import EmbeddedStore
from firstoff.store.terms import Iri
from support.small_machine import PLATFORM, TURTLE, changed

WORDS = """
@prefix skos: <http://www.w3.org/2004/02/skos/core#> .
@prefix component: <https://firstoff.example/vocabulary/component-kinds#> .
@prefix symptom: <https://firstoff.example/vocabulary/symptoms#> .
component:control-board a skos:Concept ; skos:prefLabel "control board"@en, "placa"@es, "Steuerung"@de .
symptom:dead a skos:Concept ; skos:inScheme <https://firstoff.example/vocabulary/symptoms> ;
    skos:prefLabel "nothing works"@en, "gar nichts geht"@de ; skos:altLabel "no power"@en .
symptom:does-not-start a skos:Concept ; skos:inScheme <https://firstoff.example/vocabulary/symptoms> ;
    skos:prefLabel "does not start"@en .
symptom:noisy a skos:Concept ; skos:inScheme <https://firstoff.example/vocabulary/symptoms> ;
    skos:prefLabel "noisy"@en .
"""
BOTH = frozenset({"bm-10-s", "bm-20"})


GRAPH = Iri("https://firstoff.example/graph/brook-fan/1")


def stored(turtle: str) -> tuple[EmbeddedStore, Collection]:
    """A store and a collection with one platform."""
    store = EmbeddedStore()
    put_words(store, WORDS)
    store.put_graph(GRAPH, turtle, file="brook-fan.ttl")
    store.point(Iri(PLATFORM), GRAPH, "r")
    return store, Collection(store)


def entries_of(turtle: str) -> list[Entry]:
    """The entries of the index over one platform."""
    store, collection = stored(turtle)
    return searching.entries_of(store, collection.vocabulary, collection.models)


@pytest.fixture
def entries() -> dict[tuple[str, str], Entry]:
    return {(entry.kind, entry.id): entry for entry in entries_of(TURTLE)}


def test_each_once() -> None:
    """The board and one code have labels in two languages, and are one entry each."""
    keys = [(entry.kind, entry.id) for entry in entries_of(TURTLE)]
    assert len(keys) == len(set(keys))
    kinds = [kind for kind, _ in keys]
    assert {kind: kinds.count(kind) for kind in kinds} == {"model": 2, "symptom": 2, "component": 11, "code": 2}


def test_model(entries: dict[tuple[str, str], Entry]) -> None:
    phrases = (Phrase("BM 10/S", ""), Phrase("Brook fan 10", "en"))
    assert entries["model", "bm-10-s"] == Entry("model", "bm-10-s", "Brook fan 10", phrases, frozenset({"bm-10-s"}))


def test_component_by_its_labels_its_kind_and_its_numbers_old_and_new(entries: dict[tuple[str, str], Entry]) -> None:
    labels = (Phrase("board", "en"), Phrase("Platine", "de"), Phrase("Steuerung", "de"), Phrase("placa", "es"))
    phrases = (*labels, Phrase("T-290", ""), Phrase("T-300", ""), Phrase("T-310", ""))
    assert entries["component", "board"] == Entry("component", "board", "board", phrases, BOTH, 0.0, "brook-fan")


def test_code(entries: dict[tuple[str, str], Entry]) -> None:
    phrases = (Phrase("E2", ""), Phrase("no sound", "en"), Phrase("kein Ton", "de"))
    assert entries["code", "code-e2"] == Entry("code", "code-e2", "E2: no sound", phrases, BOTH, 0.0, "brook-fan")


def test_a_code_without_a_notation_is_a_code() -> None:
    found = entries_of(changed('fo:notation "E1" ;', ""))
    assert [entry.label for entry in found if entry.id == "code-e1"] == ["code-e1: fan does not turn"]
    assert [entry.kind for entry in found if entry.id == "code-e1"] == ["code"]


def test_symptom_weighs_its_share_of_all_faults(entries: dict[tuple[str, str], Entry]) -> None:
    """No supply has frequency 2 of 2 + 5 + 1 and shows as dead 9 times of 10."""
    dead = entries["symptom", "dead"]
    assert (dead.label, dead.models) == ("nothing works", BOTH)
    assert set(dead.phrases) == {
        Phrase("nothing works", "en"),
        Phrase("no power", "en"),
        Phrase("gar nichts geht", "de"),
    }
    assert dead.weight == pytest.approx(2 * 0.9 / 8)
    assert entries["symptom", "does-not-start"].weight == pytest.approx(5 * 0.8 / 8)


def test_a_part_is_of_the_models_that_have_it_in_some_serial_range(entries: dict[tuple[str, str], Entry]) -> None:
    """Late serial numbers of one model have another board; the other model has no guard and another fan."""
    found = {slug: entries["component", slug].models for slug in ("buzzer", "late-board", "guard", "quiet-fan")}
    assert found == {"buzzer": BOTH, "late-board": {"bm-10-s"}, "guard": {"bm-10-s"}, "quiet-fan": {"bm-20"}}


def test_every_entry_is_of_the_models_that_have_it(opened: Opened) -> None:
    collection = opened.collection
    platforms = {
        entry.graph: [each for each in collection.models if each.graph == entry.graph] for entry in collection.models
    }
    for own in platforms.values():
        whole = collection.whole_platform(own[0].id)
        every = {
            **{("component", slug): set[str]() for slug in whole.components},
            **{("code", slug): set[str]() for slug in whole.codes},
            **{("symptom", each.symptom): set[str]() for fault in whole.faults.values() for each in fault.effects},
        }
        for model in own:
            for machine in collection.appliances(model.id):
                has = {"component": machine.components, "code": machine.codes, "symptom": machine.symptoms}
                for kind, slug in every:
                    every[kind, slug] |= {model.id} if slug in has[kind] else set()
        found = searching.entries_of(opened.store, collection.vocabulary, own)
        assert {(each.kind, each.id): each.models for each in found if each.kind != "model"} == {
            key: models for key, models in every.items() if models
        }
        assert any(len(each.models) < len(own) for each in found if each.kind == "component")


def test_changes_that_cannot_be_followed_leave_every_model_to_be_found() -> None:
    two = "fo:substitutes [ a fo:Substitution ; fo:original p:board ; fo:substitute p:buzzer ], [ a fo:Substitution ;"
    broken = f"<https://firstoff.example/model/bm-20> {two} fo:original p:board ; fo:substitute p:buzzer ] ."
    found = {(entry.kind, entry.id): entry.models for entry in entries_of(f"{TURTLE}\n{broken}")}
    assert found["component", "buzzer"] == BOTH


def test_a_symptom_that_no_fault_shows_is_not_offered(entries: dict[tuple[str, str], Entry]) -> None:
    assert ("symptom", "noisy") not in entries


def test_faults_that_weigh_alike_are_all_counted() -> None:
    """Two faults with the same frequency and likelihood for one symptom make two rows."""
    more = """
p:cord-broken a fo:Fault ; rdfs:label "cord broken"@en ; fo:relativeFrequency 2 ;
    fo:effect [ a fo:Effect ; fo:symptom symptom:dead ; fo:likelihood 0.9 ] .
"""
    (dead,) = (entry for entry in entries_of(TURTLE + more) if entry.id == "dead")
    assert dead.weight == pytest.approx(2 * 2 * 0.9 / 10)


def test_a_new_version_of_a_platform_is_read_and_the_others_are_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    store, collection = stored(TURTLE)
    other = Iri("https://firstoff.example/graph/other-fan/1")
    store.put_graph(other, TURTLE.replace("brook-fan", "other-fan").replace("bm-", "om-"), file="other-fan.ttl")
    store.point(Iri(PLATFORM.replace("brook-fan", "other-fan")), other, "r")
    before = searching.searchable(store, Collection(store))
    assert len(before.segments) == 2

    new = Iri("https://firstoff.example/graph/brook-fan/2")
    store.put_graph(new, TURTLE.replace("kein Ton", "gar kein Ton"), file="brook-fan.ttl")
    store.point(Iri(PLATFORM), new, "r2")
    collection, read = Collection(store), []

    def noted(store: EmbeddedStore, vocabulary: Vocabulary, own: list[ModelEntry]) -> list[Entry]:
        read.append(own[0].graph)
        return entries(store, vocabulary, own)

    entries = searching.entries_of
    monkeypatch.setattr(searching, "entries_of", noted)
    after = searching.searchable(store, collection, before.segments)
    assert read == [new]
    assert after.segments[other.value] is before.segments[other.value]
    assert after.segments.keys() == {new.value, other.value}
    for query in ("gar kein Ton", "kein Ton", "board", "nothing works", "BM 10"):
        assert after.index.search(query) == searching.searchable(store, collection).index.search(query)
    assert after.index.search("gar kein Ton").hits[0].matched == "gar kein Ton"
