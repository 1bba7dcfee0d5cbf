from __future__ import annotations

from dataclasses import replace
from math import fsum

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.appliance.circuit import Circuit
from firstoff.appliance.terms import Concept
from firstoff.energy import IsolationSet, PointCondition, Situation, isolation, live_points
from support.circuits import LOW, WATER, Case, Oracle, appliance, circuit, link, mains, random_case

CASES = st.builds(
    random_case, st.integers(0, 2**32), size=st.integers(2, 8), isolating=st.integers(1, 5),
    bare=st.sampled_from([0.0, 0.3]), stray=st.sampled_from([0.0, 0.05]),
)  # fmt: skip
PROVABLE = {"fixed": True, "earthed_neutral": True, "polarised": True}


def machine(**source: object) -> Circuit:
    """Plug and inner switch in line and neutral, a heater with a capacitor, a tap, an interlock."""
    links = [
        link("plug-l", "contact", "l", "a", device="plug"),
        link("plug-n", "contact", "n", "z", device="plug"),
        link("switch-l", "contact", "a", "b", device="switch"),
        link("switch-n", "contact", "z", "y", device="switch"),
        link("interlock-1", "contact", "b", "h", device="interlock"),
        link("heater", "load", "h", "y"),
        link("filter", "capacitor", "a", "z", "board", volts=230.0, current="ac", release="Discharge the filter."),
        link("run", "capacitor", "h", "y", "motor", volts=230.0, current="ac"),
        link("tap-1", "contact", "w", "inlet", device="stop-tap"),
        link("valve-1", "contact", "inlet", "spout", device="inlet-valve"),
        link("bond", "earth-bond", "pe", "chassis"),
        link("coil", "winding", "f1", "f2"),
    ]
    tap = mains("tap", kind=WATER, lines=(), neutral=None, protective_earth=None, feeds=("w",), volts=None)
    minutes = {"plug": 2.0, "switch": 1.0, "stop-tap": 3.0}
    return circuit(
        links, [mains(**source), tap], ["plug", "switch", "stop-tap"], ["interlock", "inlet-valve"], minutes=minutes
    )


def opened(*devices: str, **more: object) -> Situation:
    fields = {key: frozenset(value) if isinstance(value, set) else value for key, value in more.items()}
    return Situation(opened=frozenset(devices), **fields)  # type: ignore[arg-type]


def short(found: object) -> list[tuple[str, tuple[str, ...], tuple[str, ...]]]:
    return [(each.energy, each.devices, tuple(r.id for r in each.release)) for each in found]  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("touch", "situation", "sets"),
    [
        # the cheaper set first; the filter's charge reaches past neither the plug nor the open switch
        ({"b"}, opened(), [("mains", ("switch",), ("run",)), ("mains", ("plug",), ("filter", "run"))]),
        # an open interlock is no isolation, and no obstacle to charge that may pass when it closes
        ({"b"}, opened("interlock"), [("mains", ("switch",), ("run",)), ("mains", ("plug",), ("filter", "run"))]),
        # before the switch only the plug does
        ({"a"}, opened(), [("mains", ("plug",), ("filter", "run"))]),
        ({"a", "h"}, opened(), [("mains", ("plug",), ("filter", "run"))]),
        # charge that was released is not asked for again
        ({"a"}, opened(released={"filter", "run"}), [("mains", ("plug",), ())]),
        # the plug is out: charge alone
        ({"a"}, opened("plug"), [("stored-charge", (), ("filter", "run"))]),
        ({"a"}, opened("plug", released={"filter", "run"}), []),
        # each energy by itself
        (
            {"b", "spout"},
            opened("interlock", "inlet-valve"),
            [
                ("mains", ("switch",), ("run",)),
                ("mains", ("plug",), ("filter", "run")),
                ("water", ("stop-tap",), ()),
            ],
        ),
        ({"inlet"}, opened(), [("water", ("stop-tap",), ())]),
        # earthed metal, and nothing at all
        ({"chassis"}, opened(), []),
        (set(), opened(), []),
    ],
)
def test_sets(touch: set[str], situation: Situation, sets: list) -> None:
    found = isolation(machine(), touch, situation)
    assert short(found.sets) == sets
    assert found.upstream_only == ()
    assert found == isolation(appliance(machine()), touch, situation)


