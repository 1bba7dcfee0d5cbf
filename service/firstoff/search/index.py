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

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import islice

import numpy as np

from firstoff.search.completing import going_on
from firstoff.search.concepts import ConceptBuilder, Concepts
from firstoff.search.entry import Answer, Completion, Entry, Hit
from firstoff.search.highlight import ranges
from firstoff.search.joining import PhraseJoiner
from firstoff.search.normalise import fold
from firstoff.search.phrases import Floats, Ints, Phrases
from firstoff.search.ranking import Mask, Scored, score
from firstoff.search.reading import Reading, read
from firstoff.search.segment import Segment, primary
from firstoff.search.speaking import spoken
from firstoff.search.suggesting import suggestions
from firstoff.search.synonyms import Synonyms, arranged, runs_of
from firstoff.search.vocabulary import Vocabulary, VocabularyBuilder

#: Least score of a phrase that is shown. Measured: of queries of one to four unrelated words 9 in 10 stay below it, of
#: damaged complaints all but the odd one are above.
GOOD = 0.35
PHRASE_SHARE, EXACT_SHARE = 0.82, 0.10
#: The language of labels.
ENGLISH = "en"


@dataclass(frozen=True, slots=True)
class Index:
    """Entries made ready for search; never changes after ``build``, so threads may share it."""

    vocabulary: Vocabulary
    synonyms: Synonyms
    phrases: Phrases
    concepts: Concepts
    langs: dict[str, int]

    @property
    def _lang_names(self) -> list[str]:
        """The languages by number."""
        return list(self.langs)

    @classmethod
    def build(cls, entries: Iterable[Entry], synonyms: Iterable[Iterable[str]] = ()) -> Index:
        """An index of ``entries``.

        ``synonyms`` are groups of words or short phrases that mean the same, such as ("washer", "washing machine").
        """
        return cls.joined([Segment.of(entries)], synonyms)

    @classmethod
    def joined(cls, segments: Iterable[Segment], synonyms: Iterable[Iterable[str]] = ()) -> Index:
        """An index of the entries of all ``segments``, the same as ``build`` makes of them in this order.

        The texts of the segments are not read again.
        """
        words = VocabularyBuilder()
        phrases = PhraseJoiner(words)
        concepts = ConceptBuilder()
        for segment in segments:
            numbers = phrases.add(segment)
            flat, starts = numbers[segment.found_by.flat].tolist(), segment.found_by.starts.tolist()
            for place, entry in enumerate(segment.entries):
                concepts.add(entry, flat[starts[place] : starts[place + 1]])
        groups = runs_of(synonyms, words)
        arranged_groups = arranged(groups, len(words.terms))
        arrays, renumbered = phrases.finish(arranged_groups, len(words.terms) + len(groups))
        return cls(words.finish(), arranged_groups, arrays, concepts.finish(renumbered), phrases.langs)

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
        among equals. ``lang`` is the language of the answer, that of the query where None: hits are named in it. The
        query may be in any language; phrases of the language it is in are preferred, of ``lang`` where that cannot be
        told. Only the first 200 characters of the query count. Where nothing is good, there are suggestions in place
        of hits.
        """
        reading = read(query, self.vocabulary, self.synonyms)
        if not reading.words or limit < 1 or (kind is not None and kind not in self.concepts.kinds):
            return Answer()
        own = spoken(reading, self.phrases, self.langs)
        asked = self.langs.get(primary(lang), -1) if lang else own
        hits = self._hits(reading, kind, model, limit, own or max(asked, 0))
        return Answer(
            tuple(self._hit(reading, asked, *hit) for hit in hits),
            () if hits else suggestions(reading, self.vocabulary),
            self._lang_names[own],
        )

    def complete(
        self, query: str, model: str | None = None, limit: int = 10, lang: str | None = None
    ) -> tuple[Completion, ...]:
        """Phrases that go on from a half-typed ``query``, best first: one for each thing found, each text once.

        ``model`` and ``lang`` as in ``search``. Never raises, whatever the text.
        """
        reading = read(query, self.vocabulary, self.synonyms, typing=True)
        if not reading.words or limit < 1:
            return ()
        bonuses = self.concepts.bonuses(model)
        own = spoken(reading, self.phrases, self.langs)
        preferred = own or (self.langs.get(primary(lang), 0) if lang else 0)
        scored = going_on(reading, self.phrases, preferred, self._bonus_of(bonuses))
        ranked = self._ranked(scored, scored.scores, bonuses)
        found: dict[str, Completion] = {}
        for concept, phrase, total in ranked:
            text = self.phrases.texts[phrase]
            found.setdefault(fold(text), self._completion(reading, concept, phrase, total))
            if len(found) == limit:
                break
        return tuple(found.values())

    def _hits(
        self, reading: Reading, kind: str | None, model: str | None, limit: int, lang: int
    ) -> list[tuple[int, int, float]]:
        """Concepts with their best phrases and totals, best first."""
        bonuses = self.concepts.bonuses(model)
        of_kind, allowed = self.concepts.with_kind(kind) if kind is not None else (None, None)
        if of_kind is not None:
            bonuses[~of_kind] = 0

        scored = score(reading, self.phrases, lang, allowed, self._bonus_of(bonuses))
        good = scored.scores >= GOOD
        scored = Scored(scored.phrases[good], scored.scores[good], scored.exactness[good])
        totals = PHRASE_SHARE * scored.scores + EXACT_SHARE * scored.exactness
        ranked = self._ranked(scored, totals, bonuses, of_kind)
        return list(islice(ranked, limit))

    def _bonus_of(self, bonuses: Floats) -> Callable[[Ints], Floats]:
        """The largest bonus that phrases lead to."""

        def bonus(phrases: Ints) -> Floats:
            concepts, begins = self.concepts.by_phrase.gather(phrases)
            largest: Floats = np.maximum.reduceat(bonuses[concepts], begins[:-1])
            return largest

        return bonus

    def _ranked(
        self, scored: Scored, totals: Floats, bonuses: Floats, allowed: Mask | None = None
    ) -> Iterator[tuple[int, int, float]]:
        """Concept, its best phrase and its total, best first; among equals in the order the entries were given.

        ``totals`` are by phrase, before the ``bonuses`` of the concepts; ``allowed`` marks concepts.
        """
        concepts, begins = self.concepts.by_phrase.gather(scored.phrases)
        places = np.repeat(np.arange(len(scored.phrases)), np.diff(begins))
        total = totals[places] + bonuses[concepts]
        if allowed is not None:
            kept = allowed[concepts]
            concepts, places, total = concepts[kept], places[kept], total[kept]
        order = np.lexsort((concepts, -total))
        _, first = np.unique(concepts[order], return_index=True)
        for one in order[np.sort(first)]:
            yield int(concepts[one]), int(scored.phrases[places[one]]), float(total[one])

    def _hit(self, reading: Reading, lang: int, concept: int, phrase: int, total: float) -> Hit:
        found = self.concepts.items[concept]
        name, its_lang = self._name(concept, lang)
        return Hit(
            kind=found.kind,
            id=found.id,
            label=found.label,
            name=name,
            lang=its_lang,
            matched=self.phrases.texts[phrase],
            ranges=ranges(reading, self.phrases, phrase),
            score=_rounded(total),
            models=found.models,
            groups=found.groups,
        )

    def _name(self, concept: int, lang: int) -> tuple[str, str]:
        """What a concept is called in a language, and in which it is called so: English where it has no other name."""
        names = self._lang_names
        if lang > 0 and names[lang] != ENGLISH:
            row = self.concepts.phrases.row(concept)
            of_lang = row[self.phrases.langs[row] == lang]
            if len(of_lang):
                return self.phrases.texts[of_lang[0]], names[lang]
        return self.concepts.items[concept].label, ENGLISH

    def _completion(self, reading: Reading, concept: int, phrase: int, total: float) -> Completion:
        found = self.concepts.items[concept]
        return Completion(
            text=self.phrases.texts[phrase],
            lang=self._lang_names[self.phrases.langs[phrase]],
            ranges=ranges(reading, self.phrases, phrase),
            kind=found.kind,
            id=found.id,
            label=found.label,
            score=_rounded(total),
            models=found.models,
        )


def _rounded(total: float) -> float:
    return round(min(1.0, max(0.0, total)), 4)
