"""Removal plans as contract answers: what a technician may rely on, checked step by step on every demo machine."""

from __future__ import annotations

import networkx as nx
import pytest

from firstoff.answers.desk import Desk
from firstoff.appliance.circuit import LinkKind
from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.errors import BadRequest, NotFound, TargetUnreachable
from firstoff_contract.removal import PlanRequest, RemovalPlan, Step

MODELS = ("flb-316-k", "flb-316-t", "tgd27-410-k", "tgd27-460-s")


def appliance_of(desk: Desk, model: str) -> Appliance:
    return desk.opened.collection.appliances(model, "1")[0]


def ask(desk: Desk, model: str, *reach: str, off: tuple[str, ...] = (), tools: list[str] | None = None) -> RemovalPlan:
    return desk.removal_plan(model, PlanRequest(reach=list(reach), off=list(off), tools=tools, serial="1"))


@pytest.fixture(scope="module")
def plans(desk: Desk) -> dict[tuple[str, str], RemovalPlan]:
    """A plan for every component and purpose of every model that can be reached at all."""
    found = {}
    for model in MODELS:
        for component in appliance_of(desk, model).components:
            for purpose in Purpose:
                target = f"{component}:{purpose.value}"
                try:
                    found[model, target] = ask(desk, model, target)
                except TargetUnreachable:
                    continue
    return found


def every(plan: RemovalPlan) -> list[Step]:
    return [*plan.steps, *plan.refit]


def test_nearly_everything_can_be_reached(desk: Desk, plans: dict[tuple[str, str], RemovalPlan]) -> None:
    """Every component with a removal can be replaced; every access path leads somewhere."""
    for model in MODELS:
        appliance = appliance_of(desk, model)
        for removal in appliance.removals.values():
            assert (model, f"{removal.component}:replace") in plans
        for path in appliance.access_paths.values():
            assert (model, f"{path.component}:{path.purpose.value}") in plans


def test_plans_are_proved_and_add_up(plans: dict[tuple[str, str], RemovalPlan]) -> None:
    for key, plan in plans.items():
        assert plan.optimal, key
        assert plan.bound == pytest.approx(plan.minutes, abs=0.02), key
        assert sum(step.minutes for step in every(plan)) == pytest.approx(plan.minutes, abs=0.02 * len(every(plan))), (
            key
        )
        assert [step.n for step in plan.steps] == list(range(1, len(plan.steps) + 1))


def test_what_comes_off_goes_back_in_reverse(plans: dict[tuple[str, str], RemovalPlan]) -> None:
    for key, plan in plans.items():
        off: list[str] = []
        for step in every(plan):
            part = step.component.id if step.component else ""
            if step.action == "remove":
                assert part not in off, key
                off.append(part)
            elif step.action == "refit":
                assert part in off, key
                off.remove(part)
        assert off == [], key


def test_nothing_bared_is_live_outside_a_live_block(plans: dict[tuple[str, str], RemovalPlan]) -> None:
    """Between isolating and restoring, every point within reach is isolated, or known to be doubtful and said so."""
    for key, plan in plans.items():
        energised = True
        for step in every(plan):
            if step.action == "restore_supply":
                energised = True
            elif step.action in ("isolate", "isolate_again"):
                energised = False
            doubtful = {point.state for point in step.exposes} - {"isolated"}
            notes = {each.id for each in step.cautions}
            if step.action == "release":
                continue
            if "live" in doubtful and not energised:
                assert "charge-bared" in notes, (key, step.label)
                charged = following(plan, step)
                assert charged[0].action == "release", (key, step.label)
                assert not any(point.state == "live" for point in charged[-1].exposes), (key, step.label)
            elif "live" in doubtful:
                assert notes & {"live-points-bared", "put-back-first"}, (key, step.label)
                assert step.cautions[0].signal_word == "DANGER", (key, step.label)
            elif doubtful:
                assert notes & {"points-not-isolated"}, (key, step.label)


def following(plan: RemovalPlan, step: Step) -> list[Step]:
    """The releases right after ``step``."""
    steps = every(plan)
    after = steps[steps.index(step) + 1 :]
    after = after[1:] if after[0].action == "prove_dead" else after
    count = next((n for n, each in enumerate(after) if each.action != "release"), len(after))
    return after[:count] or after[:1]