@pytest.mark.parametrize(
    ("touch", "situation", "upstream", "unknown"),
    [
        ({"l"}, opened(), ("mains",), ()),
        ({"w", "n"}, opened("plug"), ("mains", "water"), ()),
        ({"f1", "absent", "b"}, opened(), (), ("absent", "f1")),
        ({"chassis"}, opened(bonds_open={"bond"}), (), ("chassis",)),
        ({"chassis"}, opened(), (), ()),
    ],
)
def test_upstream_and_unknown(touch: set[str], situation: Situation, upstream: tuple, unknown: tuple) -> None:
    found = isolation(machine(), touch, situation)
    assert (found.upstream_only, found.unknown) == (upstream, unknown)


def test_unbonded_metal_that_is_live_is_isolated_and_still_unknown() -> None:
    links = [
        link("plug-l", "contact", "l", "a", device="plug"),
        link("leak", "capacitor", "a", "m", volts=230.0),
        link("bond", "earth-bond", "pe", "m"),
    ]
    of = circuit(links, [mains(neutral=None)], ["plug"])
    found = isolation(of, {"m"}, opened(bonds_open={"bond"}))
    assert short(found.sets) == [("mains", ("plug",), ("leak",))]
    assert found.unknown == ("m",)


def test_what_a_secondary_of_doubtful_primary_feeds_is_unknown() -> None:
    low = mains("low", kind=LOW, lines=("s",), neutral=None, protective_earth=None, derived_from=("absent",))
    of = circuit([link("k", "conductor", "s", "t")], [mains(), low])
    assert isolation(of, {"t"}, opened()).unknown == ("t",)


@pytest.mark.parametrize(
    ("bared", "sets"),
    [
        # the switch may only be reached once the plug is out; then the plug alone is smaller
        ({"switch": {"a"}}, [("plug",)]),
        # what is bared is dead anyway
        ({"switch": {"chassis"}}, [("switch",), ("plug",)]),
        # unknown, or not in the circuit: never
        ({"switch": {"f1"}}, [("plug",)]),
        ({"switch": {"absent"}}, [("plug",)]),
        ({"plug": {"f1"}, "switch": {"absent"}}, []),
    ],
)
def test_what_is_bared_on_the_way(bared: dict[str, set[str]], sets: list[tuple[str, ...]]) -> None:
    situation = opened(released={"filter", "run"})
    found = isolation(machine(), {"b"}, situation, {key: frozenset(value) for key, value in bared.items()})
    assert [each.devices for each in found.sets if each.energy == "mains"] == sets
    assert found.upstream_only == (() if sets else ("mains",))


def two_supplies() -> Circuit:
    links = [
        link("first", "contact", "l", "a", device="one"),
        link("second", "contact", "m", "a", device="two"),
        link("lid", "contact", "l", "cover", device="helper"),
    ]
    sources = [mains(neutral=None), mains("other", lines=("m",), neutral=None)]
    return circuit(links, sources, ["one", "two", "helper"])


@pytest.mark.parametrize(
    ("bared", "cost", "orders"),
    [
        # cheapest first
        ({}, {"one": 2.0, "two": 1.0}, [("two", "one")]),
        ({}, {"one": 1.0, "two": 2.0}, [("one", "two")]),
        # equal: by name
        ({}, {}, [("one", "two")]),
        # a device that opens nothing to the touched point, but makes the way to another safe, comes first
        ({"two": {"cover"}}, {"two": 0.0}, [("helper", "two", "one")]),
        # both need the other first: nothing can be carried out
        ({"one": {"m"}, "two": {"l"}}, {}, []),
    ],
)
def test_order(bared: dict[str, set[str]], cost: dict[str, float], orders: list[tuple[str, ...]]) -> None:
    ways = {key: frozenset(value) for key, value in bared.items()}
    found = isolation(two_supplies(), {"a"}, opened(), ways, cost)
    assert [each.devices for each in found.sets] == orders


