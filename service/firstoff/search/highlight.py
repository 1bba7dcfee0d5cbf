"""Which characters of a phrase met the query."""

from __future__ import annotations

from firstoff.search.normalise import Token, tokens
from firstoff.search.phrases import Phrases
from firstoff.search.reading import Reading

Ranges = tuple[tuple[int, int], ...]


def ranges(reading: Reading, phrases: Phrases, phrase: int) -> Ranges:
    """Half-open character ranges of the phrase's text, in order and apart.

    A word is marked whole, or as far as a half-typed last word goes; a number is marked from end to end.
    """
    text = phrases.texts[phrase]
    words = tokens(text)
    terms = phrases.terms.row(phrase)
    if phrases.numbers[phrase]:
        words = [Token(words[0].start, words[-1].end, ("".join(word.spellings[0] for word in words),))]
    meant = {term for place in reading.places for term in place.options}
    met = {place for place, term in enumerate(terms) if int(term) in meant}
    met.update(_of_compounds(phrases, phrase, meant))
    return tuple(_marked(words[place], reading) for place in sorted(met))


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


def _marked(word: Token, reading: Reading) -> tuple[int, int]:
    spelling = word.spellings[0]
    typed = reading.words[-1].spellings[0]
    whole = {word.spellings[0] for word in reading.words}
    cut = spelling not in whole and spelling.startswith(typed) and len(spelling) == word.end - word.start
    return (word.start, word.start + len(typed)) if cut else (word.start, word.end)
