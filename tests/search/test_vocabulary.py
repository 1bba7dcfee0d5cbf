"""What a word of a query may mean."""

from __future__ import annotations

import pytest

from firstoff.search.normalise import tokens
from firstoff.search.vocabulary import Vocabulary, VocabularyBuilder


def vocabulary(*words: str) -> Vocabulary:
    builder = VocabularyBuilder()
    for word in words:
        builder.add(tokens(word)[0].spellings, word, "en")
    return builder.finish()


def meant(words: Vocabulary, options: dict[int, float]) -> dict[str, float]:
    by_term = {term: stem for stem, term in words.stems.items()}
    return {by_term[term]: round(worth, 3) for term, worth in options.items()}


def test_words_of_one_stem_are_one_term() -> None:
    assert len(vocabulary("leak", "leaks", "leaking").stems) == 1


@pytest.mark.parametrize(
    ("word", "options"),
    [
        ("drain", {"drain": 1.0}),
        ("drained", {"drain": 0.95}),  # same stem
        ("tur", {"tur": 1.0}),
        ("tuer", {"tur": 1.0}),  # German spelling
        ("e04", {"e04": 1.0}),
        ("eo4", {"e04": 0.9}),  # O for 0
        ("xyz", {}),
    ],
)
def test_exact(word: str, options: dict[str, float]) -> None:
    words = vocabulary("drains", "drain", "Tür", "E04")
    assert meant(words, words.exact(word)) == options


@pytest.mark.parametrize(
    ("typed", "right"),
    [
        ("drian", "drain"),  # swapped
        ("drsin", "drain"),  # the key beside
        ("drrain", "drain"),  # doubled
        ("drin", "drain"),  # dropped
        ("dr5in", "drain"),  # the row of digits above
        ("thermstat", "thermostat"),
        ("compresser", "compressor"),
    ],
)
def test_corrections(typed: str, right: str) -> None:
    words = vocabulary("drain", "pump", "thermostat", "compressor", "door")
    options = meant(words, words.corrected(typed))
    assert max(options, key=lambda stem: options[stem]) == right


def test_a_correction_is_worth_the_square_of_its_likeness() -> None:
    words = vocabulary("thermostat")
    # One edit in ten letters: 0.9 squared.
    assert meant(words, words.corrected("thermostaat")) == {"thermostat": round((10 / 11) ** 2, 3)}


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("e5", set()),  # another digit is another code
        ("e14", set()),
        ("e004", {"e04"}),  # zeros in front are not
        ("f04", {"e04"}),  # a letter may be misread
        ("wm1300", {"wm1200"}),  # a long number may be misread
        ("wm120", set()),
    ],
)
def test_digits_are_not_corrected_in_short_numbers(typed: str, found: set[str]) -> None:
    assert vocabulary("E04", "E4", "WM1200").near(typed).keys() - {"e4"} == found


def test_beginnings_rise_with_what_is_typed() -> None:
    words = vocabulary("thermostat")
    worth = [words.beginning("thermostat"[:typed])[0] for typed in (2, 5, 10)]
    assert worth == [pytest.approx(0.68), pytest.approx(0.8), pytest.approx(1.0)]
