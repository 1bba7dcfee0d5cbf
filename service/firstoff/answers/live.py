"""Live points as a contract answer."""

from __future__ import annotations

from collections.abc import Iterable

from firstoff.answers.names import capacitors, known, taken_off, touch_points
from firstoff.answers.notes import model_ref
from firstoff.appliance.model import Appliance
from firstoff.energy import PointState, cleared_by, live_points, situation_of, stored
from firstoff.settings import Settings
from firstoff_contract.energy import LivePoint, LivePoints, PathStep, StoredCharge


def live_points_answer(
    appliance: Appliance,
    settings: Settings,
    *,
    opened: Iterable[str],
    off: Iterable[str],
    released: Iterable[str],
    at: Iterable[str] = (),
) -> LivePoints:
    """The state of every point with the devices ``opened``, the components ``off`` and the capacitors ``released``.

    A component may be named by the removal that took it off: then only what that opens counts as open.

    ``at`` names the points, or the components whose points, are to be shown; all are where it is empty.

    :raises NotFound: a name is unknown; carries the nearest names.
    """
    circuit = appliance.circuit
    devices_open = known("device", opened, circuit.devices)
    parts_off, ways = taken_off(appliance, off)
    discharged = known("capacitor", released, capacitors(appliance))
    situation = situation_of(appliance, devices_open, parts_off, discharged, ways)
    states = live_points(appliance, situation)
    asked = list(at)
    shown = touch_points(appliance, asked)[0] if asked else frozenset(states)
    return LivePoints(
        model=model_ref(appliance),
        opened=sorted(devices_open),
        off=sorted(parts_off),
        released=sorted(discharged),
        points=[_live_point(appliance, states[slug], cleared_by(appliance, situation, slug)) for slug in sorted(shown)],
        stored=[
            StoredCharge(
                component=each.component,
                label=circuit.links[each.link].label,
                link=each.link,
                volts=each.volts,
                wait_s=each.wait_s,
                safe_volts=each.safe_volts,
                standard=each.standard,
                release=each.release,
            )
            for each in stored(appliance, situation, settings.safe_volts, settings.safe_volts_standard)
        ],
        revision=appliance.revision,
    )


def _live_point(appliance: Appliance, state: PointState, cleared: tuple[tuple[str, ...], ...]) -> LivePoint:
    circuit = appliance.circuit
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
        else:
            steps.append(PathStep(id=slug, label=circuit.links[slug].label, what="link"))
    return steps
