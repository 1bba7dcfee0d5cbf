"""Requests of every kind: what is refused and why, and what stands in for what."""

from __future__ import annotations

import inspect
import os
import subprocess
import sys
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from firstoff import removal as room
from firstoff.appliance.model import (
    Appliance,
    Fastening,
    Purpose,
)
from firstoff.appliance.terms import Concept
from firstoff.removal import (
    ActKind,
    Budget,
    IllDefinedVariable,
    Obstacle,
    OffTwice,
    Phase,
    Plan,
    Planner,
    RemovalError,
    Request,
    Target,
    UnknownComponent,
    UnknownState,
    UnknownTarget,
    Unreachable,
    errors,
    plan,
)
from support.full_model import cheapest
from support.instances import (
    Shape,
    access,
    appliance,
    component,
    one_phase,
    preparation,
    removal,
    small_case,
)
from support.proved import plan_checked

INSPECT, TEST, REPLACE = Purpose.INSPECT, Purpose.TEST, Purpose.REPLACE
NO_TOOLS: frozenset[str] = frozenset()


def to(slug: str, purpose: Purpose = REPLACE) -> Target:
    return Target(slug, purpose)


def washer() -> Appliance:
    """A lid with two ways, a drum under it, a door switch to test in one state of the door, a part nobody can reach."""
    return appliance(
        [component(slug) for slug in ("lid", "clip", "drum", "switch", "weld")],
        [
            removal("lid", 3, 2, tools={"driver"}),
            removal("lid", 5, 4, off={"clip"}, way=1),
            removal("clip", 1, 1),
            removal("drum", 10, 8, off={"lid"}, states={"door=1"}),
        ],
        [access("switch", TEST, 2, states={"door=0"}, fitted={"lid"})],
        {"door": 2, "place": 3},
        [preparation("door=1", "door=0", 1, 1), preparation("place=1", "place=0", 4, 4, tools={"jack"})],
    )


# --- what is refused -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("request_", "error", "said"),
    [
        (Request((to("bonnet"),)), UnknownTarget, {"target": to("bonnet")}),
        (Request((to("drum"), to("bonnet", TEST))), UnknownTarget, {"target": to("bonnet", TEST)}),
        (Request((to(""),)), UnknownTarget, {"target": to("")}),
        # A state is no component.
        (Request((to("door=1"),)), UnknownTarget, {"target": to("door=1")}),
        (Request((to("drum"),), off=frozenset({"lid", "bonnet"})), UnknownComponent, {"component": "bonnet"}),
        # Also where nothing is asked for.
        (Request((), off=frozenset({"bonnet"})), UnknownComponent, {"component": "bonnet"}),
        (Request((to("drum"),), states={"door": "door=2"}), UnknownState, {"variable": "door", "state": "door=2"}),
        (Request((to("drum"),), states={"lock": "lock=1"}), UnknownState, {"variable": "lock", "state": "lock=1"}),
        # A state of another variable.
        (Request((to("drum"),), states={"door": "place=1"}), UnknownState, {"variable": "door", "state": "place=1"}),
        # A component is no state.
        (Request((to("drum"),), states={"door": "lid"}), UnknownState, {"variable": "door", "state": "lid"}),
    ],
)
def test_what_the_model_does_not_have(request_: Request, error: type[RemovalError], said: Mapping[str, object]) -> None:
    with pytest.raises(error) as caught:
        plan(washer(), request_)
    assert {name: getattr(caught.value, name) for name in said} == said
    for value in said.values():
        assert repr(value.component if isinstance(value, Target) else value) in str(caught.value)


@pytest.mark.parametrize("initial", [(), ("place=0", "place=1"), ("place=0", "place=1", "place=2")])
def test_a_variable_has_one_initial_state(initial: tuple[str, ...]) -> None:
    """Even one that the request does not touch: what holds at the start would be unknown."""
    whole = washer()
    states = {
        slug: replace(state, initial=slug in initial) if state.variable == "place" else state
        for slug, state in whole.states.items()
    }
    with pytest.raises(IllDefinedVariable) as caught:
        Planner(replace(whole, states=states))
    assert caught.value.variable == "place"


@pytest.mark.parametrize("minutes", [-1.0, float("inf"), float("nan")])
def test_minutes_are_numbers_of_zero_or_more(minutes: float) -> None:
    with pytest.raises(ValueError, match="minutes must be zero or more"):
        Planner(appliance([component("lid")], [removal("lid", minutes)]))