def test_charge_on_the_way_bars_a_device_until_it_is_released() -> None:
    ways = {"switch": frozenset({"y"}), "plug": frozenset({"f1"})}
    assert isolation(machine(), {"b"}, opened(), ways).upstream_only == ("mains",)


def one_pole(**source: object) -> Circuit:
    links = [
        link("pole", "contact", "l", "a", device="breaker"),
        link("heater", "load", "a", "b"),
        link("wire", "conductor", "b", "n"),
    ]
    return circuit(links, [mains(**source)], ["breaker"])


def test_a_neutral_that_is_not_switched_leaves_only_upstream_unless_it_can_be_proved() -> None:
    found = isolation(one_pole(), {"b"}, opened())
    assert (found.sets, found.upstream_only, found.if_neutral_proved) == ((), ("mains",), ())
    found = isolation(one_pole(**PROVABLE), {"b"}, opened())
    assert (found.sets, found.upstream_only) == ((), ("mains",))
    assert short(found.if_neutral_proved) == [("mains", ("breaker",), ())]
    assert any(step.points[:1] == ("n",) for step in found.prove_dead)
    found = isolation(one_pole(**PROVABLE), {"b"}, opened(neutral_proved=True))
    assert short(found.sets) == [("mains", ("breaker",), ())]
    assert (found.upstream_only, found.if_neutral_proved) == ((), ())
    assert any(step.points[:1] == ("n",) for step in found.prove_dead)


def test_a_proof_yet_to_come_opens_no_way() -> None:
    """A point of the neutral is bared to reach the second device: before the proof it counts as live."""
    links = [
        link("pole", "contact", "l", "a", device="breaker"),
        link("pole-2", "contact", "l2", "c", device="second"),
        link("wire", "conductor", "n", "b"),
        link("heater", "load", "a", "b"),
        link("lamp", "load", "c", "d"),
    ]
    of = circuit(links, [mains(lines=("l", "l2"), **PROVABLE)], ["breaker", "second"])
    free = isolation(of, {"b"}, opened())
    assert short(free.if_neutral_proved) == [("mains", ("breaker", "second"), ())]
    barred = isolation(of, {"b"}, opened(), {"second": frozenset({"b"})})
    assert (barred.sets, barred.if_neutral_proved, barred.upstream_only) == ((), (), ("mains",))


def test_every_kind_of_root_source_has_its_own_sets() -> None:
    battery = mains("battery", kind=LOW, lines=("m",), neutral=None, volts=12.0, current="dc")
    of = replace(two_supplies(), sources={"mains": mains(neutral=None), "battery": battery})
    assert short(isolation(of, {"a"}, opened()).sets) == [
        ("mains", ("one",), ()),
        ("extra-low-voltage", ("two",), ()),
    ]


def test_a_secondary_is_isolated_by_way_of_its_primary() -> None:
    low = mains("low", kind=LOW, lines=("s",), neutral="s0", protective_earth=None, derived_from=("h",))
    of = machine()
    of = replace(of, sources={**of.sources, "low": low})
    found = isolation(of, {"s"}, opened(released={"filter", "run"}))
    assert short(found.sets) == [("mains", ("switch",), ()), ("mains", ("plug",), ())]


