"""Which terminal is common, for windings of any size."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.energy.curves.windings import WindingState, sorted_out

OHMS = st.floats(0.5, 500)


@given(OHMS, OHMS)
def test_common_is_found_or_left_open(to_s: float, to_r: float) -> None:
    found = sorted_out({frozenset("CS"): to_s, frozenset("CR"): to_r, frozenset("SR"): to_s + to_r})
    assert found.state is WindingState.SOUND
    if min(to_s, to_r) > 0.06 * max(to_s, to_r):
        assert found.common == "C"
        if to_s != to_r:
            assert found.larger == ("S" if to_s > to_r else "R")
    else:
        assert found.common in {None, "C"}


# Readings of C-S, C-R, S-R.
@pytest.mark.parametrize(
    ("ohms", "state"),
    [
        ((0.0, 4.0, 4.0), WindingState.NO_SUM),  # a winding is shorted though the sum is right
        ((0.0, 0.0, 0.0), WindingState.NO_SUM),
        ((5.0, 5.0, 5.0), WindingState.NO_SUM),
        ((0.1, 4.05, 4.0), WindingState.SOUND),  # the largest is not between S and R: the meter's last digit
    ],
)
def test_readings_that_name_no_terminal(ohms: tuple[float, float, float], state: WindingState) -> None:
    found = sorted_out(dict(zip((frozenset("CS"), frozenset("CR"), frozenset("SR")), ohms, strict=True)))
    assert found.state is state
    assert found.larger is None
    if state is WindingState.SOUND:
        assert found.common is None
