"""Phrases that go on from a half-typed query.

Finished words are read with the same forgiveness as in a search; the word being typed is a beginning. A phrase is
offered when it has that word and at least six tenths of what any phrase could have of the query's rarity. The score is
0.80 of the query's cover, 0.05 of the phrase's own (shorter ways to finish come first) and 0.05 where the phrase begins
as the query does; the rest is of the model in hand and of how often the entry occurs.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from firstoff.search.phrases import Floats, Ints, Phrases
from firstoff.search.ranking import FOREIGN, MOST_COMPARED, Scored, best, candidates, covered_by, importance
from firstoff.search.reading import Reading

#: Least share of what a phrase could have of the query's rarity. Common practice, no source.
LEAST_COVER = 0.6
QUERY_SHARE, PHRASE_SHARE, BEGINS_SHARE = 0.80, 0.05, 0.05


def going_on(reading: Reading, phrases: Phrases, lang: int, bonus: Callable[[Ints], Floats]) -> Scored:
    """The phrases that go on from ``reading``, in order of number, with their scores.

    ``lang`` is the number of the language preferred, 0 for none; ``bonus`` gives what phrases have beyond their score,
    so that the best with it are kept.
    """
    weights = importance(reading.places, phrases)
    found = candidates(reading.places, weights, phrases, None)
    if not len(found):
        return Scored(found, np.zeros(0, dtype=np.float32), np.zeros(0, dtype=np.float32))
    cover = covered_by(found, reading.places, weights, phrases)
    attainable = weights @ [max(place.options.values(), default=0.0) for place in reading.places] / weights.sum()
    good = cover.of_query >= LEAST_COVER * attainable
    if reading.half_typed:
        good &= cover.by_place[-1] > 0
    found = found[good]
    begins = np.isin(phrases.terms.flat[phrases.terms.starts[found]], list(reading.places[0].options))
    scores = QUERY_SHARE * cover.of_query[good] + PHRASE_SHARE * cover.of_phrase[good] + BEGINS_SHARE * begins
    if lang:
        langs = phrases.langs[found]
        scores = np.where((langs != lang) & (langs != 0), FOREIGN * scores, scores)
    kept = np.sort(best(scores + bonus(found), MOST_COMPARED)) if len(found) else np.zeros(0, dtype=np.int64)
    return Scored(found[kept], scores[kept].astype(np.float32), np.zeros(len(kept), dtype=np.float32))
