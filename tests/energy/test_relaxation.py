"""The time in which a group of capacitors loses its charge: never too short, whatever else conducts."""

from __future__ import annotations

import random
from itertools import combinations
from math import exp, log, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.linalg import expm

from firstoff.energy.relaxation import Capacitor, Resistor, seconds_until, slowest

SAFE = 42.4


def network(rng: random.Random) -> tuple[list[Capacitor], list[Resistor], int]:
    """Up to four capacitors between up to five nodes, and resistors of a wide range."""
    nodes = rng.randint(2, 5)
    pairs = list(combinations(range(nodes), 2))
    capacitors = []
    for one, other in rng.sample(pairs, min(len(pairs), rng.randint(1, 4))):
        nominal, spread = 10 ** rng.uniform(-7, -4), rng.choice([0.05, 0.2])
        capacitors.append(
            Capacitor(one, other, nominal * (1 + spread), nominal * (1 - spread), rng.uniform(20.0, 400.0))
        )
    resistors = [Resistor(*pair, 10 ** rng.uniform(4, 7)) for pair in pairs if rng.random() < 0.8]
    return capacitors, resistors, nodes


def laplacian(nodes: int, parts: list[tuple[int, int, float]]) -> np.ndarray:
    matrix = np.zeros((nodes, nodes))
    for one, other, value in parts:
        for row, column, sign in ((one, one, 1), (other, other, 1), (one, other, -1), (other, one, -1)):
            matrix[row, column] += sign * value
    return matrix


def simulated(
    capacitors: list[Capacitor], resistors: list[Resistor], nodes: int, seconds: float, rng: random.Random
) -> tuple[list[float], float]:
    """Volts of each capacitor after ``seconds``, and the largest between two nodes; at some point of the tolerances.

    Stray capacitances of a billionth make every node a state, so that the exponential of one matrix solves it; halfway
    through, other resistors come and go, as diodes and contacts do.
    """
    farads = [each.least if rng.random() < 0.5 else each.most for each in capacitors]
    capacity = laplacian(nodes, [(c.start, c.end, f) for c, f in zip(capacitors, farads, strict=True)])
    capacity += laplacian(nodes, [(one, other, 1e-12) for one, other in combinations(range(nodes), 2)])
    own = [(r.start, r.end, 1.0 / (r.ohms * rng.choice([1.0, 0.9]))) for r in resistors]
    wanted = np.array([each.volts * rng.choice([-1.0, 1.0]) for each in capacitors])
    incidence = np.zeros((len(capacitors), nodes))
    for row, each in enumerate(capacitors):
        incidence[row, each.start], incidence[row, each.end] = 1.0, -1.0
    start, *_ = np.linalg.lstsq(incidence, wanted, rcond=None)
    # A loop of capacitors cannot hold any voltages at all: what least squares leaves may be too much, so it is scaled.
    held = np.abs(incidence @ start)
    over = max((v / each.volts for v, each in zip(held, capacitors, strict=True)), default=0.0)
    potentials = start / max(over, 1.0)
    rest = slice(1, nodes)
    for _ in range(2):
        extra = [(*rng.sample(range(nodes), 2), 10 ** rng.uniform(-9, -1)) for _ in range(rng.randint(0, 2))]
        conductance = laplacian(nodes, [*own, *extra])
        step = expm(-np.linalg.solve(capacity[rest, rest], conductance[rest, rest]) * seconds / 2.0)
        potentials = potentials - potentials[0]
        potentials[rest] = step @ potentials[rest]
    across = [abs(potentials[each.start] - potentials[each.end]) for each in capacitors]
    return across, float(potentials.max() - potentials.min())


@given(st.integers(0, 2**32))
@settings(max_examples=200, deadline=None)
def test_after_the_wait_every_voltage_is_safe(seed: int) -> None:
    rng = random.Random(seed)
    capacitors, resistors, nodes = network(rng)
    seconds = seconds_until(capacitors, resistors, nodes, SAFE)
    if seconds is None:
        return
    for _ in range(6):
        across, most = simulated(capacitors, resistors, nodes, seconds, rng)
        joined = {end for each in capacitors for end in (each.start, each.end)}
        assert max(across) <= SAFE * (1 + 1e-6)
        if len(joined) == nodes:
            assert most <= SAFE * (1 + 1e-6)


