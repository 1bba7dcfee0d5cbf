"""What a client takes along to answer without the service: what can be asked, and the supply as rows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from firstoff.answers.grounds import touching_parts
from firstoff.answers.names import LIVE_TEST, touch_points
from firstoff.answers.notes import bulletin_notes, model_ref
from firstoff.answers.pocket_circuit import circuit_note
from firstoff.appliance.model import Appliance, Purpose
from firstoff.drawing import rows_of
from firstoff.energy.errors import TooMany
from firstoff.energy.held import held_releases
from firstoff.settings import Settings
from firstoff_contract.pocket import CircuitBulletin, Pocket, SupplyRow


def pocket_answer(appliance: Appliance, settings: Settings, among: Sequence[Appliance] = ()) -> Pocket:
    """Everything but the answers that can be had by their own addresses.

    ``among`` are all that the machine in hand may be, for the notices that touch it; ``appliance`` alone where empty.
    """
    circuit, why = None, None
    try:
        circuit = circuit_note(
            appliance, settings.safe_volts, settings.safe_volts_standard, _bulletins(among or (appliance,))
        )
    except TooMany as error:
        why = f"{error} Ask the service for live points."
    return Pocket(
        model=model_ref(appliance),
        reach=list(reachable(appliance)),
        touch=[each for each in sorted(appliance.components) if _can_be_touched(appliance, each)],
        rows=_rows(appliance),
        circuit=circuit,
        why_no_circuit=why,
        revision=appliance.revision,
    )


def reachable(appliance: Appliance) -> Iterator[str]:
    """Every target with a way of its own: an access path for the purpose, or a removal of the part or its unit."""
    paths = appliance.access_paths.values()
    ways = {(path.component, path.purpose) for path in paths}
    live_tests = {path.component for path in paths if path.live and path.purpose is Purpose.TEST}
    taken_off = {removal.component for removal in appliance.removals.values()}
    for slug, component in sorted(appliance.components.items()):
        yield from (f"{slug}:{each.value}" for each in (Purpose.INSPECT, Purpose.TEST) if (slug, each) in ways)
        if slug in live_tests:
            yield f"{slug}:{LIVE_TEST}"
        if taken_off & {slug, component.replaced_as or slug}:
            yield f"{slug}:{Purpose.REPLACE.value}"


def _can_be_touched(appliance: Appliance, component: str) -> bool:
    """Whether a hand at it, or at what its removal bares, meets a point or an energy that is held."""
    points, holders = touch_points(appliance, [component])
    return bool(points or held_releases(appliance, holders, frozenset(), frozenset()))


def _rows(appliance: Appliance) -> list[SupplyRow]:
    circuit = appliance.circuit
    rows = rows_of(appliance)
    names = [f"row-{number}" for number in range(1, len(rows) + 1)]
    said = []
    for name, row in zip(names, rows, strict=True):
        unit = row.units[0] if row.units else None
        device = circuit.devices[unit] if unit is not None and row.opened is not None else None
        part = device.component if device else unit
        said.append(
            SupplyRow.model_validate(
                {
                    "id": name,
                    "parent": names[row.parent] if row.parent >= 0 else None,
                    "label": row.text,
                    "what": row.symbol.value,
                    "component": part if part in appliance.components else None,
                    "device": device.id if device else None,
                    "isolating": row.isolating,
                    "coupled": row.coupled,
                    "line": sorted(row.line.points),
                    "beyond": sorted(row.beyond.points) if row.beyond else [],
                    "points": sorted({point for mark in row.marks for point in mark.points}),
                }
            )
        )
    return said


def _bulletins(among: Sequence[Appliance]) -> list[CircuitBulletin]:
    """The notices that may touch an answer, with the parts of which it has to name one."""
    notes = {each.id: each for appliance in among for each in appliance.bulletins}
    parts: dict[str, list[frozenset[str] | None]] = {slug: [] for slug in notes}
    for appliance in among:
        for each in appliance.bulletins:
            parts[each.id].append(touching_parts(appliance, each))
    return [
        CircuitBulletin(
            note=bulletin_notes([notes[slug]])[0],
            parts=None if None in parts[slug] else sorted(frozenset().union(*(each or () for each in parts[slug]))),
        )
        for slug in sorted(notes)
    ]
