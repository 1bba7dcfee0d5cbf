"""What every point is in the worst case, over the circuit as it is and every single fault of it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from firstoff.appliance.circuit import Circuit
from firstoff.appliance.model import Appliance
from firstoff.energy.assume import Assumption, assumed, single_faults
from firstoff.energy.liveness import live_points
from firstoff.energy.network import circuit_of
from firstoff.energy.words import PointCondition, PointState, Situation

BADNESS = {condition: rank for rank, condition in enumerate(reversed(PointCondition))}
"""How bad a condition is: live most of all, isolated not at all."""


@dataclass(frozen=True, slots=True)
class WorstState:
    """The worst ``state`` of a point, and the ``fault`` that makes it so; None where it is so without any."""

    state: PointState
    fault: Assumption | None = None


def points_under(of: Appliance | Circuit, situation: Situation, faults: Iterable[Assumption]) -> dict[str, PointState]:
    """The state of every point of the circuit with all of ``faults`` at work; metal that lost its earth is never safe.

    Raises ``Contradiction`` where they cannot hold together.
    """
    world = assumed(circuit_of(of), faults)
    states = live_points(world.circuit, world.over(situation))
    return {
        point: PointState(point, PointCondition.UNKNOWN)
        if point in world.unearthed and BADNESS[state.state] < BADNESS[PointCondition.UNKNOWN]
        else state
        for point, state in states.items()
        if point not in world.inside
    }


def worst_points(of: Appliance | Circuit, situation: Situation) -> dict[str, WorstState]:
    """The worst state of every point over no fault and each of ``single_faults``; the first fault where several tie."""
    circuit = circuit_of(of)
    worst = {point: WorstState(state) for point, state in live_points(circuit, situation).items()}
    for fault in single_faults(circuit):
        for point, state in points_under(circuit, situation, [fault]).items():
            if BADNESS[state.state] > BADNESS[worst[point].state.state]:
                worst[point] = WorstState(state, fault)
    return worst
