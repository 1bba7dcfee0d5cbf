"""Entries read into words: the part of building an index that is slow, done once for entries that change together.

A segment numbers its phrases, words and languages by itself and knows nothing of others; ``Index.joined`` makes one
index of several by adding up arrays. When the entries of one platform change, only its segment is read anew.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from firstoff.search.entry import Entry, Phrase
from firstoff.search.normalise import has_digit, plate, raw_words, spellings
from firstoff.search.phrases import Ints, Rows, checksum, rows_of

#: Kinds whose short phrases are numbers, read without spaces, hyphens and slashes.
NUMBERED = frozenset({"code", "model"})
_LONGEST_NUMBER = 24
_LONGEST_PIECE = 4
_SHORTEST_PART = 3


class Word(NamedTuple):
    """A word of the phrases: its spellings, how it is written, its language; of a whole number also its pieces."""

    spellings: tuple[str, ...]
    form: str
    lang: str
    number: bool = False
    pieces: tuple[str, ...] = ()


@lru_cache(maxsize=1 << 16)
def _word_of(spelled: tuple[str, ...], form: str, lang: str) -> Word:
    """One object for a word that many segments have."""
    return Word(spelled, form, lang)


class Origin(NamedTuple):
    """What makes two equal texts one phrase: their language, and whether they may be numbers."""

    lang: str
    numbered: bool


@dataclass(frozen=True, slots=True)
class Segment:
    """Entries as columns, and their phrases as arrays.

    ``entries`` are kind, id, label, models, weight and group; row ``i`` of ``found_by`` has the phrases of entry ``i``.
    By phrase: its text, its origin (a place in ``origins``), whether it is read as one number, and its words (places in
    ``words``). ``sums`` are checksums of the keys of the phrases ``summed``.
    """

    entries: tuple[Entry, ...]
    found_by: Rows
    texts: list[str]
    origins: tuple[Origin, ...]
    origin: npt.NDArray[np.uint16]
    numbers: npt.NDArray[np.bool_]
    terms: Rows
    words: tuple[Word, ...]
    sums: npt.NDArray[np.uint32]
    summed: Ints

    @classmethod
    def of(cls, entries: Iterable[Entry]) -> Segment:
        """The segment of ``entries``."""
        reader = _Reader()
        for entry in entries:
            numbers = (reader.add(phrase, entry.kind) for phrase in _phrases_of(entry))
            found = tuple(dict.fromkeys(number for number in numbers if number is not None))
            reader.entries.append(Entry(entry.kind, entry.id, entry.label, (), entry.models, entry.weight, entry.group))
            reader.found_by.append(found)
        return reader.finish()


def keys_of(words: Sequence[tuple[str, ...]], number: bool) -> tuple[str, ...]:
    """The keys under which a text of these words is found exactly.

    Without spaces, so that ``E-4`` and ``e 4`` are both ``e4``; a ``number`` also as it may be read on a plate, O
    for 0.
    """
    folded = "".join(word[0] for word in words)
    keys = (folded,) if all(len(word) == 1 for word in words) else (folded, "".join(word[-1] for word in words))
    return (*keys, plate_key(folded)) if number else keys


def plate_key(folded: str) -> str:
    """The key of a number as it may be read on a plate. The slash keeps it apart from keys of words."""
    return "/" + plate(folded)


def reads_as_number(words: Sequence[str]) -> bool:
    """Whether a code or model phrase is one number: it has digits and no long word, or is tiny altogether."""
    length = sum(map(len, words))
    if not all(len(word) <= _LONGEST_PIECE or has_digit(word) for word in words):
        return False
    return length <= _LONGEST_PIECE or (length <= _LONGEST_NUMBER and any(map(has_digit, words)))


def primary(lang: str) -> str:
    """The language of a tag without its region: ``de-AT`` is ``de``."""
    return lang.split("-", 1)[0].casefold()


def _phrases_of(entry: Entry) -> Iterable[Phrase]:
    """The phrases of an entry and its label, each text once."""
    yield from entry.phrases
    if all(phrase.text != entry.label for phrase in entry.phrases):
        yield Phrase(entry.label)


class _Reading(NamedTuple):
    """A phrase in words, whether it is one number, and the checksums of its keys."""

    words: tuple[Word, ...]
    number: bool
    sums: tuple[int, ...]


@lru_cache(maxsize=1 << 14)
def _read(text: str, lang: str, numbered: bool) -> _Reading:
    """A phrase read; kept, since many platforms say the same."""
    raw = raw_words(text)
    spelled = [each for each in map(spellings, raw) if each]
    number = numbered and bool(spelled) and reads_as_number([word[0] for word in spelled])
    words = (_number(spelled, text),) if number else tuple(_word(each, lang) for each in raw if spellings(each))
    return _Reading(words, number, tuple(checksum(key) for key in keys_of(spelled, number)))


def _word(raw: str, lang: str) -> Word:
    return _word_of(spellings(raw), raw, lang)


def _number(words: Sequence[tuple[str, ...]], text: str) -> Word:
    """A number; its longer pieces find it too."""
    pieces = tuple(word[0] for word in words if len(word[0]) >= _SHORTEST_PART) if len(words) > 1 else ()
    return Word(("".join(word[0] for word in words),), text, "", True, pieces)


@dataclass(slots=True)
class _Reader:
    """Collects entries; one text of one origin is one phrase however many entries have it."""

    entries: list[Entry] = field(default_factory=list)
    found_by: list[tuple[int, ...]] = field(default_factory=list)
    _texts: list[str] = field(default_factory=list)
    _origins: dict[Origin, int] = field(default_factory=dict)
    _origin: array[int] = field(default_factory=lambda: array("H"))
    _numbers: array[int] = field(default_factory=lambda: array("B"))
    _terms: array[int] = field(default_factory=lambda: array("i"))
    _ends: array[int] = field(default_factory=lambda: array("q", (0,)))
    _words: dict[Word, int] = field(default_factory=dict)
    _sums: array[int] = field(default_factory=lambda: array("I"))
    _summed: array[int] = field(default_factory=lambda: array("i"))
    _known: dict[Origin, dict[str, int]] = field(default_factory=dict)

    def add(self, phrase: Phrase, kind: str) -> int | None:
        """The number of the phrase; None where the text has no words."""
        text, lang = phrase.text, primary(phrase.lang)
        origin = Origin(lang, kind in NUMBERED)
        known = self._known.setdefault(origin, {})
        if text in known:
            return known[text]
        read = _read(text, *origin)
        if not read.words:
            return None
        place = known[text] = len(self._texts)
        self._texts.append(text)
        self._origin.append(self._origins.setdefault(origin, len(self._origins)))
        self._numbers.append(read.number)
        self._terms.extend([self._words.setdefault(word, len(self._words)) for word in read.words])
        self._ends.append(len(self._terms))
        self._sums.extend(read.sums)
        self._summed.extend([place] * len(read.sums))
        return place

    def finish(self) -> Segment:
        return Segment(
            entries=tuple(self.entries),
            found_by=rows_of(self.found_by),
            texts=self._texts,
            origins=tuple(self._origins),
            origin=np.array(self._origin, dtype=np.uint16),
            numbers=np.array(self._numbers, dtype=np.bool_),
            terms=Rows(np.array(self._terms, dtype=np.int32), np.array(self._ends, dtype=np.int64)),
            words=tuple(self._words),
            sums=np.array(self._sums, dtype=np.uint32),
            summed=np.array(self._summed, dtype=np.int32),
        )
