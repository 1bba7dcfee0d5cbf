"""What to carry against every set of parts, enumerated by bit mask."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.diagnosis import best_load

PARTS = ("belt", "board", "clip", "fan", "valve")
WAYS = st.lists(st.frozensets(st.sampled_from(PARTS), max_size=3), max_size=2).map(tuple)


@given(st.lists(st.tuples(st.integers(1, 9), WAYS), min_size=1, max_size=5), st.integers(0, 5))
def test_no_load_is_likelier_to_suffice(rows: list[tuple[int, tuple[frozenset[str], ...]]], most: int) -> None:
    total = sum(row[0] for row in rows)
    shares = {f"f{n}": row[0] / total for n, row in enumerate(rows)}
    needs = {f"f{n}": row[1] for n, row in enumerate(rows)}
    best = 0.0
    for mask in range(1 << len(PARTS)):
        if mask.bit_count() <= most:
            load = {part for n, part in enumerate(PARTS) if mask >> n & 1}
            best = max(best, sum(shares[f] for f, ways in needs.items() if any(not way - load for way in ways)))
    found = best_load(shares, needs, most)
    assert found.exact
    assert found.chance == pytest.approx(best)
    assert found.greedy <= best + 1e-9
    assert len(found.parts) == len(set(found.parts)) <= most
