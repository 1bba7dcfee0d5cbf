"""Which language a query is in, told by the words it meets."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from firstoff.search.normalise import has_digit
from firstoff.search.phrases import Phrases
from firstoff.search.reading import Place, Reading
from firstoff.search.words import spoken_in

#: A language is taken to be that of the query where it has so much of the evidence of one clear word, and so many times
#: that of the next language.
LEAST, CLEARLY = 0.5, 1.4


def spoken(reading: Reading, phrases: Phrases, langs: dict[str, int]) -> int:
    """The number of the query's language among ``langs``; 0 where it cannot be told.

    A word that says little, or "not", speaks for the languages it is one of; any other for the languages of the phrases
    that have it, by the square of how well it is understood. Codes and numbers are of every language.
    """
    evidence = sum((_speaks_for(place, phrases, langs) for place in reading.places), np.zeros(len(langs)))
    order = np.argsort(-evidence, kind="stable")
    first, second = evidence[order[0]], evidence[order[1]] if len(order) > 1 else 0.0
    return int(order[0]) if first >= LEAST and first >= CLEARLY * second else 0


def _speaks_for(place: Place, phrases: Phrases, langs: dict[str, int]) -> npt.NDArray[np.float64]:
    """By language how far the word is one of it, at most 1."""
    evidence = np.zeros(len(langs))
    known = [langs[lang] for lang in spoken_in(place.word) if lang in langs]
    if known:
        evidence[known] = 1 / len(known)
    elif place.options and not has_digit(place.word):
        worth = np.array(list(place.options.values())) ** 2
        evidence[:] = (worth * phrases.spoken[:, list(place.options)]).max(axis=1)
    return evidence
