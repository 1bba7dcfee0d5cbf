"""1,000,000 models (500 M triples) at 10,000 requests a second, simulated from what one replica was measured to do.

Run: python tests/benchmarks/scale.py [--rate 10000] [--shards 64] [--measured FILE]

``measured.json`` beside this file holds the figures of one replica, by ``load.py``: milliseconds of one core for an
answer that is kept and for one that is computed, milliseconds of a search over a shard's share of the phrases, bytes
a triple and bytes of an answer. Everything else here is an assumption, and printed as one. Platforms go to shards by
a hash of their slug; a directory maps model numbers to shards. A request that names a model goes to one shard; a
search without one goes to all. Arrivals are Poisson at the rate of the busiest hour; models are asked for by Zipf's
law, exponent 1; each replica keeps the answers asked for last. The simulation itself is held against closed forms in
``tests/published``.
"""

from __future__ import annotations

import argparse
import bisect
import itertools
import json
import math
import random
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from support.queueing import Outcome, simulated, zipf

MODELS, TRIPLES = 1_000_000, 500_000_000
#: Questions asked of one model, shares of requests that nobody asked before and of searches that name no model and are
#: not kept: as the mix of ``load.py`` has them.
ADDRESSES, NEVER_KEPT, UNNAMED = 20, 0.04, 0.07
#: Bytes of answers that a replica keeps, as its setting is by default; what compressing divides an answer by, and what
#: it takes besides; bytes of models compiled; money for an hour of one core.
KEPT_BYTES, PACKED, BESIDES, COMPILED, CORE_HOUR = 56_000_000, 3, 800, 160_000_000, 0.04
#: The busiest hour beside the mean of a day.
PEAK = 2.0
#: What 99 of 100 answers may take, in seconds: those about a model, and searches that wait for every shard.
GOAL, SEARCH_GOAL = 0.25, 0.5
SIMULATED = 60_000
#: Things asked for once are numbered below 0, searches without a model below the negative of this.
SEARCHING = 1 << 60


@dataclass(frozen=True, slots=True)
class Replica:
    """Seconds of one core for an answer that is kept, one that is computed, and a search without a model."""

    hit: float
    miss: float
    search: float
    bytes_a_triple: float
    answer_bytes: float

    @classmethod
    def read(cls, file: Path) -> Replica:
        if not file.exists():
            raise SystemExit(f"There is no {file}: python tests/benchmarks/load.py --growth --keep {file}")
        told = json.loads(file.read_text(encoding="utf-8"))
        return cls(
            told["hit_ms"] / 1e3,
            told["miss_ms"] / 1e3,
            told["search_ms"] / 1e3,
            told["bytes_a_triple"],
            told["answer_bytes"],
        )


def busiest(shards: int) -> tuple[Callable[[random.Random], int], float]:
    """What is drawn in the shard that is asked most, and its share of all requests that name a model."""
    placed = random.Random(1)
    parts: list[list[float]] = [[] for _ in range(shards)]
    for share in zipf(MODELS):
        parts[placed.randrange(shards)].append(share)
    own = max(parts, key=sum)
    ends = list(itertools.accumulate(own))

    def draw(drawn: random.Random) -> int:
        if drawn.random() < NEVER_KEPT:
            return -1 - drawn.randrange(SEARCHING)
        return bisect.bisect(ends, drawn.random() * ends[-1]) * ADDRESSES + drawn.randrange(ADDRESSES)

    return draw, ends[-1]


def run(
    replica: Replica, rate: float, searches: float, replicas: int, draw: Callable[[random.Random], int], lost: bool
) -> Outcome:
    """One shard: requests that name a model, and every search that names none (asked for as below ``-SEARCHING``)."""
    share = searches / (rate + searches)
    kept = round(KEPT_BYTES / (replica.answer_bytes / PACKED + BESIDES))

    def asked(drawn: random.Random) -> int:
        return -1 - SEARCHING - drawn.randrange(SEARCHING) if drawn.random() < share else draw(drawn)

    def computed(drawn: random.Random, what: int) -> float:
        return drawn.expovariate(1 / (replica.search if what < -SEARCHING else replica.miss))

    return simulated(
        random.Random(4),
        requests=SIMULATED,
        rate=rate + searches,
        replicas=replicas,
        popular=asked,
        kept=kept,
        hit=lambda drawn, _: drawn.expovariate(1 / replica.hit),
        miss=computed,
        filled=3 * kept,
        lost_after=0 if lost else None,
    )


