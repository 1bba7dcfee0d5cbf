"""Readings of a meter: against a second solver, inside their bands, and unknown where they have to be."""

from __future__ import annotations

import random
from cmath import exp, pi
from dataclasses import replace
from math import inf, radians

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firstoff.appliance.circuit import Circuit, Link, LinkKind, Point
from firstoff.energy import PointCondition, Situation, live_points
from firstoff.energy.assume import AssumedKind, Assumption
from firstoff.energy.curves import resistance_of
from firstoff.energy.errors import BadReading
from firstoff.energy.readings import Quantity, Reading, Setting, reading
from firstoff.energy.readings.reading import HIGH_OHMS, LOW_OHMS
from support.circuits import LOW, circuit, link, mains
from support.tableau import Element, potentials

AC, DC, OHMS = Quantity.AC, Quantity.DC, Quantity.OHMS
TWO = {"lower_tolerance": 0.1, "hertz": 50.0, "earthed_neutral": True, "polarised": True}


def read(of: Circuit, red: str, black: str, quantity: Quantity = AC, *opened: str, **more: object) -> Reading:
    actuated = more.pop("actuated", frozenset())
    faults = more.pop("faults", ())
    setting = Setting(Situation(opened=frozenset(opened), **more), frozenset(actuated))  # type: ignore[arg-type]
    return reading(of, red, black, quantity, setting, resistance_of, faults)  # type: ignore[arg-type]


def heater() -> Circuit:
    links = [
        link("plug-l", "contact", "l", "a", device="plug"),
        link("plug-n", "contact", "n", "z", device="plug"),
        link("plug-pe", "earth-bond", "pe", "case"),
        link("relay", "contact", "a", "h1", device="relay"),
        link("element", "load", "h1", "h2", ohms=26.45, ohm_tolerance=0.05),
        link("cut-off", "fuse", "h2", "z"),
        link("x-capacitor", "capacitor", "a", "z", farads=1e-6, farad_tolerance=0.1, volts=230.0, current="ac"),
        link("board", "converter", "a", "z"),
        link("lamp", "load", "a", "b", rated_volts=230.0, rated_watts=15.0, watt_tolerance=0.1, hot_cold_ratio=12.0),
        link("lamp-throw", "contact", "b", "z", device="door", changeover=True, at_rest=True),
        link("spare-throw", "contact", "b", "spare", device="door", changeover=True, at_rest=False),
    ]
    return circuit(links, [mains(**TWO)], ["plug"], ["relay", "door"])


#: reading, what is expected of its value: nominal, low, high
KNOWN = {
    "the supply": (lambda: read(heater(), "l", "n"), (230.0, 207.0, 253.0)),
    "over an open contact": (lambda: read(heater(), "a", "h1", AC, "relay"), (230.0, 207.0, 253.0)),
    "over a closed contact": (lambda: read(heater(), "a", "h1"), (0.0, 0.0, 0.0)),
    "a load that is off": (lambda: read(heater(), "h1", "h2", AC, "relay"), (0.0, 0.0, 0.0)),
    "a load that is on": (lambda: read(heater(), "h1", "h2"), (230.0, 207.0, 253.0)),
    "a load behind an open cut-off": (
        lambda: read(heater(), "h2", "z", AC, faults=[Assumption(AssumedKind.OPEN, "cut-off")]), (230.0, 207.0, 253.0),
    ),
    "line to earth": (lambda: read(heater(), "a", "case"), (230.0, 207.0, 253.0)),
    "neutral to earth": (lambda: read(heater(), "z", "case"), (0.0, 0.0, 0.0)),
    "line to earth, swapped": (
        lambda: read(heater(), "a", "case", AC, faults=[Assumption(AssumedKind.SWAPPED, "mains")]), (0.0, 0.0, 0.0),
    ),
    "ohms of the element": (
        lambda: read(heater(), "h1", "h2", OHMS, "plug", "relay", released=_ALL), (26.45, 25.13, 27.77),
    ),
    "ohms of the cold lamp": (
        lambda: read(heater(), "a", "b", OHMS, "plug", "relay", released=_ALL, actuated={"door"}),
        (293.9, 261.2, 326.5),
    ),
}  # fmt: skip
_ALL = frozenset({"x-capacitor"})


@pytest.mark.parametrize("name", KNOWN)
def test_known_values(name: str) -> None:
    make, expected = KNOWN[name]
    value = make().value
    assert (value.nominal, value.low, value.high) == pytest.approx(expected, rel=1e-3, abs=1e-6)


def test_the_lamp_hangs_on_the_board_through_its_return() -> None:
    """With the door at rest the lamp lies across the board, whose resistance nobody knows."""
    found = read(heater(), "a", "b", OHMS, "plug", "relay", released=_ALL)
    assert not found.value.known
    assert found.value.depends_on == ("board",)


