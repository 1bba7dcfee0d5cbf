"""The search index over a collection: symptoms, components, display codes and models."""

from __future__ import annotations

from collections import defaultdict

from firstoff.appliance.statements import FO, english_first
from firstoff.collection.catalogue import Collection
from firstoff.collection.synonyms import SYNONYMS
from firstoff.search import Entry, Index, Phrase
from firstoff.store.interface import Store
from firstoff.store.terms import Iri, Row, Text


def search_index(store: Store, collection: Collection) -> Index:
    """Everything a technician may look for, ready for search."""
    models_of: dict[str, set[str]] = defaultdict(set)
    platform_of: dict[str, str] = {}
    for entry in collection.models:
        models_of[entry.graph.value].add(entry.id)
        platform_of[entry.graph.value] = entry.platform.id
    entries = [
        Entry(
            kind="model",
            id=entry.id,
            label=entry.label,
            phrases=(Phrase(entry.number, ""), Phrase(entry.label, "en")),
            models=frozenset({entry.id}),
        )
        for entry in collection.models
    ]
    entries += _symptoms(store.select("occurrences"), collection, models_of)
    said: dict[tuple[str, str, str], list[Row]] = defaultdict(list)
    for row in store.select("searchable"):
        said[_value(row["graph"]), _value(row["class"]), _value(row["resource"])].append(row)
    for graph, class_, resource in sorted(said):
        rows = said[graph, class_, resource]
        slug, models, platform = Iri(resource).slug, frozenset(models_of[graph]), platform_of.get(graph, "")
        if class_ == FO + "DisplayCode":
            entries.append(_code(slug, rows, models, platform))
        else:
            entries.append(_component(slug, rows, collection, models, platform))
    return Index.build(entries, SYNONYMS)


def _symptoms(rows: list[Row], collection: Collection, models_of: dict[str, set[str]]) -> list[Entry]:
    """One entry for each symptom that some fault shows; its weight is the largest share it has on any platform."""
    shown: dict[tuple[str, str], float] = defaultdict(float)
    frequencies: dict[tuple[str, str], float] = {}
    for row in rows:
        graph, symptom = _value(row["graph"]), _value(row["symptom"])
        frequency = _number(row["frequency"])
        frequencies[graph, _value(row["fault"])] = frequency
        shown[symptom, graph] += frequency * _number(row["likelihood"])
    totals: dict[str, float] = defaultdict(float)
    for (graph, _), frequency in frequencies.items():
        totals[graph] += frequency
    models: dict[str, set[str]] = defaultdict(set)
    weights: dict[str, float] = defaultdict(float)
    for (symptom, graph), weight in shown.items():
        models[symptom] |= models_of[graph]
        weights[symptom] = max(weights[symptom], weight / totals[graph] if totals[graph] else 0.0)
    entries = []
    for iri in sorted(models):
        known = collection.vocabulary.symptoms.get(Iri(iri).slug)
        if known is None:
            continue
        phrases = tuple(Phrase(text, language) for language, texts in known.labels.items() for text in texts)
        entries.append(Entry("symptom", known.id, known.label, phrases, frozenset(models[iri]), min(1.0, weights[iri])))
    return entries


def _code(slug: str, rows: list[Row], models: frozenset[str], platform: str) -> Entry:
    notation = min((_value(row["notation"]) for row in rows if row["notation"] is not None), default=slug)
    labels = _labels(rows)
    return Entry("code", slug, f"{notation}: {labels[0].text}", (Phrase(notation, ""), *labels), models, 0.0, platform)


def _component(slug: str, rows: list[Row], collection: Collection, models: frozenset[str], platform: str) -> Entry:
    """A component by its labels, and by the names of its kind in other languages than English."""
    kinds = sorted({_value(row["kind"]) for row in rows})
    names = [Phrase(text, lang) for kind in kinds for lang, text in collection.vocabulary.names.get(kind, ())]
    labels = _labels(rows)
    phrases = (*labels, *(name for name in names if name.lang != "en"))
    return Entry("component", slug, labels[0].text, phrases, models, 0.0, platform)


def _labels(rows: list[Row]) -> tuple[Phrase, ...]:
    """Each label of one resource once, English first."""
    labels = {row["label"] for row in rows}
    texts = sorted((label for label in labels if isinstance(label, Text)), key=english_first)
    return tuple(Phrase(text.value, text.language or "en") for text in texts)


def _value(term: object) -> str:
    return term.value if isinstance(term, (Text, Iri)) else ""


def _number(term: object) -> float:
    return float(_value(term) or 0.0)
