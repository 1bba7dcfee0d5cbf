"""Modified nodal analysis of a linear circuit with phasors, many sets of values at once.

Ho, Ruehli, Brennan: The modified nodal approach to network analysis, IEEE Trans. Circuits Syst. 22 (1975) 504-509.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from firstoff.energy.errors import EnergyError

Phasors = NDArray[np.complex128]


class ShortCircuit(EnergyError):
    """Ideal sources are joined in a loop: what protects the supply opens, and nothing can be read."""


@dataclass(frozen=True, slots=True)
class Nodal:
    """Nodes are numbered from 0. ``branches`` are (node, node); ``ideals`` are sources as (plus, minus)."""

    nodes: int
    branches: Sequence[tuple[int, int]]
    ideals: Sequence[tuple[int, int]] = ()
    _groups: list[int] = field(init=False)

    def __post_init__(self) -> None:
        groups = Groups(self.nodes)
        for plus, minus in self.ideals:
            if not groups.join(plus, minus):
                raise ShortCircuit("The supply is short-circuited; what protects it opens.")
        for one, other in self.branches:
            groups.join(one, other)
        object.__setattr__(self, "_groups", [groups.of(node) for node in range(self.nodes)])

    def between(
        self,
        probes: tuple[int, int],
        admittances: Phasors,
        injected: Phasors,
        volts: Phasors,
        meter: float = 0.0,
        test_current: float = 0.0,
    ) -> Phasors:
        """The voltage from the first probe to the second, for each of S sets of values; shape (S,).

        ``admittances`` (S, branches) in siemens, ``injected`` (S, branches) in amperes from first to second node
        through the source of a branch, ``volts`` (S, ideals). ``meter`` is the meter's own conductance in siemens,
        ``test_current`` in amperes goes in at the first probe and out at the second.

        What is in no connection with the probes is left out. Without a meter the probes must be connected.
        """
        first, second = probes
        if first == second:
            return np.zeros(len(admittances), dtype=np.complex128)
        wanted = {self._groups[first], self._groups[second]}
        kept = [node for node in range(self.nodes) if self._groups[node] in wanted and node != second]
        row = {node: number for number, node in enumerate(kept)}
        ideals = [number for number, (plus, _) in enumerate(self.ideals) if self._groups[plus] in wanted]
        size, sets = len(kept) + len(ideals), len(admittances)
        matrix = np.zeros((sets, size, size), dtype=np.complex128)
        right = np.zeros((sets, size), dtype=np.complex128)
        for number, (one, other) in enumerate(self.branches):
            if one != other and self._groups[one] in wanted:
                _stamp(matrix, row.get(one), row.get(other), admittances[:, number])
                for node, sign in ((one, -1.0), (other, 1.0)):
                    if node in row:
                        right[:, row[node]] += sign * injected[:, number]
        _stamp(matrix, row[first], None, np.full(sets, meter, dtype=np.complex128))
        right[:, row[first]] += test_current
        for place, number in enumerate(ideals, len(kept)):
            for node, sign in zip(self.ideals[number], (1.0, -1.0), strict=True):
                if node in row:
                    matrix[:, row[node], place] += sign
                    matrix[:, place, row[node]] += sign
            right[:, place] = volts[:, number]
        solved = np.linalg.solve(matrix, right[:, :, None])
        return np.asarray(solved[:, row[first], 0], dtype=np.complex128)

    def connected(self, one: int, other: int) -> bool:
        """Whether branches and sources join two nodes."""
        return self._groups[one] == self._groups[other]


def _stamp(matrix: Phasors, one: int | None, other: int | None, admittance: Phasors) -> None:
    for node in (one, other):
        if node is not None:
            matrix[:, node, node] += admittance
    if one is not None and other is not None:
        matrix[:, one, other] -= admittance
        matrix[:, other, one] -= admittance


class Groups:
    """Disjoint sets of small integers."""

    def __init__(self, size: int) -> None:
        self._parent = list(range(size))

    def of(self, member: int) -> int:
        """The representative of the set of ``member``."""
        while self._parent[member] != member:
            self._parent[member] = self._parent[self._parent[member]]
            member = self._parent[member]
        return member

    def join(self, one: int, other: int) -> bool:
        """Makes the sets of two members one; False where they were already."""
        first, second = self.of(one), self.of(other)
        self._parent[first] = second
        return first != second
