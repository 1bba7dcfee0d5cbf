"""The correction step against a published collection of misspellings.

Source: the dictionary of codespell 2.4.3 (https://github.com/codespell-project/codespell, CC BY-SA 3.0), installed with
the test extra and not copied. A line is ``misspelling->right word``; lines with several right words are left out.
"""

from __future__ import annotations

import random
from pathlib import Path

import codespell_lib
import pytest

from firstoff.search.vocabulary import Vocabulary, VocabularyBuilder

SAMPLE = 1_500
#: Measured with codespell 2.4.3 among 13,900 words: first 0.970, among the first five 0.988. The floors leave room for
#: another edition.
FLOOR_FIRST, FLOOR_FIVE = 0.95, 0.97


@pytest.fixture(scope="module")
def pairs() -> list[tuple[str, str]]:
    """Misspelling and right word, both of letters only, where only one word is right."""
    dictionary = Path(codespell_lib.__file__).parent / "data" / "dictionary.txt"
    lines = (line.split("->", 1) for line in dictionary.read_text(encoding="utf-8").splitlines() if "->" in line)
    return [(wrong, right) for wrong, right in lines if wrong.isalpha() and right.isalpha()]


@pytest.fixture(scope="module")
def vocabulary(pairs: list[tuple[str, str]]) -> Vocabulary:
    builder = VocabularyBuilder()
    for _, right in pairs:
        builder.add((right.lower(),), right, "")
    return builder.finish()


def test_the_right_word_is_among_the_corrections(pairs: list[tuple[str, str]], vocabulary: Vocabulary) -> None:
    sample = random.Random(11).sample(pairs, SAMPLE)
    ranks = [rank(wrong.lower(), right.lower(), vocabulary) for wrong, right in sample]
    first, five = (sum(0 < rank <= most for rank in ranks) / SAMPLE for most in (1, 5))
    print(f"{len(vocabulary.letters.words):,} words; first {first:.3f}, among the first five {five:.3f}")
    assert first >= FLOOR_FIRST
    assert five >= FLOOR_FIVE


def rank(wrong: str, right: str, vocabulary: Vocabulary) -> int:
    """The place, from 1, of the right word's term among the corrections of the wrong one; 0 where it is not there."""
    options = vocabulary.corrected(wrong)
    term = next(iter(vocabulary.spellings[right]))
    if term not in options:
        return 0
    return 1 + sum(worth > options[term] for worth in options.values())
