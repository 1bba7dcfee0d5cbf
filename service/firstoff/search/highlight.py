"""Which characters of a phrase met the query."""

from __future__ import annotations

from firstoff.search.normalise import Token, spellings, tokens
from firstoff.search.phrases import Phrases
from firstoff.search.reading import Reading

Ranges = tuple[tuple[int, int], ...]


def ranges(reading: Reading, phrases: Phrases, phrase: int) -> Ranges:
    """Half-open character ranges of the phrase's text, in order and apart.

    A word is marked whole, or as far as a half-typed last word goes; so is a number, with what stands between its
    letters and digits.
    """
    text = phrases.texts[phrase]
    words = tokens(text)
    terms = phrases.terms.row(phrase)
    if phrases.numbers[phrase]:
        whole = ("".join(word.spellings[0] for word in words), "".join(word.spellings[-1] for word in words))
        words = [Token(words[0].start, words[-1].end, tuple(dict.fromkeys(whole)))]
    meant = {term for place in reading.places for term in place.options}
    met = {place for place, term in enumerate(terms) if int(term) in meant}
    met.update(_of_compounds(phrases, phrase, meant))
    ends = _Ends(reading)
    return tuple((words[place].start, ends.of(text, words[place])) for place in sorted(met))


def _of_compounds(phrases: Phrases, phrase: int, meant: set[int]) -> set[int]:
    """The words of the phrase that are a synonym of several words that the query means."""
    first, last = phrases.compounds.phrase.searchsorted([phrase, phrase + 1])
    table = phrases.compounds
    return {
        int(table.first[place]) + step
        for place in range(first, last)
        if int(table.term[place]) in meant
        for step in range(int(table.length[place]))
    }


class _Ends:
    """Where the marks of words end: with the word, unless the query breaks off inside it."""

    def __init__(self, reading: Reading) -> None:
        typed = [word.spellings[0] for word in reading.words]
        self._whole = frozenset(typed)
        # A number may have been typed in pieces: "wm 12".
        open_ended = reading.half_typed or reading.typing
        self._starts = ["".join(typed[first:]) for first in range(len(typed))] if open_ended else []

    def of(self, text: str, word: Token) -> int:
        """The end of the mark of ``word``, which is of ``text``."""
        if not self._whole.isdisjoint(word.spellings):
            return word.end
        for start in self._starts:
            for which, spelling in enumerate(word.spellings):
                if spelling.startswith(start):
                    return _end_of_letters(text, word, len(start), which)
        return word.end


def _end_of_letters(text: str, word: Token, count: int, which: int) -> int:
    """Where the first ``count`` letters of the word's spelling number ``which`` end in the text."""
    for place in range(word.start, word.end):
        if count <= 0:
            return place
        letters = spellings(text[place])
        count -= len(letters[min(which, len(letters) - 1)]) if letters else 0
    return word.end
