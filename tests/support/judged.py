"""The household complaints of tests/relevance/complaints.tsv, and the symptoms they mean.

A line has the half it belongs to, its language, the complaint as a customer says it on the phone, and the symptoms it
means: the first is what a technician would write down (grade 2), the others are sensible too (grade 1). The half
``tuning`` may be looked at while words are added to the vocabularies and synonyms; the half ``reporting`` may only be
measured. The halves were drawn once, by chance, for each language; what is added later names its half as well.
"""

from __future__ import annotations

import csv
import random
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from firstoff.collection.catalogue import Collection
from firstoff.collection.synonyms import SYNONYMS
from firstoff.search import Entry, Index, Phrase
from support.complaints import DAMAGES

FILE = Path(__file__).parents[1] / "relevance" / "complaints.tsv"
LANGS = ("en", "es", "de")
HALVES = ("tuning", "reporting")
#: Its words are those of the made-up corpus.
_NOT_OURS = "synonym"


@dataclass(frozen=True, slots=True)
class Judged:
    """A complaint and the slugs of the symptoms it means, with their grades."""

    half: str
    lang: str
    text: str
    wanted: Mapping[str, int]
    damage: str = ""


def judged(file: Path = FILE) -> tuple[Judged, ...]:
    """The complaints in the order of the file."""
    with file.open(encoding="utf-8", newline="") as lines:
        return tuple(
            Judged(line["half"], line["lang"], line["complaint"], _grades(line["symptoms"].split()))
            for line in csv.DictReader(lines, delimiter="\t", quoting=csv.QUOTE_NONE)
        )


def damaged(complaints: Iterable[Judged], seed: int = 3) -> tuple[Judged, ...]:
    """Each complaint with every damage that can be done to it, one at a time."""
    chance = random.Random(seed)
    found: list[Judged] = []
    for one in complaints:
        for kind, damage in DAMAGES.items():
            text = None if kind == _NOT_OURS else damage(Phrase(one.text, one.lang), chance)
            if text is not None and text != one.text:
                found.append(Judged(one.half, one.lang, text, one.wanted, kind))
    return tuple(found)


def symptom_index(collection: Collection) -> Index:
    """An index of all symptoms of the vocabulary, also those that no machine of the demo shows, all weighing alike."""
    entries = [
        Entry("symptom", symptom.id, symptom.label, tuple(Phrase(text, lang) for lang, text in _labels(symptom.labels)))
        for symptom in collection.vocabulary.symptoms.values()
    ]
    return Index.build(entries, SYNONYMS)


def _grades(slugs: list[str]) -> dict[str, int]:
    return {slug: 1 if place else 2 for place, slug in enumerate(slugs)}


def _labels(labels: Mapping[str, Iterable[str]]) -> Iterable[tuple[str, str]]:
    return ((lang, text) for lang, texts in labels.items() for text in texts)
