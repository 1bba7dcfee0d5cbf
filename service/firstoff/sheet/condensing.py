"""Texts that say nearly the same, said once: what they share, and what each has of its own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

#: Words that belong to what follows them.
_LEADING_IN = frozenset({"at", "by", "from", "in", "into", "on", "over", "past", "through", "to", "under", "with"})
_SHORT = 4


@dataclass(frozen=True, slots=True)
class Run:
    """``items`` that each stand between ``before`` and ``after``; a text of its own is its one item."""

    before: str
    items: tuple[str, ...]
    after: str


def runs(texts: Sequence[str], least: int = 3) -> list[Run]:
    """``texts`` in order, those neighbours put together that begin and end with the same two words.

    Fewer than ``least`` neighbours stay apart. Every text is ``before``, an item and ``after`` of one run, joined by
    blanks.
    """
    found: list[Run] = []
    for _, group in groupby(texts, key=lambda text: (text.split()[:2], text.split()[-2:])):
        alike = list(group)
        shared = _shared(alike) if len(alike) >= least else None
        found.extend([shared] if shared else [Run("", (text,), "") for text in alike])
    return found


def distinct(labels: Sequence[str]) -> list[str]:
    """What each label has of its own beside the others, without brackets.

    Where that is too short to be understood, a little of what they share is kept.
    """
    words = [label.split() for label in labels]
    if len(words) < 2:
        return list(labels)
    first, last = _ends(words, whole=True)
    while first and any(0 < len(" ".join(each[first : len(each) - last])) < _SHORT for each in words):
        first -= 1
    if first and words[0][first - 1].strip("([") in _LEADING_IN:
        first -= 1
    own = [" ".join(each[first : len(each) - last]).strip(" ()[],;:") for each in words]
    return [part or label for part, label in zip(own, labels, strict=True)]


def _shared(texts: Sequence[str]) -> Run | None:
    words = [text.split() for text in texts]
    first, last = _ends(words, whole=False)
    if not first + last:
        return None
    items = tuple(" ".join(each[first : len(each) - last]) for each in words)
    one = words[0]
    return Run(" ".join(one[:first]), items, " ".join(one[len(one) - last :]))


def _ends(words: Sequence[Sequence[str]], *, whole: bool) -> tuple[int, int]:
    """How many words all share at the beginning and at the end; at least one word is left of each unless ``whole``."""
    room = min(len(each) for each in words) - (0 if whole else 1)
    first = 0
    while first < room and len({each[first] for each in words}) == 1:
        first += 1
    last = 0
    while last < room - first and len({each[-1 - last] for each in words}) == 1:
        last += 1
    return first, last
