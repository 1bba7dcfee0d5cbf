"""Why other ways were not taken: against every situation there is, and reason by reason."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from heapq import heappop, heappush

import pytest

from firstoff.answers import rejected
from firstoff.answers.bench import laid_out
from firstoff.answers.desk import Desk
from firstoff.answers.plan import plan_answer, question_of
from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.errors import FirstoffError
from firstoff.removal import Request
from firstoff.settings import Settings
from firstoff_contract.removal import PlanRequest, RejectedWay, RemovalPlan
from support.full_model import is_end, start_of, steps
from support.instances import access, appliance, component, preparation, removal, small_case


def machine(**parts: object) -> Appliance:
    """The core comes out by the front (2 minutes), the side (5), the back (4, moved) or the top (4, with a hook).

    The tray that the bottom needs off waits for the bottom, so that way can never be gone.
    """
    made = appliance(
        [component(slug) for slug in ("core", "front", "side", "back", "top", "bottom", "tray")],
        [
            removal("core", 1, off=["front"]),
            removal("core", 1, off=["side"], way=1),
            removal("core", 1, off=["back"], way=2),
            removal("core", 1, off=["top"], way=3),
            removal("core", 1, off=["bottom"], way=4),
            replace(removal("core", 1, way=5), persons=2),
            removal("core", 1, off=["ghost"], way=6),
            removal("front", 1),
            removal("side", 4),
            removal("back", 1, states=["place=1"]),
            removal("top", 3, tools=["hook"]),
            removal("bottom", 1, off=["tray"]),
            removal("tray", 1, off=["bottom"]),
        ],
        variables={"place": 2},
        preparations=[replace(preparation("place=1", "place=0", 1, 1), moves_machine=True)],
    )
    return replace(made, **parts)  # type: ignore[arg-type]


def ask(*reach: str, on: Appliance | None = None, **more: object) -> RemovalPlan:
    asked = PlanRequest(reach=list(reach), **more)  # type: ignore[arg-type]
    return plan_answer(laid_out(on or machine()), Settings(), asked)


def by_way(plan: RemovalPlan) -> dict[str, RejectedWay]:
    return {each.way.id: each for each in plan.rejected}


@pytest.mark.parametrize(
    ("way", "kind", "reason", "more"),
    [
        ("core-way1", "more", "It takes 3 more minutes.", 3.0),
        ("core-way2", "limit", "It cannot be used: place=0 to place=1: it moves the machine", None),
        ("core-way3", "tools", "It cannot be used: remove top by way 0 needs hook, not at hand.", None),
        ("core-way4", "never", "waits for tray off, which waits for it in turn", None),
        ("core-way5", "limit", "It takes 2 persons, and you work alone.", None),
        ("core-way6", "never", "what this model does not have", None),
    ],
)
def test_each_reason(way: str, kind: str, reason: str, more: float | None) -> None:
    plan = ask("core", limits=["alone", "machine-fixed"], tools=[])
    assert plan.minutes == 2.0
    each = by_way(plan)[way]
    assert (each.kind, each.more, each.proved) == (kind, more, True)
    assert reason in each.reason
    assert each.of.id == "core"


def test_a_tool_of_the_way_itself() -> None:
    plain = machine()
    hooked = replace(plain.removals["core-way1"], tools=plain.removals["top-way0"].tools)
    on = machine(removals={**plain.removals, "core-way1": hooked})
    assert by_way(ask("core", on=on, tools=[], limits=["alone"]))["core-way1"].reason == "It needs hook, not at hand."


def test_what_the_plan_itself_uses_is_not_among_them() -> None:
    plan = ask("core", limits=["alone"])
    assert "core-way0" not in by_way(plan)
    assert by_way(plan)["core-way3"].more == 2.0  # with every tool at hand


def test_another_measure_is_told_in_its_unit() -> None:
    found = by_way(ask("core", minimise="parts", limits=["alone"]))
    assert found["core-way1"].reason == "It takes as many parts taken off, and 3 more minutes."
    assert found["core-way1"].more == 0.0
    fewest = by_way(ask("core", minimise="parts"))
    assert fewest["core-way0"].reason == "It takes 1 more part taken off."


def test_as_good_as_the_one_taken() -> None:
    on = appliance([component("core")], [removal("core", 1), removal("core", 1, way=1)])
    (each,) = ask("core", on=on).rejected
    assert (each.kind, each.reason, each.more) == ("alike", "It would do as well.", 0.0)


def test_a_way_that_would_not_be_used_even_then_takes_at_least() -> None:
    """Without the short way to the cover the latch is reached without the cover, so the long way is bounded only."""
    on = appliance(
        [component("latch"), component("cover")],
        [removal("cover", 1), removal("cover", 50, way=1)],
        [access("latch", Purpose.TEST, 1, off=["cover"]), access("latch", Purpose.TEST, 6, way=1)],
    )
    found = by_way(ask("latch:test", on=on))
    assert found["cover-way1"].reason == "It takes at least 4 more minutes."
    assert not found["cover-way1"].proved
    assert found["latch-test1"].reason == "It takes 4 more minutes."
    assert found["latch-test1"].of.label == "Test: latch"


def test_another_preparation() -> None:
    on = appliance(
        [component("core")],
        [removal("core", 1, states=["v0=1"])],
        variables={"v0": 2},
        preparations=[preparation("v0=1", "v0=0", 1, 1), preparation("v0=1", "v0=0", 3, 3, way=1)],
    )
    (each,) = ask("core", on=on).rejected
    # Out by the other and back by the one taken is left out with it.
    assert (each.way.id, each.of.label, each.more) == ("v0=0>v0=1-1", "v0 1", 4.0)


def test_a_dead_way_goes_before_a_live_one(desk: Desk) -> None:
    asked = PlanRequest(reach=["heater-element:test"], serial="1")
    plan = desk.removal_plan("tgd27-460-s", asked)
    live = by_way(plan)["heater-element-test-live"]
    assert live.kind == "live"
    assert "29 CFR 1910.333(a)(1)" in live.reason
    asked = PlanRequest(reach=["heater-element:live-test"], serial="1")
    plan = desk.removal_plan("tgd27-460-s", asked)
    dead = by_way(plan)["heater-element-test-board"]
    assert (dead.kind, dead.reason) == ("live", "It is done with the supply off, and a live test was asked for.")


def test_time_that_ends_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(rejected.Allowance, "spent", property(lambda _: True))
    each = by_way(ask("core", limits=["alone"]))["core-way1"]
    assert (each.kind, each.more, each.proved) == ("more", None, False)
    assert "not worked out" in each.reason


def least_with(machine_: Appliance, request: Request, way: str) -> float | None:
    """The least minutes of a plan that uses ``way``, of all situations there are."""
    heap = [(0.0, 0, start_of(machine_, request), False)]
    seen = set()
    serial = 0
    while heap:
        minutes, _, now, used = heappop(heap)
        if (now, used) in seen:
            continue
        seen.add((now, used))
        if used and is_end(machine_, request, now):
            return minutes
        for (_, _, by, _, cost), after in steps(machine_, request, now):
            serial += 1
            heappush(heap, (minutes + cost, serial, after, used or by == way))
    return None


def test_against_every_situation() -> None:
    kinds: Counter[str] = Counter()
    for seed in range(200):
        made, small = small_case(seed)
        target = small.targets[0]
        bench = laid_out(made)
        asked = PlanRequest(reach=[f"{target.component}:{target.purpose.value}"])
        try:
            plan = plan_answer(bench, Settings(), asked)
        except FirstoffError:
            continue
        question = question_of(bench.appliance, asked)
        for each in plan.rejected:
            own = bench.appliance.removals.get(each.way.id)
            worked_out = each.more is not None or each.kind == "never"
            if own is None or not worked_out:
                continue
            others = {way.id for way in bench.appliance.removals.values() if way.component == own.component}
            request = question.request(banned=frozenset(others - {own.id}))
            least = least_with(bench.appliance, request, own.id)
            kinds[f"{each.kind} {each.proved}"] += 1
            if each.kind == "never":
                assert least is None
            elif each.proved and each.reason != "No plan is better for it.":
                assert least == pytest.approx(plan.minutes + (each.more or 0.0), abs=0.01)
            else:
                assert least is None or least >= plan.minutes + (each.more or 0.0) - 0.01
    assert kinds["more True"] > 10
    assert kinds["never True"] > 5
