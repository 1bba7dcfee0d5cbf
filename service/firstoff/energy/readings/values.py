"""A value between two nodes with the band that the tolerances of the parts allow, or an honest "unknown".

**Unknown** is what changes with anything of unknown impedance. The voltage is a quotient of two polynomials in the
unknown admittances, so if it is the same for several sets of values drawn at random over many decades it is the same
for all of them, except on a set of measure zero (the lemma of Schwartz and Zippel).

**The band.** Where all is real (direct current, or resistances on one phase), the voltage is a quotient of two linear
functions in each resistance and source alone, so it rises or falls with each throughout, and its extremes over all
tolerances lie at corners. All corners are tried for the ``MOST_CORNERED`` parts that matter most; for any beyond those,
what each does on its own is added, half as much again. Where phasors are complex the extremes may lie inside: middle
values are tried as well, and the band is widened by ``GUARD`` of its width; a test holds it against random values.
Where one source alone matters, the value is in proportion to it.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

import numpy as np

from firstoff.energy.readings.branches import Net
from firstoff.energy.readings.nodal import OPEN_SIEMENS, Phasors, Scope, between, scope_of, voltages

MOST_CORNERED = 10
MOST_SAMPLED = 6
GUARD = 0.05
_SAME = 1e-4
_MATTERS = 1e-5
_DECADES = (1e-6, 1.0)


@dataclass(frozen=True, slots=True)
class Value:
    """``nominal`` with its band from ``low`` to ``high``, in volts or ohms; infinite ohms for an open circuit.

    All are None where the value is unknown, and ``depends_on`` then holds the links and sources that it depends on.
    """

    nominal: float | None
    low: float | None = None
    high: float | None = None
    depends_on: tuple[str, ...] = ()

    @property
    def known(self) -> bool:
        return self.nominal is not None


@dataclass(frozen=True, slots=True)
class Probe:
    """What the meter does: its own admittance in siemens, the current it drives, and what strays across gaps."""

    siemens: float
    amperes: float = 0.0
    stray_farads: float = 0.0


def value_between(net: Net, red: int, black: int, probe: Probe) -> Value:
    """The magnitude of the voltage between two nodes (of the resistance, where the probe drives 1 A)."""
    scope = scope_of(net, red, black, across_gaps=probe.stray_farads > 0.0)
    solver = _Solver(scope, probe)
    unknown = solver.unknown()
    if unknown:
        return Value(None, depends_on=unknown)
    return solver.banded()


def nominal_between(net: Net, red: int, black: int, probe: Probe) -> float | None:
    """The magnitude of ``value_between`` with every part at its nominal value; None where it is unknown."""
    solver = _Solver(scope_of(net, red, black, across_gaps=probe.stray_farads > 0.0), probe)
    return None if solver.unknown() else solver.nominal()


class _Solver:
    """The parts of one scope as columns of numbers: branches, then sources, each with its tolerance."""

    def __init__(self, scope: Scope, probe: Probe) -> None:
        self.scope, self.probe = scope, probe
        self.branches = [scope.net.branches[number] for number in scope.branches]
        self.supplies = [scope.net.supplies[number] for number in scope.supplies]
        self.sources = sorted({each.source for each in self.supplies})
        self.spread = self._spreads()
        self.known = np.array([each.known for each in self.branches], dtype=bool)
        self.ohms = np.array([each.ohms if each.ohms is not None else np.inf for each in self.branches])
        self.henries = np.array([each.henries for each in self.branches])
        self.farads = np.array([each.farads or 0.0 for each in self.branches])

    def _spreads(self) -> list[tuple[float, float]]:
        """Factors (low, high) of each branch, of the inductance of each branch, and of each source."""
        found = [(1.0 - each.tolerance, 1.0 + each.tolerance) for each in self.branches]
        found += [(1.0 - each.henry_tolerance, 1.0 + each.henry_tolerance) for each in self.branches]
        for source in self.sources:
            own = [each for each in self.supplies if each.source == source]
            found.append((1.0 - max(each.lower for each in own), 1.0 + max(each.upper for each in own)))
        return found

    def _admittances(self, factors: np.ndarray, of_henries: np.ndarray) -> Phasors:
        """In siemens, shape (sets, branches); those of unknown branches are next to nothing."""
        omega = self.scope.net.omega
        capacitive = self.farads > 0.0
        found = np.full(factors.shape, complex(OPEN_SIEMENS))
        plain = self.known & ~capacitive
        ohms, henries = self.ohms[plain] * factors[:, plain], self.henries[plain] * of_henries[:, plain]
        found[:, plain] = 1.0 / (ohms + 1j * omega * henries)
        found[:, capacitive] = 1j * omega * self.farads[capacitive] * factors[:, capacitive]
        return found

    def solved(
        self,
        factors: np.ndarray,
        unknown: Phasors | None = None,
        dark: Phasors | None = None,
        driven: Phasors | None = None,
    ) -> Phasors:
        """Volts between the probes for sets of factors, shape (sets, parts).

        ``unknown`` gives the admittances of unknown branches, ``dark`` the factors of unknown supplies, ``driven`` the
        currents of rectifying branches, each with a row a set. They are open and dead where not given.
        """
        sets, count = factors.shape[0], len(self.branches)
        admittances = self._admittances(factors[:, :count], factors[:, count : 2 * count])
        if unknown is not None and not self.known.all():
            admittances[:, ~self.known] = unknown[:, ~self.known]
        electromotive = np.zeros((sets, len(self.supplies)), dtype=np.complex128)
        for column, supply in enumerate(self.supplies):
            share = factors[:, 2 * count + self.sources.index(supply.source)]
            if supply.unknown:
                share = share * (dark[:, column] if dark is not None else 0.0)
            electromotive[:, column] = supply.volts * share
        stray = complex(0.0, self.scope.net.omega * self.probe.stray_farads)
        found = voltages(
            self.scope, admittances, electromotive, self.probe.siemens,
            stray_siemens=stray, driven_amperes=self.probe.amperes, own_amperes=driven,
        )  # fmt: skip
        return between(self.scope, found)

    def unknown(self) -> tuple[str, ...]:
        """The links and sources of unknown value that the voltage changes with, in their order."""
        unsure = [n for n, each in enumerate(self.branches) if not each.known]
        dark = [n for n, each in enumerate(self.supplies) if each.unknown]
        if not unsure and not dark:
            return ()
        names = [self.branches[n].link for n in unsure] + [self.supplies[n].source for n in dark]
        rng = np.random.default_rng(0)
        low, high = np.log10(_DECADES)
        generic = 10.0 ** rng.uniform(low, high, (4, len(self.branches)))
        shares = rng.uniform(0.2, 2.0, (4, len(self.supplies)))
        amperes = rng.uniform(-0.1, 0.1, (4, len(self.branches)))
        if _alike(self.solved(self._nominal(5), _below(generic), _below(shares), _below(amperes))):
            return ()
        tried = np.repeat(generic[:1], 3 * len(names), axis=0)
        shared = np.repeat(shares[:1], 3 * len(names), axis=0)
        driven = np.repeat(amperes[:1], 3 * len(names), axis=0)
        for position in range(len(names)):
            rows = slice(3 * position, 3 * position + 3)
            if position < len(unsure):
                tried[rows, unsure[position]] = (OPEN_SIEMENS, 1e-4, 1.0)
                driven[rows, unsure[position]] = (0.0, 0.1, -0.1)
            else:
                shared[rows, dark[position - len(unsure)]] = (0.0, 0.7, 1.3)
        each = self.solved(self._nominal(len(tried)), *(part.astype(np.complex128) for part in (tried, shared, driven)))
        found = [name for n, name in enumerate(names) if not _alike(each[3 * n : 3 * n + 3])]
        return tuple(dict.fromkeys(found or names))

    def _nominal(self, sets: int) -> np.ndarray:
        return np.ones((sets, len(self.spread)))

    def nominal(self) -> float:
        """The nominal value."""
        return float(np.abs(self.solved(self._nominal(1))[0]))

    def banded(self) -> Value:
        """The nominal value and its extremes."""
        nominal = self.solved(self._nominal(1))[0]
        loose = [part for part, (low, high) in enumerate(self.spread) if high > low]
        alone = self._nominal(2 * len(loose))
        for row, part in enumerate(loose):
            alone[2 * row, part], alone[2 * row + 1, part] = self.spread[part]
        moved = np.abs(self.solved(alone)) - abs(nominal) if loose else np.zeros(0)
        reach = {part: float(np.abs(moved[2 * row : 2 * row + 2]).max()) for row, part in enumerate(loose)}
        floor = _MATTERS * max(abs(nominal), 1e-6)
        matter = sorted((part for part in loose if reach[part] > floor), key=lambda part: -reach[part])
        sources_alone = len(matter) == 1 and matter[0] >= 2 * len(self.branches)
        real = sources_alone or self._real(matter)
        chosen = matter[: MOST_CORNERED if real else MOST_SAMPLED]
        choices = [self.spread[part] if real else (self.spread[part][0], 1.0, self.spread[part][1]) for part in chosen]
        sets = np.array(list(product(*choices))) if chosen else np.ones((1, 0))
        factors = self._nominal(len(sets))
        factors[:, chosen] = sets
        found = self.solved(factors)
        size = np.abs(found)
        low, high = min(float(size.min()), abs(nominal)), max(float(size.max()), abs(nominal))
        if real and float(found.real.min()) < 0.0 < float(found.real.max()):
            low = 0.0
        further = 1.5 * sum(reach[part] for part in matter[len(chosen) :])
        guard = 0.0 if real else GUARD * (high - low)
        return Value(float(abs(nominal)), max(low - further - guard, 0.0), high + further + guard)

    def _real(self, matter: list[int]) -> bool:
        """Whether nothing that matters turns a phase: then the voltage is a real number."""
        omega, count = self.scope.net.omega, len(self.branches)
        parts = [self.branches[part % count] for part in matter if part < 2 * count]
        turned = any(each.farads is not None or (omega and each.henries) for each in parts)
        straight = all(abs(each.volts.imag) <= 1e-9 * abs(each.volts) for each in self.supplies)
        return straight and not turned and not self.probe.stray_farads


def _below(rows: np.ndarray) -> Phasors:
    """A first row of what is open and dead, then ``rows``."""
    first = np.full((1, rows.shape[1]), OPEN_SIEMENS)
    stacked: Phasors = np.concatenate([first, rows]).astype(np.complex128)
    return stacked


def _alike(found: Phasors) -> bool:
    size = np.abs(found)
    return bool(np.abs(found - found[0]).max() <= _SAME * max(float(size.max()), 1e-3))
