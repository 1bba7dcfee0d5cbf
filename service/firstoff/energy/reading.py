"""What a meter reads between two points: a voltage or a resistance with its band, or what it depends on.

A reading is a rational function of the impedances nothing is known about. One that has the same value at several
points chosen at random is constant (Schwartz-Zippel lemma), so it is given as a number only where it does not move
while they run from all but shorted to all but open, and what may drive a voltage of its own drives any.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from itertools import product

import numpy as np
from numpy.typing import NDArray

from firstoff.appliance.circuit import Circuit
from firstoff.energy.assume import World
from firstoff.energy.elements import Curve, Setting
from firstoff.energy.errors import BadReading
from firstoff.energy.liveness import live_points
from firstoff.energy.meter import HIGH_OHMS, LOW_OHMS, Values, Wiring, wired
from firstoff.energy.nodal import ShortCircuit
from firstoff.energy.words import PointCondition, Situation

MOST_READABLE_OHMS = 1e8
"""Above this a meter shows OL, in ohms. Common practice, no source."""

KNOWN_WITHIN = 0.01
"""What moves a reading by a smaller fraction than this is taken into its band instead of making it unknown."""

NOTICEABLE_VOLTS = 5.0
"""A voltage that a technician takes notice of, in volts. Common practice, no source."""

COLLAPSED = 0.2
"""A voltage is a ghost where the low input shows less than this fraction of it. Common practice, no source."""

MOST_CORNERS = 6
"""Up to so many parts with a tolerance, every corner of the box of tolerances is solved."""

GUARD = 0.5
"""Fraction of its own half width by which a band is widened at each side where it is not solved exactly."""


@dataclass(frozen=True, slots=True)
class Value:
    """A reading in volts (r.m.s. or direct) or ohms; infinite for OL. ``depends_on`` names what makes it unknown."""

    nominal: float | None
    lowest: float | None = None
    highest: float | None = None
    depends_on: tuple[str, ...] = ()

    @property
    def known(self) -> bool:
        return self.nominal is not None

    def holds(self, measured: float) -> bool | None:
        """Whether a measured value lies in the band; None where the reading is unknown."""
        if self.lowest is None or self.highest is None:
            return None
        if math.isinf(measured) or math.isinf(self.lowest):
            return math.isinf(measured) and math.isinf(self.highest)
        slack = 1e-9 * max(1.0, abs(self.highest))
        return self.lowest - slack <= measured <= self.highest + slack


@dataclass(frozen=True, slots=True)
class Asked:
    """Where the probes are, and how the circuit stands."""

    between: tuple[str, str]
    situation: Situation = field(default_factory=Situation)
    actuated: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Voltage:
    """``ac`` and ``dc`` as on the input of 10 megohm, ``ac_low`` and ``dc_low`` as on the low one; ``ghost`` warns
    that the first would mislead."""

    ac: Value
    dc: Value
    ac_low: Value
    dc_low: Value
    ghost: bool = False


@dataclass(frozen=True, slots=True)
class Resistance:
    """``live`` names the probed points that are not isolated; then nothing is read: resistance is measured dead.
    ``shared`` are the links, besides those in every path, whose removal would change the reading."""

    ohms: Value
    live: tuple[str, ...] = ()
    shared: tuple[str, ...] = ()
    climbs: bool = False


def _checked(circuit: Circuit, between: tuple[str, str]) -> None:
    if between[0] == between[1]:
        raise BadReading("A reading is between two points; the same point is named twice.")
    for point in between:
        if point not in circuit.points:
            raise BadReading(f"There is no point {point!r}.")


def voltage(world: World, asked: Asked) -> Voltage:
    """The voltage between two points, supply on. Raises ``BadReading``, ``ShortCircuit``."""
    _checked(world.circuit, asked.between)
    situation = world.over(asked.situation)
    frequencies = sorted({source.hertz or 50.0 for source in world.circuit.sources.values() if source.current != "dc"})
    found = {}
    for ohms in (HIGH_OHMS, LOW_OHMS):
        parts = [_volts(world, situation, asked, hertz, ohms) for hertz in frequencies]
        found[ohms] = _together(parts), _volts(world, situation, asked, 0.0, ohms)
    (ac, dc), (ac_low, dc_low) = found[HIGH_OHMS], found[LOW_OHMS]
    ghost = any(
        high.nominal is not None and low.nominal is not None
        and abs(high.nominal) >= NOTICEABLE_VOLTS and abs(low.nominal) < COLLAPSED * abs(high.nominal)
        for high, low in ((ac, ac_low), (dc, dc_low))
    )  # fmt: skip
    return Voltage(ac, dc, ac_low, dc_low, ghost)


def _together(parts: list[Value]) -> Value:
    """Voltages of several frequencies add as the root of the sum of squares."""
    if len(parts) == 1:
        return parts[0]
    if any(not part.known for part in parts):
        return Value(None, depends_on=tuple(dict.fromkeys(name for part in parts for name in part.depends_on)))
    nominal, lowest, highest = (
        math.hypot(*(getattr(part, side) or 0.0 for part in parts)) for side in ("nominal", "lowest", "highest")
    )
    return Value(nominal, lowest, highest)


def _volts(world: World, situation: Situation, asked: Asked, hertz: float, ohms: float) -> Value:
    wiring = wired(world, situation, Setting(hertz, False, asked.actuated))
    return _value(wiring, asked.between, 1.0 / ohms, 0.0)


def resistance(world: World, asked: Asked, *, curve: Curve | None = None, supply_off: bool = False) -> Resistance:
    """The resistance between two points, in circuit. ``supply_off`` says that every supply is disconnected upstream.

    Raises ``BadReading``.
    """
    _checked(world.circuit, asked.between)
    situation = world.over(asked.situation)
    if not supply_off:
        states = live_points(world.circuit, situation)
        live = tuple(p for p in asked.between if states[p].state is not PointCondition.ISOLATED)
        if live:
            return Resistance(Value(None), live)
    setting = Setting(0.0, True, asked.actuated, curve)
    wiring = wired(world, situation, setting, dead=True)
    value = _value(wiring, asked.between, 0.0, 1.0)
    shared = _shared(wiring, asked.between, value)
    climbs = any(link.kind.value == "capacitor" and wiring.touches(link, asked.between) for link in wiring.open_links)
    return Resistance(value, (), shared, climbs)


def _shared(wiring: Wiring, between: tuple[str, str], value: Value) -> tuple[str, ...]:
    """The parts without which the reading would be another number, but still one: those in parallel paths."""
    if value.nominal is None or math.isinf(value.nominal):
        return ()
    found = []
    for branch in wiring.branches:
        without = replace(wiring, branches=tuple(each for each in wiring.branches if each is not branch))
        other = _value(without, between, 0.0, 1.0).nominal
        if other is not None and math.isfinite(other) and abs(other - value.nominal) > 1e-3 * value.nominal:
            found.append(branch.id)
    return tuple(found)


def _value(wiring: Wiring, between: tuple[str, str], meter: float, test: float) -> Value:
    """The reading over generic values of what is unknown, and over the tolerances of what is known."""
    if meter == 0.0 and not wiring.connected(*between):
        return Value(math.inf, math.inf, math.inf)
    try:
        generic = _read(wiring, between, meter, test, wiring.generic())
    except ShortCircuit:
        return Value(None, depends_on=("the supply: it is short-circuited",))
    low, high = float(generic.min()), float(generic.max())
    if _moves(low, high):
        return Value(None, depends_on=_dependencies(wiring, between, meter, test))
    positions, exact = _tolerances(wiring, resistive=test > 0)
    band = wiring.read(between, meter, test, wiring.varied(positions))
    sizes = band.real if wiring.in_phase() or not wiring.setting.hertz else np.abs(band)
    lowest, highest = min(float(sizes.min()), low), max(float(sizes.max()), high)
    if not exact:
        guard = GUARD * (highest - lowest) / 2.0
        lowest, highest = lowest - guard, highest + guard
    nominal = float(sizes[0])
    if wiring.setting.hertz:
        lowest, highest, nominal = *_sizes(lowest, highest), abs(nominal)
    if test and nominal > MOST_READABLE_OHMS:
        return Value(math.inf, math.inf, math.inf)
    return Value(nominal, lowest, highest)


def _sizes(lowest: float, highest: float) -> tuple[float, float]:
    """The smallest and the largest size of what lies between two real numbers."""
    return (0.0 if lowest < 0.0 < highest else min(abs(lowest), abs(highest))), max(abs(lowest), abs(highest))


def _moves(low: float, high: float) -> bool:
    return high - low > KNOWN_WITHIN * max(abs(low), abs(high)) + 1e-3


def _read(wiring: Wiring, between: tuple[str, str], meter: float, test: float, values: Values) -> NDArray[np.float64]:
    read = wiring.read(between, meter, test, values)
    if wiring.setting.hertz and not wiring.in_phase():
        return np.abs(read)
    return np.asarray(read.real)


def _dependencies(wiring: Wiring, between: tuple[str, str], meter: float, test: float) -> tuple[str, ...]:
    """Each unknown that moves the reading while the others stay as they are, by label."""
    found = []
    for name in wiring.unknowns():
        read = _read(wiring, between, meter, test, wiring.generic(only=name))
        if _moves(float(read.min()), float(read.max())):
            found.append(name)
    return tuple(dict.fromkeys(found or wiring.unknowns()))


def _tolerances(wiring: Wiring, *, resistive: bool) -> tuple[NDArray[np.float64], bool]:
    """Positions in the box of tolerances, nominal (NaN) first, one column each part and source; whether exact.

    A resistance never falls while a resistor rises (Rayleigh), so all low and all high are its limits. A direct voltage
    is a quotient of two functions linear in each resistor, without a pole: monotone in each, so the limits lie in
    corners. One source alone scales every voltage. With reactances neither holds, and positions at random with
    ``GUARD`` stand in.
    """
    width = len(wiring.toleranced())
    nominal = np.full((1, width), np.nan)
    ends = np.array([[0.0] * width, [1.0] * width])
    only_one_source = width == 1 and wiring.toleranced()[0] == wiring.ideals[0].source if wiring.ideals else False
    if resistive or width == 0 or only_one_source:
        return np.vstack([nominal, ends]), True
    random = np.random.default_rng(1)
    if width <= MOST_CORNERS:
        corners = np.array(list(product((0.0, 1.0), repeat=width)))
        if not wiring.setting.hertz:
            return np.vstack([nominal, corners]), True
        return np.vstack([nominal, corners, random.uniform(size=(32, width))]), wiring.in_phase()
    some = random.integers(0, 2, (128, width)).astype(float)
    return np.vstack([nominal, ends, some, random.uniform(size=(64, width))]), False
