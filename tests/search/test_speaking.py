"""The language of a query, told by what it meets, and answers in the language asked for."""

from __future__ import annotations

import pytest

from firstoff.search import Entry, Index, Phrase
from support.small_index import ENTRIES, SYNONYMS


@pytest.fixture(scope="module")
def index() -> Index:
    return Index.build(ENTRIES, SYNONYMS)


@pytest.mark.parametrize(
    ("query", "lang"),
    [
        ("drum does not turn", "en"),
        ("drumm dose not trn", "en"),
        ("Trommel dreht nicht", "de"),
        ("tromel dreth nicht", "de"),
        ("die Trommel", "de"),
        ("el tambor no gira", "es"),
        ("tanbor no jira", "es"),
        ("kuehlschrank", "de"),
        ("no enfria", "es"),
        ("E4", ""),  # codes are of every language
        ("WM-1200/A", ""),
        ("F05 F05", ""),
        ("no", ""),  # English and Spanish
        ("qqqq", ""),
        ("", ""),
    ],
)
def test_language_of_the_query(index: Index, query: str, lang: str) -> None:
    assert index.search(query).lang == lang


@pytest.mark.parametrize(
    ("query", "asked", "name", "lang"),
    [
        ("Trommel dreht nicht", None, "Trommel dreht nicht", "de"),  # as it was asked
        ("Trommel dreht nicht", "en", "Drum does not turn", "en"),
        ("Trommel dreht nicht", "es", "el tambor no gira", "es"),
        ("Trommel dreht nicht", "es-MX", "el tambor no gira", "es"),
        ("drum does not turn", "de", "Trommel dreht nicht", "de"),
        ("Trommel dreht nicht", "fr", "Drum does not turn", "en"),  # no name in French
        ("drain pump", "de", "Drain pump", "en"),  # no German name
        ("E-4", "de", "E-4", "en"),
    ],
)
def test_answers_in_the_language_asked_for(index: Index, query: str, asked: str | None, name: str, lang: str) -> None:
    hit = index.search(query, lang=asked).hits[0]
    assert (hit.name, hit.lang) == (name, lang)


def test_the_language_of_the_query_outweighs_the_one_asked_for() -> None:
    """German words, answers in Spanish: the German phrase is the one that is meant."""
    entries = [
        Entry("symptom", "german", "Alpha", (Phrase("Motor brummt laut", "de"),)),
        Entry("symptom", "spanish", "Beta", (Phrase("motor brummt laut", "es"), Phrase("el motor no gira", "es"))),
        Entry("symptom", "more", "Gamma", (Phrase("Trommel dreht nicht", "de"),)),
    ]
    index = Index.build(entries)
    assert index.search("der motor brummt laut nicht", lang="es").hits[0].id == "german"


@pytest.mark.parametrize(
    ("query", "first"),
    [
        ("kühlt nicht", "fridge-not-cooling"),
        ("kühlen nicht", "fridge-not-cooling"),
        ("verlieren Wasser", "leak"),
        ("der Tambor", "no-spin"),  # words of two languages
        ("no enfrían", "fridge-not-cooling"),
        ("refrigerador sin enfriar", "fridge-not-cooling"),
        ("dreht niemals", "no-spin"),
    ],
)
def test_endings_and_negations_of_each_language(index: Index, query: str, first: str) -> None:
    assert index.search(query).hits[0].id == first


def test_a_word_says_little_in_its_own_language_alone() -> None:
    """ "Die" is an article in German and a complaint in English."""
    english = Index.build([Entry("symptom", "a", "Motors die"), Entry("symptom", "b", "Motors hum")])
    german = Index.build(
        [Entry("symptom", "a", "A", (Phrase("die Motoren", "de"),)), Entry("symptom", "b", "B", (Phrase("Ton", "de"),))]
    )

    def rarity(index: Index) -> float:
        (term,) = index.vocabulary.spellings["die"]
        return float(index.phrases.rarity[term])

    assert rarity(english) > rarity(german)
