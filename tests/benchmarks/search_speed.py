"""Relevance and speed of the search beside comparing the query with every phrase.

Run: ``python tests/benchmarks/search_speed.py 10000 100000 1000000`` (``--part-words 20000`` for a large vocabulary,
``--by-damage`` for relevance by kind of damage, ``--bytes`` for memory, which takes several times as long to build).
The phrases are made-up complaints in English, German and Spanish, two to a symptom; the queries are damaged in thirteen
ways, synonyms, joined and split words among them. Prints, for each size: recall at 10, mean reciprocal rank, median and
99th percentile in milliseconds (by the clock, and of the processor's time, which others on the machine disturb less),
seconds to build; seconds until an index with one platform in a hundred changed answers, and seconds of a full rebuild;
bytes a phrase in all, texts and entries included; and the same measures of rapidfuzz ``token_sort_ratio`` over all
phrases. Nothing is asserted.
"""

from __future__ import annotations

import argparse
import gc
import statistics
import sys
import time
import tracemalloc
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from rapidfuzz import fuzz, process

sys.path.insert(0, str(Path(__file__).parents[1]))

from firstoff.search import Entry, Index, Segment
from support.complaints import DAMAGES, SYNONYMS, Complaint, complaints, corpus

QUERIES = 1_040
BASELINE_QUERIES = {10_000: 330, 100_000: 66, 1_000_000: 26}
PLATFORMS = 100

Searcher = Callable[[str], Sequence[str]]


@dataclass(frozen=True, slots=True)
class Measured:
    """Ranks from 1 (0 where not among the first ten) and milliseconds, by query: by the clock, of the processor."""

    ranks: list[int]
    milliseconds: list[float]
    busy: list[float]

    @property
    def median(self) -> float:
        return statistics.median(self.milliseconds)

    def __str__(self) -> str:
        recall = sum(rank > 0 for rank in self.ranks) / len(self.ranks)
        reciprocal = sum(1 / rank for rank in self.ranks if rank) / len(self.ranks)
        late, busy_late = (float(np.percentile(each, 99)) for each in (self.milliseconds, self.busy))
        return (
            f"recall@10 {recall:.3f}  MRR {reciprocal:.3f}  median {self.median:.2f} ms  99 % {late:.2f} ms  "
            f"(processor {statistics.median(self.busy):.2f} and {busy_late:.2f} ms)"
        )

    def only(self, places: Sequence[int]) -> Measured:
        """What was measured of some queries."""
        return Measured(*([each[place] for place in places] for each in (self.ranks, self.milliseconds, self.busy)))


def measured(search: Searcher, queries: Sequence[Complaint]) -> Measured:
    """What ``search`` (query to ids, best first) makes of ``queries``."""
    ranks: list[int] = []
    milliseconds: list[float] = []
    busy: list[float] = []
    for complaint in queries:
        start, working = time.perf_counter(), time.thread_time()
        ids = list(search(complaint.query))
        busy.append((time.thread_time() - working) * 1000)
        milliseconds.append((time.perf_counter() - start) * 1000)
        ranks.append(ids.index(complaint.wanted) + 1 if complaint.wanted in ids else 0)
    return Measured(ranks, milliseconds, busy)


def over_all(entries: Sequence[Entry]) -> Searcher:
    """The baseline: one comparison with every phrase, the best phrase of an entry counting."""
    texts = [phrase.text.casefold() for entry in entries for phrase in entry.phrases]
    owners = [entry.id for entry in entries for _ in entry.phrases]

    def search(query: str) -> Sequence[str]:
        likeness = process.cdist([query.casefold()], texts, scorer=fuzz.token_sort_ratio, dtype=np.float32)[0]
        best = np.argsort(-likeness, kind="stable")[:40]
        return list(dict.fromkeys(owners[place] for place in best))[:10]

    return search


def report(phrases: int, part_words: int, by_damage: bool) -> None:
    """Measure one size and print it."""
    entries = corpus(phrases, part_words=part_words)
    queries = complaints(entries, QUERIES)
    platforms = [entries[first::PLATFORMS] for first in range(PLATFORMS)]
    start, working = time.perf_counter(), time.process_time()
    segments = [Segment.of(each) for each in platforms]
    index = Index.joined(segments, SYNONYMS)
    build, busy = time.perf_counter() - start, time.process_time() - working
    print(
        f"{phrases:>9,} phrases, {len(index.vocabulary.spellings):,} words, built in {build:.1f} s ({busy:.1f} s busy)"
    )
    ours = measured(lambda query: [hit.id for hit in index.search(query).hits], queries)
    print(f"  words corrected  {ours}", flush=True)
    if by_damage:
        for damage in DAMAGES:
            part = ours.only([place for place, query in enumerate(queries) if query.damage == damage])
            print(f"    {damage:<46} {part}")
    start, working = time.perf_counter(), time.process_time()
    segments[0] = Segment.of(platforms[0])
    Index.joined(segments, SYNONYMS)
    update, updating = time.perf_counter() - start, time.process_time() - working
    print(f"  one platform of {PLATFORMS} anew {update:.1f} s ({updating:.1f} s busy, {updating / busy:.0%} of all)")
    fewer = queries[: BASELINE_QUERIES.get(phrases, 66)]
    baseline = measured(over_all(entries), fewer)
    print(f"  every phrase     {baseline}  ({len(fewer)} queries)")
    print(f"  ratio of the medians {baseline.median / ours.median:.1f}", flush=True)


def bytes_a_phrase(phrases: int) -> tuple[float, float]:
    """Bytes the index holds for each phrase, all included; and with the segments kept for updates."""
    tracemalloc.start()
    segments = [Segment.of(corpus(phrases))]
    index = Index.joined(segments, SYNONYMS)
    number = len(index.phrases.texts)
    gc.collect()
    both = tracemalloc.get_traced_memory()[0]
    segments.clear()
    gc.collect()
    alone = tracemalloc.get_traced_memory()[0]
    tracemalloc.stop()
    return alone / number, both / number


def main() -> None:
    """Read the command line and measure."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("sizes", nargs="*", type=int, default=[10_000, 100_000])
    parser.add_argument("--part-words", type=int, default=0)
    parser.add_argument("--by-damage", action="store_true")
    parser.add_argument("--bytes", action="store_true")
    arguments = parser.parse_args()
    for size in arguments.sizes:
        report(size, arguments.part_words, arguments.by_damage)
        if arguments.bytes:
            alone, both = bytes_a_phrase(size)
            print(f"  {alone:.0f} bytes a phrase in all, {both:.0f} with the segments kept for updates", flush=True)


if __name__ == "__main__":
    main()
