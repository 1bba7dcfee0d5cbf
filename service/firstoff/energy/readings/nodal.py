"""Modified nodal analysis: the voltage between two nodes of a net, for many sets of values of its branches at once.

Kirchhoff's current law at every node but the one of the black probe, and the voltage of every supply as an equation of
its own (Ho, Ruehli and Brennan 1975, IEEE Trans. Circuits and Systems 22:504, doi 10.1109/TCS.1975.1084079). The meter
lies between the probes, so that whatever else floats, the two are always joined.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from firstoff.energy.readings.branches import Net

Phasors = npt.NDArray[np.complex128]

OPEN_SIEMENS = 1e-13
"""What stands for an open branch, so that no node is left without an equation: 10 teraohm, a millionth of a meter."""


@dataclass(frozen=True, slots=True)
class Scope:
    """The part of a net that two probes reach: positions of its branches, supplies and gaps, and its nodes renumbered.

    ``index`` gives the row of a node; that of the black probe has none.
    """

    net: Net
    red: int
    black: int
    branches: tuple[int, ...]
    supplies: tuple[int, ...]
    gaps: tuple[tuple[int, int], ...]
    index: dict[int, int]


def scope_of(net: Net, red: int, black: int, *, across_gaps: bool = False) -> Scope:
    """All that branches and supplies, and gaps where ``across_gaps``, join to either probe."""
    beside: dict[int, list[int]] = {}
    pairs = [(each.start, each.end) for each in net.branches] + [(each.plus, each.minus) for each in net.supplies]
    for one, other in (*pairs, *(net.gaps if across_gaps else ())):
        beside.setdefault(one, []).append(other)
        beside.setdefault(other, []).append(one)
    reached = {red, black}
    waiting = list(reached)
    while waiting:
        for other in beside.get(waiting.pop(), ()):
            if other not in reached:
                reached.add(other)
                waiting.append(other)
    return Scope(
        net, red, black,
        tuple(n for n, each in enumerate(net.branches) if each.start in reached),
        tuple(n for n, each in enumerate(net.supplies) if each.plus in reached),
        tuple(gap for gap in net.gaps if across_gaps and gap[0] in reached),
        {node: row for row, node in enumerate(sorted(reached - {black}))},
    )  # fmt: skip


def voltages(
    scope: Scope,
    admittances: Phasors,
    electromotive: Phasors,
    meter_siemens: float,
    *,
    stray_siemens: complex = 0.0,
    driven_amperes: float = 0.0,
    own_amperes: Phasors | None = None,
) -> Phasors:
    """The voltage at every row of ``scope`` against the black probe: shape (sets, rows).

    ``admittances`` has shape (sets, branches of the scope), ``electromotive`` (sets, supplies of the scope).
    ``driven_amperes`` is what the meter itself drives out of the red probe, ``own_amperes`` what branches drive from
    their end to their start, shape (sets, branches of the scope).
    """
    rows, sources = len(scope.index), len(scope.supplies)
    sets = admittances.shape[0]
    matrix = np.zeros((sets, rows + sources, rows + sources), dtype=np.complex128)
    right = np.zeros((sets, rows + sources), dtype=np.complex128)
    ends = [(scope.net.branches[number].start, scope.net.branches[number].end) for number in scope.branches]
    meets = _incidence(scope, [*ends, *scope.gaps, (scope.red, scope.black)])
    beside = np.concatenate(
        [admittances, np.full((sets, len(scope.gaps)), stray_siemens), np.full((sets, 1), complex(meter_siemens))],
        axis=1,
    )
    matrix[:, :rows, :rows] = (meets * beside[:, np.newaxis, :]) @ meets.T
    if own_amperes is not None:
        drives = np.array([scope.net.branches[number].rectifies for number in scope.branches], dtype=float)
        right[:, :rows] += (own_amperes * drives) @ meets[:, : len(ends)].T
    for column, number in enumerate(scope.supplies):
        supply = scope.net.supplies[number]
        for node, sign in ((supply.plus, 1.0), (supply.minus, -1.0)):
            row = scope.index.get(node)
            if row is not None:
                matrix[:, rows + column, row] += sign
                matrix[:, row, rows + column] += sign
        right[:, rows + column] = electromotive[:, column]
    if scope.red != scope.black:
        right[:, scope.index[scope.red]] += driven_amperes
    return np.asarray(np.linalg.solve(matrix, right[..., np.newaxis])[:, :rows, 0], dtype=np.complex128)


def between(scope: Scope, found: Phasors) -> Phasors:
    """The voltage from the black to the red probe, for every set."""
    if scope.red == scope.black:
        return np.zeros(found.shape[0], dtype=np.complex128)
    return np.asarray(found[:, scope.index[scope.red]], dtype=np.complex128)


def carried(scope: Scope, admittances: Phasors, found: Phasors) -> npt.NDArray[np.float64]:
    """The current through every branch of the scope, in amperes: shape (sets, branches)."""
    padded = np.concatenate([found, np.zeros((found.shape[0], 1), dtype=np.complex128)], axis=1)

    def at(nodes: Iterable[int]) -> Phasors:
        rows: Sequence[int] = [scope.index.get(node, -1) for node in nodes]
        return np.asarray(padded[:, rows], dtype=np.complex128)

    branches = [scope.net.branches[number] for number in scope.branches]
    drop = at(each.start for each in branches) - at(each.end for each in branches)
    return np.abs(admittances * drop)


def _incidence(scope: Scope, ends: Sequence[tuple[int, int]]) -> npt.NDArray[np.float64]:
    """1 where a branch starts at a node and -1 where it ends there: shape (rows, branches)."""
    found = np.zeros((len(scope.index), len(ends)))
    for column, (one, other) in enumerate(ends):
        for node, sign in ((one, 1.0), (other, -1.0)):
            row = scope.index.get(node)
            if row is not None:
                found[row, column] += sign
    return found
