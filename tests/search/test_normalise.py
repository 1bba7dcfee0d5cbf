"""Folding, and words with their places."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.search.normalise import fold, plate, raw_words, tokens


@pytest.mark.parametrize(
    ("text", "folded"),
    [
        ("Drain PUMP", "drain pump"),
        ("  door-seal / gasket ", "door seal gasket"),
        ("Türschalter", "turschalter"),
        ("Tu\u0308rschalter", "turschalter"),  # the umlaut as letter and mark
        ("Spülmaschine weiß", "spulmaschine weiss"),
        ("bomba de desagüe, pequeña", "bomba de desague pequena"),
        ("Ørsted łódź", "orsted lodz"),
        ("ＷＭ１２００", "wm1200"),  # full-width forms
        ("m² ﬁlter", "m2 filter"),  # a superscript and a ligature
        ("won't start", "wont start"),
        ("won\u2019t start", "wont start"),
        ("won`t start", "wont start"),
        ("'quoted'", "quoted"),
        ("dra\x00in\x07 pu\x1bmp", "drain pump"),  # control characters
        ("Wasch\u00admaschine\u200b", "waschmaschine"),  # soft hyphen, zero-width space
        ("drain\tpump\nleaks", "drain pump leaks"),
        ("snake_case", "snake case"),
        ("насос Гудит", "насос гудит"),
        ("पंप", "पंप"),  # vowel signs belong to the word
        ("洗衣机 E4", "洗 衣 机 e4"),  # no spaces between words
        ("0\U0002f800", "0 \u4e3d"),  # a compatibility ideograph
        ("!!! ... ---", ""),
        ("", ""),
    ],
)
def test_fold(text: str, folded: str) -> None:
    assert fold(text) == folded


@pytest.mark.parametrize(
    ("text", "places"),
    [
        ("drain pump", [(0, 5), (6, 10)]),
        (" E-4!", [(1, 2), (3, 4)]),
        ("die Tür", [(0, 3), (4, 7)]),
        ("Tu\u0308r zu", [(0, 4), (5, 7)]),  # the mark counts as a character of its own
        ("won\u2019t go", [(0, 5), (6, 8)]),
    ],
)
def test_words_know_their_places(text: str, places: list[tuple[int, int]]) -> None:
    assert [(word.start, word.end) for word in tokens(text)] == places


def test_german_words_have_a_second_spelling() -> None:
    assert [word.spellings for word in tokens("Tür zu Öl")] == [("tur", "tuer"), ("zu",), ("ol", "oel")]


def test_a_number_as_read_on_a_plate() -> None:
    assert plate("wm12o0a") == "wm1200a"


@given(st.text(max_size=60))
def test_folding_twice_changes_nothing(text: str) -> None:
    # Spaces aside: one character may stand for several words, such as a square of four kana.
    assert fold(fold(text)).replace(" ", "") == fold(text).replace(" ", "")


@given(st.text(alphabet=st.sampled_from("aZ9 ü'’_-\u0308\u00ad\x00洗ß½"), max_size=20))
def test_words_are_apart_and_in_order_and_the_ways_to_take_them_agree(text: str) -> None:
    words = tokens(text)
    edges = [edge for word in words for edge in (word.start, word.end)]
    assert edges == sorted(edges)
    assert all(word.start < word.end for word in words)
    taken = [raw for raw in raw_words(text) if fold(raw)]
    assert taken == [text[word.start : word.end] for word in words]
