"""Nodal analysis against the whole tableau, and what holds of every linear network."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.energy.nodal import Nodal, Phasors, ShortCircuit


def network(seed: int) -> tuple[Nodal, Phasors, Phasors]:
    """A connected network of 2 to 7 nodes: a tree and chords, and one ideal source on a node of its own."""
    random = np.random.default_rng(seed)
    nodes = int(random.integers(2, 8))
    branches = [(node, int(random.integers(node))) for node in range(1, nodes)]
    for _ in range(int(random.integers(0, 6))):
        one, other = random.choice(nodes, 2, replace=False)
        branches.append((int(one), int(other)))
    size = 10.0 ** random.uniform(-4, 0, len(branches))
    admittances = size * np.exp(1j * random.uniform(-1.2, 1.2, len(branches)))
    volts = np.array([230.0 * np.exp(1j * random.uniform(0, 6))])
    return Nodal(nodes, branches, [(nodes - 1, 0)]), admittances[None], volts[None]


def tableau(net: Nodal, probes: tuple[int, int], admittances: Phasors, volts: Phasors, meter: float) -> complex:
    """Every potential, voltage and current an unknown: Kirchhoff's laws and Ohm's, by least squares."""
    branches = [*net.branches, probes]
    values = np.append(admittances, meter)
    edges, ideals = len(branches), len(net.ideals)
    every = [*branches, *net.ideals]
    incidence = np.zeros((net.nodes, len(every)))
    for number, (one, other) in enumerate(every):
        incidence[one, number] += 1
        incidence[other, number] -= 1
    count = len(every)
    rows = [
        np.hstack([np.zeros((net.nodes, net.nodes + count)), incidence]),
        np.hstack([incidence.T, -np.eye(count), np.zeros((count, count))]),
        np.hstack([np.zeros((edges, net.nodes)), np.diag(values) @ np.eye(edges, count), -np.eye(edges, count)]),
        np.hstack([np.zeros((ideals, net.nodes)), np.eye(count)[edges:], np.zeros((ideals, count))]),
        np.eye(1, net.nodes + 2 * count),
    ]
    right = np.concatenate([np.zeros(net.nodes + count + edges), volts, [0.0]])
    solved = np.linalg.lstsq(np.vstack(rows), right, rcond=None)[0]
    return complex(solved[probes[0]] - solved[probes[1]])


@given(st.integers(0, 2**32), st.data())
def test_the_tableau_says_the_same(seed: int, data: st.DataObject) -> None:
    net, admittances, volts = network(seed)
    one = data.draw(st.integers(0, net.nodes - 1))
    other = data.draw(st.integers(0, net.nodes - 1).filter(lambda node: node != one))
    found = net.between((one, other), admittances, np.zeros_like(admittances), volts, meter=1e-3)[0]
    assert found == pytest.approx(tableau(net, (one, other), admittances[0], volts[0], 1e-3), rel=1e-6, abs=1e-6)


@given(st.integers(0, 2**32))
def test_reciprocity(seed: int) -> None:
    """The impedance between two points is the same both ways round, and that of a passive network has R >= 0."""
    net, admittances, _ = network(seed)
    bare, none = Nodal(net.nodes, net.branches), np.zeros((1, 0), dtype=np.complex128)
    still = np.zeros_like(admittances)
    there = bare.between((0, net.nodes - 1), admittances, still, none, test_current=1.0)[0]
    back = bare.between((net.nodes - 1, 0), admittances, still, none, test_current=1.0)[0]
    assert there == pytest.approx(back, rel=1e-9)
    assert there.real >= 0


@given(st.integers(0, 2**32), st.floats(-3, 3))
def test_superposition(seed: int, factor: float) -> None:
    net, admittances, volts = network(seed)
    injected = admittances * 7.0
    probes = (0, net.nodes // 2) if net.nodes > 2 else (0, 1)

    def read(current: Phasors, emf: Phasors) -> complex:
        return complex(net.between(probes, admittances, current, emf, meter=1e-4)[0])

    both = read(injected * factor, volts)
    assert both == pytest.approx(read(0 * injected, volts) + factor * read(injected, 0 * volts), rel=1e-7, abs=1e-7)


def test_a_source_across_itself_is_a_short_circuit() -> None:
    with pytest.raises(ShortCircuit):
        Nodal(2, [], [(0, 0)])
    with pytest.raises(ShortCircuit):
        Nodal(2, [], [(0, 1), (1, 0)])


def test_points_that_nothing_joins() -> None:
    net = Nodal(4, [(0, 1), (2, 3)])
    assert net.connected(0, 1)
    assert not net.connected(0, 2)
