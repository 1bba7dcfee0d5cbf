"""The next step against every policy, enumerated by a search of its own with exact fractions."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.diagnosis import Access, Action, Strategy, situation

FAULTS = ("a", "b", "c")
OPENINGS = ("cover", "isolated", "panel")
INSIDE = {"panel": frozenset({"cover"})}


@st.composite
def games(draw: st.DrawFn) -> tuple[dict[str, int], tuple[Action, ...], Access]:
    shares = {fault: draw(st.integers(1, 8)) for fault in FAULTS}
    sets = st.frozensets(st.sampled_from(OPENINGS), max_size=2)
    actions = []
    for number in range(draw(st.integers(1, 3))):
        ends = draw(st.frozensets(st.sampled_from(FAULTS), min_size=1, max_size=2))
        ways = tuple(draw(st.lists(sets, min_size=1, max_size=2)))
        shut = frozenset({"isolated"}) if draw(st.booleans()) else frozenset[str]()
        actions.append(Action(f"r{number}", draw(st.integers(1, 9)), ways, shut_after=shut, ends=ends))
    for number in range(draw(st.integers(0, 2))):
        yes = {fault: draw(st.sampled_from([0.0, 0.25, 0.5, 1.0])) for fault in FAULTS}
        no = {fault: 1 - part for fault, part in yes.items()}
        live = draw(st.booleans())
        way = draw(sets) - ({"isolated"} if live else set())
        shut = frozenset({"isolated"}) if live else frozenset[str]()
        actions.append(Action(f"c{number}", draw(st.integers(0, 4)), (way,), shut=shut, outcomes=(yes, no)))
    return shares, tuple(actions), Access({name: draw(st.integers(0, 6)) for name in OPENINGS}, INSIDE)


def least(weights: dict[str, Fraction], opened: frozenset[str], left: tuple[Action, ...], access: Access) -> Fraction:
    """The least of weight times minutes over every order of everything: no bound, no memory, giving up at 480."""
    best = 480 * sum(weights.values(), Fraction(0))
    for action in left:
        rest = tuple(each for each in left if each is not action)
        for way in action.ways:
            needed = set(way) | ({"cover"} if "panel" in way else set())
            now = set(opened) - action.shut
            if "cover" in action.shut:
                now.discard("panel")
            cost = Fraction(action.minutes) + sum(Fraction(access.minutes[each]) for each in needed - now)
            after = frozenset((now | needed) - action.shut_after)
            total = cost * sum(weights.values(), Fraction(0))
            outcomes = action.outcomes or ({fault: float(fault not in action.ends) for fault in FAULTS},)
            for outcome in outcomes:
                then = {f: w * Fraction(outcome[f]) for f, w in weights.items() if outcome[f]}
                if then:
                    total += least(then, after, rest, access)
            best = min(best, total)
    return best


@settings(deadline=None, max_examples=120)
@given(games())
def test_no_policy_takes_less(game: tuple[dict[str, int], tuple[Action, ...], Access]) -> None:
    shares, actions, access = game
    start = situation({fault: float(share) for fault, share in shares.items()})
    strategy = Strategy(actions, access)
    found = strategy.choose(start)
    total = sum(shares.values())
    weights = {fault: Fraction(share, total) for fault, share in shares.items()}
    assert found.exact
    assert found.expected == pytest.approx(float(least(weights, frozenset(), actions, access)), abs=1e-6)
    assert strategy.bound(start) <= found.expected + 1e-6
    for value, _ in (strategy.look_ahead(start), strategy.p_over_c(start)):
        assert found.expected <= value + 1e-6
    short = Strategy(actions, access, nodes=0).choose(start)
    assert not short.exact
    assert short.bound - 1e-6 <= found.expected <= short.expected + 1e-6


@settings(deadline=None, max_examples=60)
@given(games())
def test_a_free_perfect_question_never_costs(game: tuple[dict[str, int], tuple[Action, ...], Access]) -> None:
    shares, actions, access = game
    start = situation({fault: float(share) for fault, share in shares.items()})
    perfect = Action("perfect", 0, outcomes=tuple({fault: 1.0} for fault in FAULTS))
    asked = Strategy((*actions, perfect), access).choose(start).expected
    assert asked <= Strategy(actions, access).choose(start).expected + 1e-6
    assert asked == pytest.approx(Strategy(actions, access).bound(start), abs=1e-6)


def test_no_share_is_refused() -> None:
    with pytest.raises(ValueError, match="no fault has a share"):
        situation({"a": 0.0})
