"""A circuit wired up for one frequency, with the inputs of a meter: from links and sources to nodes and branches."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from firstoff.appliance.circuit import Circuit, EnergySource, Link, LinkKind
from firstoff.energy.assume import World
from firstoff.energy.elements import LEAST_OHMS, MOST_OHMS, Does, Setting, electrical, element
from firstoff.energy.liveness import live_points
from firstoff.energy.nodal import Groups, Nodal, Phasors
from firstoff.energy.words import PointCondition, Situation

HIGH_OHMS, LOW_OHMS = 10e6, 3e3
"""Input resistance of a meter, and of its low-impedance range, in ohms. Common practice, no source."""

STRAY_FARADS = 100e-12
"""Capacitance across an open contact with the wires that lead to it, in farads. Common practice, no source."""

GENERIC_SETS = 8
ANY_VOLTS = 400.0
"""What drives a voltage of its own is tried with voltages of about this size, in volts; any number would do."""


@dataclass(frozen=True, slots=True)
class Branch:
    """An impedance between two nodes, in ohms; see ``Element``."""

    id: str
    label: str
    ends: tuple[int, int]
    does: Does
    nominal: complex
    lowest: complex
    highest: complex


@dataclass(frozen=True, slots=True)
class Ideal:
    """A line of a source against its star point: a phasor in volts, None where its phase is not declared."""

    source: str
    label: str
    ends: tuple[int, int]
    volts: float
    phase: float | None
    lower: float
    upper: float


@dataclass(frozen=True, slots=True)
class Values:
    """Sets of values; see ``Nodal.between``."""

    admittances: Phasors
    injected: Phasors
    volts: Phasors


@dataclass(frozen=True, slots=True)
class Wiring:
    """``number`` gives the node of each point; points joined without resistance share one."""

    setting: Setting
    number: dict[str, int]
    nodes: int
    branches: tuple[Branch, ...]
    ideals: tuple[Ideal, ...]
    open_links: tuple[Link, ...]

    def net(self) -> Nodal:
        return Nodal(self.nodes, [each.ends for each in self.branches], [each.ends for each in self.ideals])

    def connected(self, one: str, other: str) -> bool:
        return self.net().connected(self.number[one], self.number[other])

    def touches(self, link: Link, points: Iterable[str]) -> bool:
        """Whether an open link hangs between what the probes reach."""
        net = self.net()
        ends = [self.number[link.start], self.number[link.end]]
        return all(any(net.connected(end, self.number[point]) for point in points) for end in ends)

    def read(self, between: tuple[str, str], meter: float, test: float, values: Values) -> Phasors:
        """The voltage for each set of values, in volts."""
        probes = self.number[between[0]], self.number[between[1]]
        return self.net().between(probes, values.admittances, values.injected, values.volts, meter, test)

    def unknowns(self) -> tuple[str, ...]:
        """The labels of what nothing certain is known about."""
        phases = [each.label for each in self.ideals if each.phase is None]
        return tuple(dict.fromkeys([b.label for b in self.branches if b.does is not Does.IMPEDES] + phases))

    def in_phase(self) -> bool:
        """Whether every voltage is real: no reactance, no unknown, and phases of 0 and 180 degrees only."""
        return all(b.does is Does.IMPEDES and b.nominal.imag == 0 for b in self.branches) and all(
            each.phase is not None and each.phase % 180.0 == 0.0 for each in self.ideals
        )

    def toleranced(self) -> tuple[str, ...]:
        """The branches and sources with a tolerance, by id."""
        parts = [b.id for b in self.branches if b.does is Does.IMPEDES and b.lowest != b.highest]
        return (*parts, *dict.fromkeys(each.source for each in self.ideals if each.lower or each.upper))

    def generic(self, only: str | None = None) -> Values:
        """Sets of values over all that is unknown, or over what has the label ``only``; tolerances at nominal."""
        random = np.random.default_rng(7)
        impedances = np.empty((GENERIC_SETS, len(self.branches)), dtype=np.complex128)
        emf = np.zeros_like(impedances)
        volts = np.empty((GENERIC_SETS, len(self.ideals)), dtype=np.complex128)
        for column, branch in enumerate(self.branches):
            moves = branch.does is not Does.IMPEDES and only in (None, branch.label)
            impedances[:, column] = self._spread(branch, random) if moves else branch.nominal
            if branch.does is Does.DRIVES and not self.setting.cold:
                drives = ANY_VOLTS * random.uniform(0.2, 1.0, GENERIC_SETS) * self._turn(random, math.pi)
                emf[:, column] = drives if moves else drives[0]
        for column, ideal in enumerate(self.ideals):
            turn = np.exp(1j * random.uniform(-math.pi, math.pi, GENERIC_SETS))
            moves = ideal.phase is None and only in (None, ideal.label)
            volts[:, column] = ideal.volts * (turn if moves else cmath.exp(1j * math.radians(ideal.phase or 0.0)))
        return Values(1.0 / impedances, emf / impedances, volts)

    def _turn(self, random: np.random.Generator, most: float) -> Phasors:
        if not self.setting.hertz:
            return np.sign(random.uniform(-1, 1, GENERIC_SETS)).astype(np.complex128)
        turned: Phasors = np.exp(1j * random.uniform(-most, most, GENERIC_SETS))
        return turned

    def _spread(self, branch: Branch, random: np.random.Generator) -> Phasors:
        """From the lowest to the highest in even ratios, at any passive phase, in an order of its own but the ends."""
        low, high = math.log(abs(branch.lowest)), math.log(abs(branch.highest))
        inner = random.permutation(np.linspace(low, high, GENERIC_SETS)[1:-1])
        sizes = np.exp(np.concatenate([[low], inner, [high]]))
        turn = self._turn(random, 1.5) if self.setting.hertz else np.ones(GENERIC_SETS)
        spread: Phasors = sizes * turn
        return spread

    def varied(self, positions: NDArray[np.float64]) -> Values:
        """Sets of values at ``positions`` (S, toleranced) between lowest (0) and highest (1); NaN for nominal."""
        sets, column_of = len(positions), {name: column for column, name in enumerate(self.toleranced())}
        base = self.generic()
        impedances = np.repeat(1.0 / base.admittances[3:4], sets, axis=0)
        volts = np.repeat(base.volts[3:4], sets, axis=0)
        for column, branch in enumerate(self.branches):
            if branch.does is Does.IMPEDES and branch.id in column_of:
                at = positions[:, column_of[branch.id]]
                inside = branch.lowest + np.nan_to_num(at) * (branch.highest - branch.lowest)
                impedances[:, column] = np.where(np.isnan(at), branch.nominal, inside)
        for column, ideal in enumerate(self.ideals):
            if ideal.source in column_of:
                at = positions[:, column_of[ideal.source]]
                factor = 1.0 - ideal.lower + np.nan_to_num(at) * (ideal.upper + ideal.lower)
                volts[:, column] *= np.where(np.isnan(at), 1.0, factor)
        injected = np.repeat(base.injected[3:4], sets, axis=0)
        return Values(1.0 / impedances, injected, volts)


def wired(world: World, situation: Situation, setting: Setting, *, dead: bool = False) -> Wiring:
    """The circuit as a meter finds it; with ``dead`` its sources are disconnected, and no stray capacitance counts."""
    sources = [] if dead else [each for each in world.circuit.sources.values() if each.lines and not each.held_by]
    wiring = _wired(world, situation, setting, [each for each in sources if not each.derived_from], {}, dead)
    put_out: dict[str, complex | None] = {}
    chain = [each for each in sources if each.derived_from]
    for source in chain:
        put_out[source.id] = _put_out(world, situation, setting, source)
    return _wired(world, situation, setting, sources, put_out, dead) if chain else wiring


def _put_out(world: World, situation: Situation, setting: Setting, source: EnergySource) -> complex | None:
    """The voltage of a separated secondary, with its phase, in volts; None where it is not known.

    A transformer's follows that of its primary; a converter's is its rated one while the primary is within the
    tolerance of the supply, and none while the primary is dead. Its load on the primary is left out.
    """
    if source.volts is None or len(source.derived_from) != 2:
        return None
    roots = [s for s in world.circuit.sources.values() if s.lines and not s.held_by and not s.derived_from]
    root = next((each for each in roots if each.volts and each.current == "ac"), None)
    states = live_points(world.circuit, situation)
    conditions = {states[point].state for point in source.derived_from if point in states}
    if root is None or root.volts is None:
        return None
    if not conditions & {PointCondition.LIVE, PointCondition.UNKNOWN}:
        return 0j
    at = replace(setting, hertz=root.hertz or 50.0)
    primary = _wired(world, situation, at, roots, {}, False)
    one, other = sorted(source.derived_from)
    seen = primary.read((one, other), 1.0 / HIGH_OHMS, 0.0, primary.generic())
    if float(np.ptp(np.abs(seen))) > 0.01 * float(np.max(np.abs(seen))) + 1e-3:
        return None
    volts = complex(seen[0])
    if source.primary_volts:
        return volts * source.volts / source.primary_volts
    lower = root.upper_tolerance if root.lower_tolerance is None else root.lower_tolerance
    if abs(volts) < 0.01 * root.volts:
        return 0j
    return complex(source.volts) if abs(volts) >= root.volts * (1.0 - lower) else None


def _wired(
    world: World,
    situation: Situation,
    setting: Setting,
    sources: list[EnergySource],
    put_out: dict[str, complex | None],
    dead: bool,
) -> Wiring:
    circuit = world.circuit
    elements = [element(link, situation, setting) for link in electrical(circuit)]
    names = _names(circuit)
    index = {name: number for number, name in enumerate(names)}
    stars = {source.id: len(names) + number for number, source in enumerate(sources)}
    groups = Groups(len(names) + len(sources))
    for each in elements:
        if each.does is Does.JOINS:
            groups.join(index[each.link.start], index[each.link.end])
    ties: list[tuple[EnergySource, int, int]] = []
    for source in sources:
        if source.neutral is not None and source.id not in world.neutral_open:
            groups.join(stars[source.id], index[source.neutral])
        if source.protective_earth is not None:
            if source.earthed_neutral:
                groups.join(stars[source.id], index[source.protective_earth])
            else:
                ties.append((source, stars[source.id], index[source.protective_earth]))
    node = [groups.of(number) for number in range(len(names) + len(sources))]
    branches = [
        Branch(e.link.id, e.link.label, (node[index[e.link.start]], node[index[e.link.end]]), e.does, e.nominal,
               e.lowest, e.highest)
        for e in elements
        if e.does not in (Does.JOINS, Does.OPENS)
    ]  # fmt: skip
    opened = [e.link for e in elements if e.does is Does.OPENS]
    if setting.hertz and not dead:
        stray = 1.0 / (2j * math.pi * setting.hertz * STRAY_FARADS)
        branches += [
            Branch(f"{link.id} stray", link.label, (node[index[link.start]], node[index[link.end]]), Does.IMPEDES,
                   stray, stray, stray)
            for link in opened if link.kind is not LinkKind.CAPACITOR
        ]  # fmt: skip
    for source, star, earth in ties:
        branches.append(_anything(f"{source.id} earth", f"{source.label}: neutral to earth", (node[star], node[earth])))
    ideals: list[Ideal] = []
    for source in sources:
        found = _lines(circuit, source, setting, put_out, node, index, node[stars[source.id]])
        ideals += [each for each in found if isinstance(each, Ideal)]
        branches += [each for each in found if isinstance(each, Branch)]
    kept = tuple(branch for branch in branches if branch.ends[0] != branch.ends[1])
    return Wiring(setting, {name: node[i] for name, i in index.items()}, len(node), kept, tuple(ideals), tuple(opened))


def _names(circuit: Circuit) -> list[str]:
    names = dict.fromkeys(circuit.points)
    for link in electrical(circuit):
        names |= dict.fromkeys((link.start, link.end))
    for source in circuit.sources.values():
        names |= dict.fromkeys(p for p in (*source.lines, source.neutral, source.protective_earth) if p is not None)
    return list(names)


def _anything(id_: str, label: str, ends: tuple[int, int]) -> Branch:
    return Branch(id_, label, ends, Does.DRIVES, complex(1.0), complex(LEAST_OHMS), complex(MOST_OHMS))


def _lines(
    circuit: Circuit,
    source: EnergySource,
    setting: Setting,
    put_out: dict[str, complex | None],
    node: list[int],
    index: dict[str, int],
    star: int,
) -> list[Ideal | Branch]:
    """The lines of a source against its star point, at the frequency asked for."""
    phased = _phases(source, circuit)
    secondary = source.id in put_out
    own = put_out[source.id] if secondary else (None if source.volts is None else complex(source.volts))
    lower = source.upper_tolerance if source.lower_tolerance is None else source.lower_tolerance
    found: list[Ideal | Branch] = []
    for line, phase in phased.items():
        ends = (node[index[line]], star)
        if own is None or source.current not in ("ac", "dc") or (secondary and source.neutral is None):
            found.append(_anything(source.id, source.label, ends))
            continue
        here = not setting.hertz if source.current == "dc" else setting.hertz == (source.hertz or setting.hertz)
        volts, angle = (abs(own), phase) if here else (0.0, 0.0)
        if here and secondary:
            angle = math.degrees(cmath.phase(own))
        found.append(
            Ideal(source.id, f"{source.label}: phase angles", ends, volts, angle, lower, source.upper_tolerance)
        )
    return found


def _phases(source: EnergySource, circuit: Circuit) -> dict[str, float | None]:
    """The phase angle of each line in degrees; a line alone needs none, of several each has to be declared."""
    declared = [circuit.points[line].phase_angle if line in circuit.points else None for line in source.lines]
    if len(source.lines) == 1:
        return {source.lines[0]: declared[0] or 0.0}
    return dict(zip(source.lines, declared, strict=True))
