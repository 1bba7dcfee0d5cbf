"""Groups of words and short phrases that mean the same.

A synonym of one word is a term like any other. One of several words has a term of its own, a *compound*, which the
phrases that hold these words in a row have besides their words.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import product

from firstoff.search.normalise import tokens
from firstoff.search.vocabulary import VocabularyBuilder

#: The terms of a word or phrase, in order.
Run = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Synonyms:
    """``meanings`` gives, by the terms of a member, the terms that mean the same; ``longest`` is in words.

    ``compounds`` pairs each member of several words with the compound term of its group.
    """

    meanings: Mapping[Run, tuple[int, ...]] = field(default_factory=dict)
    compounds: tuple[tuple[Run, int], ...] = ()
    longest: int = 0

    def of(self, run: Run) -> tuple[int, ...]:
        """The terms that mean the same as the terms of ``run`` in a row; empty where it has no synonyms."""
        return self.meanings.get(run, ())


def runs_of(groups: Iterable[Iterable[str]], builder: VocabularyBuilder) -> list[list[Run]]:
    """The members of each group as terms, their words taken into the vocabulary; members without words are left out."""
    found: list[list[Run]] = []
    for group in groups:
        runs = [run for member in group for run in product(*_terms_of(member, builder))]
        found.append([run for run in dict.fromkeys(runs) if run])
    return found


def _terms_of(member: str, builder: VocabularyBuilder) -> list[list[int]]:
    """By word of ``member`` the terms it has in any language; a word that is new is taken to be English."""
    terms: list[list[int]] = []
    for word in tokens(member):
        known = builder.known(word.spellings[0])
        terms.append(known or [builder.add(word.spellings, member[word.start : word.end], "en")])
    return terms


def arranged(groups: Sequence[Sequence[Run]], first_compound: int) -> Synonyms:
    """The groups ready for reading queries; compounds are numbered from ``first_compound``."""
    meanings: dict[Run, tuple[int, ...]] = {}
    compounds: list[tuple[Run, int]] = []
    for place, group in enumerate(groups):
        terms = [run[0] for run in group if len(run) == 1]
        several = [run for run in group if len(run) > 1]
        if several:
            compounds.extend((run, first_compound + place) for run in several)
            terms.append(first_compound + place)
        for run in group:
            meanings[run] = tuple(dict.fromkeys((*meanings.get(run, ()), *terms)))
    longest = max((len(run) for group in groups for run in group), default=0)
    return Synonyms(meanings, tuple(compounds), longest)
