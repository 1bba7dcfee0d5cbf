"""An index joined of segments is the one built of all their entries."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.search import Entry, Index, Phrase, Segment
from firstoff.search import segment as reading
from support.complaints import SYNONYMS
from support.random_entries import INDEXES, QUERIES
from support.small_index import ENTRIES


def same(one: Any, other: Any) -> bool:
    """Whether two indexes, or parts of them, hold the same, arrays element by element."""
    if isinstance(one, np.ndarray):
        return one.dtype == other.dtype and np.array_equal(one, other)
    if is_dataclass(one):
        return type(one) is type(other) and all(
            same(getattr(one, each.name), getattr(other, each.name)) for each in fields(one)
        )
    if isinstance(one, dict):
        return list(one) == list(other) and all(same(one[key], other[key]) for key in one)
    if isinstance(one, (list, tuple)):
        return len(one) == len(other) and all(map(same, one, other))
    return bool(one == other)


@settings(max_examples=150, deadline=None)
@given(st.lists(INDEXES, max_size=4), st.integers(0, 3), INDEXES, QUERIES)
def test_one_platform_anew_is_a_full_rebuild(
    platforms: list[list[Entry]], changed: int, new: list[Entry], query: str
) -> None:
    """The segment of one platform is read anew, the others are kept: index and answers are those of a full rebuild."""
    segments = [Segment.of(entries) for entries in platforms]
    if changed < len(platforms):
        platforms[changed] = new
        segments[changed] = Segment.of(new)
    joined = Index.joined(segments, SYNONYMS)
    rebuilt = Index.build([entry for entries in platforms for entry in entries], SYNONYMS)
    assert same(joined, rebuilt)
    assert joined.search(query, model="m1") == rebuilt.search(query, model="m1")
    assert joined.complete(query, model="m1") == rebuilt.complete(query, model="m1")


def test_the_comparison_sees_a_difference() -> None:
    one, other = Index.build(ENTRIES), Index.build(ENTRIES[:-1])
    assert same(one, Index.build(ENTRIES))
    assert not same(one, other)
    assert not same(one, Index.build(ENTRIES, SYNONYMS))


def test_joining_reads_no_text_again(monkeypatch: pytest.MonkeyPatch) -> None:
    segments = [Segment.of(ENTRIES[:8]), Segment.of(ENTRIES[8:])]
    monkeypatch.setattr(reading, "raw_words", None)  # reading a text would fail
    assert Index.joined(segments).search("drain pump").hits[0].id == "drain-pump"


def test_what_two_segments_have_is_one_hit() -> None:
    """A symptom of two platforms: one hit, with the models of both, that weighs as where it occurs most."""
    phrases = (Phrase("drum stuck"), Phrase("Trommel klemmt", "de"))
    platforms = [
        [Entry("symptom", "stuck", "Drum stuck", phrases, frozenset({"a"}), 0.1)],
        [Entry("symptom", "stuck", "Drum stuck", phrases, frozenset({"b"}), 0.9)],
    ]
    index = Index.joined(map(Segment.of, platforms))
    (hit,) = index.search("drum stuck").hits
    assert hit.models == {"a", "b"}
    assert len(index.phrases.texts) == 3  # the two, and the label
    assert index.concepts.weights.tolist() == [pytest.approx(0.9)]
