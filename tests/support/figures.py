"""The figures that plans can have, found by looking at every situation there is.

Labels of figures are kept at each situation as long as none there beats them in everything (Martins, Eur. J. Oper. Res.
16:236, 1984). Nothing of the search is used: acts are carried out on the model as it is written.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from heapq import heappop, heappush
from random import Random

from firstoff.appliance.model import (
    Appliance,
    Connection,
    Fastening,
    Removal,
)
from firstoff.appliance.terms import Concept
from firstoff.removal import ActKind, Request
from support.full_model import Situation, Step, is_end, start_of, steps

#: Minutes, parts taken off, single-use parts broken, exposures.
Vector = tuple[float, int, int, int]
Exposures = Mapping[str, tuple[int, int]]


def broken_by(way: Removal) -> int:
    """The single-use parts that a removal breaks."""
    screws = [fastening.count for fastening in way.fastenings if fastening.single_use]
    seals = [connection for connection in way.connections if connection.single_use]
    return sum(screws) + len(seals) + (1 if way.single_use else 0)


def figures_of(machine: Appliance, exposures: Exposures, step: Step) -> Vector:
    """What one act adds."""
    kind, _, way, _, minutes = step
    done, taken_back = exposures.get(way or "", (0, 0))
    exposed = taken_back if kind in (ActKind.REFIT, ActKind.UNDO) else done
    if kind is not ActKind.REMOVE:
        return minutes, 0, 0, exposed
    return minutes, 1, broken_by(machine.removals[way or ""]), exposed


def beats(one: Vector, other: Vector) -> bool:
    """Whether ``one`` has no more of anything than ``other``; alike counts too."""
    return all(mine <= its for mine, its in zip(one, other, strict=True))


def unbeaten(machine: Appliance, request: Request, exposures: Exposures) -> set[Vector]:
    """The figures of all plans that no other plan beats; empty where there is no plan."""
    start = start_of(machine, request)
    kept: dict[Situation, list[Vector]] = {start: [(0.0, 0, 0, 0)]}
    ends: list[Vector] = []
    heap: list[tuple[Vector, int, Situation]] = [((0.0, 0, 0, 0), 0, start)]
    serial = 0
    while heap:
        vector, _, now = heappop(heap)
        if vector not in kept[now] or any(beats(end, vector) for end in ends):
            continue
        if is_end(machine, request, now):
            ends.append(vector)
            continue
        for step, after in steps(machine, request, now):
            more = figures_of(machine, exposures, step)
            reached = vector[0] + more[0], vector[1] + more[1], vector[2] + more[2], vector[3] + more[3]
            labels = kept.setdefault(after, [])
            if not any(beats(label, reached) for label in labels):
                labels[:] = [label for label in labels if not beats(reached, label)]
                labels.append(reached)
                serial += 1
                heappush(heap, (reached, serial, after))
    return {end for end in ends if not any(beats(other, end) for other in ends if other != end)}


def with_figures(rng: Random, machine: Appliance) -> tuple[Appliance, Exposures]:
    """``machine`` with single-use parts here and there, and exposures of some of its ways."""
    kind = Concept("clip", "clip")

    def marked(way: Removal) -> Removal:
        clips = [Fastening(kind, rng.randint(1, 3), single_use=rng.random() < 0.5) for _ in range(rng.randint(0, 1))]
        plugs = [Connection(kind, "plug", single_use=True)] if rng.random() < 0.2 else []
        return replace(way, fastenings=tuple(clips), connections=tuple(plugs), single_use=rng.random() < 0.1)

    machine = replace(machine, removals={id_: marked(way) for id_, way in machine.removals.items()})
    ways = [*machine.removals, *machine.preparations, *machine.access_paths]
    return machine, {way: (rng.randint(0, 2), rng.randint(0, 1)) for way in ways if rng.random() < 0.5}
