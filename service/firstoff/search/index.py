"""The search index.

::

    query ── reading ──────────── ranking ─────────── concepts ──── hits
             words corrected      phrases that hold   entries, with
             against the          the corrected       the model in
             vocabulary           words, scored       hand first

The score is 0.82 of the phrase's score, 0.10 where the phrase equals the query, 0.06 for the model in hand and 0.02 of
the entry's weight: an entry with a phrase equal to the query comes before any without.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from firstoff.search.concepts import ConceptBuilder, Concepts
from firstoff.search.entry import Answer, Entry, Hit, Phrase
from firstoff.search.highlight import ranges
from firstoff.search.phrase_builder import PhraseBuilder, primary
from firstoff.search.phrases import Ints, Offsets, Phrases
from firstoff.search.ranking import Scored, score
from firstoff.search.reading import Reading, read
from firstoff.search.suggesting import suggestions
from firstoff.search.synonyms import Synonyms, arranged, runs_of
from firstoff.search.vocabulary import Vocabulary, VocabularyBuilder

#: Least score of a phrase that is shown. Measured: of queries of one to four unrelated words 9 in 10 stay below it, of
#: damaged complaints all but the odd one are above.
GOOD = 0.35
PHRASE_SHARE, EXACT_SHARE = 0.82, 0.10


@dataclass(frozen=True, slots=True)
class Index:
    """Entries made ready for search; never changes after ``build``, so threads may share it."""

    vocabulary: Vocabulary
    synonyms: Synonyms
    phrases: Phrases
    concepts: Concepts
    langs: dict[str, int]

    @classmethod
    def build(cls, entries: Iterable[Entry], synonyms: Iterable[Iterable[str]] = ()) -> Index:
        """An index of ``entries``.

        ``synonyms`` are groups of words or short phrases that mean the same, such as ("washer", "washing machine").
        """
        words = VocabularyBuilder()
        phrases = PhraseBuilder(words)
        concepts = ConceptBuilder()
        for entry in entries:
            numbers = (phrases.add(phrase.text, phrase.lang, entry.kind) for phrase in _phrases_of(entry))
            concepts.add(entry, [number for number in numbers if number is not None])
        groups = runs_of(synonyms, words)
        arranged_groups = arranged(groups, len(words.terms))
        arrays, renumbered = phrases.finish(arranged_groups, len(words.terms) + len(groups))
        return cls(words.finish(), arranged_groups, arrays, concepts.finish(renumbered), dict(phrases.lang_numbers))

    def search(
        self,
        query: str,
        kind: str | None = None,
        model: str | None = None,
        limit: int = 10,
        lang: str | None = None,
    ) -> Answer:
        """The entries nearest to ``query``, at most ``limit``; never raises, whatever the text.

        ``kind`` leaves other kinds out. ``model`` is the slug of the model in hand; what belongs to it comes first
        among equals. ``lang`` prefers phrases in that language, without leaving others out. Only the first 200
        characters of the query count. Where nothing is good, there are suggestions in place of hits.
        """
        reading = read(query, self.vocabulary, self.synonyms)
        if not reading.words or limit < 1 or (kind is not None and kind not in self.concepts.kinds):
            return Answer()
        hits = self._hits(reading, kind, model, limit, self.langs.get(primary(lang)) if lang else None)
        return Answer(hits) if hits else Answer(suggestions=suggestions(reading, self.vocabulary))

    def _hits(
        self, reading: Reading, kind: str | None, model: str | None, limit: int, lang: int | None
    ) -> tuple[Hit, ...]:
        bonuses = self.concepts.bonuses(model)
        of_kind, allowed = self.concepts.with_kind(kind) if kind is not None else (None, None)
        if of_kind is not None:
            bonuses[~of_kind] = 0

        def bonus(phrases: Ints) -> np.typing.NDArray[np.float32]:
            concepts, begins = self.concepts.by_phrase.gather(phrases)
            best: np.typing.NDArray[np.float32] = np.maximum.reduceat(bonuses[concepts], begins[:-1])
            return best

        scored = score(reading, self.phrases, lang, allowed, bonus)
        good = scored.scores >= GOOD
        scored = Scored(scored.phrases[good], scored.scores[good], scored.exactness[good])
        concepts, begins = self.concepts.by_phrase.gather(scored.phrases)
        places = np.repeat(np.arange(len(scored.phrases)), np.diff(begins))
        total = PHRASE_SHARE * scored.scores[places] + EXACT_SHARE * scored.exactness[places] + bonuses[concepts]
        if of_kind is not None:
            kept = of_kind[concepts]
            concepts, places, total = concepts[kept], places[kept], total[kept]
        best = _best_of_each(concepts, total)[:limit]
        return tuple(
            self._hit(reading, int(concepts[one]), int(scored.phrases[places[one]]), float(total[one])) for one in best
        )

    def _hit(self, reading: Reading, concept: int, phrase: int, total: float) -> Hit:
        found = self.concepts.items[concept]
        return Hit(
            kind=found.kind,
            id=found.id,
            label=found.label,
            matched=self.phrases.texts[phrase],
            ranges=ranges(reading, self.phrases, phrase),
            score=round(min(1.0, max(0.0, total)), 4),
            models=found.models,
            groups=found.groups,
        )


def _phrases_of(entry: Entry) -> Iterable[Phrase]:
    """The phrases of an entry and its label, each text once."""
    yield from entry.phrases
    if all(phrase.text != entry.label for phrase in entry.phrases):
        yield Phrase(entry.label)


def _best_of_each(concepts: Ints, total: np.typing.NDArray[np.float32]) -> Offsets:
    """The places of the best of each concept, best first; among equals in the order the entries were given."""
    order = np.lexsort((concepts, -total))
    _, first = np.unique(concepts[order], return_index=True)
    return order[np.sort(first)]
