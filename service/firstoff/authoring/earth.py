"""Protective earth: what work opens is named, so that no plan energises a machine without it."""

from __future__ import annotations

from collections.abc import Iterator

from firstoff.appliance.circuit import LinkKind
from firstoff.appliance.model import (
    Appliance,
    Removal,
)
from firstoff.authoring.draft import Draft
from firstoff.authoring.findings import Problem, error


def earth_wires_named(draft: Draft) -> Iterator[Problem]:
    """An earth wire that is undone opens an earth bond of the circuit."""
    if draft.whole is None:
        return
    links = draft.whole.circuit.links
    for removal in draft.whole.removals.values():
        undone = [connection for connection in removal.connections if connection.kind.id == "earth-wire"]
        bonds = [slug for slug in removal.opens if slug in links and links[slug].kind is LinkKind.EARTH_BOND]
        if undone and not bonds:
            yield error(
                "earth-wire-opens-no-bond",
                removal.id,
                f"It undoes {undone[0].label} and names no earth bond that this opens.",
                "Write fo:opens with the link of kind link:earth-bond.",
            )


def removed_parts_unbonded(draft: Draft) -> Iterator[Problem]:
    """A part that is off is not bonded to earth any more: else an open bond would be shown as closed."""
    whole = draft.whole
    if whole is None:
        return
    first_off = _first_off(whole)
    for removal in whole.removals.values():
        gone = first_off.get(removal.component, frozenset()) | {removal.component}
        bonded = _bonded(whole, removal, gone)
        for point in sorted(bonded):
            if whole.circuit.points[point].component == removal.component:
                yield error(
                    "removed-part-stays-bonded",
                    removal.id,
                    f"It takes the part off, and {draft.label(point)} on it would still count as earthed "
                    f"by way of {draft.label(bonded[point])}.",
                    "Name that earth bond under fo:opens.",
                )
                break


def _bonded(appliance: Appliance, removal: Removal, gone: frozenset[str]) -> dict[str, str]:
    """Points on protective earth once the removal is done, each with the bond by which it is reached."""
    points = appliance.circuit.points
    beside: dict[str, list[tuple[str, str]]] = {}
    for link in appliance.circuit.links.values():
        if link.kind is LinkKind.EARTH_BOND and link.id not in removal.opens and link.component not in gone:
            beside.setdefault(link.start, []).append((link.end, link.id))
            beside.setdefault(link.end, []).append((link.start, link.id))
    earths = {source.protective_earth for source in appliance.circuit.sources.values()}
    waiting = [earth for earth in earths if earth is not None]
    seen = set(waiting)
    reached: dict[str, str] = {}
    while waiting:
        for point, bond in beside.get(waiting.pop(), ()):
            if point not in seen and point in points:
                seen.add(point)
                reached[point] = bond
                waiting.append(point)
    return reached


def _first_off(appliance: Appliance) -> dict[str, frozenset[str]]:
    """For each component what may be off before it: the needs of its removals and of theirs, whichever way is taken."""
    direct: dict[str, set[str]] = {}
    for removal in appliance.removals.values():
        direct.setdefault(removal.component, set()).update(removal.needs_off)
    closed: dict[str, frozenset[str]] = {}
    for component in direct:
        found: set[str] = set()
        waiting = list(direct[component])
        while waiting:
            need = waiting.pop()
            if need not in found:
                found.add(need)
                waiting += direct.get(need, ())
        closed[component] = frozenset(found)
    return closed
