"""Rates: never more than is granted, all of it again after a minute, each asker on their own, and how it is told."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.access.rates import WINDOW, Rates, Verdict, asker_at, told

counts = st.integers(1, 50)
gaps = st.lists(st.floats(0, 90, allow_nan=False), min_size=1, max_size=120)


@given(counts, gaps)
def test_in_no_stretch_are_more_than_the_grant_and_what_comes_back_in_it(count: int, steps: list[float]) -> None:
    """Of GCRA: in any t seconds at most count + t * count / WINDOW pass."""
    rates, now, passed = Rates(count), 1000.0, []
    for step in steps:
        now += step
        if rates.take("a", now).allowed:
            passed.append(now)
    for first in range(len(passed)):
        for last in range(first, len(passed)):
            stretch = passed[last] - passed[first]
            assert last - first + 1 <= count + stretch * count / WINDOW + 1e-6


@given(counts, gaps)
def test_what_is_told_is_so(count: int, steps: list[float]) -> None:
    rates, now = Rates(count), 0.0
    for step in steps:
        now += step
        verdict = rates.take("a", now)
        assert 0 <= verdict.remaining < count
        if verdict.allowed:
            assert verdict.wait == 0
            copy = Rates(count)
            copy._whole_at.update(rates._whole_at)
            assert [copy.take("a", now).allowed for _ in range(verdict.remaining + 1)] == [
                *([True] * verdict.remaining),
                False,
            ]
        else:
            assert 0 < verdict.wait <= WINDOW / count + 1e-6  # one that is refused adds nothing to it
            copy = Rates(count)
            copy._whole_at.update(rates._whole_at)
            assert copy.take("a", now + verdict.wait + 1e-6).allowed


@given(counts)
def test_all_at_once_and_all_again_after_a_minute(count: int) -> None:
    rates = Rates(count)
    for now in (5.0, 5.0 + WINDOW, 1e7):
        assert [rates.take("a", now).allowed for _ in range(count + 2)] == [*([True] * count), False, False]


def test_each_asker_has_their_own() -> None:
    rates = Rates(1)
    assert [rates.take(each, 0).allowed for each in ("a", "b", "a")] == [True, True, False]


def test_what_is_kept_is_bounded() -> None:
    rates = Rates(1, most=10)
    for number in range(1000):
        rates.take(str(number), 0)
    assert len(rates._whole_at) == 10
    assert not rates.take("999", 0).allowed


@pytest.mark.parametrize(
    ("address", "asker"),
    [
        ("192.0.2.7", "192.0.2.7"),
        ("::ffff:192.0.2.7", "192.0.2.7"),  # the same machine
        ("2001:db8:1:2:3:4:5:6", "2001:db8:1:2::/64"),
        ("2001:db8:1:2::9", "2001:db8:1:2::/64"),
        ("2001:db8:1:3::9", "2001:db8:1:3::/64"),
        ("testclient", "testclient"),
        (None, "unknown"),
        ("", "unknown"),
    ],
)
def test_who_asks(address: str | None, asker: str) -> None:
    assert asker_at(address) == asker


def test_how_it_is_told() -> None:
    """The example's form of draft-ietf-httpapi-ratelimit-headers-10 (from memory): "name";q=quota;w=window, r, t."""
    fields = dict(told("reading", 100, Verdict(True, 50, 0.0, 29.2)))
    assert fields == {b"ratelimit-policy": b'"reading";q=100;w=60', b"ratelimit": b'"reading";r=50;t=30'}
    assert all(re.fullmatch(rb'"[a-z]+"(;[a-z]=\d+)+', value) for value in fields.values())