def test_stored_energy_is_released_right_before_the_part_that_holds_it(desk: Desk) -> None:
    """A spring before its arm comes off, trapped water after the tap is shut; nothing for parts no one handles."""
    plan = ask(desk, "flb-316-k", "water-tank")
    actions = [(step.action, step.component.id if step.component else "") for step in plan.steps]
    released, taken = actions.index(("release", "water-tank")), actions.index(("remove", "water-tank"))
    shut = next(n for n, step in enumerate(plan.steps) if "stop tap" in step.label)
    assert shut < released == taken - 1
    tray = ask(desk, "flb-316-k", "drip-tray")
    assert not any(step.competence for step in tray.steps)  # no refrigerant work for a tray
    drum = ask(desk, "tgd27-460-s", "drum")
    order = [step.label for step in drum.steps]
    block, bulkhead = order.index("Release: drum"), next(n for n, label in enumerate(order) if "bulkhead" in label)
    assert block < bulkhead


def test_a_plan_begun_isolated_is_proved_dead_first(desk: Desk) -> None:
    asked = PlanRequest(reach=["drum-belt"], states=["supply-isolated", "pulled-out"])
    plan = desk.removal_plan("tgd27-460-s", asked)
    assert plan.steps[0].action == "prove_dead"


GUARDS_OFF = [
    ("flb-316-k", "compressor:inspect", "inverter-cover", []),  # listening with a cover of live parts off
    ("flb-316-k", "freezer-light:inspect", "main-board-lid", []),
    ("tgd27-460-s", "heater-element:live-test", "front-panel", ["pulled-out", "supply-isolated"]),
]


@pytest.mark.parametrize(("model", "reach", "off", "states"), GUARDS_OFF)
def test_nothing_is_done_with_the_supply_on_before_a_missing_guard_is_back(
    desk: Desk, model: str, reach: str, off: str, states: list[str]
) -> None:
    """The plan puts it back, isolated, and only then restores the supply for the work."""
    plan = desk.removal_plan(model, PlanRequest(reach=[reach], off=[off], states=states, serial="1"))
    actions = [(step.action, step.component.id if step.component else "") for step in plan.steps]
    restored = next(n for n, (action, _) in enumerate(actions) if action == "restore_supply")
    back = actions.index(("refit", off))
    assert back < restored
    assert actions[0][0] in ("isolate", "prove_dead")
    assert not any(action in ("remove", "refit") for action, _ in actions[restored : restored + 2])


def test_supply_comes_back_only_with_bonds_closed(desk: Desk, plans: dict[tuple[str, str], RemovalPlan]) -> None:
    """networkx as oracle: when the supply is restored, what is off breaks no earth bond between points still there."""
    for (model, target), plan in plans.items():
        appliance = appliance_of(desk, model)
        off: set[str] = set()
        for step in every(plan):
            if step.action == "remove" and step.component:
                off.add(step.component.id)
            elif step.action == "refit" and step.component:
                off.discard(step.component.id)
            elif step.action == "restore_supply":
                bonds = {s for s, x in appliance.circuit.links.items() if x.kind is LinkKind.EARTH_BOND}
                opened = {s for s in bonds if appliance.circuit.links[s].component in off}
                for removal in appliance.removals.values():
                    if removal.component in off:
                        opened |= removal.opens & bonds
                assert not opened, (model, target, step.label)


def test_a_live_reading_is_a_closed_block(plans: dict[tuple[str, str], RemovalPlan]) -> None:
    """Once the machine was isolated: restore, read, isolate again, prove dead; probes go on dead (guarantee 4)."""
    blocks = 0
    for key, plan in plans.items():
        actions = [step.action for step in plan.steps]
        for index, action in enumerate(actions):
            if action != "restore_supply":
                continue
            blocks += 1
            rest = actions[index + 1 :]
            assert "isolate_again" in rest, key
            closed = rest.index("isolate_again")
            assert "prove_dead" in rest[closed:], key
            between = set(rest[:closed])
            assert not between & {"remove", "refit"}, key
            clipped = [step.label for step in plan.steps[:index] if "leads" in step.label]
            if "read_hands_off" in between and not restores_only(plan):
                assert actions[index - 1] == "attach_probes" or clipped, key
    assert blocks > 0


