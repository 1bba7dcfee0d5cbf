"""The phrases of the index as arrays: which terms each has, and which phrases each term is in.

Phrases are numbered by their number of words, so that a posting list that is cut short keeps the shortest phrases.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import chain

import numpy as np
import numpy.typing as npt

Ints = npt.NDArray[np.int32]
Offsets = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class Rows:
    """Rows of different length in one array: row ``i`` is ``flat[starts[i]:starts[i + 1]]``."""

    flat: Ints
    starts: Offsets

    def gather(self, rows: Ints) -> tuple[Ints, Offsets]:
        """The given rows one behind the other, and where each begins, with the end of the last."""
        lengths = self.starts[rows + 1] - self.starts[rows]
        begins = np.zeros(len(rows) + 1, dtype=np.int64)
        np.cumsum(lengths, out=begins[1:])
        places = np.arange(begins[-1]) + np.repeat(self.starts[rows] - begins[:-1], lengths)
        return self.flat[places], begins

    def row(self, number: int) -> Ints:
        """One row."""
        return self.flat[self.starts[number] : self.starts[number + 1]]


@dataclass(frozen=True, slots=True)
class Compounds:
    """Where phrases hold a synonym of several words: its term, its first word, its number of words. By phrase."""

    phrase: Ints
    term: Ints
    first: Ints
    length: Ints

    def of(self, phrases: Ints) -> tuple[Offsets, Offsets]:
        """Pairs of a place in ``phrases`` (which are in order) and a place in these arrays."""
        low = np.searchsorted(self.phrase, phrases)
        counts = np.searchsorted(self.phrase, phrases, side="right") - low
        ends = np.cumsum(counts)
        within = np.arange(counts.sum()) - np.repeat(ends - counts, counts)
        return np.repeat(np.arange(len(phrases)), counts), np.repeat(low, counts) + within


@dataclass(frozen=True, slots=True)
class Phrases:
    """All phrases of an index.

    ``rarity`` is by term: log(1 + phrases / phrases that have it), less for words that say little, and 0 for compounds.
    ``spoken`` is by language and term how far the term is one of the language, 0 to 1 and 1 over all languages.
    ``numbers`` marks phrases read as one number. ``keys`` are sorted checksums of the phrases without spaces, ``keyed``
    the phrases they belong to.
    """

    texts: list[str]
    langs: npt.NDArray[np.uint16]
    numbers: npt.NDArray[np.bool_]
    terms: Rows
    postings: Rows
    compounds: Compounds
    rarity: Floats
    spoken: Floats
    keys: npt.NDArray[np.uint32]
    keyed: Ints

    def with_key(self, keys: Iterable[str]) -> Ints:
        """The phrases, in order, whose checksum is that of one of ``keys``; the caller compares the texts."""
        sums = np.array([checksum(key) for key in keys], dtype=np.uint32)
        low, high = np.searchsorted(self.keys, sums), np.searchsorted(self.keys, sums, side="right")
        found = [self.keyed[first:last] for first, last in zip(low, high, strict=True)]
        return np.unique(np.concatenate(found)) if found else np.zeros(0, dtype=np.int32)


def rows_of(rows: Sequence[Sequence[int]]) -> Rows:
    """Rows as one array."""
    lengths = np.fromiter(map(len, rows), dtype=np.int64, count=len(rows))
    starts = np.zeros(len(rows) + 1, dtype=np.int64)
    np.cumsum(lengths, out=starts[1:])
    return Rows(np.fromiter(chain.from_iterable(rows), dtype=np.int32, count=int(starts[-1])), starts)


def checksum(key: str) -> int:
    """A 32-bit checksum: keys are compared again, so a clash costs time only."""
    return zlib.crc32(key.encode("utf-8", "surrogatepass"))
