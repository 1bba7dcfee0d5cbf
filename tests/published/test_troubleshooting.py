"""Troubleshooting against published examples."""

from __future__ import annotations

from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.diagnosis import Access, Action, Strategy, noisy_or, situation

FREE = Access({}, {})


def test_greedy_is_not_optimal() -> None:
    """Jensen et al. 2001 (SACSO methodology), p. 323, fig. 1: A2, A1, A3 costs 1.50; A3, A1 costs 1.45."""
    actions = [Action(name, 1, ends=frozenset(ends)) for name, ends in (("A1", "12"), ("A2", "23"), ("A3", "34"))]
    start = situation({"1": 0.20, "2": 0.25, "3": 0.40, "4": 0.15})
    strategy = Strategy(actions, FREE)
    assert strategy.p_over_c(start)[0] == pytest.approx(1.50)
    assert strategy.p_over_c(start)[1].action == "A2"
    found = strategy.choose(start)
    assert found.expected == pytest.approx(1.45)
    assert found.step.action in {"A1", "A3"}


@given(st.lists(st.tuples(st.integers(1, 9), st.integers(1, 9)), min_size=1, max_size=5))
def test_independent_actions_by_p_over_c(rows: list[tuple[int, int]]) -> None:
    """Jensen et al. 2001, theorem 1; Kadane and Simon 1977: cost is the sum of C_i (1 - sum of p_j before it)."""
    total = sum(p for p, _ in rows)
    actions = [Action(f"a{n}", cost, ends=frozenset({f"f{n}"})) for n, (_, cost) in enumerate(rows)]
    strategy = Strategy(actions, FREE)
    start = situation({f"f{n}": p / total for n, (p, _) in enumerate(rows)})
    cost = min(
        sum(c * (1 - sum(p for p, _ in order[:n]) / total) for n, (_, c) in enumerate(order))
        for order in permutations(rows)
    )
    assert strategy.p_over_c(start)[0] == pytest.approx(cost, abs=1e-6)
    assert strategy.choose(start).expected == pytest.approx(cost, abs=1e-6)


def test_cost_clusters() -> None:
    """Invented here, by the cost clusters of Ottosen and Jensen 2010 (arXiv 1203.3502): a, b, d, e costs 6.7."""
    ways = {"a": frozenset[str](), "b": frozenset("K"), "d": frozenset("K"), "e": frozenset("L")}
    minutes = {"a": 2, "b": 1, "d": 3, "e": 1}
    actions = [Action(name, minutes[name], (way,), ends=frozenset({name})) for name, way in ways.items()]
    strategy = Strategy(actions, Access({"K": 4, "L": 2}, {"L": frozenset("K")}))
    start = situation({"a": 0.3, "b": 0.4, "d": 0.2, "e": 0.1})
    assert strategy.choose(start).expected == pytest.approx(6.7)
    assert strategy.choose(start).step.action == "a"


def test_noisy_or() -> None:
    """Noisy-OR by its formula, for fever with cold 0.4, flu 0.8, malaria 0.9 (Russell and Norvig, from memory)."""
    assert noisy_or([0.4, 0.8], 0.0) == pytest.approx(0.88)
    assert noisy_or([0.4, 0.8, 0.9], 0.0) == pytest.approx(0.988)
