"""The reading of a meter between two points: alternating or direct volts, or ohms with the supply isolated."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum
from math import inf

import numpy as np

from firstoff.appliance.circuit import Circuit, EnergySource, LinkKind
from firstoff.energy.assume import AssumedKind, Assumption, World, assumed, supplies
from firstoff.energy.errors import BadReading
from firstoff.energy.liveness import live_points
from firstoff.energy.readings.branches import Net, Resistance, Supply, net_of
from firstoff.energy.readings.nodal import OPEN_SIEMENS, carried, scope_of, voltages
from firstoff.energy.readings.setting import Setting
from firstoff.energy.readings.values import Probe, Value, nominal_between, value_between
from firstoff.energy.words import PointCondition, PointState

HIGH_OHMS = 10e6
"""Input of a usual digital multimeter, in ohms. Common practice, no source."""

LOW_OHMS = 3e3
"""Input of a meter or two-pole tester at low impedance, in ohms; real ones have 2 to 400 kilohm. Common practice."""

STRAY_FARADS = 300e-12
"""What strays across an open contact or wire in a harness, in farads, at the most. Common practice, no source."""

GHOST_VOLTS = 5.0
"""Volts from which a ghost reading can mislead. Common practice, no source."""

MOST_OHMS = 50e6
"""Where a usual ohmmeter shows an open circuit, in ohms. Common practice, no source."""

OPEN = Value(inf, inf, inf)


class Quantity(StrEnum):
    """What is measured, by the names of the quantities vocabulary."""

    AC = "ac-voltage"
    DC = "dc-voltage"
    OHMS = "resistance"


@dataclass(frozen=True, slots=True)
class Reading:
    """What a meter should read.

    ``value`` is that of a 10-megohm input (of an ohmmeter), ``low_impedance`` what a low-impedance one shows then,
    None for ohms. ``ghost_volts`` is what stray capacitance may show on 10 megohm where there is nothing, None where
    it cannot mislead. ``turned`` is the value with an unpolarised plug the other way round, where it differs.
    ``declared`` says that the value is told by the content and not computed. ``through`` are the links that carry the
    current of an ohmmeter, ``capacitors`` those that make its reading climb. ``shorted`` are sources that the circuit
    shorts.
    """

    quantity: Quantity
    value: Value
    low_impedance: float | None = None
    ghost_volts: float | None = None
    turned: Value | None = None
    declared: bool = False
    through: tuple[str, ...] = ()
    capacitors: tuple[str, ...] = ()
    shorted: tuple[str, ...] = ()
    lower_assumed: bool = False


def reading(
    circuit: Circuit,
    red: str,
    black: str,
    quantity: Quantity,
    setting: Setting,
    resistance: Resistance,
    assumptions: Iterable[Assumption] = (),
    *,
    both_ways: bool = True,
) -> Reading:
    """What a meter should read from ``black`` to ``red``, with ``assumptions`` at work.

    ``both_ways``: an unpolarised plug is looked at the other way round, too.

    Raises ``BadReading`` where the points are the same or unknown to the circuit, or where ohms are asked for at points
    that are not isolated; ``Contradiction`` where the assumptions cannot hold together.
    """
    if red == black:
        raise BadReading("A meter goes to two different points.")
    for point in (red, black):
        if point not in circuit.points:
            raise BadReading(f"There is no point {point!r}.")
    faults = list(assumptions)
    world = assumed(circuit, faults)
    states = live_points(world.circuit, world.over(setting.situation))
    if quantity is Quantity.OHMS:
        return _ohms(world, red, black, setting, resistance, (states[red], states[black]))
    if PointCondition.UNKNOWN in (states[red].state, states[black].state):
        unsure = tuple(point for point in (red, black) if states[point].state is PointCondition.UNKNOWN)
        if not any(source.protective_earth in unsure for source in circuit.sources.values()):
            return Reading(quantity, Value(None, depends_on=unsure))
    found = _volts(world, red, black, quantity, setting, resistance)
    turned = _turned(circuit, faults) if both_ways else None
    if turned is None or found.shorted:
        return found
    other = _volts(assumed(circuit, [*faults, *turned]), red, black, quantity, setting, resistance).value
    return found if _same(found.value, other) else replace(found, turned=other)


# --- volts -------------------------------------------------------------------------------------------------


def _volts(world: World, red: str, black: str, quantity: Quantity, setting: Setting, resistance: Resistance) -> Reading:
    direct = quantity is Quantity.DC
    net = net_of(world, setting, resistance, direct=direct, energised=True)
    if net.shorted:
        return Reading(quantity, Value(None, depends_on=net.shorted), shorted=net.shorted)
    at, to = net.node[red], net.node[black]
    value = value_between(net, at, to, Probe(1.0 / HIGH_OHMS))
    if any(world.circuit.sources[each].derived_from for each in value.depends_on if each in world.circuit.sources):
        net = settled(world, setting, resistance, net)
        value = value_between(net, at, to, Probe(1.0 / HIGH_OHMS))
    declared = _declared(net, at, to, setting, world) if direct and not value.known else None
    if declared is not None:
        return Reading(quantity, declared, declared=True, lower_assumed=net.lower_assumed)
    low = nominal_between(net, at, to, Probe(1.0 / LOW_OHMS)) if value.known else None
    ghost = _ghost(net, at, to) if value.known and not direct and net.omega > 0.0 else None
    return Reading(quantity, value, low, ghost, lower_assumed=net.lower_assumed)


def _ghost(net: Net, red: int, black: int) -> float | None:
    """What 10 megohm may show where a low-impedance meter shows less than a third of it; None where it does not."""
    if not net.gaps:
        return None
    stray = nominal_between(net, red, black, Probe(1.0 / HIGH_OHMS, stray_farads=STRAY_FARADS))
    if stray is None or stray < GHOST_VOLTS:
        return None
    drained = nominal_between(net, red, black, Probe(1.0 / LOW_OHMS, stray_farads=STRAY_FARADS))
    return stray if drained is not None and drained < stray / 3.0 else None


def settled(world: World, setting: Setting, resistance: Resistance, net: Net) -> Net:
    """``net`` with the voltage that its secondaries have from what their primaries get.

    A transformer follows its primary; a converter holds its voltage while its primary is within the tolerance of the
    supply, and gives nothing where it gets nothing. What lies between, or hangs on something unknown, is unknown.
    """
    derived = {source.id: source for source in world.circuit.sources.values() if source.derived_from and source.lines}
    direct = net.omega == 0.0
    nets = {direct: net, not direct: net_of(world, setting, resistance, direct=not direct, energised=True)}
    for _ in range(len(derived)):
        for source in list(derived.values()):
            state = _primary(source, nets, world, setting)
            if state is not None:
                nets = {kind: _fed(each, source, state) for kind, each in nets.items()}
                del derived[source.id]
    return nets[direct]


@dataclass(frozen=True, slots=True)
class _Primary:
    """What a secondary gets: ``share`` of its rated voltage, with tolerances; ``of`` is the source it varies with."""

    share: float
    lower: float
    upper: float
    of: str


def _primary(source: EnergySource, nets: dict[bool, Net], world: World, setting: Setting) -> _Primary | None:
    """None where it is unknown (so far)."""
    if len(source.derived_from) != 2 or source.volts is None:
        return None
    feeding = [each for each in supplies(world.circuit) if each.volts is not None]
    values = {}
    for direct, net in nets.items():
        one, other = (net.node.get(point) for point in source.derived_from)
        if one is None or other is None or net.shorted:
            return None
        told = _declared(net, one, other, setting, world) if direct else None
        values[direct] = told or value_between(net, one, other, Probe(OPEN_SIEMENS))
        if told is not None:
            values[False] = told
    value = next((values[direct] for direct in (False, True) if values[direct].known), None)
    if value is None or value.nominal is None or value.low is None or value.high is None:
        return None
    volts = value.nominal
    nominal = source.primary_volts or max((each.volts or 0.0 for each in feeding), default=0.0)
    if nominal <= 0.0:
        return None
    if source.primary_volts is not None:
        spread = ((volts - value.low) / volts, (value.high - volts) / volts) if volts > 1e-9 else (0.0, 0.0)
        return _Primary(volts / nominal, *spread, of=feeding[0].id if len(feeding) == 1 else source.id)
    lower = max((each.lower_tolerance or each.upper_tolerance for each in feeding), default=0.0)
    if volts >= nominal * (1.0 - lower):
        return _Primary(1.0, source.lower_tolerance or source.upper_tolerance, source.upper_tolerance, source.id)
    return _Primary(0.0, 0.0, 0.0, source.id) if volts < 0.05 * nominal else None


def _fed(net: Net, source: EnergySource, state: _Primary) -> Net:
    """The net with a secondary that gives its share; one that gets nothing is no source at all, and floats."""
    kept: list[Supply] = []
    for each in net.supplies:
        if each.source != source.id or not each.unknown:
            kept.append(each)
        elif state.share > 1e-9:
            volts = each.volts * state.share
            kept.append(
                replace(each, source=state.of, volts=volts, lower=state.lower, upper=state.upper, unknown=False)
            )
    return replace(net, supplies=tuple(kept))


def _declared(net: Net, red: int, black: int, setting: Setting, world: World) -> Value | None:
    """The direct voltage that the content tells of a capacitor between the two points, while it is being charged."""
    circuit = world.circuit
    for link in circuit.links.values():
        if link.kind is not LinkKind.CAPACITOR or link.current != "dc" or link.volts is None:
            continue
        if {net.node[link.start], net.node[link.end]} == {red, black}:
            states = live_points(circuit, world.over(setting.situation))
            ends = [states[end] for end in (link.start, link.end)]
            if all(end.state is PointCondition.LIVE and end.source in circuit.sources for end in ends):
                upper = max((each.upper_tolerance for each in supplies(circuit)), default=0.0)
                lower = max((each.lower_tolerance or each.upper_tolerance for each in supplies(circuit)), default=0.0)
                return Value(link.volts, link.volts * (1.0 - lower), link.volts * (1.0 + upper))
    return None


def _turned(circuit: Circuit, faults: list[Assumption]) -> list[Assumption] | None:
    """Line and neutral exchanged on every plug that fits both ways round; None where there is none to turn."""
    swapped = [
        Assumption(AssumedKind.SWAPPED, source.id)
        for source in supplies(circuit)
        if source.neutral is not None and not source.polarised and not source.fixed and len(source.lines) == 1
    ]
    spoken_of = {each.subject for each in faults if each.kind in (AssumedKind.SWAPPED, AssumedKind.OPEN_NEUTRAL)}
    return [each for each in swapped if each.subject not in spoken_of] or None


def _same(one: Value, other: Value) -> bool:
    if one.nominal is None or other.nominal is None:
        return one.nominal is None and other.nominal is None
    return abs(one.nominal - other.nominal) <= 0.01 * max(one.nominal, other.nominal, 1.0)


# --- ohms --------------------------------------------------------------------------------------------------


def _ohms(
    world: World, red: str, black: str, setting: Setting, resistance: Resistance, states: tuple[PointState, PointState]
) -> Reading:
    """Resistance rises with each resistance (Rayleigh), so all at their lowest and at their highest are its extremes.

    Raises ``BadReading`` where a supply may be on at one of the points, or an unreleased charge is.
    """
    for state in states:
        supplied = state.state in (PointCondition.LIVE, PointCondition.OFF_NOT_ISOLATED)
        if supplied and state.source in world.circuit.sources:
            raise BadReading(
                f"{world.circuit.points[state.id].label} is {state.state.value.replace('_', ' ')}: ohms are measured "
                "with every supply isolated and every charge released. Give opened= and released=."
            )
    net = net_of(world, setting, resistance, direct=True, energised=False, cold=True)
    at, to = net.node[red], net.node[black]
    value = value_between(net, at, to, Probe(OPEN_SIEMENS, amperes=1.0))
    if value.nominal is not None and value.nominal > MOST_OHMS:
        value = OPEN
    elif value.high is not None and value.high > MOST_OHMS:
        value = replace(value, high=inf)
    through = _through(net, at, to) if value.known and value is not OPEN else ()
    return Reading(Quantity.OHMS, value, through=through, capacitors=_charging(world.circuit, net, at, to))


def _through(net: Net, red: int, black: int) -> tuple[str, ...]:
    """The links that carry at least a thousandth of the current of the meter."""
    scope = scope_of(net, red, black)
    if not scope.branches or red == black:
        return ()
    branches = [net.branches[number] for number in scope.branches]
    siemens = np.array([[complex(1.0 / each.ohms if each.ohms is not None else OPEN_SIEMENS) for each in branches]])
    found = voltages(scope, siemens, np.zeros((1, 0), dtype=np.complex128), OPEN_SIEMENS, driven_amperes=1.0)
    amperes = carried(scope, siemens, found)[0]
    return tuple(dict.fromkeys(b.link for b, current in zip(branches, amperes, strict=True) if current > 1e-3))


def _charging(circuit: Circuit, net: Net, red: int, black: int) -> tuple[str, ...]:
    """The capacitors in the part of the circuit that the ohmmeter reaches."""
    scope = scope_of(net, red, black)
    reached = {*scope.index, black}
    return tuple(
        id_
        for id_, link in circuit.links.items()
        if link.kind is LinkKind.CAPACITOR and {net.node[link.start], net.node[link.end]} <= reached
    )
