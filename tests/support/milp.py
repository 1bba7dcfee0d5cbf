"""The cheapest removals by HiGHS (``scipy.optimize.milp``): an oracle, and the baseline of the benchmark.

Delete-free planning as a mixed-integer program: a yes or no for every way, an order number for every part or state
that may wait for itself (Miller, Tucker, Zemlin, J. ACM 7:326, 1960), so that no plan goes round in a circle.

A part found off has a yes or no for every removal it may go back by, at the minutes of the refit. Parts get a second
order, in which they go back, since a refit needs off what the removal needs off, parts found off included.

Nothing done is ever undone on the way, so the optimum is that of the full model only where no part has to be fitted,
every variable is needed in one state besides its initial one, one preparation leads to each state, and a part found off
may go back by any of its removals. What lies outside this is refused with ``ValueError``, states apart: with several
states needed of one variable the optimum is a lower bound.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array
from scipy.sparse.csgraph import connected_components

from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.removal import Request

OPTIMAL, INFEASIBLE = 0, 2


@dataclass(frozen=True, slots=True)
class Way:
    """A removal, or a preparation with its undo: brings ``head`` about once all ``needs`` are so.

    Of a part found off, its refit alone.
    """

    id: str
    head: str
    minutes: float
    needs: frozenset[str]


@dataclass(frozen=True, slots=True)
class Program:
    """A request as a mixed-integer program. One column a way, then one an order and head that may wait for itself."""

    ways: tuple[Way, ...]
    minutes: NDArray[np.float64]
    whole: NDArray[np.float64]
    bounds: Bounds
    constraint: LinearConstraint


def usable_ways(appliance: Appliance, request: Request) -> list[Way]:
    """Every way that the request allows, what is so at the start left out of the needs."""
    if appliance.access_paths or request.states or any(target.purpose != Purpose.REPLACE for target in request.targets):
        raise ValueError("only parts to be replaced, without access paths, from the initial states")
    if not request.off <= appliance.components.keys():
        raise ValueError("a part found off may go back by any of its removals")
    given = {state.id for state in appliance.states.values() if state.initial}
    found = [
        Way(
            way.id,
            way.component,
            way.minutes_back + (0 if way.component in request.off else way.minutes_out),
            (way.needs_off | way.needs_states) - given,
        )
        for way in appliance.removals.values()
        if request.tools is None or request.tools.issuperset(tool.id for tool in way.all_tools)
    ]
    for act in appliance.preparations.values():
        if act.needs_fitted or any(way.head == act.gives for way in found):
            raise ValueError(f"{act.id} needs a part fitted, or is not the only one")
        needs = (act.needs_off | act.needs_states | {act.from_state}) - given
        if request.tools is None or request.tools.issuperset(tool.id for tool in act.tools):
            found.append(Way(act.id, act.gives, act.minutes + act.undo_minutes, needs))
    return [way for way in found if way.id not in request.banned and way.head not in given]


def relevant(ways: Iterable[Way], goals: Iterable[str]) -> list[Way]:
    """The ways that a plan for ``goals`` could use, needs after what needs them."""
    by_head: dict[str, list[Way]] = {}
    for way in ways:
        by_head.setdefault(way.head, []).append(way)
    queue = list(dict.fromkeys(goals))
    seen = set(queue)
    kept: list[Way] = []
    for head in queue:
        for way in by_head.get(head, ()):
            kept.append(way)
            fresh = sorted(way.needs - seen)
            seen.update(fresh)
            queue.extend(fresh)
    return kept


def program(appliance: Appliance, request: Request, *, whole: bool = False) -> Program:
    """The request as a mixed-integer program; ``whole``: with the parts and ways that cannot matter to it too."""
    goals = [
        *(target.component for target in request.targets if target.component not in request.off),
        *sorted(request.off),
    ]
    usable = usable_ways(appliance, request)
    ways = list(usable) if whole else relevant(usable, goals)
    atoms = list(dict.fromkeys([*goals, *(need for way in ways for need in (way.head, *sorted(way.needs)))]))
    number = {atom: i for i, atom in enumerate(atoms)}
    rows = _Rows()
    bringing: list[list[int]] = [[] for _ in atoms]
    for column, way in enumerate(ways):
        bringing[number[way.head]].append(column)
    for goal in goals:
        rows.at_most([(column, -1.0) for column in bringing[number[goal]]], -1.0)
    for column, way in enumerate(ways):
        for need in map(number.__getitem__, sorted(way.needs)):
            rows.at_most([(column, 1.0), *((other, -1.0) for other in bringing[need])], 0.0)
    waits = [(column, number[way.head], number[need]) for column, way in enumerate(ways) for need in sorted(way.needs)]
    highest = [1.0] * len(ways)
    rows.ordered(waits, len(atoms), highest)
    if request.off:
        off = {number[part] for part in request.off}
        rows.ordered([wait for wait in waits if off.isdisjoint(wait[1:])], len(atoms), highest)
    places = len(highest) - len(ways)
    return Program(
        ways=tuple(ways),
        minutes=np.array([way.minutes for way in ways] + [0.0] * places),
        whole=np.array([1.0] * len(ways) + [0.0] * places),
        bounds=Bounds(np.zeros(len(highest)), np.array(highest)),
        constraint=rows.constraint(len(highest)),
    )


class _Rows:
    """Rows of a sparse matrix with an upper limit each."""

    def __init__(self) -> None:
        self._values: list[float] = []
        self._places: tuple[list[int], list[int]] = ([], [])
        self._limits: list[float] = []

    def at_most(self, entries: list[tuple[int, float]], limit: float) -> None:
        """Add a row. A row without entries still holds its limit: nothing is at most that."""
        for column, value in entries:
            self._values.append(value)
            self._places[0].append(len(self._limits))
            self._places[1].append(column)
        self._limits.append(limit)

    def ordered(self, waits: list[tuple[int, int, int]], atoms: int, highest: list[float]) -> None:
        """Rows that put ``atoms`` in an order: with the way of a column chosen, its head comes after its need.

        ``waits`` holds column, head and need. One column more is added to ``highest`` for each atom in a circle.
        """
        ones, heads, needs = np.ones(len(waits)), [head for _, head, _ in waits], [need for _, _, need in waits]
        graph = csr_array((ones, (heads, needs)), shape=(atoms, atoms))
        ring = connected_components(graph, connection="strong")[1] if atoms else np.zeros(0, dtype=np.int32)
        size = np.bincount(ring, minlength=1)
        ringed = [i for i in range(atoms) if size[ring[i]] > 1]
        order = {atom: len(highest) + place for place, atom in enumerate(ringed)}
        highest.extend(float(size[ring[atom]] - 1) for atom in ringed)
        for column, head, need in waits:
            if need == head:
                self.at_most([(column, 1.0)], 0.0)
            elif ring[need] == ring[head]:
                most = float(size[ring[head]])
                self.at_most([(order[need], 1.0), (order[head], -1.0), (column, most)], most - 1)

    def constraint(self, columns: int) -> LinearConstraint:
        """The rows, over this many columns."""
        matrix = csr_array((self._values, self._places), shape=(len(self._limits), columns))
        return LinearConstraint(matrix, -np.inf, np.array(self._limits))


def solve(of: Program) -> tuple[float, frozenset[str]] | None:
    """The least minutes with the ways that take them; None where there is no plan.

    Raises ``RuntimeError`` where HiGHS proves neither.
    """
    if not of.ways:
        return (0.0, frozenset()) if (of.constraint.ub >= 0).all() else None
    found = milp(
        of.minutes, integrality=of.whole, bounds=of.bounds, constraints=of.constraint, options={"mip_rel_gap": 0.0}
    )
    if found.status == INFEASIBLE:
        return None
    if found.status != OPTIMAL:
        raise RuntimeError(found.message)
    used = [way for way, value in zip(of.ways, found.x, strict=False) if value > 0.5]
    return sum(way.minutes for way in used), frozenset(way.id for way in used)


def cheapest_removals(appliance: Appliance, request: Request) -> float | None:
    """The least minutes of removals and preparations that serve the request, None where nothing does."""
    found = solve(program(appliance, request))
    return None if found is None else found[0]