@given(st.integers(0, 2**32))
@settings(max_examples=100, deadline=None)
def test_time_constant_rises_with_every_part(seed: int) -> None:
    """That upper values bound every corner rests on this."""
    rng = random.Random(seed)
    capacitors, resistors, nodes = network(rng)
    before = slowest(capacitors, resistors, nodes)
    if before is None or not resistors:
        return
    number = rng.randrange(len(resistors))
    each = resistors[number]
    more = [*resistors[:number], Resistor(each.start, each.end, each.ohms * 1.3), *resistors[number + 1 :]]
    assert (slowest(capacitors, more, nodes) or 0.0) >= before * (1 - 1e-9)
    one = capacitors[0]
    larger = [Capacitor(one.start, one.end, one.most * 1.3, one.least, one.volts), *capacitors[1:]]
    assert (slowest(larger, resistors, nodes) or 0.0) >= before * (1 - 1e-9)


def test_one_capacitor_is_the_exponential() -> None:
    """R C ln(V0/V) without tolerances: 1 megohm and 1 microfarad from 325.27 V, 2.038 s to 42.4 V."""
    found = seconds_until([Capacitor(0, 1, 1e-6, 1e-6, 325.27)], [Resistor(0, 1, 1e6)], 2, 42.4)
    assert found == pytest.approx(log(325.27 / 42.4))
    assert round(found or 0.0, 3) == 2.038


def test_two_in_a_ladder_by_hand() -> None:
    """Equal R and C, one behind the other from a grounded rail: the eigenvalues of the ladder are (3 -+ sqrt 5) / 2, so
    the slowest time constant is R C 2 / (3 - sqrt 5) = 2.618 R C."""
    ohms, farads = 1e5, 1e-6
    resistors = [Resistor(0, 1, ohms), Resistor(1, 2, ohms)]
    capacitors = [Capacitor(1, 0, farads, farads, 100.0), Capacitor(2, 0, farads, farads, 100.0)]
    assert slowest(capacitors, resistors, 3) == pytest.approx(ohms * farads * 2.0 / (3.0 - sqrt(5.0)))
    found = seconds_until(capacitors, resistors, 3, 42.4)
    assert found is not None
    assert 2.0 * 100.0 * exp(-found / (ohms * farads * 2.618)) <= 42.4 * 1.001


def test_charge_without_a_way_to_leave_has_no_time() -> None:
    assert seconds_until([Capacitor(0, 1, 1e-6, 1e-6, 300.0)], [], 2, SAFE) is None
    two = [Capacitor(0, 1, 1e-6, 1e-6, 300.0), Capacitor(1, 2, 1e-6, 1e-6, 300.0)]
    assert seconds_until(two, [Resistor(0, 1, 1e6)], 3, SAFE) is None
    # a resistor across both in a row: what one holds against the other stays
    assert seconds_until(two, [Resistor(0, 2, 1e6)], 3, SAFE) is None
    assert seconds_until(two, [Resistor(0, 1, 1e6), Resistor(0, 2, 1e6)], 3, SAFE) is not None


def test_safe_from_the_start_takes_no_time() -> None:
    assert seconds_until([Capacitor(0, 1, 1e-6, 1e-6, 10.0)], [Resistor(0, 1, 1e6)], 2, SAFE) == 0.0


@pytest.mark.parametrize(
    ("capacitor", "ohms"), [(Capacitor(0, 1, 0.0, 0.0, 10.0), 1.0), (Capacitor(0, 1, 1e-6, 1e-6, 10.0), -1.0)]
)
def test_impossible_parts(capacitor: Capacitor, ohms: float) -> None:
    with pytest.raises(ValueError, match="above zero"):
        seconds_until([capacitor], [Resistor(0, 1, ohms)], 2, SAFE)
