"""Bottom-up P-over-C: which remedy to begin with, where several share openings that are paid once.

A run is a set of remedies with all the openings they need; its rate is the share it ends for each minute of both. The
run with the greatest rate comes first, and within it, once the openings that all of it needs are paid, again the run
with the greatest rate. For clusters that lie in one another like a tree, with one fault a remedy and the machine tried
inside the cluster, that order is optimal (Ottosen and Jensen 2010, arXiv 1203.3502; scheduling along a tree, Horn 1972,
from memory).
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

#: Different sets of openings of which every union is tried; above that only each by itself and with one other.
MOST_SETS = 8
_EQUAL = 1e-9


@dataclass(frozen=True, slots=True)
class Candidate:
    """A remedy with the openings it still needs, its own minutes besides them, and the faults it ends."""

    id: str
    needed: frozenset[str]
    minutes: float
    ends: frozenset[str]


@dataclass(frozen=True, slots=True)
class Run:
    """``remedies`` best first, the share they end for a minute, and the openings they need."""

    remedies: tuple[Candidate, ...]
    rate: float
    openings: frozenset[str]


def first_remedy(
    candidates: Sequence[Candidate], shares: Mapping[str, float], minutes: Mapping[str, float]
) -> str | None:
    """The remedy to begin with; None where there is none. ``minutes`` are those of the openings."""
    paid: frozenset[str] = frozenset()
    left = tuple(candidates)
    while left:
        run = _densest(left, shares, minutes, paid)
        shared = frozenset.intersection(*(each.needed for each in run.remedies)) - paid
        if not shared:
            return run.remedies[0].id
        paid, left = paid | shared, run.remedies
    return None


def _densest(
    candidates: Sequence[Candidate], shares: Mapping[str, float], minutes: Mapping[str, float], paid: frozenset[str]
) -> Run:
    """The run with the greatest rate; of equal ones that with fewer openings."""
    best: Run | None = None
    for openings in _unions({each.needed - paid for each in candidates}):
        behind = [each for each in candidates if each.needed - paid <= openings]
        run = _best_of(behind, shares, sum(minutes[each] for each in sorted(openings)), openings)
        if best is None or run.rate > best.rate + _EQUAL:
            best = run
    assert best is not None
    return best


def _best_of(behind: Sequence[Candidate], shares: Mapping[str, float], paid: float, openings: frozenset[str]) -> Run:
    """The best of ``behind`` by share a minute, as far as they make the rate greater."""
    ordered = sorted(behind, key=lambda each: (-_share(each.ends, shares) / max(each.minutes, _EQUAL), each.id))
    share, spent, seen = 0.0, paid, frozenset[str]()
    rate, length = -1.0, 0
    for place, each in enumerate(ordered):
        share += _share(each.ends - seen, shares)
        spent, seen = spent + each.minutes, seen | each.ends
        if share / max(spent, _EQUAL) > rate + _EQUAL:
            rate, length = share / max(spent, _EQUAL), place + 1
    return Run(tuple(ordered[:length]), rate, openings)


def _unions(sets: set[frozenset[str]]) -> list[frozenset[str]]:
    """``sets`` and their unions, the smallest first."""
    found = set(sets)
    if len(sets) <= MOST_SETS:
        for each in sets:
            found |= {each | other for other in found}
    else:
        found |= {each | other for each in sets for other in sets}
    return sorted(found, key=lambda each: (len(each), sorted(each)))


def _share(faults: frozenset[str], shares: Mapping[str, float]) -> float:
    return math.fsum(shares.get(fault, 0.0) for fault in faults)
