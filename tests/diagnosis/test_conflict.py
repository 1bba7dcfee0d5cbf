"""The fewest findings that contradict each other, against every set of findings."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.diagnosis.conflict import clash

FAULTS = ("a", "b", "c", "d", "e")
RULED_OUT = st.lists(st.frozensets(st.sampled_from(FAULTS), max_size=4), max_size=7)


@pytest.mark.parametrize(
    ("ruled_out", "places"),
    [
        ([], None),  # nothing found
        (["ab", "bc"], None),  # d and e explain both
        (["abcde"], (0,)),  # a finding that no fault explains
        (["abc", "ab", "de"], (0, 2)),
        (["abc", "de", "cde"], (0, 1)),
        (["ab", "bc", "cd", "de", "ea"], (0, 1, 3)),  # no two contradict each other
        (["ab", "xyz", "cde"], (0, 2)),  # faults that are not there do not count
    ],
)
def test_conflicts_by_hand(ruled_out: list[str], places: tuple[int, ...] | None) -> None:
    found = clash(ruled_out, FAULTS)
    assert (None if found is None else found.places) == places


def test_without_faults_there_is_no_conflict() -> None:
    assert clash(["a"], ()) is None


@given(RULED_OUT)
def test_no_fewer_findings_contradict_each_other(ruled_out: list[frozenset[str]]) -> None:
    every = [
        chosen
        for size in range(len(ruled_out) + 1)
        for chosen in combinations(range(len(ruled_out)), size)
        if frozenset().union(*(ruled_out[place] for place in chosen)) == set(FAULTS)
    ]
    found = clash(ruled_out, FAULTS)
    assert (found is None) == (not every)
    if found is not None:
        assert found.smallest
        assert found.places in every
        assert len(found.places) == len(every[0])


@given(RULED_OUT)
def test_where_the_search_is_cut_none_can_be_left_out(ruled_out: list[frozenset[str]]) -> None:
    found = clash(ruled_out, FAULTS, nodes=0)
    if found is None:
        return
    assert not found.smallest
    for left in found.places:
        rest = [ruled_out[place] for place in found.places if place != left]
        assert frozenset().union(*rest) != set(FAULTS)
