"""Words of one stem in three languages."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.search.normalise import fold
from firstoff.search.stems import stem, stems


@pytest.mark.parametrize(
    ("lang", "words", "one"),
    [
        ("en", "leak leaks leaked leaking", "leak"),
        ("en", "drip drips dripped dripping", "drip"),
        ("en", "hose hoses", "hos"),
        ("en", "switch switches", "switch"),
        ("en", "battery batteries", "batteri"),
        ("en", "spin spins spinning", "spin"),
        ("en", "fill fills filled filling", "fill"),
        ("en", "speed speeds", "speed"),
        ("en", "noise noises", "nois"),
        ("en", "no not won't doesn't cannot", "not"),
        ("en", "glass", "glass"),
        ("en", "spring", "spring"),  # without -ing nothing is left to say
        ("en", "gas", "gas"),  # too short to have an ending
        ("en", "e4s", "e4s"),
        ("de", "heizt heizen heize", "heiz"),
        ("de", "Trommel Trommeln", "trommel"),
        ("de", "läuft laufen", "lauf"),
        ("de", "kühlt kühlen kühle", "kuhl"),
        ("de", "warm warme warmer warmes warmen", "warm"),
        ("de", "dreht drehen", "dreh"),
        ("de", "laut", "laut"),  # not the adjective for lukewarm
        ("de", "nicht kein keine keinen nie ohne", "nicht"),
        ("es", "enfría enfrían enfriar enfriando enfriado", "enfri"),
        ("es", "calienta calientan", "calient"),
        ("es", "lava lavar lavado lavados lavando", "lav"),
        ("es", "puerta puertas", "puert"),
        ("es", "luz luces", "luz"),
        ("es", "botón botones", "boton"),
        ("es", "fría fríos frío", "fri"),
        ("es", "no sin nunca tampoco", "not"),
        ("fr", "chauffe", "chauffe"),  # a language without a table
        ("", "drains", "drains"),
    ],
)
def test_words_of_one_stem(lang: str, words: str, one: str) -> None:
    assert {stem(word, lang) for word in fold(words).split()} == {one}


@pytest.mark.parametrize(
    ("lang", "one", "other"),
    [
        ("en", "heat", "heater"),
        ("en", "cool", "coil"),
        ("en", "on", "no"),
        ("en", "belt", "bell"),
        ("de", "heizt", "heizung"),  # heats, and the heater
        ("de", "kuhlt", "kuhlschrank"),
        ("de", "tur", "turm"),
        ("es", "calor", "color"),
        ("es", "bomba", "bombilla"),
        ("es", "puerta", "puerto"[:4]),
    ],
)
def test_words_of_different_stems(lang: str, one: str, other: str) -> None:
    assert stem(one, lang) != stem(other, lang)


def test_a_word_has_a_stem_in_each_language() -> None:
    assert stems("heizt") == ("heizt", "heiz")
    assert stems("sin") == ("sin", "not")


@given(st.text(alphabet="abcdeginorstuyz", min_size=1, max_size=14), st.sampled_from(["en", "de", "es"]))
def test_a_stem_is_never_empty_and_nearly_a_beginning(word: str, lang: str) -> None:
    one = stem(word, lang)
    assert one
    # "batteries" is "batteri", "luces" is "luz", and words that say "not" are one.
    assert one in ("not", "nicht") or word.startswith(one[:-1])
