"""A sorted list of words that is asked for the words near to another."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import islice, takewhile

import numpy as np
import numpy.typing as npt
from rapidfuzz import process
from rapidfuzz.distance import OSA


@dataclass(frozen=True, slots=True)
class WordTable:
    """Words in order; ``letters`` has a bit for each letter of a word, ``lengths`` how many it has."""

    words: list[str]
    letters: npt.NDArray[np.uint32]
    lengths: npt.NDArray[np.int32]

    @classmethod
    def of(cls, words: Iterable[str]) -> WordTable:
        """A table of ``words``, each once."""
        ordered = sorted(set(words))
        letters = np.array([_letters(word) for word in ordered], dtype=np.uint32)
        return cls(ordered, letters, np.array([len(word) for word in ordered], dtype=np.int32))

    def beginning(self, start: str, most: int) -> list[str]:
        """The first ``most`` words that begin with ``start``."""
        first = islice(self.words, bisect_left(self.words, start), None)
        return list(islice(takewhile(lambda word: word.startswith(start), first), most))

    def beginning_near(self, start: str, cutoff: float, most: int) -> dict[str, float]:
        """The ``most`` words whose first letters are most like ``start``, with the likeness, ``cutoff`` or more.

        As many letters of a word are compared as ``start`` has.
        """
        edits = np.floor((1 - cutoff) * len(start) + 1e-6)
        letters = np.uint32(_letters(start))
        reach = (np.bitwise_count(letters & ~self.letters) <= edits) & (self.lengths >= len(start) - edits)
        tried = [self.words[place] for place in np.flatnonzero(reach).tolist()]
        return _most_like(start, tried, [word[: len(start)] for word in tried], cutoff, most)

    def near(self, word: str, cutoff: float, most: int) -> dict[str, float]:
        """The ``most`` words most like ``word`` whose likeness is at least ``cutoff``, with it.

        The likeness is 1 less the optimal string alignment distance (letters put in, left out, changed, or two
        neighbours swapped) over the length of the longer word.
        """
        places = np.flatnonzero(self._within_reach(word, cutoff))
        tried = [self.words[place] for place in places.tolist()]
        return _most_like(word, tried, tried, cutoff, most)

    def _within_reach(self, word: str, cutoff: float) -> npt.NDArray[np.bool_]:
        """Which words can be near at all: it spares most comparisons and loses none.

        An edit takes away one letter, and brings in one, at most; so neither word has more letters that the other
        lacks, nor more letters in all, than there are edits.
        """
        letters = np.uint32(_letters(word))
        by_length = np.arange(int(self.lengths.max(initial=0)) + 1)
        allowed = np.floor((1 - cutoff) * np.maximum(by_length, len(word)) + 1e-6)
        # Lengths out of reach allow no edits at all; -1 is below any count of letters.
        edits = np.where(np.abs(by_length - len(word)) <= allowed, allowed, -1).astype(np.int16)[self.lengths]
        reach: npt.NDArray[np.bool_] = np.bitwise_count(self.letters & ~letters) <= edits
        reach &= np.bitwise_count(letters & ~self.letters) <= edits
        return reach


def _most_like(word: str, words: list[str], compared: list[str], cutoff: float, most: int) -> dict[str, float]:
    """The ``most`` of ``words`` whose text in ``compared`` is most like ``word``, with the likeness."""
    if not words:
        return {}
    likeness: npt.NDArray[np.float32] = process.cdist(
        [word], compared, scorer=OSA.normalized_similarity, score_cutoff=cutoff, dtype=np.float32
    )[0]
    alike = np.flatnonzero(likeness)
    if len(alike) > most:
        alike = alike[np.argsort(-likeness[alike], kind="stable")[:most]]
    return {words[place]: float(likeness[place]) for place in alike}


def _letters(word: str) -> int:
    """A bit for each letter; letters may share one, which only widens the reach."""
    bits = 0
    for letter in word:
        bits |= 1 << (ord(letter) & 31)
    return bits
