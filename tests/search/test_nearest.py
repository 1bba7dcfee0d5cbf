"""Nearest names for a name that does not exist."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.search import near

NAMES = ("drain-pump", "door-switch", "door-seal", "drum-belt", "WM-1200/A", "WM-1300/A", "TD-90")


@pytest.mark.parametrize(
    ("name", "nearest"),
    [
        ("drain-pmup", "drain-pump"),
        ("pump drain", "drain-pump"),  # other order
        ("doorswitch", "door-switch"),
        ("wm12oo a", "WM-1200/A"),  # O for 0, space for slash
        ("WM1200A", "WM-1200/A"),
        ("td9o", "TD-90"),
        ("DOOR SEEL", "door-seal"),
    ],
)
def test_nearest_first(name: str, nearest: str) -> None:
    assert near(name, NAMES)[0] == nearest


@pytest.mark.parametrize("name", ["", "///", "qqqqqqqq", "\x00"])
def test_nothing_near(name: str) -> None:
    assert near(name, NAMES) == ()


def test_limit_and_order() -> None:
    assert near("wm1250a", NAMES, limit=2) == ("WM-1200/A", "WM-1300/A")
    assert near("wm1250a", NAMES, limit=1) == ("WM-1200/A",)
    assert near("wm1250a", NAMES, limit=0) == ()


@given(st.text(max_size=300), st.lists(st.text(max_size=30), max_size=10), st.integers(-1, 5))
def test_it_never_raises_and_answers_with_candidates(name: str, candidates: list[str], limit: int) -> None:
    found = near(name, candidates, limit)
    assert len(found) <= max(limit, 0)
    assert len(set(found)) == len(found)
    assert set(found) <= set(candidates)