def test_every_error_of_the_room_has_one_root_and_a_public_name() -> None:
    kinds = [each for _, each in inspect.getmembers(errors, inspect.isclass) if issubclass(each, Exception)]
    assert len(kinds) == 9
    assert all(issubclass(each, RemovalError) for each in kinds)
    assert {each.__name__ for each in kinds} <= set(room.__all__)
    assert all(each.__name__ in (errors.__doc__ or "") for each in kinds)


# --- what cannot be reached, and why ---------------------------------------------------------------------

DRIVER, JACK = Concept("driver", "driver"), Concept("jack", "jack")


def no_tool_for_either() -> Appliance:
    """Both ways to the lid want a tool; one wants two, one of them through a fastening."""
    screwed = replace(
        removal("lid", 1, tools={"driver"}, way=1), fastenings=(Fastening(Concept("screw", "screw"), tools=(JACK,)),)
    )
    ways = [removal("lid", 1, tools={"driver"}), screwed, removal("drum", 1, off={"lid", "clip"}), removal("clip", 1)]
    return appliance([component(slug) for slug in ("lid", "clip", "drum")], ways)


def circular() -> Appliance:
    """Each of two parts comes off by way of the other; a third waits for one of them."""
    ways = [removal("a", 1, off={"b"}), removal("b", 1, off={"a"}), removal("c", 1, off={"a"})]
    return appliance([component(slug) for slug in "abc"], ways)


def of(way: str, label: str, *tools: Concept, reason: str = "") -> Obstacle:
    return Obstacle(way, label, tools, reason)


@pytest.mark.parametrize(
    ("machine", "request_", "target", "obstacles"),
    [
        # A tool is missing for the part itself.
        (no_tool_for_either, Request((to("lid"),), tools=NO_TOOLS), to("lid"), [
            of("lid-way0", "remove lid by way 0", DRIVER), of("lid-way1", "remove lid by way 1", DRIVER, JACK),
        ]),
        # For a part before it; the clip, which can come off, is no obstacle. Only what is missing is named.
        (no_tool_for_either, Request((to("drum"),), tools=frozenset({"jack"})), to("drum"), [
            of("lid-way0", "remove lid by way 0", DRIVER), of("lid-way1", "remove lid by way 1", DRIVER),
        ]),
        # One way lacks a tool, the other is ruled out.
        (washer, Request((to("lid"),), tools=NO_TOOLS, banned=frozenset({"lid-way1"})), to("lid"), [
            of("lid-way0", "remove lid by way 0", DRIVER),
            of("lid-way1", "remove lid by way 1", reason="ruled out by the request"),
        ]),
        # No way is known; the first target that cannot be reached is named, not the first target.
        (washer, Request((to("lid"), to("weld"))), to("weld"), [
            of("weld", "weld", reason="no usable way to take it off is known"),
        ]),
        # A preparation is ruled out, and the state it gives is needed.
        (washer, Request((to("drum"),), banned=frozenset({"door=0>door=1-0"})), to("drum"), [
            of("door=0>door=1-0", "door=0 to door=1", reason="ruled out by the request"),
        ]),
        # What has to be fitted is off, and the tool to put it back is not at hand.
        (washer, Request((to("switch", TEST),), off=frozenset({"lid-way0"}), tools=NO_TOOLS), None, [
            of("lid-way0", "remove lid by way 0", DRIVER),
        ]),
    ],
)  # fmt: skip
def test_what_stands_in_the_way(
    machine: Callable[[], Appliance], request_: Request, target: Target | None, obstacles: list[Obstacle]
) -> None:
    assert cheapest(machine(), request_) is None
    with pytest.raises(Unreachable) as caught:
        plan(machine(), request_)
    assert caught.value.target == target
    assert sorted(caught.value.obstacles, key=lambda each: each.way) == obstacles
    assert str(caught.value).startswith(
        f"{target.component}, to be " if target else "lid, found off, cannot be put back"
    )
    assert all(each.sentence in str(caught.value) for each in obstacles)


def test_a_missing_tool_is_named_in_a_sentence() -> None:
    with pytest.raises(Unreachable) as caught:
        plan(washer(), Request((to("lid"),), tools=NO_TOOLS, off=frozenset(), banned=frozenset({"clip-way0"})))
    assert "remove lid by way 0 needs driver, not at hand." in str(caught.value)