def test_what_a_component_holds_is_released_with_its_energy() -> None:
    of = machine()
    trapped = mains("trapped", kind=WATER, lines=(), neutral=None, held_by="sump", release="Drain the sump.")
    spring = mains("spring", kind=Concept("spring", "spring"), lines=(), neutral=None, held_by="door")
    of = replace(of, sources={**of.sources, "trapped": trapped, "spring": spring})
    found = isolation(of, {"inlet"}, opened(), components=["sump", "door"])
    assert short(found.sets) == [("water", ("stop-tap",), ("trapped",)), ("spring", (), ("spring",))]
    assert isolation(of, {"inlet"}, opened()).sets[0].release == ()
    done = opened("stop-tap", released={"trapped", "spring"})
    assert isolation(of, {"inlet"}, done, components=["sump", "door"]).sets == ()


@settings(max_examples=500, deadline=None)
@given(CASES)
def test_sets_equal_trying_every_set_and_every_order(case: Case) -> None:
    oracle = Oracle(case.circuit, case.situation)
    found = isolation(case.circuit, case.touch, case.situation, case.bared, case.cost)
    kinds = {each.kind.id for each in case.circuit.sources.values() if not each.derived_from and not each.held_by}
    for kind in kinds:
        expected = oracle.isolation_sets(kind, case.touch, case.bared)
        ours = [each.devices for each in found.sets if each.energy == kind and each.devices]
        assert {frozenset(each) for each in ours} == (expected or set())
        assert len(ours) == len(expected or ())
        assert (kind in found.upstream_only) == (expected == set())
        costs = [fsum(case.cost[device] for device in each) for each in ours]
        assert costs == sorted(costs)
    assert set(found.unknown) == {point for point in case.touch if point in oracle.doubtful()}


@settings(max_examples=500, deadline=None)
@given(CASES, st.integers(0, 9))
def test_one_set_of_each_energy_and_the_release_leave_nothing_to_touch_and_less_does_not(case: Case, pick: int) -> None:
    of, where = case.circuit, case.situation
    found = isolation(of, case.touch, where)
    if found.upstream_only:
        return
    by_energy: dict[str, list[IsolationSet]] = {}
    for each in found.sets:
        by_energy.setdefault(each.energy, []).append(each)
    chosen = [sets[pick % len(sets)] for sets in by_energy.values()]
    after = replace(
        where,
        opened=where.opened.union(*(each.devices for each in chosen)),
        released=where.released | {release.id for each in chosen for release in each.release},
    )
    touched = sorted(case.touch - set(found.unknown))
    assert all(live_points(of, after)[point].state is PointCondition.ISOLATED for point in touched)
    for each in found.sets:
        for device in each.devices:
            exposed = Oracle(of, where).opening(set(each.devices) - {device})
            assert case.touch & exposed.reached(exposed.roots(each.energy), controls_closed=True)


@settings(max_examples=300, deadline=None)
@given(CASES)
def test_every_order_bares_only_what_is_isolated(case: Case) -> None:
    of, where = case.circuit, case.situation
    now = frozenset(Oracle(of, where)._excused())
    for each in isolation(of, case.touch, where, case.bared, case.cost).sets:
        for place, device in enumerate(each.devices):
            states = Oracle(of, where).opening(each.devices[:place], now).states()
            bared = case.bared.get(device, frozenset())
            assert all(states[point] is PointCondition.ISOLATED for point in bared)


@settings(max_examples=300, deadline=None)
@given(CASES)
def test_what_a_proof_of_neutral_would_allow_holds_once_it_is_given_and_not_before(case: Case) -> None:
    of, where = case.circuit, replace(case.situation, neutral_proved=False)
    found = isolation(of, case.touch, where, case.bared, case.cost)
    for each in found.if_neutral_proved:
        assert each.energy in found.upstream_only
        unproved = Oracle(of, where).opening(each.devices)
        assert case.touch & unproved.reached(unproved.roots(each.energy), controls_closed=True) or case.bared
        proved = Oracle(of, replace(where, neutral_proved=True)).opening(each.devices)
        assert not case.touch & proved.reached(proved.roots(each.energy), controls_closed=True)
        for place, device in enumerate(each.devices):
            states = Oracle(of, where).opening(each.devices[:place]).states()
            assert all(states[point] is PointCondition.ISOLATED for point in case.bared.get(device, ()))
