"""From texts to the arrays of ``phrases``."""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import chain

import numpy as np
import numpy.typing as npt

from firstoff.search.normalise import has_digit, plate, raw_words, spellings, stem
from firstoff.search.phrases import Compounds, Floats, Ints, Offsets, Phrases, Rows, checksum
from firstoff.search.synonyms import Run, Synonyms
from firstoff.search.vocabulary import VocabularyBuilder
from firstoff.search.words import LITTLE_WORDS

#: Kinds whose short phrases are numbers, read without spaces, hyphens and slashes.
NUMBERED = frozenset({"code", "model"})
#: A word that says little weighs this much of its rarity.
LITTLE = 0.25
_LONGEST_NUMBER = 24
_LONGEST_PIECE = 4
_SHORTEST_PART = 3


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


@dataclass(slots=True)
class PhraseBuilder:
    """Collects phrases; one text of one language is one phrase however many entries have it."""

    vocabulary: VocabularyBuilder
    lang_numbers: dict[str, int] = field(default_factory=lambda: {"": 0})
    _texts: list[str] = field(default_factory=list)
    _langs: array[int] = field(default_factory=lambda: array("H"))
    _numbers: array[int] = field(default_factory=lambda: array("B"))
    _terms: array[int] = field(default_factory=lambda: array("i"))
    _ends: array[int] = field(default_factory=lambda: array("q", (0,)))
    _sums: array[int] = field(default_factory=lambda: array("I"))
    _summed: array[int] = field(default_factory=lambda: array("i"))
    _known: dict[tuple[int, bool], dict[str, int]] = field(default_factory=dict)
    _words: dict[str, tuple[int, tuple[str, ...]]] = field(default_factory=dict)

    def add(self, text: str, lang: str, kind: str) -> int | None:
        """The number of the phrase, counted in the order of adding; None where the text has no words."""
        lang_number = self.lang_numbers.setdefault(primary(lang), len(self.lang_numbers))
        known = self._known.setdefault((lang_number, kind in NUMBERED), {})
        if text in known:
            return known[text]
        words = [self._word(raw) for raw in raw_words(text)]
        terms, spelled = [term for term, word in words if word], [word for _, word in words if word]
        if not terms:
            return None
        number = kind in NUMBERED and reads_as_number([word[0] for word in spelled])
        phrase = known[text] = len(self._texts)
        self._texts.append(text)
        self._langs.append(lang_number)
        self._numbers.append(number)
        self._terms.extend((self._number(spelled, text),) if number else terms)
        self._ends.append(len(self._terms))
        for exact in keys_of(spelled, number):
            self._sums.append(checksum(exact))
            self._summed.append(phrase)
        return phrase

    def finish(self, synonyms: Synonyms, terms: int) -> tuple[Phrases, Ints]:
        """The arrays, and the number in them of each phrase by the number that ``add`` gave it.

        ``terms`` counts the terms with the compounds.
        """
        as_added = Rows(np.array(self._terms, dtype=np.int32), np.array(self._ends, dtype=np.int64))
        order = np.argsort(np.diff(as_added.starts), kind="stable").astype(np.int32)
        renumbered = np.empty_like(order)
        renumbered[order] = np.arange(len(order), dtype=np.int32)
        rows = Rows(*as_added.gather(order))
        compounds = _compounds(rows, synonyms.compounds)
        postings = _postings(rows, compounds, terms)
        sums = np.array(self._sums, dtype=np.uint32)
        by_sum = np.argsort(sums, kind="stable")
        phrases = Phrases(
            texts=[self._texts[number] for number in order],
            langs=np.array(self._langs, dtype=np.uint16)[order],
            numbers=np.array(self._numbers, dtype=np.bool_)[order],
            terms=rows,
            postings=postings,
            compounds=compounds,
            rarity=self._rarity(postings, len(order)),
            keys=sums[by_sum],
            keyed=renumbered[np.array(self._summed, dtype=np.int32)[by_sum]],
        )
        return phrases, renumbered

    def _word(self, raw: str) -> tuple[int, tuple[str, ...]]:
        """The term of a word as it stands and its spellings; without spellings where nothing is left of it."""
        known = self._words.get(raw)
        if known is None:
            spelled = spellings(raw)
            known = self._words[raw] = (self.vocabulary.add(spelled, raw) if spelled else -1, spelled)
        return known

    def _number(self, words: Sequence[tuple[str, ...]], text: str) -> int:
        """The term of a number; its longer pieces find it too."""
        term = self.vocabulary.add_number("".join(word[0] for word in words), text)
        if len(words) > 1:
            for word in words:
                if len(word[0]) >= _SHORTEST_PART:
                    self.vocabulary.add_part(word[0], term)
        return term

    def _rarity(self, postings: Rows, phrases: int) -> Floats:
        counts = np.maximum(np.diff(postings.starts), 1)
        rarity = np.log1p(phrases / counts).astype(np.float32)
        little = [term for word in LITTLE_WORDS if (term := self.vocabulary.terms.get(stem(word))) is not None]
        rarity[little] *= LITTLE
        rarity[len(self.vocabulary.terms) :] = 0
        return rarity


def rows_of(rows: Sequence[Sequence[int]]) -> Rows:
    """Rows as one array."""
    lengths = np.fromiter(map(len, rows), dtype=np.int64, count=len(rows))
    starts = np.zeros(len(rows) + 1, dtype=np.int64)
    np.cumsum(lengths, out=starts[1:])
    return Rows(np.fromiter(chain.from_iterable(rows), dtype=np.int32, count=int(starts[-1])), starts)


def _owners(rows: Rows) -> Ints:
    """The row of each place of the flat array."""
    return np.repeat(np.arange(len(rows.starts) - 1, dtype=np.int32), np.diff(rows.starts))


def _compounds(rows: Rows, compounds: Iterable[tuple[Run, int]]) -> Compounds:
    owners = _owners(rows)
    found: list[npt.NDArray[np.int64]] = []
    for run, term in compounds:
        last = len(rows.flat) - len(run) + 1
        if last <= 0:
            continue
        fits = owners[:last] == owners[len(run) - 1 :]
        for step, word in enumerate(run):
            fits &= rows.flat[step : step + last] == word
        places = np.flatnonzero(fits)
        same = np.ones_like(places)
        found.append(np.stack([owners[places], term * same, places - rows.starts[owners[places]], len(run) * same]))
    table = np.concatenate(found, axis=1) if found else np.zeros((4, 0), dtype=np.int64)
    phrase, term_, first, length = table[:, np.argsort(table[0], kind="stable")].astype(np.int32)
    return Compounds(phrase, term_, first, length)


def _postings(rows: Rows, compounds: Compounds, terms: int) -> Rows:
    """By term the phrases that have it, each once, in order."""
    owners = np.concatenate([_owners(rows), compounds.phrase])
    flat = np.concatenate([rows.flat, compounds.term])
    order = np.lexsort((owners, flat))
    flat, owners = flat[order], owners[order]
    first = np.ones(len(flat), dtype=np.bool_)
    first[1:] = (flat[1:] != flat[:-1]) | (owners[1:] != owners[:-1])
    starts: Offsets = np.searchsorted(flat[first], np.arange(terms + 1)).astype(np.int64)
    return Rows(owners[first], starts)
