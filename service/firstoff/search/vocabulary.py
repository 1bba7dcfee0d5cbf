"""The unique words of the index, and which of them a word of a query may mean.

Phrases are many, their words are few: a query is corrected against some thousand words, not against every phrase. Words
of one stem are one *term*; a term is a number. Words with digits are kept apart, because a wrong digit is another code,
not a misspelling.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from firstoff.search.normalise import has_digit, plate
from firstoff.search.stems import stem, stems
from firstoff.search.word_table import WordTable

#: Least similarity (1 less the edit distance, swaps counted as one, over the longer length) for a correction; measured.
CUTOFF = 0.6
#: What a word of the same stem, O read for 0, and a part of a number are worth beside the word itself.
SAME_STEM, READ_ALIKE, PART_OF_NUMBER = 0.95, 0.9, 0.85
#: A word cut short is worth this much and rises to 1 with the share of it that is there.
PREFIX_FLOOR = 0.6
#: Least similarity of what is typed to the beginning of a word, and letters from which a slip in it is forgiven.
PREFIX_CUTOFF, _SHORTEST_SLIPPED = 0.75, 4
_MOST_CORRECTIONS = 24
_MOST_PREFIXED = 200
#: From this length on a number with another digit is a misread number; below it is another display code.
_LONG_NUMBER = 6

Options = dict[int, float]


@dataclass(slots=True)
class VocabularyBuilder:
    """Collects words while an index is built."""

    terms: dict[str, int] = field(default_factory=dict)
    spellings: dict[str, Options] = field(default_factory=dict)
    forms: dict[str, str] = field(default_factory=dict)
    plates: set[str] = field(default_factory=set)

    def add(self, spellings: Sequence[str], form: str, lang: str) -> int:
        """The term of a word of ``lang`` with these ``spellings``; ``form`` is how it is shown in suggestions.

        A word that two languages have with different stems has a term in each, and its spelling means both.
        """
        term = self.terms.setdefault(stem(spellings[0], lang), len(self.terms))
        for spelling in spellings:
            self._spell(spelling, term, 1.0)
            self.forms.setdefault(spelling, form)
            if has_digit(spelling):
                self._spell(plate(spelling), term, READ_ALIKE)
        return term

    def add_number(self, spelling: str, form: str) -> int:
        """The term of a code or model number, written without spaces."""
        self.plates.add(spelling)
        return self.add((spelling,), form, "")

    def add_part(self, spelling: str, term: int) -> None:
        """Let ``spelling``, a part of a number, find the number's term."""
        self._spell(spelling, term, PART_OF_NUMBER)

    def known(self, spelling: str) -> list[int]:
        """The terms of a word of any language: by its spelling, else by a stem; empty where there is none."""
        return self.spelled(spelling) or [self.terms[each] for each in stems(spelling) if each in self.terms]

    def spelled(self, spelling: str) -> list[int]:
        """The terms of the words that are spelled like this."""
        return [term for term, worth in self.spellings.get(spelling, {}).items() if worth == 1.0]

    def finish(self) -> Vocabulary:
        words = sorted(self.spellings)
        return Vocabulary(
            letters=WordTable.of(word for word in words if not has_digit(word)),
            numbers=WordTable.of(word for word in words if has_digit(word)),
            plates=WordTable.of(self.plates),
            spellings=self.spellings,
            stems=self.terms,
            forms=self.forms,
        )

    def _spell(self, spelling: str, term: int, worth: float) -> None:
        options = self.spellings.setdefault(spelling, {})
        options[term] = max(worth, options.get(term, 0.0))


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """Spellings, with the terms they stand for; ``stems`` numbers the terms.

    ``numbers`` are the words with digits, ``plates`` whole codes and model numbers.
    """

    letters: WordTable
    numbers: WordTable
    plates: WordTable
    spellings: dict[str, Options]
    stems: dict[str, int]
    forms: dict[str, str]

    def exact(self, word: str) -> Options:
        """The terms of a word that is spelled as in the index, or has the stem of one that is."""
        options = dict(self.spellings.get(word, {}))
        for each in stems(word):
            term = self.stems.get(each)
            if term is not None:
                options.setdefault(term, SAME_STEM)
        if has_digit(word) and "o" in word:
            merge(options, self.spellings.get(plate(word), {}), READ_ALIKE)
        return options

    def near(self, word: str, cutoff: float = CUTOFF) -> dict[str, float]:
        """The spellings at least ``cutoff`` like ``word``, with their likeness."""
        alike = self.letters.near(word, cutoff, _MOST_CORRECTIONS) if _mostly_letters(word) else {}
        if has_digit(word):
            numbers = self.numbers.near(word, cutoff, _MOST_CORRECTIONS)
            alike.update((other, likeness) for other, likeness in numbers.items() if _same_number(word, other))
        return alike

    def corrected(self, word: str, cutoff: float = CUTOFF) -> Options:
        """The terms near to ``word``, each worth the square of the likeness."""
        options: Options = {}
        for spelling, likeness in self.near(word, cutoff).items():
            merge(options, self.spellings[spelling], likeness * likeness)
        return options

    def beginning(self, start: str) -> Options:
        """The terms of words that begin with ``start``."""
        return self._beginning(start, (self.letters, self.numbers))

    def beginning_of_number(self, start: str) -> Options:
        """The terms of codes and model numbers that begin with ``start``."""
        return self._beginning(start, (self.plates,))

    def _beginning(self, start: str, tables: Iterable[WordTable]) -> Options:
        options: Options = {}
        for table in tables:
            for word in table.beginning(start, _MOST_PREFIXED):
                worth = PREFIX_FLOOR + (1 - PREFIX_FLOOR) * len(start) / len(word)
                merge(options, self.spellings[word], worth)
        return options

    def beginning_near(self, start: str) -> Options:
        """The terms of words whose first letters are nearly ``start``; empty for starts too short to tell."""
        options: Options = {}
        if len(start) < _SHORTEST_SLIPPED or has_digit(start):
            return options
        for word, likeness in self.letters.beginning_near(start, PREFIX_CUTOFF, _MOST_CORRECTIONS).items():
            worth = PREFIX_FLOOR + (1 - PREFIX_FLOOR) * min(1.0, len(start) / len(word))
            merge(options, self.spellings[word], worth * likeness * likeness)
        return options


def merge(options: Options, more: Options, worth: float = 1.0) -> None:
    """Take ``more``, each times ``worth``, into ``options`` where it is worth more."""
    for term, weight in more.items():
        if weight * worth > options.get(term, 0.0):
            options[term] = weight * worth


def _mostly_letters(word: str) -> bool:
    """Whether a word may be letters with at most a slip onto the row of digits."""
    digits = sum(character.isdigit() for character in word)
    return digits == 0 or (len(word) >= 4 and digits == 1)


def _same_number(word: str, other: str) -> bool:
    """Whether two numbers may be one misspelled: long ones, or with the same digits but for zeros in front."""
    if len(word) >= _LONG_NUMBER and len(other) >= _LONG_NUMBER:
        return True
    return _digits(word) == _digits(other)


def _digits(word: str) -> str:
    return "".join(character for character in word if character.isdigit()).lstrip("0")
