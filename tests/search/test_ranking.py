"""Scores against the formula written out word by word, and budgets that are too small."""

from __future__ import annotations

import math

import numpy as np
import pytest
from rapidfuzz import fuzz

from firstoff.search import Index, ranking
from firstoff.search.normalise import plain
from firstoff.search.reading import Reading, read
from support.complaints import SYNONYMS, complaints, corpus

ENTRIES = corpus(400, seed=3)
QUERIES = complaints(ENTRIES, 78, seed=4)


@pytest.fixture(scope="module")
def index() -> Index:
    return Index.build(ENTRIES, SYNONYMS)


def phrase_score(index: Index, reading: Reading, phrase: int) -> float:
    """0.7 cover + 0.3 token_ratio, cover being 0.7 of the query's rarity and 0.3 of the phrase's, in plain loops."""
    phrases = index.phrases
    terms = [int(term) for term in phrases.terms.row(phrase)]
    table = phrases.compounds
    spans = {
        int(table.term[place]): range(int(table.first[place]), int(table.first[place] + table.length[place]))
        for place in range(len(table.term))
        if table.phrase[place] == phrase
    }
    covered_query = all_query = 0.0
    by_word = [0.0] * len(terms)
    for place in reading.places:
        best, weight_of_place = 0.0, 0.0
        likeliest = max(
            (
                (weight, -float(phrases.rarity[term]))
                for term, weight in place.options.items()
                if phrases.rarity[term] > 0
            ),
            default=None,
        )
        if likeliest is None:
            met = phrases.rarity[: len(phrases.postings.starts) - 1][np.diff(phrases.postings.starts) > 0]
            weight_of_place = float(np.median(met)) * (0.25 if place.little else 1.0)
        else:
            weight_of_place = -likeliest[1]
        for term, weight in place.options.items():
            words = [number for number, own in enumerate(terms) if own == term] or list(spans.get(term, ()))
            if words:
                best = max(best, weight)
                for word in words:
                    by_word[word] = max(by_word[word], weight)
        covered_query += weight_of_place * best
        all_query += weight_of_place
    rarity = [float(phrases.rarity[term]) for term in terms]
    covered_phrase = sum(much * worth for much, worth in zip(rarity, by_word, strict=True)) / sum(rarity)
    cover = 0.7 * covered_query / all_query + 0.3 * covered_phrase
    return 0.7 * cover + 0.3 * fuzz.token_ratio(plain(reading.text), plain(phrases.texts[phrase])) / 100


def test_scores_follow_the_formula(index: Index) -> None:
    compared = 0
    for complaint in QUERIES:
        reading = read(complaint.query, index.vocabulary, index.synonyms)
        scored = ranking.score(reading, index.phrases, 0, None, lambda found: np.zeros(len(found), dtype=np.float32))
        for phrase, score, exact in zip(scored.phrases, scored.scores, scored.exactness, strict=True):
            if not exact and compared % 3 == 0:
                assert score == pytest.approx(phrase_score(index, reading, int(phrase)), abs=1e-4)
            compared += 1
    assert compared > 3_000


def test_rarity_is_the_logarithm_of_one_and_the_phrases_for_each_that_has_the_word(index: Index) -> None:
    term = index.vocabulary.stems["drum"]
    having = sum("drum" in text.split() for text in index.phrases.texts)
    assert index.phrases.rarity[term] == pytest.approx(math.log(1 + len(index.phrases.texts) / having))


def test_every_posting_is_of_a_phrase_that_has_the_term(index: Index) -> None:
    having: dict[int, set[int]] = {}
    for phrase in range(len(index.phrases.texts)):
        for term in index.phrases.terms.row(phrase):
            having.setdefault(int(term), set()).add(phrase)
    for term, phrases in having.items():
        assert index.phrases.postings.row(term).tolist() == sorted(phrases)


def test_damaged_complaints_are_found(index: Index) -> None:
    firsts = [index.search(complaint.query).hits[0].id == complaint.wanted for complaint in QUERIES]
    print(f"first hit right: {sum(firsts)} of {len(firsts)}")
    assert sum(firsts) >= 0.95 * len(firsts)


@pytest.mark.parametrize(("postings", "candidates", "compared"), [(30, 10, 5), (1, 1, 1)])
def test_an_equal_phrase_is_found_with_the_smallest_budget(
    index: Index, monkeypatch: pytest.MonkeyPatch, postings: int, candidates: int, compared: int
) -> None:
    monkeypatch.setattr(ranking, "MOST_POSTINGS", postings)
    monkeypatch.setattr(ranking, "MOST_CANDIDATES", candidates)
    monkeypatch.setattr(ranking, "MOST_COMPARED", compared)
    for entry in ENTRIES[:40]:
        assert index.search(entry.label).hits[0].id == entry.id


def test_a_large_budget_changes_no_first_hit(index: Index, monkeypatch: pytest.MonkeyPatch) -> None:
    before = [index.search(complaint.query).hits[:3] for complaint in QUERIES]
    monkeypatch.setattr(ranking, "MOST_COMPARED", 1_000_000)
    after = [index.search(complaint.query).hits[:3] for complaint in QUERIES]
    assert before == after
