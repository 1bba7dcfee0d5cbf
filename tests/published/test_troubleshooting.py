"""Troubleshooting against published examples."""

from __future__ import annotations

from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.diagnosis import Access, Action, Situation, Strategy, noisy_or, situation

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


TREES = st.lists(st.tuples(st.integers(1, 9), st.integers(1, 9), st.integers(0, 4)), min_size=1, max_size=6)


@given(TREES, st.lists(st.integers(0, 9), min_size=4, max_size=4))
def test_bottom_up_p_over_c_is_optimal_with_inside_information(
    rows: list[tuple[int, int, int]], minutes: list[int]
) -> None:
    """Ottosen and Jensen 2010 (arXiv 1203.3502): where it is seen inside a cluster whether the machine works.

    Clusters k, l and m in k, n in m; independent actions, one fault each.
    """
    inside = {"l": frozenset("k"), "m": frozenset("k"), "n": frozenset("m")}
    ways = (frozenset[str](), *(frozenset(each) for each in "klmn"))
    actions = [
        Action(f"a{n}", cost, (ways[where],), ends=frozenset({f"f{n}"})) for n, (_, cost, where) in enumerate(rows)
    ]
    strategy = Strategy(actions, Access(dict(zip("klmn", minutes, strict=True)), inside))
    start = situation({f"f{n}": float(p) for n, (p, _, _) in enumerate(rows)})
    found = strategy.choose(start)
    assert found.exact
    assert strategy.p_over_c(start)[0] == pytest.approx(found.expected, abs=1e-6)


def test_a_question_among_actions() -> None:
    """Lin 2014, IJAR 55:977, fig. 2: P 1/2, 1/4, 1/4, unit costs; A1, the question, then A2 or A3 costs 2."""
    actions = [Action(f"A{n}", 1, ends=frozenset({f"f{n}"})) for n in (1, 2, 3)]
    question = Action("Q", 1, outcomes=({"f2": 1.0, "f1": 0.5}, {"f3": 1.0, "f1": 0.5}))
    strategy = Strategy([*actions, question], FREE)

    def cost(at: Situation, wanted: tuple[str, ...]) -> float:
        """Expected cost of the strategy that takes the first of ``wanted`` that can still help."""
        step = next(step for name in wanted for step in strategy.steps(at) if step.action == name)
        rest = tuple(name for name in wanted if name != step.action)
        return step.minutes + sum(branch.probability * cost(branch.then, rest) for branch in step.branches)

    start = situation({"f1": 0.5, "f2": 0.25, "f3": 0.25})
    assert cost(start, ("A1", "Q", "A2", "A3")) == pytest.approx(2)
    # The question does not pay for itself here: the actions alone cost 1 + 1/2 + 1/4.
    assert strategy.choose(start).expected == pytest.approx(1.75)


def test_noisy_or() -> None:
    """Noisy-OR by its formula, for fever with cold 0.4, flu 0.8, malaria 0.9 (Russell and Norvig, from memory)."""
    assert noisy_or([0.4, 0.8], 0.0) == pytest.approx(0.88)
    assert noisy_or([0.4, 0.8, 0.9], 0.0) == pytest.approx(0.988)