def gathered(found: Outcome, shards: int, share: float) -> float:
    """The time that ``share`` of the searches without a model take at the most: each waits for the slowest shard."""
    times = sorted(time for time, what in zip(found.times, found.asked, strict=True) if what < -SEARCHING)
    return times[min(len(times) - 1, math.ceil(share ** (1 / shards) * len(times)) - 1)]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--rate", type=float, default=10_000.0, help="requests a second in the busiest hour")
    parser.add_argument("--shards", type=int, default=64, help="default: some 10,000 platforms each, as measured")
    parser.add_argument("--measured", type=Path, default=Path(__file__).with_name("measured.json"))
    asked = parser.parse_args()
    replica = Replica.read(asked.measured)
    print(
        f"assumed: {ADDRESSES} addresses a model, {NEVER_KEPT:.0%} of requests never kept, {UNNAMED:.0%} searches "
        f"without a model and not kept,\n         {KEPT_BYTES // 1_000_000} MB of kept answers and "
        f"{COMPILED // 1_000_000} MB of compiled models a replica, {CORE_HOUR} an hour of one core, "
        f"a peak of {PEAK:g} times the mean\n"
    )
    gigabytes = (TRIPLES / asked.shards * replica.bytes_a_triple + KEPT_BYTES + COMPILED) / 1e9
    draw, most = busiest(asked.shards)
    named, searches = asked.rate * (1 - UNNAMED) * most, asked.rate * UNNAMED
    print(f"{asked.shards} shards of {TRIPLES / asked.shards / 1e6:.1f} M triples: {gigabytes:.1f} GB each in memory")
    print(f"the busiest shard gets {named:.0f} requests a second for a model, and {searches:.0f} searches\n")
    print(
        f"{'replicas':>8} {'hits':>6} {'50 % ms':>9} {'95 % ms':>9} {'99 % ms':>9} {'searches 99 %':>14} "
        f"{'one lost: 99 %':>15} {'searches':>9}"
    )
    load = (1 - UNNAMED) * most * asked.rate * replica.miss + searches * replica.search  # were nothing kept
    for replicas in range(2, math.ceil(load) + 8):
        lost = run(replica, named, searches, replicas, draw, True)
        if lost.time(0.5) > 1:
            continue  # it never catches up
        whole = run(replica, named, searches, replicas, draw, False)
        print(
            f"{replicas:8} {whole.hits:6.0%} {whole.time(0.5) * 1e3:9.1f} {whole.time(0.95) * 1e3:9.1f} "
            f"{whole.time(0.99) * 1e3:9.1f} {gathered(whole, asked.shards, 0.99) * 1e3:14.1f} "
            f"{lost.time(0.99) * 1e3:15.1f} {gathered(lost, asked.shards, 0.99) * 1e3:9.1f}",
            flush=True,
        )
        if lost.time(0.99) <= GOAL and gathered(lost, asked.shards, 0.99) <= SEARCH_GOAL:
            said(replica, whole, replicas, asked.shards, gigabytes, asked.rate)
            return
    print(
        f"\nNo number of replicas up to {math.ceil(load) + 7} is enough for {GOAL * 1e3:.0f} and "
        f"{SEARCH_GOAL * 1e3:.0f} ms: take more shards."
    )


def said(replica: Replica, whole: Outcome, replicas: int, shards: int, gigabytes: float, rate: float) -> None:
    """Print what it takes, every shard given what the busiest needs."""
    cores = replicas * shards
    named = whole.hits * replica.hit + (1 - whole.hits) * replica.miss
    spent = (1 - UNNAMED) * named + UNNAMED * shards * replica.search
    day = rate / PEAK * 86_400
    print(
        f"\n{replicas} replicas a shard hold 99 % within {GOAL * 1e3:.0f} ms, searches within "
        f"{SEARCH_GOAL * 1e3:.0f} ms, with one lost: {cores} cores, {cores * gigabytes:.0f} GB.\n"
        f"An answer takes {spent * 1e3:.1f} core-ms in the mean; a million cost "
        f"{cores * CORE_HOUR * 24 / day * 1e6:.2f}, every core paid for all day."
    )


if __name__ == "__main__":
    main()