def test_an_open_contact_reads_open_only_where_nothing_lies_beside_it() -> None:
    beside = read(heater(), "a", "h1", OHMS, "plug", "relay", released=_ALL)
    assert beside.value.depends_on == ("board",)
    alone = circuit([link("c", "contact", "a", "b", device="c")], [mains(**TWO)], [], ["c"])
    assert read(alone, "a", "b", OHMS, "c").value.nominal == inf


def test_ohms_are_refused_where_a_supply_may_be_on() -> None:
    with pytest.raises(BadReading, match="is live: ohms are measured"):
        read(heater(), "h1", "h2", OHMS)
    links = [link("r1", "contact", "l", "a", device="relay"), link("e", "load", "a", "b", ohms=10.0),
             link("r2", "contact", "b", "n", device="relay")]  # fmt: skip
    of = circuit(links, [mains(**TWO)], [], ["relay"])
    with pytest.raises(BadReading, match="off not isolated"):
        read(of, "a", "b", OHMS, "relay")


@pytest.mark.parametrize(("red", "black", "says"), [("a", "a", "two different points"), ("a", "nowhere", "no point")])
def test_probes_that_go_nowhere(red: str, black: str, says: str) -> None:
    with pytest.raises(BadReading, match=says):
        read(heater(), red, black)


@pytest.mark.parametrize(("field", "value"), [("ohms", -1.0), ("farads", 0.0), ("henries", 0.0)])
def test_impossible_parts_are_named(field: str, value: float) -> None:
    kind = "capacitor" if field == "farads" else "winding"
    of = circuit([replace(link("part", kind, "l", "n"), **{field: value})], [mains(**TWO)])
    with pytest.raises(BadReading, match=f"part has {value:g} {field}"):
        read(of, "l", "n")


def test_unearthed_supplies_say_nothing_of_earth() -> None:
    of = circuit([link("bond", "earth-bond", "pe", "case")], [mains(hertz=50.0, polarised=True)])
    assert read(of, "l", "case").value.depends_on == ("mains",)
    assert read(of, "l", "n").value.nominal == pytest.approx(230.0)


def test_lines_without_phase_angles_say_nothing_of_each_other() -> None:
    lines = {"lines": ("l1", "l2"), "neutral": "n", **TWO}
    bare = circuit([link("e", "load", "l1", "l2", ohms=20.0)], [mains(**lines)])
    assert not read(bare, "l1", "l2").value.known
    assert not read(bare, "l1", "n").value.known
    for angles, volts in (((0.0, 180.0), 460.0), ((0.0, 120.0), 398.4), ((0.0, 0.0), 0.0)):
        points = [Point(n, n, "body", phase_angle=angle) for n, angle in zip(("l1", "l2"), angles, strict=True)]
        told = circuit([link("e", "load", "l1", "l2", ohms=20.0)], [mains(**lines)], points=points)
        assert read(told, "l1", "l2").value.nominal == pytest.approx(volts, abs=0.05)


def test_a_plug_that_fits_both_ways_round() -> None:
    """The line through an open single-pole switch to earth: 230 V one way round, 0 V the other."""
    links = [link("switch", "contact", "l", "a", device="switch"), link("bond", "earth-bond", "pe", "case"),
             link("e", "load", "a", "n", ohms=100.0)]  # fmt: skip
    of = circuit(links, [mains(**{**TWO, "polarised": False})], [], ["switch"])
    found = read(of, "l", "case", AC, "switch")
    assert found.value.nominal == pytest.approx(230.0)
    assert found.turned is not None
    assert found.turned.nominal == pytest.approx(0.0, abs=1e-6)
    assert read(of, "l", "n").turned is None


def test_ghost_voltage_on_a_floating_wire() -> None:
    """A wire behind an open contact: 10 megohm shows what strays over, 3 kilohm next to nothing."""
    links = [link("contact", "contact", "l", "wire", device="switch")]
    found = read(circuit(links, [mains(**TWO)], [], ["switch"]), "wire", "n", AC, "switch")
    assert found.value.nominal == pytest.approx(0.0)
    assert found.ghost_volts is not None
    # 300 pF are 10.6 megohm at 50 Hz: 230 V * 10 / |10 - 10.6j| = 158 V.
    stray = 1j / (2 * pi * 50.0 * 300e-12)
    assert found.ghost_volts == pytest.approx(230.0 * HIGH_OHMS / abs(HIGH_OHMS - stray), rel=1e-3)
    assert found.low_impedance == pytest.approx(0.0)


def test_no_ghost_where_the_voltage_is_real() -> None:
    assert read(heater(), "l", "n").ghost_volts is None


