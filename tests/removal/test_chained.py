"""Plans for several targets put together from plans for each, as when the common search runs out of budget."""

from __future__ import annotations

from typing import NoReturn

import pytest

from firstoff.removal import Undecided, Unreachable, plan, planner
from support.full_model import cheapest, check
from support.instances import small_case


def spent(*_: object) -> NoReturn:
    raise Undecided(0.0)


def test_a_chain_is_a_plan_with_a_true_bound(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(planner, "best", spent)
    chains = together = 0
    for seed in range(250):
        machine, request = small_case(seed)
        if len(request.targets) < 2:
            continue
        try:
            given = plan(machine, request)
        except (Undecided, Unreachable):
            continue
        check(machine, request, given)
        least = cheapest(machine, request)
        assert least is not None
        assert given.bound <= least + 1e-6
        assert given.minutes >= least - 1e-6
        chains += 1
        together += given.minutes < least + 1e-6
    assert chains > 20
    assert together > chains / 2  # what both do is done once


def test_a_single_target_has_no_chain(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(planner, "best", spent)
    seeds = [seed for seed in range(200) if len(small_case(seed)[1].targets) == 1]
    assert seeds
    for seed in seeds[:20]:
        with pytest.raises(Undecided):
            plan(*small_case(seed))
