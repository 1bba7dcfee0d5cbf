"""The vocabularies: every concept is named in three languages, defined, and in its place."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
import rdflib
from rdflib.namespace import DCTERMS, RDF, RDFS, SDO, SKOS

from firstoff.appliance.circuit import LinkKind
from firstoff.appliance.model import Purpose
from firstoff.content import ontology_folder

FO = rdflib.Namespace("https://firstoff.example/ontology#")
FILES = sorted((ontology_folder() / "vocabularies").glob("*.ttl"))
GRAPHS = {path.stem: rdflib.Graph().parse(path) for path in FILES}
LANGUAGES = ("en", "es", "de")
QUDT_UNIT = rdflib.URIRef("http://qudt.org/schema/qudt/hasUnit")
ALLOWED = {
    RDF.type, SKOS.inScheme, SKOS.topConceptOf, SKOS.broader, SKOS.prefLabel, SKOS.altLabel, SKOS.definition,
    SKOS.broadMatch, SKOS.closeMatch, SKOS.hiddenLabel, RDFS.seeAlso, DCTERMS.title, DCTERMS.description,
    DCTERMS.source, FO.isolates, FO.wear, QUDT_UNIT, SDO.unitText,
}  # fmt: skip

each_scheme = pytest.mark.parametrize("scheme", sorted(GRAPHS))


def concepts(scheme: str) -> list[rdflib.URIRef]:
    return sorted(c for c in GRAPHS[scheme].subjects(RDF.type, SKOS.Concept) if isinstance(c, rdflib.URIRef))


def slugs(scheme: str) -> set[str]:
    return {concept.rpartition("#")[2] for concept in concepts(scheme)}


def test_every_scheme_of_the_modelling_notes_is_there() -> None:
    assert set(GRAPHS) == {
        "appliance-kinds", "audiences", "bulletin-kinds", "check-kinds", "component-kinds", "connection-kinds",
        "device-kinds", "drives", "energy-kinds", "failure-modes", "fastening-kinds", "hazard-kinds", "link-kinds",
        "origins", "price-bands", "purposes", "quantities", "refrigerants", "remedy-kinds", "safety-standards",
        "service-mode-kinds",
        "signal-words", "symptoms", "tools",
    }  # fmt: skip


@each_scheme
def test_scheme_has_title_and_description(scheme: str) -> None:
    graph = GRAPHS[scheme]
    (node,) = graph.subjects(RDF.type, SKOS.ConceptScheme)
    assert str(node) == f"https://firstoff.example/vocabulary/{scheme}"
    for name in (DCTERMS.title, DCTERMS.description):
        assert [value.language for value in graph.objects(node, name) if isinstance(value, rdflib.Literal)] == ["en"]


@each_scheme
def test_concepts_have_addresses_of_their_scheme(scheme: str) -> None:
    graph = GRAPHS[scheme]
    base = f"https://firstoff.example/vocabulary/{scheme}"
    assert concepts(scheme)
    for concept in concepts(scheme):
        start, slug = concept.rsplit("#", 1)
        assert start == base
        plain = slug if scheme != "signal-words" else slug.lower()
        assert all(part.isalnum() and part == part.lower() for part in plain.split("-")), concept
        assert set(graph.objects(concept, SKOS.inScheme)) == {rdflib.URIRef(base)}, concept
    assert {s for s in graph.subjects() if s != rdflib.URIRef(base)} == set(concepts(scheme))
    assert set(graph.predicates()) <= ALLOWED


@each_scheme
def test_concepts_are_named_in_three_languages_and_defined(scheme: str) -> None:
    graph = GRAPHS[scheme]
    for concept in concepts(scheme):
        names = [value for value in graph.objects(concept, SKOS.prefLabel) if isinstance(value, rdflib.Literal)]
        assert sorted(str(name.language) for name in names) == sorted(LANGUAGES), concept
        assert all(name.strip() == str(name) != "" for name in names), concept
        definitions = [value for value in graph.objects(concept, SKOS.definition) if isinstance(value, rdflib.Literal)]
        assert [text.language for text in definitions] == ["en"], concept
        assert str(definitions[0]).endswith("."), concept


@each_scheme
def test_names_tell_concepts_apart(scheme: str) -> None:
    """No preferred label twice in a language; preferred and alternative labels of a concept differ (SKOS S13)."""
    graph = GRAPHS[scheme]
    for language in LANGUAGES:
        names = Counter(
            str(name).casefold()
            for name in graph.objects(None, SKOS.prefLabel)
            if isinstance(name, rdflib.Literal) and name.language == language
        )
        assert [name for name, count in names.items() if count > 1] == [], language
    for concept in concepts(scheme):
        preferred = {(str(n).casefold(), getattr(n, "language", "")) for n in graph.objects(concept, SKOS.prefLabel)}
        others = {(str(n).casefold(), getattr(n, "language", "")) for n in graph.objects(concept, SKOS.altLabel)}
        assert preferred.isdisjoint(others), concept
        assert {language for _, language in others} <= set(LANGUAGES), concept


@each_scheme
def test_broader_concepts_are_of_the_scheme_and_run_in_no_circle(scheme: str) -> None:
    graph = GRAPHS[scheme]
    top = rdflib.URIRef(f"https://firstoff.example/vocabulary/{scheme}")
    for concept in concepts(scheme):
        broader = list(graph.objects(concept, SKOS.broader))
        assert set(broader) <= set(concepts(scheme)), concept
        assert bool(broader) != ((concept, SKOS.topConceptOf, top) in graph), concept
        assert concept not in set(graph.transitive_objects(concept, SKOS.broader)) - {concept}
        seen, following = {concept}, broader
        while following:
            assert seen.isdisjoint(following), concept
            seen.update(node for node in following if isinstance(node, rdflib.URIRef))
            following = [node for each in following for node in graph.objects(each, SKOS.broader)]


def test_every_device_kind_says_whether_it_isolates() -> None:
    graph = GRAPHS["device-kinds"]
    said = {concept.rpartition("#")[2]: graph.value(concept, FO.isolates) for concept in concepts("device-kinds")}
    assert all(isinstance(value, rdflib.Literal) and isinstance(value.value, bool) for value in said.values())
    # 29 CFR 1910.147(b): energy isolating device; "push buttons, selector switches and other control circuit type
    # devices are not energy isolating devices"
    isolating = {slug for slug, value in said.items() if isinstance(value, rdflib.Literal) and value.value is True}
    assert {"plug", "circuit-breaker", "disconnect-switch", "appliance-connector", "service-valve"} <= isolating
    assert isolating.isdisjoint(
        {"push-button", "relay", "triac", "interlock", "thermostat", "thermal-cut-off", "centrifugal-switch",
         "pressure-switch", "float-switch", "control-valve", "timer", "control-board-output", "selector-switch"}
    )  # fmt: skip


def test_vocabularies_that_the_read_model_names() -> None:
    assert slugs("link-kinds") == {kind.value for kind in LinkKind}
    assert slugs("purposes") == {purpose.value for purpose in Purpose}
    assert slugs("signal-words") == {"DANGER", "WARNING", "CAUTION", "NOTICE"}
    assert slugs("origins") == {"component", "installation", "supply", "use"}
    assert slugs("bulletin-kinds") == {"safety-recall", "changed-part", "changed-procedure"}


def test_measured_quantities_have_a_unit_and_looks_have_none() -> None:
    graph = GRAPHS["quantities"]
    for concept in concepts("quantities"):
        unit, text = graph.value(concept, QUDT_UNIT), graph.value(concept, SDO.unitText)
        by_sense = concept.rpartition("#")[2] in {"look", "listen", "feel", "smell", "ask"}
        assert (unit is None) == (text is None) == by_sense, concept


@pytest.mark.parametrize(
    ("scheme", "least"),
    [("component-kinds", 90), ("symptoms", 70), ("failure-modes", 25), ("tools", 45), ("hazard-kinds", 22)],
)
def test_lists_are_long_enough_to_write_a_machine_with(scheme: str, least: int) -> None:
    assert len(concepts(scheme)) >= least


def test_symptoms_have_other_words_in_every_language() -> None:
    graph = GRAPHS["symptoms"]
    for concept in concepts("symptoms"):
        languages = {getattr(name, "language", None) for name in graph.objects(concept, SKOS.altLabel)}
        assert languages == set(LANGUAGES), concept


def test_files_end_in_a_line_and_have_no_tabs() -> None:
    for path in FILES:
        text = Path(path).read_text(encoding="utf-8")
        assert text.endswith("\n"), path
        assert "\t" not in text, path