def test_a_short_is_said() -> None:
    found = read(heater(), "h1", "n", AC, faults=[Assumption(AssumedKind.SHORTED, "element")])
    assert found.shorted == ("mains",)
    assert not found.value.known


def low_voltage(**primary: object) -> Circuit:
    links = [
        link("plug-l", "contact", "l", "a", device="plug"),
        link("plug-n", "contact", "n", "z", device="plug"),
        link("primary", "winding", "a", "z", ohms=200.0),
        link("r1", "load", "s", "m", ohms=1000.0, ohm_tolerance=0.01),
        link("r2", "load", "m", "s0", ohms=3000.0, ohm_tolerance=0.01),
    ]
    low = mains("low", kind=LOW, lines=("s",), neutral="s0", protective_earth=None, volts=12.0,
                derived_from=("a", "z"), upper_tolerance=0.0, hertz=50.0, **primary)  # fmt: skip
    return circuit(links, [mains(**TWO), low], ["plug"])


def test_a_transformer_follows_its_primary() -> None:
    found = read(low_voltage(primary_volts=230.0, current="ac"), "m", "s0").value
    assert found.nominal == pytest.approx(9.0, rel=1e-3)
    assert found.low == pytest.approx(9.0 * 0.9, rel=0.01)
    assert found.high == pytest.approx(9.0 * 1.1, rel=0.01)
    half = read(low_voltage(primary_volts=460.0, current="ac"), "m", "s0").value
    assert half.nominal == pytest.approx(4.5, rel=1e-3)


def test_a_converter_holds_its_voltage_and_is_dead_without_a_primary() -> None:
    of = low_voltage(current="dc")
    assert read(of, "m", "s0", DC).value.nominal == pytest.approx(9.0, rel=1e-3)
    assert read(of, "m", "s0", DC, "plug").value.nominal == pytest.approx(0.0)


def test_direct_volts_behind_a_rectifier_are_told_not_computed() -> None:
    links = [
        link("bridge", "semiconductor", "l", "plus"), link("bridge-2", "semiconductor", "minus", "n"),
        link("bus", "capacitor", "plus", "minus", farads=1e-4, volts=325.0, current="dc"),
        link("bleed", "load", "plus", "minus", ohms=2e5, ohm_tolerance=0.05),
    ]  # fmt: skip
    of = circuit(links, [mains(**TWO)])
    found = read(of, "plus", "minus", DC)
    assert found.declared
    assert (found.value.nominal, found.value.low, found.value.high) == pytest.approx((325.0, 292.5, 357.5))
    assert set(read(of, "plus", "n", DC).value.depends_on) == {"bridge", "bridge-2"}


def test_a_changeover_that_does_not_say_when_it_is_made() -> None:
    links = [link("t", "contact", "l", "a", device="d", changeover=True), link("e", "load", "a", "n", ohms=50.0)]
    of = circuit(links, [mains(**TWO)], [], ["d"])
    assert read(of, "a", "n").value.depends_on == ("t",)


# --- against the second solver ---------------------------------------------------------------------------------


def network(seed: int, reactive: bool) -> Circuit:
    """Resistors, and coils and capacitors where ``reactive``, between a few points and a supply of one or two lines."""
    rng = random.Random(seed)
    points = [f"p{n}" for n in range(rng.randint(2, 6))]
    lines = ("l", "m") if rng.random() < 0.4 else ("l",)
    ends = [*points, *lines, "n"]
    links: list[Link] = []
    for number in range(rng.randint(len(points), 2 * len(points) + 3)):
        one, other = rng.sample(ends, 2)
        kind = rng.choice(["load", "winding", "capacitor"] if reactive else ["load"])
        more: dict[str, object] = {"ohms": 10 ** rng.uniform(0, 4), "ohm_tolerance": rng.choice([0.0, 0.05, 0.2])}
        if kind == "capacitor":
            more = {"farads": 10 ** rng.uniform(-7, -5), "farad_tolerance": 0.1, "volts": 1.0, "current": "ac"}
        elif kind == "winding":
            more |= {"henries": 10 ** rng.uniform(-3, 0), "henry_tolerance": 0.1}
        links.append(link(f"k{number}", kind, one, other, **more))
    told = [Point(name, name, "body", phase_angle=angle) for name, angle in zip(lines, (0.0, 120.0), strict=False)]
    return circuit(links, [mains(lines=lines, **TWO)], points=told)


def probes(of: Circuit, seed: int) -> tuple[str, str]:
    """Two points that something joins to the supply: of others nothing is known."""
    states = live_points(of, Situation())
    fed = sorted(point for point, state in states.items() if state.state is PointCondition.LIVE)
    red, black = random.Random(seed).sample(fed, 2)
    return red, black