def restores_only(plan: RemovalPlan) -> bool:
    """True where the reading needs no probes on live parts: nothing is bared while the supply is on."""
    return not any(point.state == "live" for step in every(plan) for point in step.exposes) and not any(
        "leads" in step.label for step in plan.steps
    )


def test_isolating_is_named_for_what_it_is(plans: dict[tuple[str, str], RemovalPlan]) -> None:
    """The first time it is ``isolate``; ``isolate_again`` closes what a restored supply opened."""
    for key, plan in plans.items():
        actions = [step.action for step in every(plan)]
        for index, action in enumerate(actions):
            if action == "isolate_again":
                assert "restore_supply" in actions[:index], key
            if action == "isolate":
                assert "restore_supply" not in actions[:index], key


def test_licensed_work_says_so_at_the_step(desk: Desk) -> None:
    plan = ask(desk, "flb-316-k", "compressor")
    taken = ("remove", "compressor")
    opened = next(n for n, s in enumerate(plan.steps) if (s.action, s.component.id if s.component else "") == taken)
    assert any("icensed" in step.instruction for step in plan.steps[:opened])


def test_make_safe_isolates_everything_the_plan_bares(desk: Desk, plans: dict[tuple[str, str], RemovalPlan]) -> None:
    """Independent of the energy room: no path of closed links leads from a source to a bared point."""
    for (model, target), plan in plans.items():
        if not plan.make_safe.needed:
            continue
        circuit = appliance_of(desk, model).circuit
        opened = {device.id for device in plan.make_safe.devices}
        graph = nx.Graph()
        graph.add_nodes_from(circuit.points)
        for link in circuit.links.values():
            if link.kind is not LinkKind.EARTH_BOND and (link.device not in opened or link.changeover):
                graph.add_edge(link.start, link.end)
        fed: set[str] = set()
        for source in circuit.sources.values():
            for start in (*source.lines, *([source.neutral] if source.neutral else []), *source.feeds):
                if not source.derived_from:
                    fed |= nx.node_connected_component(graph, start)
        bared = {point.id for step in plan.steps if step.action == "remove" for point in step.exposes}
        assert not bared & fed, (model, target)


def test_single_use_parts_are_in_the_kit_and_at_the_refit(
    desk: Desk, plans: dict[tuple[str, str], RemovalPlan]
) -> None:
    named = 0
    for key, plan in plans.items():
        needed: dict[str, int] = {}
        for step in every(plan):
            for each in step.renew:
                needed[each.label] = needed.get(each.label, 0) + each.count
        named += len(needed)
        carried = {each.label: each.count for each in plan.kit.consumables}
        assert all(carried[label] >= count for label, count in needed.items()), key
    assert named > 0


def test_tools_of_every_step_are_in_the_kit(plans: dict[tuple[str, str], RemovalPlan]) -> None:
    for key, plan in plans.items():
        carried = {tool.id for tool in plan.kit.tools}
        assert {tool.id for step in every(plan) for tool in step.tools} <= carried, key


def test_cautions_come_worst_first_and_with_what_protects(plans: dict[tuple[str, str], RemovalPlan]) -> None:
    order = ["DANGER", "WARNING", "CAUTION", "NOTICE"]
    for plan in plans.values():
        assert plan.cautions
        for step in every(plan):
            ranks = [order.index(each.signal_word) for each in step.cautions]
            assert ranks == sorted(ranks)
            assert all(each.text and each.protection for each in step.cautions)


def test_alternatives_are_different_and_no_cheaper(plans: dict[tuple[str, str], RemovalPlan]) -> None:
    for key, plan in plans.items():
        minutes = [each.minutes for each in plan.alternatives]
        assert len(minutes) <= 3
        assert minutes == sorted(minutes), key
        assert all(each >= plan.minutes - 0.01 for each in minutes), key
        assert len({tuple(sorted(each.steps)) for each in plan.alternatives}) == len(minutes), key


def test_parts_already_off_are_not_taken_off_again(desk: Desk) -> None:
    plan = ask(desk, "tgd27-460-s", "drum-belt", off=("transition-duct", "back-panel"))
    taken = {step.component.id for step in every(plan) if step.action == "remove" and step.component}
    assert not taken & {"transition-duct", "back-panel"}
    assert any(each.id == "already-off" for each in plan.cautions)
    assert {ref.id for ref in plan.off} == {"transition-duct", "back-panel"}
    assert [ref.id for ref in plan.states] == ["pulled-out"]


