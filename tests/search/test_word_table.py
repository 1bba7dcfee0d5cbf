"""Words near to another, against an edit distance written out here."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from firstoff.search.word_table import WordTable

WORDS = st.text(alphabet="abcdeinr", min_size=1, max_size=9)
CUTOFFS = st.sampled_from([0.5, 0.6, 0.75])


def distance(one: str, other: str) -> int:
    """Optimal string alignment: letters put in, left out, changed, or two neighbours swapped once (textbook table)."""
    table = [
        [max(row, column) if 0 in (row, column) else 0 for column in range(len(other) + 1)]
        for row in range(len(one) + 1)
    ]
    for row in range(1, len(one) + 1):
        for column in range(1, len(other) + 1):
            changed = one[row - 1] != other[column - 1]
            best = min(table[row - 1][column] + 1, table[row][column - 1] + 1, table[row - 1][column - 1] + changed)
            if row > 1 and column > 1 and one[row - 1] == other[column - 2] and one[row - 2] == other[column - 1]:
                best = min(best, table[row - 2][column - 2] + 1)
            table[row][column] = best
    return table[-1][-1]


@given(st.lists(WORDS, max_size=40), WORDS, CUTOFFS)
def test_no_near_word_is_lost_and_none_is_far(words: list[str], word: str, cutoff: float) -> None:
    likeness = {other: 1 - distance(word, other) / max(len(word), len(other)) for other in words}
    found = WordTable.of(words).near(word, cutoff, most=100)
    # A hair either side of the cutoff may go either way: likeness is a quotient.
    assert {other for other, much in likeness.items() if much > cutoff + 1e-6} <= found.keys()
    assert found.keys() <= {other for other, much in likeness.items() if much > cutoff - 1e-6}
    assert all(abs(much - likeness[other]) < 1e-6 for other, much in found.items())


def test_the_nearest_are_kept() -> None:
    table = WordTable.of(["drain", "drains", "train", "brain", "grain", "rain"])
    assert next(iter(table.near("drain", 0.6, most=1))) == "drain"
    assert len(table.near("drain", 0.6, most=3)) == 3


@given(st.lists(WORDS, max_size=40), st.text(alphabet="abcdeinr", max_size=3))
def test_words_that_begin_alike(words: list[str], start: str) -> None:
    assert WordTable.of(words).beginning(start, most=100) == sorted({word for word in words if word.startswith(start)})


def test_an_empty_table_has_no_words() -> None:
    assert WordTable.of([]).near("drain", 0.6, most=5) == {}
    assert WordTable.of([]).beginning("d", most=5) == []
