"""What to carry: which parts to take along so that one visit is likeliest to suffice.

With one fault at work a visit suffices where all that its remedy takes is carried. With at most ``parts`` parts the
best load is found by trying every set of remedies' needs; greedy by share a part is given beside it. Where each remedy
takes one part the chance is additive and greedy is exact; where one takes several it is not even submodular: the
second of two needed parts gains more than the first.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import combinations

#: Sets that are tried at the most; above that greedy is all that is given.
MOST_SETS = 200_000


@dataclass(frozen=True, slots=True)
class Load:
    """``parts`` in the order of what each adds; ``chance`` 0 to 1 that a visit suffices; ``exact`` over all sets."""

    parts: tuple[str, ...]
    chance: float
    exact: bool
    greedy: float


def suffices(shares: Mapping[str, float], needs: Mapping[str, Iterable[frozenset[str]]], load: frozenset[str]) -> float:
    """The share of the faults that some set of their ``needs`` lies within ``load``; a fault without needs does not."""
    return math.fsum(share for fault, share in shares.items() if any(each <= load for each in needs.get(fault, ())))


def best_load(shares: Mapping[str, float], needs: Mapping[str, tuple[frozenset[str], ...]], parts: int) -> Load:
    """The load of at most ``parts`` parts with the greatest chance; of equal ones the fewest parts, then by name."""
    every = sorted({part for fault in shares for way in needs.get(fault, ()) for part in way})
    rough = _greedy(shares, needs, parts)
    chance = suffices(shares, needs, rough)
    sizes = range(min(parts, len(every)) + 1)
    exact = sum(math.comb(len(every), size) for size in sizes) <= MOST_SETS
    best = rough
    if exact:
        loads = (frozenset(chosen) for size in sizes for chosen in combinations(every, size))
        best = max(loads, key=lambda load: (round(suffices(shares, needs, load), 12), -len(load)))
    ordered: list[str] = []
    while best - set(ordered):
        have = frozenset(ordered)
        ordered.append(max(sorted(best - have), key=lambda part: suffices(shares, needs, have | {part})))
    return Load(tuple(ordered), suffices(shares, needs, best), exact, chance)


def _greedy(shares: Mapping[str, float], needs: Mapping[str, tuple[frozenset[str], ...]], parts: int) -> frozenset[str]:
    load: frozenset[str] = frozenset()
    ways = sorted({way for fault in shares for way in needs.get(fault, ())}, key=sorted)
    while True:
        now = suffices(shares, needs, load)
        fitting = [way for way in ways if not way <= load and len(load | way) <= parts]
        gains = [((suffices(shares, needs, load | way) - now) / len(way - load), way) for way in fitting]
        gain, way = max(gains, key=lambda each: each[0], default=(0.0, frozenset[str]()))
        if gain <= 0:
            return load
        load |= way
