"""Measures of one ranking, as information retrieval defines them.

``found`` are ids, best first, each once; ``wanted`` gives the grade of what the query means, 1 or more. Manning,
Raghavan and Schütze, Introduction to Information Retrieval (2008), chapter 8; the gain of nDCG is the grade itself,
discounted by the logarithm of the rank plus one to base 2 (Järvelin and Kekäläinen, ACM TOIS 20(4), 2002,
doi:10.1145/582415.582418).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import fsum, log2


def recall(found: Sequence[str], wanted: Mapping[str, int], depth: int = 10) -> float:
    """The share of what is wanted that is among the first ``depth``."""
    return len(wanted.keys() & set(found[:depth])) / len(wanted)


def reciprocal_rank(found: Sequence[str], wanted: Mapping[str, int]) -> float:
    """One over the rank of the first that is wanted; 0 where none is found."""
    return next((1 / rank for rank, one in enumerate(found, start=1) if one in wanted), 0.0)


def ndcg(found: Sequence[str], wanted: Mapping[str, int], depth: int = 10) -> float:
    """The discounted gain of the first ``depth``, over the gain of the best order there could be."""
    return _gain(wanted.get(one, 0) for one in found[:depth]) / _gain(sorted(wanted.values(), reverse=True)[:depth])


def _gain(grades: Iterable[int]) -> float:
    return fsum(grade / log2(rank + 1) for rank, grade in enumerate(grades, start=1))
