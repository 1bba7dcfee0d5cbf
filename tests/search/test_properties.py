"""What holds of every index and every query."""

from __future__ import annotations

import random

from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.search import Answer, Entry, Hit, Index
from firstoff.search.normalise import fold
from support.complaints import SYNONYMS
from support.random_entries import ENTRIES, INDEXES, QUERIES


@settings(max_examples=150)
@given(INDEXES, QUERIES, st.sampled_from([None, "code", "none"]), st.sampled_from([None, "m1"]), st.integers(0, 12))
def test_every_answer_is_in_order(
    entries: list[Entry], query: str, kind: str | None, model: str | None, limit: int
) -> None:
    answer = Index.build(entries, SYNONYMS).search(query, kind=kind, model=model, limit=limit, lang="de")
    assert len(answer.hits) <= limit
    assert not (answer.hits and answer.suggestions)
    scores = [hit.score for hit in answer.hits]
    assert scores == sorted(scores, reverse=True)
    assert all(0 <= score <= 1 for score in scores)
    assert len({(hit.kind, hit.id, hit.label) for hit in answer.hits}) == len(answer.hits)
    for hit in answer.hits:
        _is_of_an_entry(hit, entries)


def _is_of_an_entry(hit: Hit, entries: list[Entry]) -> None:
    alike = [entry for entry in entries if (entry.kind, entry.id, entry.label) == (hit.kind, hit.id, hit.label)]
    assert any(hit.matched in (entry.label, *(phrase.text for phrase in entry.phrases)) for entry in alike)
    assert hit.models == frozenset[str]().union(*(entry.models for entry in alike))
    edges = [edge for part in hit.ranges for edge in part]
    assert edges == sorted(edges)
    assert all(0 <= start < end <= len(hit.matched) for start, end in hit.ranges)
    assert hit.ranges


@settings(max_examples=100)
@given(ENTRIES, INDEXES)
def test_a_label_finds_its_entry_first(entry: Entry, others: list[Entry]) -> None:
    """Whatever else is there, the first hit is an entry that has the label as a phrase, letter for letter or folded."""
    if not fold(entry.label) or len(entry.label) > 200:
        return
    hits = Index.build([*others, entry], SYNONYMS).search(entry.label, model="m1").hits
    same = fold(entry.label).replace(" ", "")
    assert fold(hits[0].matched).replace(" ", "") == same
    found = {(hit.kind, hit.id, hit.label) for hit in hits}
    assert (entry.kind, entry.id, entry.label) in found


@settings(max_examples=50)
@given(ENTRIES, INDEXES, st.integers(0, 2**32))
def test_the_order_of_entries_does_not_change_the_scores(entry: Entry, others: list[Entry], seed: int) -> None:
    shuffled = [entry, *others]
    random.Random(seed).shuffle(shuffled)
    one = Index.build([entry, *others], SYNONYMS).search(entry.label, limit=50)
    other = Index.build(shuffled, SYNONYMS).search(entry.label, limit=50)
    # Equals may change places, and which of two equal phrases is shown.
    assert {_scored(hit) for hit in one.hits} == {_scored(hit) for hit in other.hits}


def _scored(hit: Hit) -> tuple[str, str, str, float]:
    return hit.kind, hit.id, hit.label, round(hit.score, 3)


@settings(max_examples=100)
@given(INDEXES, QUERIES, st.sampled_from(["symptom", "component", "code", "model"]))
def test_a_kind_gives_the_hits_of_that_kind(entries: list[Entry], query: str, kind: str) -> None:
    index = Index.build(entries, SYNONYMS)
    every = index.search(query, limit=100)
    only = index.search(query, kind=kind, limit=100)
    # The best phrase of a concept is the same, since phrases do not compete across kinds in so small an index.
    assert [hit for hit in every.hits if hit.kind == kind] == list(only.hits)


@settings(max_examples=50)
@given(INDEXES)
def test_no_query_no_hits(entries: list[Entry]) -> None:
    assert Index.build(entries).search(" \t-/!") == Answer()
