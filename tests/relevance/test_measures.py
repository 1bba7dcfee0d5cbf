"""The measures of relevance, by hand and beside an independent program."""

from __future__ import annotations

import random
from math import log2

import ir_measures
import pytest
from ir_measures import RR, R, nDCG

from support.measures import ndcg, recall, reciprocal_rank


@pytest.mark.parametrize(
    ("found", "wanted", "measures"),
    [
        # All there, in the best order.
        (["a", "b"], {"a": 2, "b": 1}, (1, 1, 1)),
        # The lesser first: (1 + 2 / log2 3) over (2 + 1 / log2 3).
        (["b", "a"], {"a": 2, "b": 1}, (1, 1, (1 + 2 / log2(3)) / (2 + 1 / log2(3)))),
        # One of two, at rank 4: 2 / log2 5 over 2 + 1 / log2 3.
        (["x", "y", "z", "a"], {"a": 2, "b": 1}, (1 / 2, 1 / 4, (2 / log2(5)) / (2 + 1 / log2(3)))),
        # Beyond the tenth place only the rank counts.
        ([*"0123456789", "a"], {"a": 1}, (0, 1 / 11, 0)),
        (["x"], {"a": 1}, (0, 0, 0)),
        ([], {"a": 1}, (0, 0, 0)),
    ],
)
def test_by_hand(found: list[str], wanted: dict[str, int], measures: tuple[float, float, float]) -> None:
    measured = (recall(found, wanted), reciprocal_rank(found, wanted), ndcg(found, wanted))
    assert measured == pytest.approx(measures)


def test_beside_an_independent_program() -> None:
    """Of 400 rankings made by chance each measure is what ir-measures makes of it."""
    chance = random.Random(11)
    wanted = {str(query): _wanted(chance) for query in range(400)}
    found = {query: chance.sample(_NAMES, chance.randrange(1, 20)) for query in wanted}
    run = {query: {one: 1 - rank / 100 for rank, one in enumerate(names)} for query, names in found.items()}
    seen = {
        (one.query_id, str(one.measure)): one.value
        for one in ir_measures.iter_calc([R @ 10, RR, nDCG @ 10], wanted, run)
    }
    assert len(seen) == 3 * len(wanted)
    for query, names in found.items():
        ours = (recall(names, wanted[query]), reciprocal_rank(names, wanted[query]), ndcg(names, wanted[query]))
        assert ours == pytest.approx((seen[query, "R@10"], seen[query, "RR"], seen[query, "nDCG@10"]))
    assert 0.2 < sum(recall(names, wanted[query]) for query, names in found.items()) / len(found) < 0.8


_NAMES = [f"n{number}" for number in range(24)]


def _wanted(chance: random.Random) -> dict[str, int]:
    return {name: chance.randrange(1, 3) for name in chance.sample(_NAMES, chance.randrange(1, 6))}
