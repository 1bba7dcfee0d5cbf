"""Words to try where nothing good was found."""

from __future__ import annotations

from firstoff.search.reading import Reading
from firstoff.search.vocabulary import Vocabulary

MOST_SUGGESTIONS = 5
#: Looser than for corrections: a person picks.
_CUTOFF = 0.5
_SHORTEST = 3


def suggestions(reading: Reading, vocabulary: Vocabulary) -> tuple[str, ...]:
    """Words of the index nearest to those of the query, nearest first, as they are written in a phrase."""
    words = [word.spellings[0] for word in reading.words if len(word.spellings[0]) >= _SHORTEST]
    best: dict[str, float] = {}
    for word in words:
        for spelling, similarity in vocabulary.near(word, _CUTOFF).items():
            form = vocabulary.forms.get(spelling)
            if form is not None and len(spelling) >= _SHORTEST:
                best[form] = max(similarity, best.get(form, 0.0))
    return tuple(sorted(best, key=lambda form: (-best[form], form))[:MOST_SUGGESTIONS])
