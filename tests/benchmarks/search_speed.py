"""Relevance and speed of the search beside comparing the query with every phrase.

Run: ``python tests/benchmarks/search_speed.py 10000 100000 1000000`` (``--part-words 20000`` for a large vocabulary,
``--by-damage`` for relevance by kind of damage). Prints, for each size: recall at 10, mean reciprocal rank, median and
99th percentile in milliseconds, seconds to build, bytes a phrase beyond the texts; then, up to 100,000 phrases, the
same of rapidfuzz ``token_sort_ratio`` over all phrases and the ratio of the medians. Nothing is asserted.
"""

from __future__ import annotations

import argparse
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

from firstoff.search import Entry, Index
from support.complaints import DAMAGES, SYNONYMS, Complaint, complaints, corpus

QUERIES = 1_040
BASELINE_QUERIES = {10_000: 330, 100_000: 66}
LARGEST_BASELINE = 100_000

Searcher = Callable[[str], Sequence[str]]


@dataclass(frozen=True, slots=True)
class Measured:
    """Ranks from 1 (0 where not among the first ten) and milliseconds, by query."""

    ranks: list[int]
    milliseconds: list[float]

    @property
    def median(self) -> float:
        return statistics.median(self.milliseconds)

    def __str__(self) -> str:
        recall = sum(rank > 0 for rank in self.ranks) / len(self.ranks)
        reciprocal = sum(1 / rank for rank in self.ranks if rank) / len(self.ranks)
        late = float(np.percentile(self.milliseconds, 99))
        return f"recall@10 {recall:.3f}  MRR {reciprocal:.3f}  median {self.median:.2f} ms  99 % {late:.2f} ms"


def measured(search: Searcher, queries: Sequence[Complaint]) -> Measured:
    """What ``search`` (query to ids, best first) makes of ``queries``."""
    ranks: list[int] = []
    milliseconds: list[float] = []
    for complaint in queries:
        start = time.perf_counter()
        ids = list(search(complaint.query))
        milliseconds.append((time.perf_counter() - start) * 1000)
        ranks.append(ids.index(complaint.wanted) + 1 if complaint.wanted in ids else 0)
    return Measured(ranks, milliseconds)


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
    start = time.perf_counter()
    index = Index.build(entries, SYNONYMS)
    build = time.perf_counter() - start
    ours = measured(lambda query: [hit.id for hit in index.search(query).hits], queries)
    print(f"{phrases:>9,} phrases, {len(index.vocabulary.spellings):,} words, built in {build:.1f} s")
    print(f"  words corrected  {ours}")
    if by_damage:
        for damage in DAMAGES:
            chosen = [place for place, query in enumerate(queries) if query.damage == damage]
            part = Measured([ours.ranks[place] for place in chosen], [ours.milliseconds[place] for place in chosen])
            print(f"    {damage:<46} {part}")
    if phrases <= LARGEST_BASELINE:
        fewer = queries[: BASELINE_QUERIES.get(phrases, 66)]
        baseline = measured(over_all(entries), fewer)
        print(f"  every phrase     {baseline}  ({len(fewer)} queries)")
        print(f"  ratio of the medians {baseline.median / ours.median:.1f}")


def bytes_a_phrase(phrases: int) -> float:
    """What the index holds for each phrase, the texts and entries that are handed in left out."""
    entries = corpus(phrases)
    tracemalloc.start()
    index = Index.build(entries, SYNONYMS)
    held = tracemalloc.get_traced_memory()[0]
    tracemalloc.stop()
    return held / len(index.phrases.texts)


def main() -> None:
    """Read the command line and measure."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("sizes", nargs="*", type=int, default=[10_000, 100_000])
    parser.add_argument("--part-words", type=int, default=0)
    parser.add_argument("--by-damage", action="store_true")
    arguments = parser.parse_args()
    for size in arguments.sizes:
        report(size, arguments.part_words, arguments.by_damage)
    print(f"{bytes_a_phrase(min(100_000, max(arguments.sizes))):.0f} bytes a phrase beyond the texts")


if __name__ == "__main__":
    main()
