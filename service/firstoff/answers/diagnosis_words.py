"""Symptoms told in somebody's own words, taken for the nearest described, and said so."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from firstoff.errors import NotFound
from firstoff.search import near
from firstoff_contract.common import Ref
from firstoff_contract.diagnosis import UnderstoodNote
from firstoff_contract.search import Hit


@dataclass(frozen=True, slots=True)
class Understood:
    """``symptoms`` by slug, and a note for each that was not a slug as it was given."""

    symptoms: list[str]
    notes: list[UnderstoodNote]


def understood(words: Iterable[str], names: frozenset[str], search: Callable[[str], Sequence[Hit]]) -> Understood:
    """``words`` as symptoms of the machine.

    :raises NotFound: no symptom of it is near.
    """
    symptoms, notes = list[str](), list[UnderstoodNote]()
    for each in words:
        if each in names:
            symptoms.append(each)
            continue
        hits = [Ref(id=hit.id, label=hit.label) for hit in search(each) if hit.id in names]
        if not hits:
            raise NotFound("symptom", each, near(each, sorted(names), limit=3))
        symptoms.append(hits[0].id)
        notes.append(UnderstoodNote(words=each, taken_for=hits[0], others=hits[1:]))
    return Understood(symptoms, notes)
