"""The judged complaints are what they say they are."""

from __future__ import annotations

from collections import Counter

import pytest

from firstoff.answers.desk import Desk
from firstoff.collection.synonyms import SYNONYMS
from firstoff.search.normalise import fold
from support.judged import HALVES, LANGS, damaged, judged


def test_a_hundred_complaints_in_each_language_half_of_them_kept_apart() -> None:
    assert Counter((one.lang, one.half) for one in judged()) == {(lang, half): 50 for lang in LANGS for half in HALVES}


def test_each_complaint_once() -> None:
    assert [text for text, number in Counter(fold(one.text) for one in judged()).items() if number > 1] == []


def test_what_they_mean_is_in_the_vocabulary(desk: Desk) -> None:
    known = desk.opened.collection.vocabulary.symptoms
    assert {slug for one in judged() for slug in one.wanted} - set(known) == set()


def test_what_is_kept_apart_is_not_in_the_vocabulary(desk: Desk) -> None:
    """A complaint that was copied into a label or a synonym would measure nothing."""
    symptoms = desk.opened.collection.vocabulary.symptoms.values()
    said = {fold(text) for symptom in symptoms for texts in symptom.labels.values() for text in texts}
    said |= {fold(member) for group in SYNONYMS for member in group}
    assert {one.text for one in judged() if one.half == "reporting" and fold(one.text) in said} == set()


@pytest.mark.parametrize("seed", [3, 4])
def test_damage_repeats_with_its_seed(seed: int) -> None:
    first = damaged(judged(), seed)
    assert first == damaged(judged(), seed)
    assert first != damaged(judged(), seed + 1)
    assert {one.half for one in first} == set(HALVES)
    assert {one.text for one in first}.isdisjoint(one.text for one in judged())