@pytest.mark.parametrize("slug", ["a", "b", "c"])
def test_needs_that_go_round_in_a_circle_are_no_plan(slug: str) -> None:
    with pytest.raises(Unreachable) as caught:
        plan(circular(), Request((to(slug),)))
    assert caught.value.target == to(slug)


@pytest.mark.parametrize("off", [{"a"}, {"b"}, {"a", "b"}])
def test_a_part_already_off_does_not_break_the_circle(off: set[str]) -> None:
    """Whichever goes back first, the other's refit needs it off."""
    request = Request((to("a"),), frozenset(off))
    assert cheapest(circular(), request) is None
    with pytest.raises(Unreachable) as caught:
        plan(circular(), request)
    assert set(caught.value.parts) <= off
    assert caught.value.parts


def test_a_dearer_way_out_of_the_circle_is_taken() -> None:
    """The cheap ways of each go by the other; so one of them has to come off by its dear way."""
    whole = circular()
    dear = [removal("a", 20, way=1), removal("b", 9, 9, way=1)]
    machine = replace(whole, removals={**whole.removals, **{way.id: way for way in dear}})
    assert plan_checked(machine, Request((to("a"),))).ways == {"b-way1", "a-way0"}
    assert plan_checked(machine, Request((to("b"),))).ways == {"b-way1"}


def test_a_state_in_force_without_a_way_home() -> None:
    """No target is to blame: the machine cannot be left as it was."""
    request = Request((to("lid"),), tools=frozenset({"driver"}), states={"place": "place=1"})
    assert cheapest(washer(), request) is None
    with pytest.raises(Unreachable) as caught:
        plan(washer(), request)
    assert caught.value.target is None
    assert [(each.way, each.missing_tools) for each in caught.value.obstacles] == [("place=0>place=1-0", (JACK,))]


# --- states that contradict ------------------------------------------------------------------------------


def test_two_states_of_one_variable_at_once_are_unreachable() -> None:
    machine = appliance([component("switch")], [], [access("switch", TEST, states={"door=0", "door=1"})], {"door": 2},
                        [preparation("door=1", "door=0", 1, 1)])  # fmt: skip
    with pytest.raises(Unreachable) as caught:
        plan(machine, Request((to("switch", TEST),)))
    assert caught.value.target == to("switch", TEST)
    assert len(caught.value.obstacles) == 1


def test_states_that_exclude_one_another_by_way_of_a_part() -> None:
    """The cover comes off with the door open; the door shuts with the cover on; the board wants both."""
    machine = appliance(
        [component("cover"), component("board")],
        [removal("cover", 1, states={"door=1"})],
        [access("board", TEST, off={"cover"}, states={"door=0"})],
        {"door": 2},
        [preparation("door=1", "door=0", 1, 1, fitted={"cover"})],
    )
    request = Request((to("board", TEST),))
    assert cheapest(machine, request) is None
    with pytest.raises(Unreachable) as caught:
        plan(machine, request)
    assert caught.value.target == request.targets[0]
    assert [each.way for each in caught.value.obstacles] == ["board-test0"]
    assert "exclude one another" in str(caught.value)


def test_two_targets_in_contradicting_states_are_served_one_after_the_other() -> None:
    """The switch with the door shut and the lid fitted, the drum with the door open and the lid off."""
    request = Request((to("drum"), to("switch", TEST)), alternatives=0)
    found = plan_checked(washer(), request)
    assert found.minutes == (3 + 2) + (10 + 8) + 2 + (1 + 1)
    serves = {act.component: act for act in found.acts if act.kind is ActKind.SERVE}
    assert serves["switch"].states["door"] == "door=0"
    assert "lid" not in serves["switch"].after_off
    assert serves["drum"].after_off >= {"lid", "drum"}


