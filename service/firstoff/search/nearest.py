"""The nearest of some names, for answers to a name that does not exist."""

from __future__ import annotations

from collections.abc import Iterable

from rapidfuzz import fuzz
from rapidfuzz.distance import OSA

from firstoff.search.normalise import fold, plate

#: Least likeness, 0 to 1, of a name that is worth naming. Common practice, no source.
_CUTOFF = 0.5


def near(name: str, candidates: Iterable[str], limit: int = 3) -> tuple[str, ...]:
    """At most ``limit`` of ``candidates`` that read like ``name``, nearest first, then by name; each once.

    Names are compared without case, accents, spaces, hyphens and slashes and with O read as 0 (so it serves slugs,
    model numbers and codes), as one run of letters and word by word in any order. Only the first 200 characters count.
    """
    wanted, wanted_words = _key(name[:200]), fold(name[:200])
    if not wanted or limit < 1:
        return ()
    found: list[tuple[float, str]] = []
    for candidate in dict.fromkeys(candidates):
        key, words = _key(candidate), fold(candidate)
        likeness = max(OSA.normalized_similarity(wanted, key), fuzz.token_sort_ratio(wanted_words, words) / 100)
        if key and likeness >= _CUTOFF:
            found.append((-likeness, candidate))
    return tuple(candidate for _, candidate in sorted(found)[:limit])


def _key(name: str) -> str:
    return plate(fold(name).replace(" ", ""))
