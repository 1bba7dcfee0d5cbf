from __future__ import annotations

from math import isclose, sqrt

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.appliance.circuit import (
    Circuit,
    LinkKind,
    Point,
)
from firstoff.energy import PointCondition, Situation, live_points
from support.circuits import (
    LOW,
    WATER,
    Case,
    Oracle,
    appliance,
    circuit,
    conducting,
    excused,
    isolators_of,
    link,
    mains,
    random_case,
    starts,
)

LIVE, UNKNOWN = PointCondition.LIVE, PointCondition.UNKNOWN
OFF, ISOLATED = PointCondition.OFF_NOT_ISOLATED, PointCondition.ISOLATED
CASES = st.builds(
    random_case, st.integers(0, 2**32), size=st.integers(2, 9), isolating=st.integers(1, 5),
    stray=st.sampled_from([0.0, 0.02, 0.1]),
)  # fmt: skip


def heater() -> Circuit:
    """Plug, fuse, a control contact either side of a heater, earthed chassis and door."""
    links = [
        link("plug-l", "contact", "l", "a", device="plug"),
        link("plug-n", "contact", "n", "z", device="plug"),
        link("fuse", "fuse", "a", "b"),
        link("relay-1", "contact", "b", "h1", device="relay"),
        link("heater", "load", "h1", "h2"),
        link("relay-2", "contact", "h2", "z", device="relay"),
        link("thermostat", "contact", "b", "t", device="thermostat"),
        link("lamp", "load", "t", "z"),
        link("bond-1", "earth-bond", "pe", "chassis"),
        link("bond-2", "earth-bond", "chassis", "door"),
    ]
    return circuit(links, [mains()], ["plug"], ["relay", "thermostat"], [Point("loose", "loose", "body")])


def one_pole(**source: object) -> Circuit:
    links = [
        link("line", "contact", "l", "a", device="line-switch"),
        link("heater", "load", "a", "z"),
        link("neutral", "contact", "z", "n", device="neutral-switch"),
    ]
    return circuit(links, [mains(**source)], ["line-switch", "neutral-switch"])


def split_phase() -> Circuit:
    links = [
        link("leg-1", "contact", "l1", "a", device="one"),
        link("leg-2", "contact", "l2", "b", device="two"),
        link("both", "contact", "l1", "c", device="both"),
        link("both-2", "contact", "l2", "d", device="both"),
        link("element", "load", "a", "b"),
        link("second", "load", "c", "d"),
    ]
    return circuit(links, [mains(lines=("l1", "l2"), neutral=None, volts=120.0)], ["one", "two", "both"])


def supply(*origin: str) -> Circuit:
    """A separated secondary whose primary is behind a plug and a relay, and a converter that does not separate."""
    links = [
        link("plug-l", "contact", "l", "a", device="plug"),
        link("plug-n", "contact", "n", "z", device="plug"),
        link("relay-1", "contact", "a", "b", device="relay"),
        link("relay-2", "contact", "z", "y", device="relay"),
        link("primary", "winding", "b", "y"),
        link("rail", "conductor", "s", "five"),
        link("sensor", "load", "five", "s0"),
        link("dropper", "converter", "a", "low"),
        link("floating", "winding", "f1", "f2"),
    ]
    low = mains("low", kind=LOW, lines=("s",), neutral="s0", protective_earth=None, volts=12.0, current="dc",
                derived_from=origin or ("b", "y"))  # fmt: skip
    points = [Point("five", "five", "body", volts=5.0, current="dc"), Point("low", "low", "body", volts=5.0)]
    return circuit(links, [mains(), low], ["plug"], ["relay"], points)


def situation(*opened: str, **more: object) -> Situation:
    fields = {key: frozenset(value) if isinstance(value, set) else value for key, value in more.items()}
    return Situation(opened=frozenset(opened), **fields)  # type: ignore[arg-type]