# --- parts already off -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("off", "minutes", "removed"),
    [
        (set(), 25.0, ("lid", "drum")),
        ({"lid"}, 22.0, ("drum",)),
        # Off by the dear way: it goes back by that, with the clip off for it.
        ({"lid-way1"}, 26.0, ("drum", "clip")),
        # Said twice, once as it came off.
        ({"lid-way1", "lid"}, 26.0, ("drum", "clip")),
        # The dear way to the lid is still the dearer one with the clip off: 9 and not 5.
        ({"clip"}, 26.0, ("lid", "drum")),
        # Off already: served at once. The lid has to come off for the refit.
        ({"drum"}, 15.0, ("lid",)),
        ({"drum", "lid", "clip"}, 13.0, ()),
    ],
)
def test_parts_off_at_the_start_are_put_back(off: set[str], minutes: float, removed: tuple[str, ...]) -> None:
    found = plan_checked(washer(), Request((to("drum"),), frozenset(off), alternatives=0))
    assert found.minutes == minutes
    assert found.removed == removed
    assert found.acts[-1].after_off == frozenset()
    if "drum" in off:
        assert found.acts[0].kind is ActKind.SERVE


def test_one_part_is_not_off_by_two_removals() -> None:
    with pytest.raises(OffTwice) as caught:
        plan(washer(), Request((to("drum"),), frozenset({"lid-way0", "lid-way1"})))
    assert (caught.value.component, caught.value.ways) == ("lid", ("lid-way0", "lid-way1"))


@pytest.mark.parametrize(
    ("off", "reason"),
    [
        ({"weld"}, "no usable way to put it back is known"),  # no removal at all
        ({"lid", "weld"}, "no usable way to put it back is known"),
    ],
)
def test_a_part_that_cannot_be_put_back_is_named(off: set[str], reason: str) -> None:
    with pytest.raises(Unreachable) as caught:
        plan(washer(), Request((to("drum"),), frozenset(off)))
    assert (caught.value.target, caught.value.parts) == (None, ("weld",))
    assert str(caught.value) == f"weld, found off, cannot be put back. weld: {reason}."


def test_a_refit_whose_needs_exclude_one_another_is_named() -> None:
    """The cover shuts with the door open, and the door opens with the cover on only."""
    machine = appliance(
        [component("cover"), component("board")],
        [removal("cover", 1, states={"door=1"}), removal("board", 1)],
        variables={"door": 2},
        preparations=[preparation("door=1", "door=0", 1, 1, fitted={"cover"})],
    )
    request = Request((to("board"),), off=frozenset({"cover"}))
    assert cheapest(machine, request) is None
    with pytest.raises(Unreachable) as caught:
        plan(machine, request)
    assert caught.value.parts == ("cover",)
    assert "exclude one another" in str(caught.value)
    plan_checked(machine, replace(request, states={"door": "door=1"}))


def test_a_guard_found_off_is_back_before_the_test() -> None:
    """And comes off again at its full price where the plan needs that."""
    found = plan_checked(washer(), Request((to("switch", TEST),), frozenset({"lid"})))
    assert [act.kind for act in found.acts] == [ActKind.REFIT, ActKind.SERVE]
    assert found.acts[0].needed_for == (to("switch", TEST),)
    again = plan_checked(washer(), Request((to("switch", TEST), to("drum")), frozenset({"lid"}), alternatives=0))
    assert again.minutes == 2 + (1 + 10 + 8 + 1) + 2
    both = plan_checked(washer(), Request((to("switch", TEST), to("lid")), frozenset({"lid"}), alternatives=0))
    assert both.removed == ()


def test_what_cannot_be_served_on_the_way_back_comes_off_twice() -> None:
    """The lid is off by a removal that needs the clip off; it has to be fitted, and off again, at the full price."""
    whole = washer()
    turn = preparation("place=1", "place=0", 4, 4, fitted={"lid"})
    tested = access("drum", TEST, 1, off={"lid"}, states={"place=1"})
    fitted = replace(
        whole,
        preparations={**whole.preparations, turn.id: turn},
        access_paths={**whole.access_paths, tested.id: tested},
    )
    turned = Request((to("drum", TEST),), frozenset({"lid"}), states={"place": "place=1"}, alternatives=0)
    assert plan_checked(fitted, turned).removed == ()
    twice = plan_checked(fitted, Request((to("drum", TEST),), frozenset({"lid"}), alternatives=0))
    assert twice.removed == ("lid",)
    assert [act.kind for act in twice.acts if act.component == "lid"] == [ActKind.REFIT, ActKind.REMOVE, ActKind.REFIT]


# --- nothing asked for, and the same asked for twice -----------------------------------------------------


def test_an_empty_request_is_answered_with_nothing_to_do() -> None:
    found = plan(washer(), Request(()))
    assert found == Plan(minutes=0.0, optimal=True, bound=0.0, acts=(), order_proved=True)
    assert found.ways == frozenset()
    assert found.removed == ()


