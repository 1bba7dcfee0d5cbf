"""How long a group of capacitors takes to lose its charge through resistors that can be relied on.

Let the capacitors hold E = sum C v^2 / 2. Nothing else in the group is a source once it is isolated, so E falls by what
all its parts dissipate, and that is at least what the reliable resistors would dissipate with the capacitors' voltages
given and every other node left free: p^T G p at its least, with p the potentials, G the conductances of the reliable
resistors and B^T p the capacitors' voltages. Contacts, fuses, diodes and whatever else may or may not conduct can only
add to it, whether they share charge out or not. With tau the largest value of p^T B C B^T p / p^T G p (a generalised
eigenvalue) this says dE/dt <= -2 E / tau, so E(t) <= E(0) exp(-2 t / tau).

Any voltage between two points of the group is at most the sum of the capacitors' voltages, and by Cauchy's inequality
(sum |v|)^2 <= 2 E sum 1/C. So all are below V once t = tau / 2 ln(2 E(0) sum (1/C) / V^2).

**Tolerances.** tau rises with every resistance and every capacitance (G falls and B C B^T grows in the sense of
quadratic forms), E(0) with every capacitance and voltage, 1/C with falling capacitance: upper values in tau and E(0)
and lower values in 1/C bound every corner. A winding can hold energy of its own and ring, so a group with one has no
time here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import log

import numpy as np


@dataclass(frozen=True, slots=True)
class Resistor:
    """Between two nodes, ``ohms`` at its upper tolerance."""

    start: int
    end: int
    ohms: float


@dataclass(frozen=True, slots=True)
class Capacitor:
    """Between two nodes: ``most`` and ``least`` farads, and the highest ``volts`` it may hold at the start."""

    start: int
    end: int
    most: float
    least: float
    volts: float


def seconds_until(
    capacitors: Sequence[Capacitor], resistors: Sequence[Resistor], nodes: int, safe_volts: float
) -> float | None:
    """Seconds after which every voltage in the group is at most ``safe_volts``; None where some charge never leaves.

    Raises ``ValueError`` where a part has a value that is not above zero.
    """
    if any(not (each.least > 0.0 and each.most >= each.least) for each in capacitors) or not safe_volts > 0.0:
        raise ValueError("Capacitances and the safe voltage must be above zero.")
    if any(not each.ohms > 0.0 for each in resistors):
        raise ValueError("Resistances must be above zero.")
    if not capacitors:
        return 0.0
    constant = slowest(capacitors, resistors, nodes)
    if constant is None:
        return None
    joules = sum(each.most * each.volts**2 / 2.0 for each in capacitors)
    ratio = 2.0 * joules * sum(1.0 / each.least for each in capacitors) / safe_volts**2
    return 0.0 if ratio <= 1.0 else constant / 2.0 * log(ratio)


def slowest(capacitors: Sequence[Capacitor], resistors: Sequence[Resistor], nodes: int) -> float | None:
    """The largest time constant in seconds; None where a charge has no resistive way to leave."""
    conductance, capacity = np.zeros((nodes, nodes)), np.zeros((nodes, nodes))
    for matrix, parts in (
        (conductance, [(each.start, each.end, 1.0 / each.ohms) for each in resistors]),
        (capacity, [(each.start, each.end, each.most) for each in capacitors]),
    ):
        for start, end, value in parts:
            matrix[start, start] += value
            matrix[end, end] += value
            matrix[start, end] -= value
            matrix[end, start] -= value
    values, vectors = np.linalg.eigh(conductance)
    conducts = values > 1e-9 * max(float(values.max()), 1e-30)
    still = vectors[:, ~conducts]
    if np.abs(capacity @ still).max(initial=0.0) > 1e-9 * capacity.max():
        return None
    scaled = vectors[:, conducts] / np.sqrt(values[conducts])
    return float(np.linalg.eigvalsh(scaled.T @ capacity @ scaled).max(initial=0.0))
