"""A query read as places, each with the terms it may mean.

A place is a word of the query, corrected; a word run together from two is two places. Words wrongly taken apart ("dish
washer"), codes written with spaces ("e 4") and synonyms give a place further options.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from firstoff.search.normalise import Token, has_digit, tokens
from firstoff.search.stems import stem
from firstoff.search.synonyms import Synonyms
from firstoff.search.vocabulary import CUTOFF, Options, Vocabulary, merge
from firstoff.search.words import says_little

MOST_CHARACTERS = 200
MOST_WORDS = 24
#: What a word written in two, two words written as one, and a synonym are worth beside the word itself.
JOINED, SPLIT, SYNONYM = 0.95, 0.95, 0.8
#: Words that the index has as they are, and joins and halves, which are guesses already, must be nearer than others.
KNOWN_CUTOFF, JOIN_CUTOFF = 0.75, 0.75
#: A place understood this well needs no splitting; one understood that well may stand for a synonym.
UNDERSTOOD, HALF_UNDERSTOOD = 0.7, 0.5
#: Letters of a word that may be two words of which one is misspelled.
_LONG = 7
#: A number on a plate is written in at most this many pieces.
_MOST_PIECES = 5


@dataclass(frozen=True, slots=True)
class Place:
    """A word of the query: its spelling, what it may mean, and whether it is one that says little."""

    word: str
    options: Mapping[int, float]
    little: bool


@dataclass(frozen=True, slots=True)
class Reading:
    """A query: its words as tokens of ``text``, and the places they were read as.

    It is ``half_typed`` where nothing ends the last word, and ``typing`` where it is expected to go on.
    """

    text: str
    words: tuple[Token, ...]
    places: tuple[Place, ...]
    half_typed: bool = False
    typing: bool = False


def read(query: str, vocabulary: Vocabulary, synonyms: Synonyms, typing: bool = False) -> Reading:
    """The first 200 characters of ``query`` read against the words of an index.

    With ``typing`` a last word that nothing ends is a beginning before all: of one letter already, and with a slip.
    """
    text = query[:MOST_CHARACTERS]
    words = tokens(text)[:MOST_WORDS]
    half_typed = bool(words) and words[-1].end == len(text)
    options = _of_single_words(words, vocabulary, half_typed)
    if half_typed and typing:
        merge(options[-1], _begun(words[-1].spellings, vocabulary))
    _add_joined(options, words, vocabulary, half_typed)
    if typing:
        _add_begun_numbers(options, words, vocabulary)
    places = [place for word, means in zip(words, options, strict=True) for place in _split(word, means, vocabulary)]
    return Reading(text, tuple(words), _each_once(_with_synonyms(places, synonyms)), half_typed, typing)


def _of_single_words(words: Sequence[Token], vocabulary: Vocabulary, half_typed: bool) -> list[Options]:
    options: list[Options] = []
    for word in words:
        means: Options = {}
        for spelling in word.spellings:
            known = spelling in vocabulary.spellings
            merge(means, vocabulary.corrected(spelling, KNOWN_CUTOFF if known else CUTOFF))
            merge(means, vocabulary.exact(spelling))
        options.append(means)
    if half_typed and len(words[-1].spellings[0]) > 1:
        merge(options[-1], vocabulary.beginning(words[-1].spellings[0]))
    return options


def _begun(spellings: Sequence[str], vocabulary: Vocabulary) -> Options:
    """What a word may become; with a slip only where no word begins so."""
    means: Options = {}
    for spelling in spellings:
        merge(means, vocabulary.beginning(spelling))
    return means or vocabulary.beginning_near(spellings[0])


def _add_joined(options: list[Options], words: Sequence[Token], vocabulary: Vocabulary, half_typed: bool) -> None:
    """Give neighbouring places what their words mean when written as one."""
    pairs = [words[place].spellings[0] + words[place + 1].spellings[0] for place in range(len(words) - 1)]
    for place, pair in enumerate(pairs):
        # Two words that the index both has are not a misspelling of one.
        both_known = all(word.spellings[0] in vocabulary.spellings for word in words[place : place + 2])
        means = {} if both_known else vocabulary.corrected(pair, JOIN_CUTOFF)
        merge(means, vocabulary.exact(pair))
        if half_typed and place == len(pairs) - 1:
            merge(means, vocabulary.beginning(pair))
        for part in (place, place + 1):
            merge(options[part], means, JOINED)
    for first in range(len(words)):
        for end in range(first + 3, min(first + _MOST_PIECES, len(words)) + 1):
            run = "".join(word.spellings[0] for word in words[first:end])
            if has_digit(run):
                means = vocabulary.exact(run) or vocabulary.corrected(run, JOIN_CUTOFF)
                for part in range(first, end):
                    merge(options[part], means, JOINED)


def _add_begun_numbers(options: list[Options], words: Sequence[Token], vocabulary: Vocabulary) -> None:
    """Give the last places the codes and model numbers they begin, since those are typed in pieces ("wm 12", "e-")."""
    run = ""
    for first in range(len(words) - 1, max(len(words) - 1 - _MOST_PIECES, -1), -1):
        run = words[first].spellings[0] + run
        means = vocabulary.beginning_of_number(run)
        for part in range(first, len(words)):
            merge(options[part], means, JOINED)


def _split(word: Token, means: Options, vocabulary: Vocabulary) -> list[Place]:
    """The place of ``word``, or two places where it only makes sense as two words run together."""
    spelling = word.spellings[0]
    best = max(means.values(), default=0.0)
    if best < UNDERSTOOD:
        halves = _halves(spelling, best, vocabulary)
        if halves is not None and min(max(options.values()) for _, options in halves) * SPLIT > best:
            return [Place(half, options, says_little(half)) for half, options in halves]
    return [Place(spelling, means, says_little(spelling))]


def _halves(word: str, best: float, vocabulary: Vocabulary) -> list[tuple[str, Options]] | None:
    """The best cut of ``word`` in two: both halves spelled right, else one of them and the other nearly.

    Nearly is tried only for long words that are poorly understood as one (``best`` is how well), since it is costly.
    """
    cuts = [(word[:cut], word[cut:]) for cut in range(1, len(word)) if _may_cut(word, cut)]
    exact = [(vocabulary.exact(left), vocabulary.exact(right)) for left, right in cuts]
    whole = [place for place, (left, right) in enumerate(exact) if left and right]
    if whole:
        # The most even cut: short words are in the vocabulary by chance.
        place = max(whole, key=lambda place: min(len(half) for half in cuts[place]))
        return [(half, _worth(options, SPLIT)) for half, options in zip(cuts[place], exact[place], strict=True)]
    return _nearly_halved(cuts, exact, vocabulary) if len(word) >= _LONG and best < HALF_UNDERSTOOD else None


def _nearly_halved(
    cuts: Sequence[tuple[str, str]], exact: Sequence[tuple[Options, Options]], vocabulary: Vocabulary
) -> list[tuple[str, Options]] | None:
    tried = [
        (place, side)
        for place, halves in enumerate(exact)
        for side in (0, 1)
        if halves[1 - side] and len(cuts[place][1 - side]) >= 3 and len(cuts[place][side]) >= 4
    ]
    corrected = [vocabulary.corrected(cuts[place][side], JOIN_CUTOFF) for place, side in tried]
    best = max(range(len(tried)), key=lambda one: max(corrected[one].values(), default=0.0), default=None)
    if best is None or not corrected[best]:
        return None
    place, side = tried[best]
    means = [dict(exact[place][0]), dict(exact[place][1])]
    means[side] = corrected[best]
    return [(half, _worth(options, SPLIT)) for half, options in zip(cuts[place], means, strict=True)]


def _may_cut(word: str, cut: int) -> bool:
    """Two letters at least on both sides, except between a letter and a digit ("e4")."""
    return 2 <= cut <= len(word) - 2 or word[cut - 1].isdigit() != word[cut].isdigit()


def _worth(options: Options, worth: float) -> Options:
    return {term: weight * worth for term, weight in options.items()}


def _with_synonyms(places: Sequence[Place], synonyms: Synonyms) -> list[Place]:
    """The places with what their synonyms mean, also where a synonym is of several words."""
    meant = [_best(place) for place in places]
    means: list[Options] = [dict(place.options) for place in places]
    for first in range(len(places)):
        for end in range(first + 1, min(first + synonyms.longest, len(places)) + 1):
            run = tuple(term for term, _ in meant[first:end])
            worth = min(weight for _, weight in meant[first:end])
            if worth < HALF_UNDERSTOOD:
                break
            for term in synonyms.of(run):
                for part in range(first, end):
                    merge(means[part], {term: worth}, SYNONYM)
    return [Place(place.word, options, place.little) for place, options in zip(places, means, strict=True)]


def _best(place: Place) -> tuple[int, float]:
    """The likeliest term of a place and its weight; term -1 where it means nothing."""
    if not place.options:
        return -1, 0.0
    return max(place.options.items(), key=lambda item: (item[1], -item[0]))


def _each_once(places: Sequence[Place]) -> tuple[Place, ...]:
    """The places without words said again."""
    return tuple({stem(place.word, "en"): place for place in reversed(places)}.values())[::-1]