def elements(of: Circuit, factors: dict[str, float], meter: tuple[str, str], ohms: float) -> list[Element]:
    omega = 2 * pi * 50.0
    found = [Element(*meter, ohms=ohms)]
    for each in of.links.values():
        factor = factors.get(each.id, 1.0)
        if each.kind is LinkKind.CAPACITOR:
            assert each.farads is not None
            found.append(Element(each.start, each.end, ohms=1.0 / (1j * omega * each.farads * factor)))
        else:
            assert each.ohms is not None
            coil = 1j * omega * (each.henries or 0.0) * factors.get(f"{each.id} H", 1.0)
            found.append(Element(each.start, each.end, ohms=each.ohms * factor + coil))
    (source,) = of.sources.values()
    for line in source.lines:
        angle = radians(of.points[line].phase_angle or 0.0)
        found.append(Element(line, "n", volts=230.0 * factors.get("mains", 1.0) * exp(1j * angle)))
    return found


@given(st.integers(0, 2**32), st.booleans(), st.sampled_from([HIGH_OHMS, LOW_OHMS]))
@settings(max_examples=120, deadline=None)
def test_nominal_values_agree_with_the_whole_tableau(seed: int, reactive: bool, ohms: float) -> None:
    of = network(seed, reactive)
    red, black = probes(of, seed)
    found = read(of, red, black)
    value = found.value.nominal if ohms == HIGH_OHMS else found.low_impedance
    expected = potentials(elements(of, {}, (red, black), ohms), black)
    assert value == pytest.approx(abs(expected[red] - expected[black]), rel=1e-4, abs=1e-3)


@given(st.integers(0, 2**32), st.booleans())
@settings(max_examples=80, deadline=None)
def test_no_machine_within_its_tolerances_reads_outside_the_band(seed: int, reactive: bool) -> None:
    of = network(seed, reactive)
    rng = random.Random(seed)
    red, black = probes(of, seed)
    value = read(of, red, black).value
    assert value.low is not None
    assert value.high is not None
    for _ in range(12):
        extreme = rng.random() < 0.5
        factors = {"mains": rng.choice([0.9, 1.1]) if extreme else rng.uniform(0.9, 1.1)}
        for each in of.links.values():
            t = each.farad_tolerance if each.kind is LinkKind.CAPACITOR else each.ohm_tolerance
            factors[each.id] = rng.choice([1 - t, 1 + t]) if extreme else rng.uniform(1 - t, 1 + t)
            h = each.henry_tolerance
            factors[f"{each.id} H"] = rng.choice([1 - h, 1 + h]) if extreme else rng.uniform(1 - h, 1 + h)
        expected = potentials(elements(of, factors, (red, black), HIGH_OHMS), black)
        size = abs(expected[red] - expected[black])
        assert value.low * 0.999 - 1e-3 <= size <= value.high * 1.001 + 1e-3


@given(st.integers(0, 2**32))
@settings(max_examples=80, deadline=None)
def test_ohms_are_alike_both_ways_round_and_those_of_the_tableau(seed: int) -> None:
    of = network(seed, reactive=False)
    dead = replace(of, sources={})
    red, black = probes(of, seed)
    one, other = read(dead, red, black, OHMS).value, read(dead, black, red, OHMS).value
    assert one.nominal == other.nominal or one.nominal == pytest.approx(other.nominal, rel=1e-6)
    if one.nominal == inf:
        return
    drive = [Element(each.start, each.end, ohms=each.ohms) for each in of.links.values()]
    expected = potentials([*drive, Element(black, red, amperes=1.0)], black)
    assert one.nominal == pytest.approx(abs(expected[red]), rel=1e-5)


@given(st.integers(0, 2**32), st.data())
@settings(max_examples=80, deadline=None)
def test_what_is_unknown_is_never_a_number(seed: int, data: st.DataObject) -> None:
    """One branch is made unknown: a number may be given only where no value of that branch changes it."""
    of = network(seed, reactive=False)
    red, black = probes(of, seed)
    hidden = data.draw(st.sampled_from(sorted(of.links)))
    changed = replace(of, links={**of.links, hidden: replace(of.links[hidden], kind=LinkKind.SEMICONDUCTOR)})
    found = read(changed, red, black).value
    sizes = []
    for ohms in (1e-2, 1.0, 1e3, 1e6):
        factor = ohms / (of.links[hidden].ohms or 1.0)
        expected = potentials(elements(of, {hidden: factor}, (red, black), HIGH_OHMS), black)
        sizes.append(abs(expected[red] - expected[black]))
    if max(sizes) - min(sizes) > 0.01 * max(sizes) + 0.01:
        assert not found.known
        assert hidden in found.depends_on
    if found.known:
        assert found.nominal == pytest.approx(sizes[0], rel=0.01, abs=0.01)
