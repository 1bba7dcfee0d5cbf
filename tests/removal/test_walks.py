"""Plans in which states change and change back in the middle of the work, on a machine that can be reckoned by hand."""

from __future__ import annotations

import pytest

from firstoff.appliance.model import Purpose
from firstoff.removal import ActKind, Plan, Planner, Request, Target, plan
from support.dishwasher import ISOLATED, ON_BACK, dishwasher
from support.full_model import cheapest, check
from support.instances import access, appliance, component, preparation, removal

REPLACE, TEST, INSPECT = Purpose.REPLACE, Purpose.TEST, Purpose.INSPECT
# Isolate, shut the water, kickplate, hose, on its back, tray: out and back.
TO_THE_BASE = 2 + 2 + 2 + 5 + 10 + 6
# A second isolation, so that a part is opened and closed isolated and tested live between.
LIVE = 2

TABLE = [
    # what the row shows, the targets, minutes out and back
    ("states add up and are taken back in reverse", [("pump", REPLACE)], TO_THE_BASE + 8),
    ("a look needs the door alone", [("latch", INSPECT)], 0.5 + 1),
    ("isolated to open, live to test, isolated to close", [("board", TEST)], 2 + LIVE + 0.5 + 4 + 3),
    ("the same on its back", [("motor", TEST)], TO_THE_BASE + LIVE + 3),
    ("the cheaper way round", [("motor", REPLACE)], 2 + 4 + 6 + 14),
    ("both live tests in one go", [("motor", TEST), ("board", TEST)], TO_THE_BASE + LIVE + 3 + 0.5 + 4 + 3),
    ("a guard goes back before the test", [("board", TEST), ("guard", REPLACE)], 2 + LIVE + 0.5 + 4 + 3 + 2),
]


@pytest.mark.parametrize(("targets", "minutes"), [row[1:] for row in TABLE], ids=[row[0] for row in TABLE])
def test_reckoned_by_hand(targets: list[tuple[str, Purpose]], minutes: float) -> None:
    machine = dishwasher()
    request = Request(tuple(Target(*target) for target in targets))
    found = plan(machine, request)
    check(machine, request, found)
    assert (found.minutes, found.optimal) == (minutes, True)


MANY = [
    [("board", TEST), ("pump", REPLACE)],
    [("board", TEST), ("sensor", REPLACE)],
    [("motor", TEST), ("board", TEST), ("sensor", REPLACE)],
    [("motor", TEST), ("board", TEST), ("latch", INSPECT), ("capacitor", REPLACE), ("latch", REPLACE)],
]


@pytest.mark.parametrize("targets", MANY, ids=lambda targets: "+".join(slug for slug, _ in targets))
def test_many_targets_are_proved(targets: list[tuple[str, Purpose]]) -> None:
    """No hand-made value, but the plan can be carried out, is proved, and is no dearer than one target at a time."""
    machine = dishwasher()
    planner = Planner(machine)
    request = Request(tuple(Target(*target) for target in targets))
    found = planner.plan(request)
    check(machine, request, found)
    assert found.optimal
    apart = [planner.plan(Request((target,), alternatives=0)).minutes for target in request.targets]
    assert max(apart) <= found.minutes < sum(apart)
    for other in found.alternatives:
        check(machine, request, other)


def states_at(found: Plan, kind: ActKind, part: str) -> list[set[str]]:
    return [set(act.states.values()) for act in found.acts if act.kind is kind and act.component == part]


def test_the_supply_is_on_for_the_test_and_isolated_around_it() -> None:
    found = plan(dishwasher(), Request((Target("motor", TEST),)))
    assert all(ISOLATED in states for states in states_at(found, ActKind.REMOVE, "tray"))
    assert all({"supply=0", ON_BACK} <= states for states in states_at(found, ActKind.SERVE, "motor"))
    assert all(ISOLATED in states for states in states_at(found, ActKind.REFIT, "tray"))


def test_a_guard_that_has_to_be_fitted_is_back_before_the_test() -> None:
    found = plan(dishwasher(), Request((Target("board", TEST), Target("guard", REPLACE))))
    test = next(act for act in found.acts if act.kind is ActKind.SERVE and act.component == "board")
    assert "guard" not in test.after_off
    assert "panel" in test.after_off
    assert [act.kind for act in found.acts if act.component == "guard"] == [
        ActKind.REMOVE,
        ActKind.SERVE,
        ActKind.REFIT,
    ]


def test_a_part_is_handed_over_from_one_removal_to_another() -> None:
    """A cover comes off upright, and can go back only on the other side's fastenings once the machine is turned."""
    machine = appliance(
        [component("cover"), component("core")],
        [
            removal("cover", 1, 1, states=["posture=0"]),
            removal("cover", 5, 5, states=["posture=1"], way=1),
            removal("core", 1, 1, off=["cover"]),
        ],
        [access("core", TEST, 1, off=["cover", "core"], states=["posture=1"])],
        {"posture": 2},
        [preparation("posture=1", "posture=0", 1, 1, off=["core"])],
    )
    request = Request((Target("core", TEST),))
    found = plan(machine, request)
    check(machine, request, found)
    # Cover, core, turn, test, and the same back: the cover stays off by its first removal, for there is a way back.
    assert found.minutes == 2 + 2 + 2 + 1 == cheapest(machine, request)
    only_turned_back = Request((Target("core", TEST),), states={"posture": "posture=1"})
    home = plan(machine, only_turned_back)
    check(machine, only_turned_back, home)
    assert home.minutes == cheapest(machine, only_turned_back)
