"""The next step against every policy, enumerated by a search of its own with exact fractions.

Some remedies are gated: they wait for checks that confirm what they end. The enumeration has the rule in its own words.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.diagnosis import Access, Action, Strategy, situation

FAULTS = ("a", "b", "c")
OPENINGS = ("cover", "isolated", "panel")
INSIDE = {"panel": frozenset({"cover"})}


Game = tuple[dict[str, int], tuple[Action, ...], Access]


@st.composite
def games(draw: st.DrawFn, gated: bool = False) -> Game:
    shares = {fault: draw(st.integers(1, 8)) for fault in FAULTS}
    sets = st.frozensets(st.sampled_from(OPENINGS), max_size=2)
    # A check that is waited for may be one that nobody can make: c9 is among no actions.
    confirming = st.frozensets(st.sampled_from(["c0", "c1", "c9"]), max_size=2)
    actions = []
    for number in range(draw(st.integers(1, 3))):
        ends = draw(st.frozensets(st.sampled_from(FAULTS), min_size=1, max_size=2))
        ways = tuple(draw(st.lists(sets, min_size=1, max_size=2)))
        shut = frozenset({"isolated"}) if draw(st.booleans()) else frozenset[str]()
        after = {fault: draw(confirming) for fault in sorted(ends)} if gated and draw(st.booleans()) else {}
        minutes = draw(st.integers(1, 9))
        actions.append(Action(f"r{number}", minutes, ways, shut_after=shut, ends=ends, after=after))
    for number in range(draw(st.integers(0, 2))):
        yes = {fault: draw(st.sampled_from([0.0, 0.25, 0.5, 1.0])) for fault in FAULTS}
        no = {fault: 1 - part for fault, part in yes.items()}
        live = draw(st.booleans())
        way = draw(sets) - ({"isolated"} if live else set())
        shut = frozenset({"isolated"}) if live else frozenset[str]()
        actions.append(Action(f"c{number}", draw(st.integers(0, 4)), (way,), shut=shut, outcomes=(yes, no)))
    return shares, tuple(actions), Access({name: draw(st.integers(0, 6)) for name in OPENINGS}, INSIDE)


def share_of(ends: frozenset[str], weights: dict[str, Fraction]) -> Fraction:
    return sum((w for f, w in weights.items() if f in ends), Fraction(0)) / sum(weights.values(), Fraction(0))


def waits(remedy: Action, weights: dict[str, Fraction], left: tuple[Action, ...], made: frozenset[str]) -> bool:
    """Whether the remedy would condemn what may be good."""
    if not remedy.after:
        return False
    confirm = {check for fault, checks in remedy.after.items() if fault in weights for check in checks}
    if not confirm:
        return share_of(remedy.ends, weights) < 1
    if not confirm & made:
        return True
    for check in left:
        for outcome in check.outcomes if check.id in confirm else ():
            then = {f: w * Fraction(outcome[f]) for f, w in weights.items() if outcome[f]}
            if then and share_of(remedy.ends, then) != share_of(remedy.ends, weights):
                return True
    return False


def least(
    weights: dict[str, Fraction],
    opened: frozenset[str],
    left: tuple[Action, ...],
    access: Access,
    made: frozenset[str] = frozenset(),
) -> Fraction:
    """The least of weight times minutes over every order of everything: no bound, no memory, giving up at 480."""
    best = 480 * sum(weights.values(), Fraction(0))
    for action in left:
        if waits(action, weights, left, made):
            continue
        now_made = made | {action.id} if action.outcomes else made
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
                    total += least(then, after, rest, access, now_made)
            best = min(best, total)
    return best


@settings(deadline=None, max_examples=200)
@given(games() | games(gated=True))
def test_no_policy_that_waits_where_it_must_takes_less(game: Game) -> None:
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
def test_a_free_perfect_question_never_costs(game: Game) -> None:
    shares, actions, access = game
    start = situation({fault: float(share) for fault, share in shares.items()})
    perfect = Action("perfect", 0, outcomes=tuple({fault: 1.0} for fault in FAULTS))
    asked = Strategy((*actions, perfect), access).choose(start).expected
    assert asked <= Strategy(actions, access).choose(start).expected + 1e-6
    assert asked == pytest.approx(Strategy(actions, access).bound(start), abs=1e-6)


@settings(deadline=None, max_examples=150)
@given(games(gated=True), st.sampled_from(["choose", "look_ahead", "p_over_c"]))
def test_no_policy_replaces_what_no_check_confirmed(game: Game, policy: str) -> None:
    shares, actions, access = game
    strategy = Strategy(actions, access)
    named = {each.id: each for each in actions}
    waiting = [(situation({fault: float(share) for fault, share in shares.items()}), frozenset[str]())]
    while waiting:
        at, seen = waiting.pop()
        step = strategy.choose(at).step if policy == "choose" else getattr(strategy, policy)(at)[1]
        action = named.get(step.action)
        if action is None:
            continue
        if action.after:
            possible = {fault for fault, _ in at.shares}
            confirm = {check for fault in possible for check in action.after.get(fault, ())}
            assert confirm & seen if confirm else possible <= action.ends
        for branch in step.branches:
            waiting.append((branch.then, seen | {action.id} if action.outcomes else seen))


def test_gating_costs_the_check_it_waits_for_and_no_more() -> None:
    """By hand: a dear part at 0.9, a connector at 0.1; each takes 10, the check that tells them apart 2."""
    both = [Action("part", 10, ends=frozenset("a")), Action("connector", 10, ends=frozenset("b"))]
    check = Action("look", 2, outcomes=({"a": 1.0}, {"b": 1.0}))
    gated = Action("part", 10, ends=frozenset("a"), after={"a": frozenset({"look"})})
    start = situation({"a": 0.9, "b": 0.1})
    free = Strategy([*both, check], Access({}, {})).choose(start)
    assert (free.step.action, free.expected) == ("part", pytest.approx(11))
    held = Strategy([gated, both[1], check], Access({}, {})).choose(start)
    assert (held.step.action, held.expected) == ("look", pytest.approx(12))
    # Where the check cannot be made: the connector, then help.
    barred = Strategy([gated, both[1]], Access({}, {})).choose(start)
    assert (barred.step.action, barred.expected) == ("connector", pytest.approx(10 + 0.9 * 480))
    # Where none is described: the part last, once it is all that is left.
    last = Strategy([replace(gated, after={"a": frozenset()}), both[1], check], Access({}, {})).choose(start)
    assert last.expected == pytest.approx(12)
    unseen = Strategy([replace(gated, after={"a": frozenset()}), both[1]], Access({}, {})).choose(start)
    assert (unseen.step.action, unseen.expected) == ("connector", pytest.approx(19))


def test_no_share_is_refused() -> None:
    with pytest.raises(ValueError, match="no fault has a share"):
        situation({"a": 0.0})