def test_a_target_already_off_is_served_at_once_and_put_back(desk: Desk) -> None:
    asked = PlanRequest(reach=["back-panel"], off=["transition-duct", "back-panel"], states=["supply-isolated"])
    plan = desk.removal_plan("tgd27-460-s", asked)
    assert [step.action for step in plan.steps if step.action not in ("prove_dead", "release")] == ["replace"]
    assert [step.component.id for step in plan.refit if step.component] == ["back-panel", "transition-duct"]
    assert all(step.instruction for step in plan.refit)
    assert [part.id for part in plan.kit.parts] == ["back-panel"]


def test_shared_covers_are_counted_once(desk: Desk) -> None:
    one, other = (ask(desk, "tgd27-460-s", part).minutes for part in ("drum-belt", "idler-spring"))
    both = ask(desk, "tgd27-460-s", "drum-belt", "idler-spring").minutes
    assert both < one + other


def test_mutual_needs_are_no_circle(desk: Desk) -> None:
    """The fridge's fan and drip tray are each in the other's first way; together the cheapest plan is another one."""
    fan, tray = (ask(desk, "flb-316-t", part) for part in ("condenser-fan", "drip-tray"))
    both = ask(desk, "flb-316-t", "condenser-fan", "drip-tray")
    assert max(fan.minutes, tray.minutes) <= both.minutes <= fan.minutes + tray.minutes


def test_the_way_for_a_test_can_be_shorter(desk: Desk) -> None:
    assert ask(desk, "flb-316-k", "compressor:test").minutes < ask(desk, "flb-316-k", "compressor").minutes


def test_a_part_is_replaced_as_its_service_unit(desk: Desk) -> None:
    plan = ask(desk, "tgd27-410-k", "heater-relay")
    assert [part.id for part in plan.kit.parts] == ["control-board"]


def test_missing_tool_rules_a_way_out(desk: Desk) -> None:
    free = ask(desk, "flb-316-t", "condenser-fan")
    tools = [tool.id for tool in free.kit.tools]
    assert ask(desk, "flb-316-t", "condenser-fan", tools=tools).minutes == free.minutes
    with pytest.raises(TargetUnreachable) as caught:
        ask(desk, "flb-316-t", "condenser-fan", tools=["multimeter"])
    assert caught.value.missing_tools


@pytest.mark.parametrize(
    ("reach", "off", "tools", "error"),
    [
        (("none",), (), None, NotFound),
        (("drum-belt:polish",), (), None, BadRequest),
        (("drum-belt",), ("none",), None, NotFound),
        (("drum-belt",), (), ["none"], NotFound),
    ],
)
def test_bad_requests(
    desk: Desk, reach: tuple[str, ...], off: tuple[str, ...], tools: list[str] | None, error: type
) -> None:
    with pytest.raises(error):
        ask(desk, "tgd27-460-s", *reach, off=off, tools=tools)


def test_serial_is_asked_for_only_where_the_answer_depends_on_it(desk: Desk) -> None:
    from firstoff.errors import SerialNeeded

    same = desk.removal_plan("tgd27-410-k", PlanRequest(reach=["drum-belt"]))
    assert same.minutes == ask(desk, "tgd27-410-k", "drum-belt").minutes
    with pytest.raises(SerialNeeded) as caught:
        desk.removal_plan("tgd27-410-k", PlanRequest(reach=["idler-pulley"]))
    assert caught.value.ranges


def test_a_test_is_made_dead_wherever_it_can_be(desk: Desk) -> None:
    """29 CFR 1910.333(a)(1): live parts are de-energised before work unless that is not feasible."""
    dead = ask(desk, "tgd27-460-s", "heater-element:test")
    assert "read_hands_off" not in [step.action for step in every(dead)]
    assert dead.make_safe.needed


def test_a_live_test_has_its_leads_clipped_on_dead_and_the_guards_back(desk: Desk) -> None:
    plan = ask(desk, "tgd27-460-s", "heater-element:live-test")
    assert [target.purpose for target in plan.reach] == ["live-test"]
    actions = [step.action for step in plan.steps]
    clipped = next(n for n, step in enumerate(plan.steps) if step.label.startswith("clip the leads to the heater"))
    restored = actions.index("restore_supply")
    assert actions.index("prove_dead") < clipped < restored < actions.index("read_hands_off")
    taken = [step.component for step in plan.steps[:restored] if step.action == "remove"]
    assert taken
    assert taken == [step.component for step in reversed(plan.steps[:restored]) if step.action == "refit"]
    assert actions[-1] == "prove_dead"


