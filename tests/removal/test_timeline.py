"""What an act says of itself, and in which order acts come where the needs leave a choice."""

from __future__ import annotations

from firstoff.appliance.model import Purpose
from firstoff.removal import ActKind, Phase, Request, Target, plan
from support.dishwasher import dishwasher
from support.instances import appliance, component, removal

PUMP, LATCH = Target("pump", Purpose.REPLACE), Target("latch", Purpose.REPLACE)


def test_an_act_names_the_targets_it_is_needed_for_the_nearest_first() -> None:
    found = plan(dishwasher(), Request((PUMP, LATCH), alternatives=0))
    by_act = {(act.kind, act.component or act.way): act.needed_for for act in found.acts}
    assert by_act[ActKind.REMOVE, "panel"] == (LATCH,)
    assert by_act[ActKind.REFIT, "panel"] == (LATCH,)
    assert by_act[ActKind.REMOVE, "hose"] == (PUMP,)
    assert by_act[ActKind.SERVE, "pump"] == (PUMP,)
    # Isolation is one step from the latch's removal and from the pump's, two from the targets: then as asked.
    assert by_act[ActKind.PREPARE, "supply=0>supply=1-0"] == (PUMP, LATCH)


def test_the_nearer_target_comes_first() -> None:
    machine = appliance(
        [component(slug) for slug in "abc"], [removal("a", 1), removal("b", 1, off="a"), removal("c", 1, off="b")]
    )
    deep, near = Target("c", Purpose.REPLACE), Target("b", Purpose.REPLACE)
    found = plan(machine, Request((deep, near)))
    assert found.acts[0].needed_for == (near, deep)


def test_the_phase_turns_once_the_last_target_is_served() -> None:
    found = plan(dishwasher(), Request((PUMP,)))
    served = next(act.step for act in found.acts if act.kind is ActKind.SERVE)
    assert [act.phase for act in found.acts] == [Phase.OUT] * (served + 1) + [Phase.BACK] * (
        len(found.acts) - served - 1
    )


def test_what_was_off_at_the_start_is_off_until_its_refit() -> None:
    request = Request((PUMP,), off=frozenset({"kickplate", "side"}))
    found = plan(dishwasher(), request)
    assert "kickplate" not in found.removed
    for part in ("kickplate", "side"):
        (back,) = (act.step for act in found.acts if act.kind is ActKind.REFIT and act.component == part)
        assert [part in act.after_off for act in found.acts] == [act.step < back for act in found.acts]
    assert found.acts[-1].after_off == frozenset()


def test_parts_found_off_go_back_once_all_is_served_and_before_the_supply() -> None:
    """The side was in nobody's way; it goes back with the rest, at one go, and the supply returns after it."""
    found = plan(dishwasher(), Request((PUMP,), off=frozenset({"side", "top"})))
    served = next(act.step for act in found.acts if act.kind is ActKind.SERVE)
    assert [act.component for act in found.acts[-3:]] == ["side", "top", None]
    assert served < found.acts[-3].step
    assert not any(act.needed_for for act in found.acts if act.component in ("side", "top"))


def test_removals_go_by_the_tools_in_hand_and_zone_by_zone() -> None:
    zones = {"a": "top", "b": "base", "c": "top", "d": "base", "e": "top", "target": "base"}
    tools = {"a": "driver", "b": "driver", "c": "spanner", "d": "spanner", "e": "driver", "target": "driver"}
    machine = appliance(
        [component(slug, zone=zone) for slug, zone in zones.items()],
        [removal(slug, 1, off="abcde" if slug == "target" else (), tools=[tools[slug]]) for slug in zones],
    )
    found = plan(machine, Request((Target("target", Purpose.REPLACE),)))
    assert found.removed == ("d", "c", "a", "e", "b", "target")


def test_the_same_request_gives_the_same_plan() -> None:
    request = Request((PUMP, LATCH))
    assert plan(dishwasher(), request) == plan(dishwasher(), request)


def test_nothing_asked_is_an_empty_plan() -> None:
    found = plan(dishwasher(), Request(()))
    assert (found.acts, found.minutes, found.optimal, found.ways) == ((), 0.0, True, frozenset())