@pytest.mark.parametrize(
    ("off", "states", "minutes", "acts"),
    [
        ({"drum", "lid"}, {"door": "door=1"}, 8 + 2 + 1, ["refit", "refit", "undo"]),
        ({"drum", "lid"}, {}, 1 + 8 + 2 + 1, ["prepare", "refit", "refit", "undo"]),
        ({"lid"}, {}, 2, ["refit"]),
        ({"lid-way1"}, {}, 1 + 4 + 1, ["remove", "refit", "refit"]),
        (set(), {"door": "door=1"}, 1, ["undo"]),
        (set(), {"door": "door=1", "place": "place=1"}, 5, ["undo", "undo"]),
        (set(), {"door": "door=0"}, 0, []),
    ],
)
def test_without_targets_the_machine_is_closed(
    off: set[str], states: dict[str, str], minutes: float, acts: list[str]
) -> None:
    found = plan_checked(washer(), Request((), frozenset(off), states=states, alternatives=0))
    assert found.minutes == minutes
    assert sorted(act.kind.value for act in found.acts) == sorted(acts)
    assert all(act.phase is Phase.BACK and not act.needed_for for act in found.acts)


def test_a_target_named_twice_is_served_once() -> None:
    once = Request((to("drum"), to("switch", TEST)))
    twice = replace(once, targets=(*once.targets, to("drum"), to("switch", TEST)))
    assert plan(washer(), twice) == plan(washer(), once)


def test_one_part_for_two_purposes_is_two_targets() -> None:
    found = plan_checked(washer(), Request((to("lid", INSPECT), to("lid"))))
    assert found.removed == ("lid",)
    assert [act.needed_for[0] for act in found.acts if act.kind is ActKind.SERVE] == [to("lid", INSPECT), to("lid")]


@pytest.mark.parametrize("alternatives", [-1, 0, 1, 2, 7])
def test_no_more_alternatives_than_asked_for_or_than_there_are(alternatives: int) -> None:
    """There are two plans: by either way to the lid."""
    found = plan(washer(), Request((to("drum"),), alternatives=alternatives))
    assert [other.minutes for other in found.alternatives] == [31.0][: max(alternatives, 0)]


def test_what_is_ruled_out_or_at_hand_need_not_be_known() -> None:
    plain = Request((to("drum"),))
    assert plan(washer(), replace(plain, banned=frozenset({"no-such-way"}))) == plan(washer(), plain)
    assert plan(washer(), replace(plain, tools=frozenset({"driver", "no-such-tool"}))) == plan(washer(), plain)


# --- the same request, the same answer -------------------------------------------------------------------


def answers() -> str:
    """The answers to a few random requests in full, for comparison across runs."""
    told = []
    for seed in range(60):
        machine, request = small_case(seed)
        try:
            told.append(repr(plan(machine, replace(request, alternatives=2), Budget(nodes=500))))
        except RemovalError as error:
            told.append(repr((error, vars(error))))
    for seed in range(5):
        machine = one_phase(Random(seed), Shape(60, 90, 3, 0.05))
        told.append(repr(plan(machine, Request((to("p30"), to("p35"))))))
    return "\n".join(told)


def test_an_answer_does_not_depend_on_the_order_of_sets() -> None:
    """Python scatters strings anew in every process, so a run with another seed shows what leans on that."""
    script = f"import sys; sys.path.insert(0, {str(Path(__file__).parents[1])!r}); sys.path.insert(0, " \
        f"{str(Path(__file__).parent)!r}); import test_requests; print(test_requests.answers())"  # fmt: skip
    told = [
        subprocess.run(
            [sys.executable, "-c", script],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
            text=True,
        ).stdout
        for seed in ("1", "2")
    ]
    assert told[0] == told[1]
    assert "Plan(" in told[0]
    assert "Unreachable" in told[0]


def test_a_planner_answers_as_if_it_were_new() -> None:
    planner = Planner(washer())
    requests = [Request((to("drum"),)), Request((to("switch", TEST),)), Request((to("lid"),), tools=NO_TOOLS)]
    first = [planner.plan(request) for request in requests]
    again = [planner.plan(request) for request in reversed(requests)][::-1]
    assert first == again == [plan(washer(), request) for request in requests]
