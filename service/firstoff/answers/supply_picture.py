"""The supply of a machine as it stands, ready to be drawn."""

from __future__ import annotations

from collections.abc import Iterable

from firstoff.answers.names import capacitors, known, taken_off, touch_points
from firstoff.appliance.model import Appliance
from firstoff.drawing import Supply, supply_of
from firstoff.energy import situation_of


def supply_answer(
    appliance: Appliance,
    *,
    opened: Iterable[str],
    off: Iterable[str],
    released: Iterable[str],
    at: Iterable[str] = (),
) -> Supply:
    """What the single-line drawing shows with ``opened``, ``off`` and ``released`` as for the live points.

    ``at`` names points, or components whose points, to which the drawing is cut: what leads there, and what hangs
    below it. All is drawn where it is empty.

    :raises NotFound: a name is unknown; carries the nearest names.
    """
    devices_open = known("device", opened, appliance.circuit.devices)
    parts_off, ways = taken_off(appliance, off)
    discharged = known("capacitor", released, capacitors(appliance))
    asked = list(at)
    points = touch_points(appliance, asked)[0] if asked else None
    situation = situation_of(appliance, devices_open, parts_off, discharged, ways)
    return supply_of(appliance, situation, points, parts_off)
