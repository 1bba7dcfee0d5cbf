"""Requests arriving at replicas that keep answers: a simulation, and the closed forms it is held against.

Times are in seconds, rates a second. A replica answers one request at a time and keeps the answers asked for last.
Requests wait in one queue of their shard for whichever replica is free first.
"""

from __future__ import annotations

import heapq
import math
import random
from collections import OrderedDict
from collections.abc import Callable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Outcome:
    """What was seen of the requests after the first tenth: what was asked for, how long it waited and took."""

    asked: Sequence[int]
    waits: Sequence[float]
    times: Sequence[float]
    hits: float

    def time(self, share: float) -> float:
        """The time that ``share`` of all requests took at the most, waiting included."""
        ordered = sorted(self.times)
        return ordered[min(len(ordered) - 1, math.ceil(share * len(ordered)) - 1)]

    @property
    def waited(self) -> float:
        """The share that had to wait."""
        return sum(wait > 0 for wait in self.waits) / len(self.waits)

    @property
    def mean_wait(self) -> float:
        return sum(self.waits) / len(self.waits)


def simulated(
    drawn: random.Random,
    *,
    requests: int,
    rate: float,
    replicas: int,
    popular: Callable[[random.Random], int],
    kept: int,
    hit: Callable[[random.Random, int], float],
    miss: Callable[[random.Random, int], float],
    filled: int = 0,
    lost_after: int | None = None,
) -> Outcome:
    """One shard. ``popular`` draws what is asked for, ``hit`` and ``miss`` how long the answer to it takes; a replica
    keeps ``kept`` answers, and was asked for ``filled`` of them before. After ``lost_after`` requests one replica is
    gone and answers no more."""
    free = [(0.0, number) for number in range(replicas)]
    caches: list[OrderedDict[int, None]] = [OrderedDict() for _ in range(replicas)]
    for cache in caches:
        for _ in range(filled):
            _known(cache, popular(drawn), kept)
    now, hits = 0.0, 0
    everything, waits, times = [], [], []
    warm = requests // 10
    for place in range(requests):
        now += drawn.expovariate(rate)
        if place == lost_after:
            free = [each for each in free if each[1] != 0]
            heapq.heapify(free)
        at, number = heapq.heappop(free)
        started = max(now, at)
        asked = popular(drawn)
        known = _known(caches[number], asked, kept)
        ended = started + (hit if known else miss)(drawn, asked)
        heapq.heappush(free, (ended, number))
        if place >= warm:
            hits += known
            everything.append(asked)
            waits.append(started - now)
            times.append(ended - now)
    return Outcome(everything, waits, times, hits / len(times))


def _known(cache: OrderedDict[int, None], asked: int, kept: int) -> bool:
    """Whether it is kept; it is from now on, and what was asked for longest ago is not where there is no room."""
    known = asked in cache
    cache[asked] = None
    cache.move_to_end(asked)
    if len(cache) > kept:
        cache.popitem(last=False)
    return known


def erlang_c(servers: int, offered: float) -> float:
    """The share of requests that wait, of Poisson arrivals at ``servers`` with exponential times (Erlang 1917).

    ``offered`` is the rate of arrivals times the mean time, below ``servers``.
    """
    blocked = 1.0
    for number in range(1, servers + 1):  # Erlang B by its recursion
        blocked = offered * blocked / (number + offered * blocked)
    return servers * blocked / (servers - offered * (1 - blocked))


def zipf(number: int, exponent: float = 1.0) -> list[float]:
    """The shares of ``number`` things by Zipf's law, the most popular first."""
    weights = [1 / rank**exponent for rank in range(1, number + 1)]
    total = sum(weights)
    return [weight / total for weight in weights]


def che_hits(shares: Sequence[float], kept: int) -> float:
    """The share of hits of a cache that keeps the ``kept`` asked for last (Che, Tung, Wang 2002, eq. 4 to 6)."""
    low, high = 0.0, 1.0
    while sum(-math.expm1(-share * high) for share in shares) < kept:
        high *= 2
    for _ in range(60):
        middle = (low + high) / 2
        if sum(-math.expm1(-share * middle) for share in shares) < kept:
            low = middle
        else:
            high = middle
    return sum(share * -math.expm1(-share * high) for share in shares)
