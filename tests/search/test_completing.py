"""Completions of a half-typed query: tables of what is typed and what is offered."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.search import Completion, Entry, Index, Phrase
from firstoff.search.normalise import fold
from support.random_entries import INDEXES, QUERIES
from support.small_index import ENTRIES, SYNONYMS


@pytest.fixture(scope="module")
def index() -> Index:
    return Index.build(ENTRIES, SYNONYMS)


def marked(completion: Completion) -> list[str]:
    return [completion.text[start:end] for start, end in completion.ranges]


@pytest.mark.parametrize(
    ("typed", "text", "marks"),
    [
        ("d", "Door switch", ["D"]),
        ("drai", "Drain pump", ["Drai"]),
        ("drain ", "Drain pump", ["Drain"]),  # the next word
        ("drain p", "Drain pump", ["Drain", "p"]),
        ("drsin pu", "Drain pump", ["Drain", "pu"]),  # a slip in a finished word
        ("pump dr", "Drain pump", ["Dr", "pump"]),  # other order
        ("thw drum do", "Drum does not turn", ["Drum", "do"]),
        ("dishwaher sp", "Dishwasher spray arm", ["Dishwasher", "sp"]),
        ("disjw", "Dishwasher spray arm", ["Dishwasher"]),  # a slip in the word being typed: marked whole
        ("refrigerator not coo", "Fridge is not cooling", ["Fridge", "not", "coo"]),  # synonym
        ("Trommel dr", "Trommel dreht nicht", ["Trommel", "dr"]),
        ("tuer", "Türschalter", ["Tür"]),  # umlaut in two letters
        ("tür", "Türschalter", ["Tür"]),
        ("el refrigerador no enf", "el refrigerador no enfría", ["el", "refrigerador", "no", "enf"]),
        ("wm12", "WM-1200/A", ["WM-12"]),
        ("wm 12", "WM-1200/A", ["WM-12"]),  # typed in pieces
        ("wm ", "WM-1200/A", ["WM"]),
        ("wm-1200/", "WM-1200/A", ["WM-1200"]),
        ("e", "E-4", ["E"]),
        ("e-", "E-4", ["E"]),
    ],
)
def test_offered(index: Index, typed: str, text: str, marks: list[str]) -> None:
    offered = {each.text: marked(each) for each in index.complete(typed, limit=3)}
    assert text in offered
    # Little words that a slip brings in may be marked besides.
    assert [mark for mark in offered[text] if mark in marks] == marks


def test_every_completion_has_the_word_being_typed(index: Index) -> None:
    offered = index.complete("drain pu", limit=50)
    assert offered
    assert all(any(word.startswith("pu") for word in fold(each.text).split()) for each in offered)


def test_finished_words_alone_leave_the_next_open(index: Index) -> None:
    assert {each.text for each in index.complete("pump ")} == {"Drain pump", "Sump pump"}


def test_shorter_ways_to_finish_come_first() -> None:
    index = Index.build([Entry("component", "a", "Belt tensioner spring"), Entry("component", "b", "Belt guard")])
    assert [each.id for each in index.complete("belt")] == ["b", "a"]


def test_a_phrase_that_begins_as_the_query_does_comes_first() -> None:
    index = Index.build([Entry("component", "a", "pump drain"), Entry("component", "b", "drain pump")])
    assert [each.id for each in index.complete("drain")] == ["b", "a"]
    assert [each.id for each in index.complete("pump")] == ["a", "b"]


def test_each_thing_once_and_each_text_once() -> None:
    entries = [
        Entry("symptom", "noisy", "Noisy drum", (Phrase("Noisy drum"), Phrase("Noise from drum"))),
        Entry("component", "drum", "Drum", group="a"),
        Entry("component", "drum-2", "drum", group="b"),
    ]
    offered = Index.build(entries).complete("dru")
    assert [each.id for each in offered] == ["drum", "noisy"]


def test_the_model_in_hand_and_what_occurs_often_come_first(index: Index) -> None:
    assert index.complete("pump", model="dw-6")[0].id == "sump-pump"
    assert index.complete("pump", model="td-90")[0].id == "drain-pump"


def test_the_language_asked_for_comes_first_among_equals() -> None:
    entries = [
        Entry("component", "a", "Alpha", (Phrase("Motor vorne", "de"),)),
        Entry("component", "b", "Beta", (Phrase("motor atrás", "es"),)),
    ]
    index = Index.build(entries)
    assert [(each.id, each.lang) for each in index.complete("mot", lang="es")] == [("b", "es"), ("a", "de")]
    assert [(each.id, each.lang) for each in index.complete("mot", lang="de")] == [("a", "de"), ("b", "es")]


@pytest.mark.parametrize("typed", ["", "  ", "!!!", "\u202e\x00", "😀", "qqqqqq", "zzzz drain pu zzzz yyyy xxxx"])
def test_nothing_is_offered_where_nothing_goes_on(index: Index, typed: str) -> None:
    assert index.complete(typed) == ()


@pytest.mark.parametrize(("limit", "offered"), [(-1, 0), (0, 0), (1, 1), (2, 2)])
def test_limit(index: Index, limit: int, offered: int) -> None:
    assert len(index.complete("d", limit=limit)) == offered


@settings(max_examples=100)
@given(INDEXES, QUERIES, st.integers(0, 12))
def test_every_completion_is_a_phrase_of_what_it_leads_to(entries: list[Entry], typed: str, limit: int) -> None:
    offered = Index.build(entries, SYNONYMS).complete(typed, model="m1", limit=limit, lang="de")
    assert len(offered) <= limit
    scores = [each.score for each in offered]
    assert scores == sorted(scores, reverse=True)
    assert len({fold(each.text) for each in offered}) == len(offered)
    for each in offered:
        alike = [entry for entry in entries if (entry.kind, entry.id, entry.label) == (each.kind, each.id, each.label)]
        assert any(each.text in (entry.label, *(phrase.text for phrase in entry.phrases)) for entry in alike)
        edges = [edge for part in each.ranges for edge in part]
        assert edges == sorted(edges)
        assert all(0 <= start < end <= len(each.text) for start, end in each.ranges)
        assert each.ranges


@settings(max_examples=60)
@given(INDEXES, st.integers(1, 30))
def test_what_is_typed_of_a_label_is_offered_its_label(entries: list[Entry], letters: int) -> None:
    """Typing any label letter by letter never loses it, as long as so many are offered."""
    index = Index.build(entries)
    for entry in entries:
        typed = entry.label[:letters]
        if fold(typed) and fold(entry.label):
            texts = {fold(text) for text in (entry.label, *(phrase.text for phrase in entry.phrases))}
            assert texts & {fold(each.text) for each in index.complete(typed, limit=100)}
