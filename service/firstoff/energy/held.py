"""Energy that a component holds: spring, heat, weight, refrigerant, trapped water. Nothing shuts it off."""

from __future__ import annotations

from firstoff.appliance.circuit import (
    Circuit,
    EnergySource,
)
from firstoff.appliance.model import Appliance
from firstoff.energy.heat import ROOM_CELSIUS, waiting
from firstoff.energy.network import circuit_of
from firstoff.energy.verifying import usual
from firstoff.energy.words import Release

REFRIGERANT = "refrigerant"
"""Slug of the energy kind that only licensed recovery takes away."""


def held_releases(
    of: Appliance | Circuit, components: frozenset[str], reaching: frozenset[str], released: frozenset[str]
) -> tuple[Release, ...]:
    """What is held by ``components``, by what they sit inside or what sits inside them, and not yet released.

    ``reaching`` are the ids of held sources that reach a touched point; they count whatever holds them.
    """
    holders = _family(of, components)
    return tuple(
        Release(
            source.id,
            source.kind.id,
            source.held_by,
            release_of(of, source),
            waiting(source, ROOM_CELSIUS)[0],
            source.competence,
            source.verification or usual(source.kind.id),
        )
        for source in circuit_of(of).sources.values()
        if source.held_by is not None
        and source.id not in released
        and (source.held_by in holders or source.id in reaching)
    )


def _family(of: Appliance | Circuit, components: frozenset[str]) -> frozenset[str]:
    """``components``, all they sit inside and all that sits inside them, at any depth."""
    if not isinstance(of, Appliance):
        return components
    family = set(components)
    for id_ in of.components:
        chain = _chain(of, id_)
        inside = [place for place, each in enumerate(chain) if each in components]
        if inside:
            family.update(chain[: max(inside)])
        if id_ in components:
            family.update(chain)
    return frozenset(family)


def _chain(of: Appliance, component: str) -> list[str]:
    """A component, what it sits inside, and so on outwards; a circle is walked once."""
    chain: list[str] = []
    inner: str | None = component
    while inner is not None and inner not in chain:
        chain.append(inner)
        inner = of.components[inner].sits_inside if inner in of.components else None
    return chain


def release_of(of: Appliance | Circuit, source: EnergySource) -> str:
    """How held energy is released: in the words of the content, or in plain ones."""
    if source.release is not None:
        return source.release
    if source.kind.id == REFRIGERANT:
        return "Leave the refrigerant circuit closed. Recovery is for a licensed refrigeration technician."
    holder = source.held_by
    if isinstance(of, Appliance) and holder is not None and holder in of.components:
        holder = of.components[holder].label
    return f"Release or block {source.label} ({holder}), and verify that it is gone before reaching in."