@pytest.mark.parametrize(
    ("reach", "said"),
    [
        (("drum-belt:live-test",), "no live test"),  # there is none
        (("heater-element:test", "heater-element:live-test"), "both dead and live"),
    ],
)
def test_live_tests_that_cannot_be_asked_for(desk: Desk, reach: tuple[str, ...], said: str) -> None:
    with pytest.raises(BadRequest, match=said):
        ask(desk, "tgd27-460-s", *reach)


@pytest.mark.parametrize(
    ("model", "reach", "off"),
    [
        ("flb-316-k", "cabinet:inspect", ["water-tank", "main-board-lid"]),
        ("flb-316-t", "freezer-gasket", ["compressor-terminal-cover"]),
        ("tgd27-460-s", "drum-belt", ["back-panel", "transition-duct"]),
    ],
)
def test_no_work_beside_live_points_on_an_opened_machine(desk: Desk, model: str, reach: str, off: list[str]) -> None:
    """Parts are off and nothing says that the supply is: the plan begins by isolating, and says so."""
    plan = desk.removal_plan(model, PlanRequest(reach=[reach], off=off, serial="1"))
    assert [step.action for step in plan.steps[:2]] == ["isolate", "prove_dead"]
    (caution,) = (each for each in plan.cautions if each.id == "already-off")
    assert caution.signal_word == "DANGER"
    assert "Keep hands out" in caution.protection
    told = PlanRequest(reach=[reach], off=off, states=["supply-isolated"], serial="1")
    isolated = desk.removal_plan(model, told)
    assert isolated.steps[0].action == "prove_dead"
    (caution,) = (each for each in isolated.cautions if each.id == "already-off")
    assert caution.signal_word == "WARNING"


@pytest.mark.parametrize(
    ("reach", "off"),
    [("door-seal:test", ["heater-element", "door-switch"]), ("heater-element:live-test", ["front-panel"])],
)
def test_live_points_that_cannot_be_isolated_as_the_machine_stands(desk: Desk, reach: str, off: list[str]) -> None:
    """It stands in its place, where the plug is out of reach: refused until the supply is said to be off."""
    with pytest.raises(BadRequest) as caught:
        desk.removal_plan("tgd27-460-s", PlanRequest(reach=[reach], off=off, states=["in-place"], serial="1"))
    assert "Isolate" in caught.value.mend


def test_charge_on_points_bare_from_the_start_is_released_first(desk: Desk) -> None:
    asked = PlanRequest(reach=["cycling-thermistor"], off=["belt-switch"], states=["supply-isolated"], serial="1")
    plan = desk.removal_plan("tgd27-410-k", asked)
    actions = [step.action for step in plan.steps]
    assert actions[0] == "prove_dead"
    assert actions[1] == "release"


def test_every_exposed_point_agrees_with_the_devices_opened_so_far(
    desk: Desk, plans: dict[tuple[str, str], RemovalPlan]
) -> None:
    """networkx as oracle: a point shown isolated is not fed with only the devices open that steps have opened."""
    for (model, target), plan in plans.items():
        appliance = appliance_of(desk, model)
        circuit = appliance.circuit
        opened: set[str] = set()
        for step in every(plan):
            if step.action in ("isolate", "isolate_again"):
                opened = {device.id for device in plan.make_safe.devices if device.energy == "mains"}
            elif step.action == "restore_supply":
                opened = set()
            graph = nx.Graph()
            graph.add_nodes_from(circuit.points)
            for link in circuit.links.values():
                if link.kind is not LinkKind.EARTH_BOND and link.device not in opened:
                    graph.add_edge(link.start, link.end)
            fed: set[str] = set()
            for source in circuit.sources.values():
                if source.lines and not source.derived_from:
                    for start in (*source.lines, *([source.neutral] if source.neutral else [])):
                        fed |= nx.node_connected_component(graph, start)
            shown = {point.id for point in step.exposes if point.state == "isolated"}
            assert not shown & fed, (model, target, step.label)
