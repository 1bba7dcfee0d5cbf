"""A second solver for linear circuits, which shares nothing with the service: the whole sparse tableau.

Every branch has a voltage and a current of its own, every node a potential; Kirchhoff's laws and the law of each branch
are written down one by one and solved together. Slow and plain on purpose.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True)
class Element:
    """From ``start`` to ``end``: an impedance in ohms, or a source of ``volts`` (start over end), or of ``amperes``."""

    start: str
    end: str
    ohms: complex | None = None
    volts: complex | None = None
    amperes: complex | None = None


def potentials(elements: Sequence[Element], ground: str) -> dict[str, complex]:
    """The potential over ``ground`` of every node that elements join to it."""
    elements = _joined(elements, ground)
    nodes = sorted({end for each in elements for end in (each.start, each.end)})
    n, b = len(nodes), len(elements)
    place = {name: number for number, name in enumerate(nodes)}
    rows: list[np.ndarray] = []
    right: list[complex] = []

    def equation(terms: dict[int, complex], value: complex = 0.0) -> None:
        row = np.zeros(n + 2 * b, dtype=complex)
        for column, factor in terms.items():
            row[column] += factor
        rows.append(row)
        right.append(value)

    equation({place[ground]: 1.0})
    for name in nodes:
        if name != ground:
            meeting: dict[int, complex] = {}
            for number, each in enumerate(elements):
                if each.start == name:
                    meeting[n + b + number] = meeting.get(n + b + number, 0.0) + 1.0
                if each.end == name:
                    meeting[n + b + number] = meeting.get(n + b + number, 0.0) - 1.0
            equation(meeting)
    for number, each in enumerate(elements):
        volts, amperes = n + number, n + b + number
        equation({volts: 1.0, place[each.start]: -1.0, place[each.end]: 1.0})
        if each.ohms is not None:
            scale = max(abs(each.ohms), 1.0)
            equation({volts: 1.0 / scale, amperes: -each.ohms / scale})
        elif each.volts is not None:
            equation({volts: 1.0}, each.volts)
        else:
            assert each.amperes is not None
            equation({amperes: 1.0}, each.amperes)
    solution = np.linalg.solve(np.array(rows), np.array(right))
    return {name: complex(solution[number]) for name, number in place.items()}


def _joined(elements: Sequence[Element], ground: str) -> list[Element]:
    reached = {ground}
    for _ in elements:
        reached |= {end for each in elements if {each.start, each.end} & reached for end in (each.start, each.end)}
    return [each for each in elements if each.start in reached]