TABLE: dict[str, tuple[Circuit, Situation, dict[str, PointCondition]]] = {
    "nothing open: all but earth is live": (
        heater(), situation(),
        {"a": LIVE, "b": LIVE, "h1": LIVE, "h2": LIVE, "z": LIVE, "n": LIVE, "chassis": ISOLATED},
    ),
    "a control on both sides leaves off but not isolated": (
        heater(), situation("relay"), {"h1": OFF, "h2": OFF, "b": LIVE, "z": LIVE},
    ),
    "a control in the line alone leaves the far side live through the load": (
        heater(), situation("thermostat"), {"t": LIVE},
    ),
    "the plug isolates what is behind it, not the socket": (
        heater(), situation("plug"), {"a": ISOLATED, "h1": ISOLATED, "z": ISOLATED, "l": LIVE, "n": LIVE},
    ),
    "plug and controls": (heater(), situation("plug", "relay"), {"h1": ISOLATED, "h2": ISOLATED}),
    "a point in no link is unknown": (heater(), situation("plug"), {"loose": UNKNOWN}),
    "an open earth bond leaves metal unknown, and all behind it": (
        heater(), situation("plug", bonds_open={"bond-1"}), {"chassis": UNKNOWN, "door": UNKNOWN, "pe": ISOLATED},
    ),
    "an open bond further on": (
        heater(), situation("plug", bonds_open={"bond-2"}), {"chassis": ISOLATED, "door": UNKNOWN},
    ),
    "a connector undone with a part turns off what only it feeds, and isolates nothing": (
        heater(), situation(links_open={"fuse", "lamp", "relay-2"}), {"b": OFF, "h2": OFF, "a": LIVE},
    ),
    "a device that is not declared does not isolate": (
        circuit([link("x", "contact", "l", "a", device="ghost")], [mains()]), situation("ghost"), {"a": OFF},
    ),
    "only the neutral open: the far side of the load is live": (
        one_pole(), situation("neutral-switch"), {"a": LIVE, "z": LIVE},
    ),
    "only the line open: the neutral is live, polarised or not": (
        one_pole(polarised=False), situation("line-switch"), {"a": LIVE, "z": LIVE},
    ),
    "a polarised plug alone proves nothing": (
        one_pole(polarised=True), situation("line-switch"), {"a": LIVE, "z": LIVE},
    ),
    "both sides open": (one_pole(), situation("line-switch", "neutral-switch"), {"a": ISOLATED, "z": ISOLATED}),
    "a fixed supply with the neutral proved": (
        one_pole(polarised=True, fixed=True, earthed_neutral=True), situation("line-switch", neutral_proved=True),
        {"a": ISOLATED, "z": ISOLATED, "n": ISOLATED, "l": LIVE},
    ),
    "split phase: one open leg leaves the other": (
        split_phase(), situation("one"), {"a": LIVE, "b": LIVE, "c": LIVE},
    ),
    "split phase: both legs": (split_phase(), situation("one", "two"), {"a": ISOLATED, "b": ISOLATED, "c": LIVE}),
    "split phase: poles that open together": (split_phase(), situation("both"), {"c": ISOLATED, "d": ISOLATED}),
    "a changeover throw never counts as open": (
        circuit(
            [
                link("one", "contact", "l", "a", device="switch", changeover=True),
                link("two", "contact", "l", "b", device="switch", changeover=True),
            ],
            [mains()], ["switch"],
        ),
        situation("switch"), {"a": LIVE, "b": LIVE},
    ),
    "a separated secondary lives with its primary": (supply(), situation(), {"s": LIVE, "five": LIVE, "s0": LIVE}),
    "a separated secondary is off with its primary": (supply(), situation("relay"), {"b": OFF, "s": OFF, "five": OFF}),
    "a separated secondary is isolated with its primary": (
        supply(), situation("plug"), {"s": ISOLATED, "five": ISOLATED, "s0": ISOLATED},
    ),
    "a secondary takes the worst of its primary points": (supply("b", "a"), situation("relay"), {"b": OFF, "s": LIVE}),
    "a secondary of an unknown primary is unknown": (
        supply("f1"), situation("plug"), {"f1": UNKNOWN, "s": UNKNOWN, "five": UNKNOWN},
    ),
    "a secondary of a primary that is not described is unknown, off or not": (
        supply("b", "nowhere"), situation("relay"), {"s": UNKNOWN, "five": UNKNOWN, "b": OFF},
    ),
    "what is not declared separated follows the mains": (supply(), situation("relay"), {"low": LIVE}),
    "a neutral drawn as bonded to earth stays live": (
        circuit([link("bond", "earth-bond", "n", "pe"), link("x", "load", "n", "a")], [mains()]),
        situation(), {"n": LIVE, "a": LIVE, "pe": ISOLATED},
    ),
    "paths end at protective earth": (
        circuit(
            [
                link("leak", "capacitor", "l", "m", volts=230.0),
                link("bond", "earth-bond", "pe", "m"),
                link("onward", "conductor", "m", "x"),
                link("only-way", "contact", "n", "x", device="plug"),
            ],
            [mains()], ["plug"],
        ),
        situation("plug"), {"m": ISOLATED, "x": ISOLATED},
    ),
    "with its bond open the same metal is live through the capacitor": (
        circuit([link("leak", "capacitor", "l", "m", volts=230.0), link("bond", "earth-bond", "pe", "m")], [mains()]),
        situation(bonds_open={"bond"}, released={"leak"}), {"m": LIVE},
    ),
    "a secondary may have its return on earth": (
        circuit(
            [link("bond", "earth-bond", "pe", "s0"), link("rail", "load", "s", "x")],
            [mains(), mains("low", kind=LOW, lines=("s",), neutral="s0", volts=12.0, derived_from=("l",))],
        ),
        situation(), {"s0": ISOLATED, "x": LIVE},
    ),
    "protective earth does not stop water": (
        circuit(
            [
                link("tap", "contact", "w", "inlet", device="stop-tap"),
                link("hose", "pipe", "inlet", "valve"),
                link("coil", "contact", "valve", "spout", device="inlet-valve"),
                link("bond", "earth-bond", "pe", "valve"),
            ],
            [mains(), mains("tap", kind=WATER, lines=(), neutral=None, feeds=("w",), volts=None, current=None)],
            ["stop-tap"], ["inlet-valve"],
        ),
        situation("inlet-valve"), {"inlet": LIVE, "valve": LIVE, "spout": OFF},
    ),
}  # fmt: skip


