"""From segments to the arrays of ``phrases``."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from firstoff.search.phrases import Compounds, Floats, Ints, Offsets, Phrases, Rows
from firstoff.search.segment import Origin, Segment, Word
from firstoff.search.synonyms import Run, Synonyms
from firstoff.search.vocabulary import VocabularyBuilder
from firstoff.search.words import LITTLE_WORDS

#: A word that says little weighs this much of its rarity.
LITTLE = 0.25


@dataclass(slots=True)
class PhraseJoiner:
    """Adds up the phrases of segments; a phrase that several have is one."""

    vocabulary: VocabularyBuilder
    langs: dict[str, int] = field(default_factory=lambda: {"": 0})
    _taken: dict[Word, int] = field(default_factory=dict)
    _texts: list[str] = field(default_factory=list)
    _known: dict[Origin, dict[str, int]] = field(default_factory=dict)
    _lang_of: list[npt.NDArray[np.uint16]] = field(default_factory=list)
    _numbers: list[npt.NDArray[np.bool_]] = field(default_factory=list)
    _terms: list[Ints] = field(default_factory=list)
    _lengths: list[Offsets] = field(default_factory=list)
    _sums: list[npt.NDArray[np.uint32]] = field(default_factory=list)
    _summed: list[Ints] = field(default_factory=list)

    def add(self, segment: Segment) -> Ints:
        """Take the phrases of ``segment`` in: by place in the segment their numbers, counted in the order of adding."""
        terms = np.array([self._term(word) for word in segment.words], dtype=np.int32)
        langs = [self.langs.setdefault(origin.lang, len(self.langs)) for origin in segment.origins]
        known = [self._known.setdefault(origin, {}) for origin in segment.origins]
        first = len(self._texts)
        numbers = np.empty(len(segment.texts), dtype=np.int32)
        for place, (text, origin) in enumerate(zip(segment.texts, segment.origin.tolist(), strict=True)):
            number = numbers[place] = known[origin].setdefault(text, len(self._texts))
            if number == len(self._texts):
                self._texts.append(text)
        _, places = np.unique(numbers, return_index=True)
        fresh: Ints = places[numbers[places] >= first].astype(np.int32)
        flat, begins = segment.terms.gather(fresh)
        self._terms.append(terms[flat] if len(flat) else flat)
        self._lengths.append(np.diff(begins))
        self._lang_of.append(np.array(langs, dtype=np.uint16)[segment.origin[fresh]] if len(fresh) else _NO_LANGS)
        self._numbers.append(segment.numbers[fresh])
        own = numbers[segment.summed] >= first
        self._sums.append(segment.sums[own])
        self._summed.append(numbers[segment.summed[own]])
        return numbers

    def finish(self, synonyms: Synonyms, terms: int) -> tuple[Phrases, Ints]:
        """The arrays, and the number in them of each phrase by the number that ``add`` gave it.

        ``terms`` counts the terms with the compounds.
        """
        starts = np.concatenate([np.zeros(1, dtype=np.int64), *self._lengths]).cumsum()
        as_added = Rows(np.concatenate([_NONE, *self._terms]), starts)
        order = np.argsort(np.diff(as_added.starts), kind="stable").astype(np.int32)
        renumbered = np.empty_like(order)
        renumbered[order] = np.arange(len(order), dtype=np.int32)
        rows = Rows(*as_added.gather(order))
        compounds = _compounds(rows, synonyms.compounds)
        postings = _postings(rows, compounds, terms)
        langs = np.concatenate([_NO_LANGS, *self._lang_of])[order]
        counts = _counts_by_lang(postings, langs, len(self.langs))
        sums = np.concatenate([np.zeros(0, dtype=np.uint32), *self._sums])
        by_sum = np.argsort(sums, kind="stable")
        phrases = Phrases(
            texts=[self._texts[number] for number in order],
            langs=langs,
            numbers=np.concatenate([np.zeros(0, dtype=np.bool_), *self._numbers])[order],
            terms=rows,
            postings=postings,
            compounds=compounds,
            rarity=self._rarity(counts, len(order)),
            spoken=_shares(counts, np.bincount(langs, minlength=len(self.langs))),
            keys=sums[by_sum],
            keyed=renumbered[np.concatenate([_NONE, *self._summed])[by_sum]],
        )
        return phrases, renumbered

    def _term(self, word: Word) -> int:
        """The term of a word, which most segments share with those before."""
        term = self._taken.get(word)
        if term is None:
            term = self._taken[word] = self._added(word)
        return term

    def _added(self, word: Word) -> int:
        if not word.number:
            return self.vocabulary.add(word.spellings, word.form, word.lang)
        term = self.vocabulary.add_number(word.spellings[0], word.form)
        for piece in word.pieces:
            self.vocabulary.add_part(piece, term)
        return term

    def _rarity(self, counts: npt.NDArray[np.int64], phrases: int) -> Floats:
        """By term its rarity: less for a word that says little in most of the phrases that have it."""
        every = counts.sum(axis=0)
        rarity: Floats = np.log1p(phrases / np.maximum(every, 1)).astype(np.float32)
        by_little = np.zeros(len(rarity), dtype=np.int64)
        for lang, words in LITTLE_WORDS.items():
            little = {term for word in words for term in self.vocabulary.spelled(word)}
            if lang in self.langs:
                chosen = sorted(little)
                by_little[chosen] += counts[self.langs[lang], chosen]
        rarity[(by_little > 0) & (2 * by_little >= every)] *= LITTLE
        rarity[len(self.vocabulary.terms) :] = 0
        return rarity


_NONE = np.zeros(0, dtype=np.int32)
_NO_LANGS = np.zeros(0, dtype=np.uint16)


def _counts_by_lang(postings: Rows, langs: npt.NDArray[np.uint16], number: int) -> npt.NDArray[np.int64]:
    """By language and term how many phrases have the term; shape (languages, terms)."""
    terms = len(postings.starts) - 1
    term = np.repeat(np.arange(terms), np.diff(postings.starts))
    both = langs[postings.flat].astype(np.int64) * terms + term
    counts: npt.NDArray[np.int64] = np.bincount(both, minlength=number * terms).reshape(number, terms)
    return counts


def _shares(counts: npt.NDArray[np.int64], phrases: npt.NDArray[np.int64]) -> Floats:
    """By language and term how far the term is one of the language, as if all languages had as many phrases.

    Language 0, that of codes and numbers, has no share.
    """
    often: npt.NDArray[np.float64] = counts / np.maximum(phrases, 1)[:, None]
    often[0] = 0
    shares: Floats = (often / np.maximum(often.sum(axis=0), 1e-12)).astype(np.float32)
    return shares


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
