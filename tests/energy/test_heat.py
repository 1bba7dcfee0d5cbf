"""How long a hot part cools."""

from __future__ import annotations

from math import exp, inf, isclose, log, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from firstoff.energy.heat import cooling_minutes


def test_newtons_law() -> None:
    """A body that loses 30 K of 75 in ten minutes has tau = 10 / ln(75/45); worked by hand from Newton's law."""
    tau = 10 / log(75 / 45)
    assert isclose(cooling_minutes(95, 65, 20, tau) or nan, 10)
    assert isclose(20 + 75 * exp(-10 / tau), 65)


@given(st.floats(70, 400), st.floats(45, 65), st.floats(-10, 40), st.floats(1, 90))
def test_against_an_integrator(start: float, safe: float, ambient: float, tau: float) -> None:
    minutes = cooling_minutes(start, safe, ambient, tau)
    assert minutes is not None
    run = solve_ivp(lambda _, t: (ambient - t) / tau, (0, minutes), [start], rtol=1e-9, atol=1e-9)
    assert isclose(run.y[0, -1], safe, abs_tol=1e-4)
    warmer = cooling_minutes(start, safe, ambient + 1, tau)
    assert warmer is not None
    assert warmer > minutes


def test_no_time_where_none_can_be_given() -> None:
    assert cooling_minutes(95, 40, 40, 10) is None
    assert cooling_minutes(30, 40, 45, 10) is None
    assert cooling_minutes(nan, 40, 20, 10) is None
    assert cooling_minutes(inf, 40, 20, 10) is None
    assert cooling_minutes(35, 40, 20, 10) == 0
    for constant in (0, -1, nan, inf):
        with pytest.raises(ValueError, match="time constant"):
            cooling_minutes(95, 40, 20, constant)
