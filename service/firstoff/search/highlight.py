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
    return tuple((words[place].start, _end(text, words[place], reading)) for place in sorted(met))


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


def _end(text: str, word: Token, reading: Reading) -> int:
    """Where the mark of ``word`` ends: with the word, unless the query breaks off inside it."""
    typed = [typed.spellings[0] for typed in reading.words]
    if not (reading.half_typed or reading.typing) or any(spelling in typed for spelling in word.spellings):
        return word.end
    # A number may have been typed in pieces: "wm 12".
    for first in range(len(typed)):
        start = "".join(typed[first:])
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