@pytest.mark.parametrize("row", TABLE, ids=lambda row: row)
def test_states(row: str) -> None:
    of, where, expected = TABLE[row]
    states = live_points(of, where)
    assert {point: states[point].state for point in expected} == expected
    assert states == live_points(appliance(of), where)


def charged(**more: object) -> Circuit:
    links = [
        link("plug-l", "contact", "l", "a", device="plug"),
        link("plug-n", "contact", "n", "z", device="plug"),
        link("winding", "winding", "a", "c"),
        link("run", "capacitor", "c", "z", "motor", **{"volts": 230.0, "current": "ac", **more}),
        link("relay", "contact", "c", "d", device="relay"),
    ]
    return circuit(links, [mains()], ["plug"], ["relay"])


PEAK = sqrt(2.0) * 230.0 * 1.1


@pytest.mark.parametrize(
    ("opened", "more", "expected"),
    [
        # charge is there whatever the mains does, and passes windings and closed contacts
        ({"plug"}, {}, {"c": LIVE, "z": LIVE, "a": LIVE, "d": LIVE}),
        # an open control holds it back no better than the mains
        ({"plug", "relay"}, {}, {"c": LIVE, "d": OFF}),
        # released and proved
        ({"plug"}, {"released": {"run"}}, {"c": ISOLATED, "z": ISOLATED, "a": ISOLATED, "d": ISOLATED}),
        # releasing while the mains is on changes nothing
        (set(), {"released": {"run"}}, {"c": LIVE, "d": LIVE}),
        # a capacitor that was taken out keeps its charge
        ({"plug"}, {"links_open": {"run"}}, {"c": LIVE, "z": LIVE}),
        # an open isolating device does hold charge back
        ({"plug"}, {}, {"l": LIVE, "n": LIVE}),
    ],
)
def test_stored_charge(opened: set[str], more: dict[str, set[str]], expected: dict[str, PointCondition]) -> None:
    states = live_points(charged(), situation(*opened, **more))
    assert {point: states[point].state for point in expected} == expected


