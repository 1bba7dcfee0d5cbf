"""What the phrases lead to: entries, those alike in kind, id and label taken together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from firstoff.search.entry import Entry
from firstoff.search.phrases import Floats, Ints, Rows, rows_of

#: What the model in hand, and how often an entry occurs, add to a score at most.
MODEL_IN_HAND, OCCURS = 0.06, 0.02


@dataclass(frozen=True, slots=True)
class Concept:
    """Entries alike in kind, id and label, with the models and groups of all."""

    kind: str
    id: str
    label: str
    models: frozenset[str]
    groups: frozenset[str]


@dataclass(slots=True)
class ConceptBuilder:
    """Collects entries. Phrases are numbers."""

    kinds: dict[str, int] = field(default_factory=dict)
    _numbers: dict[tuple[str, str, str], int] = field(default_factory=dict)
    _models: list[frozenset[str]] = field(default_factory=list)
    _groups: list[frozenset[str]] = field(default_factory=list)
    _weights: list[float] = field(default_factory=list)
    _phrases: list[tuple[int, ...]] = field(default_factory=list)
    _sets: dict[frozenset[str], frozenset[str]] = field(default_factory=dict)

    def add(self, entry: Entry, phrases: Iterable[int]) -> None:
        """Take ``entry`` in, found by ``phrases``."""
        number = self._numbers.setdefault((entry.kind, entry.id, entry.label), len(self._numbers))
        groups = self._once(frozenset() if entry.group is None else frozenset({entry.group}))
        weight = min(1.0, max(0.0, entry.weight))
        if number == len(self._weights):
            self.kinds.setdefault(entry.kind, len(self.kinds))
            self._models.append(self._once(entry.models))
            self._groups.append(groups)
            self._weights.append(weight)
            self._phrases.append(tuple(dict.fromkeys(phrases)))
            return
        self._models[number] = self._once(self._models[number] | entry.models)
        self._groups[number] = self._once(self._groups[number] | groups)
        self._weights[number] = max(self._weights[number], weight)
        self._phrases[number] = tuple(dict.fromkeys((*self._phrases[number], *phrases)))

    def _once(self, names: frozenset[str]) -> frozenset[str]:
        """Equal sets as one object: there are few, and an empty one takes 216 bytes."""
        return self._sets.setdefault(names, names)

    def finish(self, renumbered: Ints) -> Concepts:
        """The concepts, with phrases numbered anew."""
        by_concept = rows_of(self._phrases)
        phrases = Rows(renumbered[by_concept.flat], by_concept.starts)
        by_model: dict[str, list[int]] = {}
        for number, models in enumerate(self._models):
            for model in models:
                by_model.setdefault(model, []).append(number)
        keys = zip(self._numbers, self._models, self._groups, strict=True)
        return Concepts(
            items=[Concept(*key, models, groups) for key, models, groups in keys],
            kinds=dict(self.kinds),
            kind=np.array([self.kinds[kind] for kind, _, _ in self._numbers], dtype=np.uint16),
            weights=np.array(self._weights, dtype=np.float32),
            phrases=phrases,
            by_phrase=_turned(phrases, len(renumbered)),
            by_model={model: np.array(numbers, dtype=np.int32) for model, numbers in by_model.items()},
        )


@dataclass(frozen=True, slots=True)
class Concepts:
    """All concepts of an index, with the rows that join them to phrases. ``kind`` numbers the kinds by concept."""

    items: list[Concept]
    kinds: dict[str, int]
    kind: npt.NDArray[np.uint16]
    weights: Floats
    phrases: Rows
    by_phrase: Rows
    by_model: dict[str, Ints]

    def bonuses(self, model: str | None) -> Floats:
        """By concept what it has beyond its score with ``model`` in hand."""
        bonuses = OCCURS * self.weights
        if model in self.by_model:
            bonuses[self.by_model[model]] += MODEL_IN_HAND
        return bonuses

    def with_kind(self, kind: str) -> tuple[npt.NDArray[np.bool_], npt.NDArray[np.bool_]]:
        """Which concepts are of ``kind``, and which phrases lead to one that is."""
        concepts = self.kind == self.kinds[kind]
        phrases = np.zeros(len(self.by_phrase.starts) - 1, dtype=np.bool_)
        phrases[self.phrases.gather(np.flatnonzero(concepts).astype(np.int32))[0]] = True
        return concepts, phrases


def _turned(rows: Rows, columns: int) -> Rows:
    """By number in the rows, the rows it is in."""
    owners = np.repeat(np.arange(len(rows.starts) - 1, dtype=np.int32), np.diff(rows.starts))
    order = np.argsort(rows.flat, kind="stable")
    starts = np.searchsorted(rows.flat[order], np.arange(columns + 1)).astype(np.int64)
    return Rows(owners[order], starts)
