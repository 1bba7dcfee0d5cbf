"""The search index over a collection: symptoms, components, display codes and models, a segment for each platform."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from firstoff.appliance.statements import FO, Statements, english_first
from firstoff.appliance.vocabulary import Vocabulary
from firstoff.collection.catalogue import Collection, ModelEntry
from firstoff.collection.fitted import models_having
from firstoff.collection.synonyms import SYNONYMS
from firstoff.errors import ContentBroken
from firstoff.search import Entry, Index, Phrase, Segment
from firstoff.store.interface import Store
from firstoff.store.terms import Iri, Row, Text


@dataclass(frozen=True, slots=True)
class Searchable:
    """The index over a collection, and the segments it is joined of, one for each version of a platform, by graph."""

    index: Index
    segments: Mapping[str, Segment]


def searchable(store: Store, collection: Collection, before: Mapping[str, Segment] | None = None) -> Searchable:
    """Everything a technician may look for, ready for search.

    Only platforms whose graph is not among the segments of ``before`` are queried and read. A graph is one version of
    a platform with the vocabularies of its time, so its segment never changes.
    """
    kept = before or {}
    models: dict[str, list[ModelEntry]] = defaultdict(list)
    for entry in collection.models:
        models[entry.graph.value].append(entry)
    segments = {
        graph: kept[graph] if graph in kept else Segment.of(entries_of(store, collection.vocabulary, own))
        for graph, own in sorted(models.items())
    }
    return Searchable(Index.joined(segments.values(), SYNONYMS), segments)


def entries_of(store: Store, vocabulary: Vocabulary, own: Sequence[ModelEntry]) -> list[Entry]:
    """The models of one platform, ``own``, and its symptoms, components and display codes that some model has."""
    graph, platform = own[0].graph, own[0].platform.id
    entries = [
        Entry(
            kind="model",
            id=entry.id,
            label=entry.label,
            phrases=(_phrase(entry.number, ""), _phrase(entry.label, "en")),
            models=frozenset({entry.id}),
        )
        for entry in own
    ]
    entries += _symptoms(store.select("occurrences", {"graph": graph}), vocabulary)
    said: dict[tuple[str, str], list[Row]] = defaultdict(list)
    for row in store.select("searchable", {"graph": graph}):
        said[_value(row["class"]), _value(row["resource"])].append(row)
    for class_, resource in sorted(said):
        rows, slug = said[class_, resource], Iri(resource).slug
        entries.append(
            _code(slug, rows, platform)
            if class_ == FO + "DisplayCode"
            else _component(slug, rows, vocabulary, platform)
        )
    having = _having(store, own)
    return [
        each if each.kind == "model" else replace(each, models=models)
        for each in entries
        if each.kind == "model" or (models := having(each))
    ]


def _having(store: Store, own: Sequence[ModelEntry]) -> Callable[[Entry], frozenset[str]]:
    """What gives by entry the models that have it; all of them where the changes cannot be followed."""
    every = frozenset(entry.id for entry in own)
    try:
        found = models_having(Statements.gather(store.select("fitted", {"graph": own[0].graph}), {}))
    except ContentBroken:
        return lambda _: every
    return lambda entry: every & found.get((entry.kind, entry.id), frozenset())


def _symptoms(rows: list[Row], vocabulary: Vocabulary) -> list[Entry]:
    """One entry for each symptom that some fault shows; its weight is its share of all that goes wrong."""
    shown: dict[str, float] = defaultdict(float)
    frequencies: dict[str, float] = {}
    for row in rows:
        frequencies[_value(row["fault"])] = _number(row["frequency"])
        shown[_value(row["symptom"])] += _number(row["frequency"]) * _number(row["likelihood"])
    total = sum(frequencies.values())
    entries = []
    for iri, often in sorted(shown.items()):
        known = vocabulary.symptoms.get(Iri(iri).slug)
        if known is None:
            continue
        phrases = tuple(_phrase(text, language) for language, texts in known.labels.items() for text in texts)
        weight = min(1.0, often / total) if total else 0.0
        entries.append(Entry("symptom", known.id, known.label, phrases, weight=weight))
    return entries


def _code(slug: str, rows: list[Row], platform: str) -> Entry:
    notation = min((_value(row["notation"]) for row in rows if row["notation"] is not None), default=slug)
    labels = _labels(rows)
    return Entry("code", slug, f"{notation}: {labels[0].text}", (_phrase(notation, ""), *labels), group=platform)


def _component(slug: str, rows: list[Row], vocabulary: Vocabulary, platform: str) -> Entry:
    """A component by its labels, the names of its kind in other languages than English, and its part numbers: the
    present one and those it superseded."""
    kinds = sorted({_value(row["kind"]) for row in rows})
    names = [_phrase(text, lang) for kind in kinds for lang, text in vocabulary.names.get(kind, ())]
    labels = _labels(rows)
    numbers = sorted({_value(row["number"]) for row in rows if row["number"] is not None})
    phrases = (
        *labels,
        *(name for name in names if name.lang != "en"),
        *(_phrase(number, "") for number in numbers),
    )
    return Entry("component", slug, labels[0].text, phrases, group=platform)


def _labels(rows: list[Row]) -> tuple[Phrase, ...]:
    """Each label of one resource once, English first."""
    labels = {row["label"] for row in rows}
    texts = sorted((label for label in labels if isinstance(label, Text)), key=english_first)
    return tuple(_phrase(text.value, text.language or "en") for text in texts)


@lru_cache(maxsize=1 << 16)
def _phrase(text: str, lang: str) -> Phrase:
    """One object for what many platforms say alike: the names of symptoms and kinds."""
    return Phrase(text, lang)


def _value(term: object) -> str:
    return term.value if isinstance(term, (Text, Iri)) else ""


def _number(term: object) -> float:
    return float(_value(term) or 0.0)