def test_charge_says_its_voltage_its_source_and_its_path() -> None:
    found = live_points(charged(), situation("plug"))["a"]
    assert isclose(found.volts or 0.0, PEAK)
    assert (found.current, found.source, found.fed_by, found.through_load) == ("dc", "run", ("c", "winding", "a"), True)


def test_a_secondary_lives_on_charge_at_its_primary() -> None:
    of = circuit(
        [link("bus", "capacitor", "p", "q", volts=325.0, current="dc"), link("plug", "contact", "l", "p", device="d")],
        [mains(neutral=None), mains("low", kind=LOW, lines=("s",), neutral="s0", volts=12.0, derived_from=("p",))],
        ["d"],
    )
    assert live_points(of, situation("d"))["s"].state is LIVE
    assert live_points(of, situation("d", released={"bus"}))["s"].state is ISOLATED


VOLTS: dict[str, tuple[Circuit, Situation, str, tuple[float | None, str | None]]] = {
    "the source's own": (heater(), situation(), "h1", (230.0, "ac")),
    "off but not isolated too": (heater(), situation("relay"), "h1", (230.0, "ac")),
    "isolated: none": (heater(), situation("plug"), "h1", (None, None)),
    "a secondary's own": (supply(), situation(), "s", (12.0, "dc")),
    "never below the source, though declared lower": (supply(), situation(), "low", (230.0, "ac")),
    "declared higher, as on a rectified bus": (
        circuit([link("bridge", "semiconductor", "l", "bus")], [mains()],
                points=[Point("bus", "bus", "body", volts=325.0, current="dc")]),
        situation(), "bus", (325.0, "dc"),
    ),
    "the highest of several sources": (
        circuit([link("x", "load", "l", "m")], [mains(), mains("other", lines=("m",), neutral=None, volts=400.0)]),
        situation(), "l", (400.0, "ac"),
    ),
    "a source without a voltage leaves it unsaid": (
        circuit([link("x", "load", "l", "m")], [mains(), mains("other", lines=("m",), neutral=None, volts=None)]),
        situation(), "l", (None, "ac"),
    ),
    "mains is shown where its peak is that of the charge": (charged(), situation(), "c", (230.0, "ac")),
    "charge is shown where its peak is higher": (
        charged(volts=400.0, current="dc"), situation(), "c", (400.0 * 1.1, "dc"),
    ),
    "the declared voltage is shown where its peak is higher than that of the charge": (
        circuit([link("d", "semiconductor", "l", "p"), link("c", "capacitor", "p", "q", volts=380.0, current="dc")],
                [mains()], points=[Point("p", "p", "body", volts=400.0, current="dc")]),
        situation(), "p", (400.0, "dc"),
    ),
    "charge of a voltage that is not stated": (charged(volts=None), situation("plug"), "c", (None, None)),
    "water has none": (
        circuit([link("x", "pipe", "w", "y")],
                [mains(kind=WATER, lines=(), neutral=None, feeds=("w",), volts=None, current=None)]),
        situation(), "y", (None, None),
    ),
}  # fmt: skip


@pytest.mark.parametrize("row", VOLTS, ids=lambda row: row)
def test_voltages(row: str) -> None:
    of, where, point, (volts, current) = VOLTS[row]
    found = live_points(of, where)[point]
    assert (found.volts is None) == (volts is None)
    assert volts is None or found.volts is None or isclose(found.volts, volts)
    assert found.current == (None if volts is None else current)


