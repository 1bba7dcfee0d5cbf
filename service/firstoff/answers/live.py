"""Live points as a contract answer."""

from __future__ import annotations

from collections.abc import Iterable

from firstoff.answers.faults_assumed import asked_rightly, assumptions_of
from firstoff.answers.names import capacitors, known, taken_off, touch_points
from firstoff.answers.notes import model_ref
from firstoff.answers.stored_charge import stored_notes
from firstoff.appliance.model import Appliance
from firstoff.energy import PointState, Situation, clearings, situation_of
from firstoff.energy.assume import Assumption, World, assumed
from firstoff.energy.worst import WorstState, points_under, worst_points
from firstoff.errors import BadRequest
from firstoff.settings import Settings
from firstoff_contract.energy import LivePoint, LivePoints, PathStep


def live_points_answer(
    appliance: Appliance,
    settings: Settings,
    *,
    opened: Iterable[str],
    off: Iterable[str],
    released: Iterable[str],
    at: Iterable[str] = (),
    assume: Iterable[str] = (),
    worst: bool = False,
) -> LivePoints:
    """The state of every point with the devices ``opened``, the components ``off`` and the capacitors ``released``.

    A component may be named by the removal that took it off: then only what that opens counts as open.

    ``at`` names the points, or the components whose points, are to be shown; all are where it is empty. ``assume`` are
    faults that are taken to be there; with ``worst`` each point has its worst state over no fault and every single one.

    :raises NotFound: a name is unknown; carries the nearest names.
    :raises BadRequest: assumed faults contradict each other, or are given together with ``worst``.
    """
    circuit = appliance.circuit
    devices_open = known("device", opened, circuit.devices)
    parts_off, ways = taken_off(appliance, off)
    discharged = known("capacitor", released, capacitors(appliance))
    situation = situation_of(appliance, devices_open, parts_off, discharged, ways)
    faults = assumptions_of(circuit, assume)
    found, world = _states(appliance, situation, faults, worst)
    asked = list(at)
    shown = touch_points(appliance, asked)[0] if asked else frozenset(found)
    cleared = clearings(world.circuit, world.over(situation), shown - world.unearthed)
    return LivePoints(
        model=model_ref(appliance),
        opened=sorted(devices_open),
        off=sorted(parts_off),
        released=sorted(discharged),
        assume=[fault.text for fault in faults],
        points=[_live_point(appliance, found[slug], cleared.get(slug, ())) for slug in sorted(shown)],
        stored=stored_notes(appliance, situation, settings.safe_volts, settings.safe_volts_standard),
        revision=appliance.revision,
    )


def _states(
    appliance: Appliance, situation: Situation, faults: list[Assumption], worst: bool
) -> tuple[dict[str, WorstState], World]:
    """The state of every point, and the circuit that it is the state of."""
    if worst and faults:
        raise BadRequest(
            "The worst over every single fault is asked for, and faults are assumed besides.",
            mend="Give assume= or worst=, not both.",
        )
    with asked_rightly():
        world = assumed(appliance.circuit, faults)
        if worst:
            return worst_points(appliance, situation), world
        states = points_under(appliance, situation, faults)
        return {slug: WorstState(state) for slug, state in states.items()}, world


def _live_point(appliance: Appliance, found: WorstState, cleared: tuple[tuple[str, ...], ...]) -> LivePoint:
    circuit, state = appliance.circuit, found.state
    point = circuit.points[state.id]
    source = circuit.sources.get(state.source or "")
    return LivePoint.model_validate(
        {
            "id": state.id,
            "label": point.label,
            "component": point.component,
            "energy": source.kind.id if source else ("stored-charge" if state.source else None),
            "state": state.state.value,
            "volts": state.volts,
            "current": state.current,
            "fed_by": _path(appliance, state),
            "through_load": state.through_load,
            "cleared_by": sorted(list(devices) for devices in cleared if devices),
            "fault": found.fault.text if found.fault else None,
        }
    )


def _path(appliance: Appliance, state: PointState) -> list[PathStep]:
    """The source, then points and links in turn, with their labels."""
    circuit = appliance.circuit
    source = circuit.sources.get(state.source or "") or circuit.links.get(state.source or "")
    steps = [PathStep(id=source.id, label=source.label, what="source")] if source else []
    for slug in state.fed_by:
        if slug in circuit.points:
            steps.append(PathStep(id=slug, label=circuit.points[slug].label, what="point"))
        elif slug in circuit.links:
            steps.append(PathStep(id=slug, label=circuit.links[slug].label, what="link"))
    return steps
