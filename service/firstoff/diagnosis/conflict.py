"""Findings that contradict each other: the fewest that no fault explains together.

A fault explains a set of findings where none of them has probability nil beside it. The fewest findings that leave no
fault are a smallest set cover of the faults by what each finding rules out: searched by the number of findings, from
one, each time at the fault that the fewest findings rule out (a hitting set as in Reiter 1987, from memory).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

#: Nodes of the search; where they run out a set is given from which no finding can be left out.
MOST_NODES = 20_000


@dataclass(frozen=True, slots=True)
class Clash:
    """``places`` of findings that contradict each other, in order; ``smallest`` where no fewer do."""

    places: tuple[int, ...]
    smallest: bool


def clash(ruled_out: Sequence[Iterable[str]], faults: Iterable[str], nodes: int = MOST_NODES) -> Clash | None:
    """The fewest findings that rule out all of ``faults``; None where all findings together do not.

    ``ruled_out`` has, for each finding, the faults that cannot be there beside it. Of equal sets the one is given that
    the search meets first, which depends on the order of the findings and faults alone.
    """
    bits = {fault: 1 << place for place, fault in enumerate(sorted(set(faults)))}
    masks = [sum(bits[fault] for fault in set(out) & bits.keys()) for out in ruled_out]
    every = (1 << len(bits)) - 1
    if not bits or _union(masks) != every:
        return None
    found = _Search(masks, every, nodes).smallest()
    return Clash(_needed(masks, every), False) if found is None else Clash(found, True)


class _Search:
    def __init__(self, masks: Sequence[int], every: int, nodes: int) -> None:
        self._masks = masks
        self._every = every
        self._left = nodes
        by_fault = [1 << place for place in range(every.bit_length())]
        self._ruling = {bit: [place for place, mask in enumerate(masks) if mask & bit] for bit in by_fault}
        # A fault that fewer findings rule out leaves fewer ways to go on.
        self._hardest = sorted(by_fault, key=lambda bit: len(self._ruling[bit]))

    def smallest(self) -> tuple[int, ...] | None:
        """Places of the smallest set; None where the nodes run out."""
        for size in range(1, len(self._masks) + 1):
            found = self._within(self._every, size)
            if found is not None or self._left < 0:
                return None if found is None else tuple(sorted(found))
        return None

    def _within(self, still: int, size: int) -> tuple[int, ...] | None:
        """Places of at most ``size`` findings that rule out the faults of ``still``."""
        if not still:
            return ()
        self._left -= 1
        if size == 0 or self._left < 0:
            return None
        bit = next(each for each in self._hardest if each & still)
        for place in self._ruling[bit]:
            found = self._within(still & ~self._masks[place], size - 1)
            if found is not None:
                return (place, *found)
        return None


def _needed(masks: Sequence[int], every: int) -> tuple[int, ...]:
    """Places of a set from which none can be left out."""
    kept = list(range(len(masks)))
    for place in reversed(range(len(masks))):
        rest = [each for each in kept if each != place]
        if _union(masks[each] for each in rest) == every:
            kept = rest
    return tuple(kept)


def _union(masks: Iterable[int]) -> int:
    found = 0
    for mask in masks:
        found |= mask
    return found