PATHS: dict[str, tuple[Circuit, Situation, str, tuple[tuple[str, ...], bool, str | None]]] = {
    "a source feeds its own point": (heater(), situation(), "l", (("l",), False, "mains")),
    "the shortest way": (heater(), situation(), "b", (("l", "plug-l", "a", "fuse", "b"), False, "mains")),
    "through a load where there is no other way": (
        heater(), situation("thermostat"), "t", (("n", "plug-n", "z", "lamp", "t"), True, "mains"),
    ),
    "a longer way without a load before a shorter one with": (
        circuit(
            [link("lamp", "load", "l", "x"), link("w1", "conductor", "l", "y"), link("w2", "conductor", "y", "x")],
            [mains()],
        ),
        situation(), "x", (("l", "w1", "y", "w2", "x"), False, "mains"),
    ),
    "a converter is no load": (
        circuit([link("drop", "converter", "l", "x")], [mains()]), situation(), "x",
        (("l", "drop", "x"), False, "mains"),
    ),
    "off but not isolated shows the way by the control": (
        circuit([link("c", "contact", "l", "x", device="button")], [mains()], control=["button"]),
        situation("button"), "x", (("l", "c", "x"), False, "mains"),
    ),
    "a secondary starts at the secondary": (supply(), situation(), "five", (("s", "rail", "five"), False, "low")),
    "the mains through a load before charge without one": (
        circuit([link("lamp", "load", "l", "x"), link("cap", "capacitor", "x", "y", volts=230.0)], [mains()]),
        situation(), "x", (("l", "lamp", "x"), True, "mains"),
    ),
    "isolated shows nothing": (heater(), situation("plug"), "a", ((), False, None)),
    "unknown shows nothing": (heater(), situation(), "loose", ((), False, None)),
}  # fmt: skip


@pytest.mark.parametrize("row", PATHS, ids=lambda row: row)
def test_paths(row: str) -> None:
    of, where, point, (path, through_load, source) = PATHS[row]
    found = live_points(of, where)[point]
    assert (found.fed_by, found.through_load, found.source) == (path, through_load, source)


@settings(max_examples=600, deadline=None)
@given(CASES)
def test_states_equal_those_of_the_oracle(case: Case) -> None:
    expected = Oracle(case.circuit, case.situation).states()
    found = live_points(case.circuit, case.situation)
    assert {point: found[point].state for point in expected} == expected


@settings(max_examples=200, deadline=None)
@given(CASES)
def test_paths_are_closed_and_shortest(case: Case) -> None:
    of, where = case.circuit, case.situation
    oracle = Oracle(of, where)
    loads = {LinkKind.LOAD, LinkKind.WINDING, LinkKind.CAPACITOR, LinkKind.SEMICONDUCTOR}
    for point, state in live_points(of, where).items():
        if state.state not in (LIVE, OFF):
            assert (state.fed_by, state.source, state.volts, state.through_load) == ((), None, None, False)
            continue
        opened = where.opened if state.state is LIVE else where.opened & isolators_of(of)
        graph = conducting(of, opened, where.links_open if state.state is LIVE else ())
        wet = state.source in oracle.wet()
        graph.remove_nodes_from(set() if wet else oracle.earth())
        path, links = state.fed_by[::2], state.fed_by[1::2]
        assert path[-1] == point
        assert all(graph.has_edge(a, b, key=k) for a, b, k in zip(path[:-1], path[1:], links, strict=True))
        assert any(of.links[each].kind in loads for each in links) == state.through_load
        source = of.sources.get(state.source or "")
        feeding = starts(source) if source else {of.links[state.source or ""].start, of.links[state.source or ""].end}
        assert path[0] in feeding
        if not state.through_load:
            graph.remove_edges_from(
                [(a, b, k) for a, b, k, kind in graph.edges(keys=True, data="kind") if kind in loads]
            )
        if source and source.id in excused(of, where.opened, where.neutral_proved):
            feeding.discard(source.neutral or "")
        lengths = nx.multi_source_dijkstra_path_length(graph, feeding & set(graph), weight=None)
        assert lengths[point] == len(links)


@settings(max_examples=250, deadline=None)
@given(CASES, st.data())
def test_opening_an_isolating_device_never_makes_anything_live(case: Case, data: st.DataObject) -> None:
    device = data.draw(st.sampled_from(sorted(isolators_of(case.circuit))))
    more = Situation(
        opened=case.situation.opened | {device},
        links_open=case.situation.links_open,
        bonds_open=case.situation.bonds_open,
        released=case.situation.released,
        neutral_proved=case.situation.neutral_proved,
    )
    before, after = live_points(case.circuit, case.situation), live_points(case.circuit, more)
    worst = {LIVE: 3, UNKNOWN: 2, OFF: 1, ISOLATED: 0}
    assert all(worst[after[point].state] <= worst[before[point].state] for point in before)
