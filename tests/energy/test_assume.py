"""Assumed faults: what each makes of a circuit, and the worst that a single one of them makes of every point."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.appliance.circuit import Circuit, LinkKind
from firstoff.energy import PointCondition, Situation, live_points
from firstoff.energy.assume import AssumedKind, Assumption, assumed, parsed, single_faults
from firstoff.energy.errors import Contradiction, UnknownSubject
from firstoff.energy.worst import BADNESS, points_under, worst_points
from support.circuits import Case, Oracle, circuit, link, mains, random_case

LIVE, UNKNOWN = PointCondition.LIVE, PointCondition.UNKNOWN
OFF, ISOLATED = PointCondition.OFF_NOT_ISOLATED, PointCondition.ISOLATED
CASES = st.builds(random_case, st.integers(0, 2**32), size=st.integers(2, 9), isolating=st.integers(1, 4))


def heater(**source: object) -> Circuit:
    """A two-pole switch in fixed wiring, or one for the line alone; a relay, a heater in earthed metal, a sensor."""
    links = [
        link("switch-l", "contact", "l", "a", device="switch"),
        link("breaker-l", "contact", "a", "b", device="breaker"),
        link("breaker-n", "contact", "n", "z", device="breaker"),
        link("relay-pole", "contact", "b", "h1", device="relay"),
        link("heater", "load", "h1", "h2", ohms=26.45, ohm_tolerance=0.05),
        link("wire", "conductor", "h2", "z"),
        link("bond", "earth-bond", "pe", "case"),
        link("door-bond", "earth-bond", "case", "door", component="door"),
    ]
    return circuit(links, [mains(**source)], ["switch", "breaker"], ["relay"])


FIXED = {"fixed": True, "polarised": True, "earthed_neutral": True}

#: assumptions, devices opened, neutral proved dead, points and what they are then
TABLE: dict[str, tuple[list[str], set[str], bool, dict[str, PointCondition]]] = {
    "none: the far side of the heater is live": ([], {"relay"}, False, {"h1": LIVE, "case": ISOLATED}),
    "a welded relay": (["welded:relay"], {"relay", "switch"}, True, {"h1": ISOLATED}),
    "a welded breaker": (["welded:breaker"], {"breaker"}, False, {"b": LIVE, "h2": LIVE}),
    "one welded pole of the breaker": (["welded:breaker-l"], {"breaker"}, False, {"b": LIVE, "z": LIVE}),
    "the line open and neutral proved": ([], {"switch"}, True, {"b": ISOLATED, "h2": ISOLATED, "l": LIVE}),
    "swapped: the line switch opens the neutral": (["swapped:mains"], {"switch"}, True, {"h2": LIVE, "h1": LIVE}),
    "a broken neutral cannot be proved dead": (["open-neutral"], {"switch"}, True, {"h2": LIVE}),
    "a lost earth leaves metal unknown": (["lost-earth"], {"breaker"}, False, {"case": UNKNOWN, "h1": ISOLATED}),
    "heater to earthed metal: the metal stays on earth": (["earthed:heater"], set(), False, {"case": ISOLATED}),
    "heater to metal whose earth is lost": (
        ["earthed:heater", "lost-earth"], set(), False, {"case": LIVE, "door": LIVE, "pe": LIVE},
    ),
    "bonded metal stays together without earth": (
        ["earthed:heater", "lost-earth", "open:bond"], set(), False, {"case": LIVE, "door": LIVE, "pe": UNKNOWN},
    ),
    "the same behind an open breaker: metal without earth is never safe": (
        ["earthed:heater", "lost-earth"], {"breaker"}, False, {"case": UNKNOWN, "h1": ISOLATED},
    ),
    "an open link conducts no more": (["open:wire"], {"switch"}, False, {"h2": OFF, "z": LIVE}),
    "an open bond": (["open:bond"], {"breaker"}, False, {"case": UNKNOWN}),
    "a bad joint conducts": (["high-resistance:wire"], {"switch"}, False, {"h2": LIVE}),
    "a shorted heater": (["shorted:heater"], {"relay"}, False, {"h1": LIVE}),
}  # fmt: skip


@pytest.mark.parametrize(("faults", "opened", "proved", "expected"), TABLE.values(), ids=TABLE)
def test_liveness_under_faults(
    faults: list[str], opened: set[str], proved: bool, expected: dict[str, PointCondition]
) -> None:
    of = heater(**FIXED)
    situation = Situation(frozenset(opened), neutral_proved=proved)
    states = points_under(of, situation, [parsed(text, of) for text in faults])
    assert {point: states[point].state for point in expected} == expected
    assert states.keys() == of.points.keys()


@pytest.mark.parametrize(
    ("faults", "says"),
    [
        (["open:heater", "shorted:heater"], "cannot hold together"),
        (["welded:relay", "open:relay-pole"], "cannot hold together"),
        (["swapped", "open-neutral"], "cannot hold together"),
        (["open"], "write open:NAME"),
    ],
)
def test_contradictions(faults: list[str], says: str) -> None:
    of = heater()
    with pytest.raises(Contradiction, match=says):
        assumed(of, [parsed(text, of) for text in faults])


@pytest.mark.parametrize(
    ("text", "what", "among"),
    [
        ("melted:heater", "fault to assume", "welded"),
        ("open:heatr", "link", "heater"),
        ("welded:heater", "device or contact", "relay"),
        ("shorted:bond", "link", "wire"),
        ("swapped:low", "supply with a neutral", "mains"),
    ],
)
def test_unknown_subjects_name_what_there_is(text: str, what: str, among: str) -> None:
    with pytest.raises(UnknownSubject) as caught:
        parsed(text, heater())
    assert caught.value.what == what
    assert among in caught.value.candidates


def test_a_supply_is_named_where_there_are_several() -> None:
    of = heater()
    two = circuit(of.links.values(), [mains(), mains("solar", lines=("s",), neutral="s0")], ["switch", "breaker"])
    with pytest.raises(Contradiction, match="write lost-earth:NAME"):
        parsed("lost-earth", two)


def test_metal_that_is_not_there_cannot_be_touched() -> None:
    of = circuit([link("load", "load", "l", "n")], [mains(protective_earth=None)])
    with pytest.raises(Contradiction, match="no earthed metal"):
        assumed(of, [Assumption(AssumedKind.EARTHED, "load")])


def test_single_faults_leave_out_what_cannot_happen() -> None:
    """A plug that is drawn does not weld, and a tap is no contact."""
    found = {fault.text for fault in single_faults(heater())}
    assert found == {
        "open-neutral:mains", "swapped:mains", "lost-earth:mains", "welded:switch", "welded:breaker", "welded:relay",
    }  # fmt: skip


@given(CASES)
@settings(max_examples=60)
def test_worst_is_the_worst_over_every_single_fault(case: Case) -> None:
    worst = worst_points(case.circuit, case.situation)
    under = {None: live_points(case.circuit, case.situation)}
    for fault in single_faults(case.circuit):
        under[fault] = points_under(case.circuit, case.situation, [fault])  # type: ignore[index]
    for point, found in worst.items():
        assert BADNESS[found.state.state] == max(BADNESS[states[point].state] for states in under.values())
        assert under[found.fault][point] == found.state  # type: ignore[index]


@given(CASES, st.data())
@settings(max_examples=60)
def test_liveness_under_a_fault_is_that_of_the_changed_circuit(case: Case, data: st.DataObject) -> None:
    """The oracle judges the changed circuit by networkx."""
    faults = single_faults(case.circuit)
    if not faults:
        return
    fault = data.draw(st.sampled_from(faults))
    world = assumed(case.circuit, [fault])
    oracle = Oracle(world.circuit, world.over(case.situation))
    expected = oracle.states()
    states = points_under(case.circuit, case.situation, [fault])
    for point, state in states.items():
        bare = expected[point]
        worse = point in world.unearthed and BADNESS[bare] < BADNESS[UNKNOWN]
        assert state.state is (UNKNOWN if worse else bare), point


@given(CASES, st.data())
@settings(max_examples=60)
def test_opening_isolating_devices_never_makes_more_live_under_any_fault(case: Case, data: st.DataObject) -> None:
    faults = [None, *single_faults(case.circuit)]
    fault = data.draw(st.sampled_from(faults))
    assumptions = [] if fault is None else [fault]
    more = data.draw(st.sets(st.sampled_from([d.id for d in case.circuit.devices.values() if d.isolating])))
    fewer = points_under(case.circuit, case.situation, assumptions)
    wider = Situation(
        opened=case.situation.opened | more, links_open=case.situation.links_open,
        bonds_open=case.situation.bonds_open, released=case.situation.released,
        neutral_proved=case.situation.neutral_proved, links_in_doubt=case.situation.links_in_doubt,
    )  # fmt: skip
    then = points_under(case.circuit, wider, assumptions)
    assert {p for p, s in then.items() if s.state is LIVE} <= {p for p, s in fewer.items() if s.state is LIVE}


def test_a_shorted_contact_is_a_conductor() -> None:
    world = assumed(heater(), [Assumption(AssumedKind.SHORTED, "relay-pole")])
    assert world.circuit.links["relay-pole"].kind is LinkKind.CONDUCTOR


@given(CASES, st.data())
@settings(max_examples=60)
def test_the_order_of_assumptions_changes_nothing(case: Case, data: st.DataObject) -> None:
    wires = [id_ for id_, each in case.circuit.links.items() if each.kind is LinkKind.LOAD]
    faults = [*single_faults(case.circuit), *(Assumption(AssumedKind.EARTHED, each) for each in wires)]
    chosen = data.draw(st.lists(st.sampled_from(faults), max_size=3, unique=True) if faults else st.just([]))
    try:
        one = points_under(case.circuit, case.situation, chosen)
    except Contradiction:
        with pytest.raises(Contradiction):
            points_under(case.circuit, case.situation, chosen[::-1])
        return
    other = points_under(case.circuit, case.situation, chosen[::-1])
    assert {p: s.state for p, s in one.items()} == {p: s.state for p, s in other.items()}


@given(CASES, st.data())
@settings(max_examples=60)
def test_metal_that_lost_its_earth_is_never_safe(case: Case, data: st.DataObject) -> None:
    lost = [each for each in single_faults(case.circuit) if each.kind is AssumedKind.LOST_EARTH]
    others = [each for each in single_faults(case.circuit) if each.kind is AssumedKind.WELDED]
    more = data.draw(st.lists(st.sampled_from(others), max_size=2, unique=True) if others else st.just([]))
    for fault in lost:
        world = assumed(case.circuit, [fault, *more])
        states = points_under(case.circuit, case.situation, [fault, *more])
        assert {states[point].state for point in world.unearthed} <= {LIVE, UNKNOWN}


def test_earth_is_not_lost_while_another_supply_bonds_the_metal() -> None:
    links = [link("one", "earth-bond", "pe", "case"), link("two", "earth-bond", "pe2", "case")]
    two = [mains(), mains("solar", lines=("s",), neutral="s0", protective_earth="pe2")]
    of = circuit(links, two)
    states = points_under(of, Situation(), [parsed("lost-earth:mains", of)])
    assert states["case"].state is ISOLATED
    apart = circuit([links[0], link("two", "earth-bond", "pe2", "frame")], two)
    states = points_under(apart, Situation(), [parsed("lost-earth:mains", apart)])
    assert (states["case"].state, states["frame"].state) == (UNKNOWN, ISOLATED)


def test_a_line_of_several_is_swapped_by_its_point() -> None:
    of = circuit([link("e", "load", "l1", "l2")], [mains(lines=("l1", "l2"))])
    world = assumed(of, [parsed("swapped:l2", of)])
    assert (world.circuit.sources["mains"].lines, world.circuit.sources["mains"].neutral) == (("l1", "n"), "l2")
    assert {each.text for each in single_faults(of)} >= {"swapped:l1", "swapped:l2"}
