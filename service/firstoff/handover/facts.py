"""What decides the limits of one machine."""

from __future__ import annotations

from dataclasses import dataclass

from firstoff.appliance.model import Appliance

#: The kind of component that tells the length and cross-section of the cord.
CORD_KIND = "supply-cord"
_MAINS = "mains"
_REFRIGERATING = frozenset({"refrigerating-appliance", "refrigerator", "freezer", "fridge-freezer"})


@dataclass(frozen=True, slots=True)
class Facts:
    """None where nothing is said.

    ``built_to`` is the slug of a family of standards; ``protection_class`` I, II or III; ``operation`` motor-operated,
    heating or combined; ``rated_watts`` the rated power input; ``corded`` true for cord and plug, false for fixed
    wiring. ``refrigerating`` says that the appliance is of a refrigerating kind.
    """

    built_to: str | None = None
    protection_class: str | None = None
    stationary: bool | None = None
    operation: str | None = None
    rated_watts: float | None = None
    corded: bool | None = None
    cord_metres: float | None = None
    cord_square_millimetres: float | None = None
    refrigerating: bool = False


def facts_of(appliance: Appliance) -> Facts:
    """The facts of a model. Of several cords the shortest and thickest count, which gives the lowest limit."""
    construction = appliance.construction
    mains = [each for each in appliance.circuit.sources.values() if each.kind.id == _MAINS]
    cords = [each for each in appliance.components.values() if each.kind.id == CORD_KIND]
    lengths = [each.cord_metres for each in cords]
    sections = [each.cord_square_millimetres for each in cords]
    return Facts(
        built_to=construction.built_to.id if construction.built_to else None,
        protection_class=construction.protection_class,
        stationary=construction.stationary,
        operation=construction.operation,
        rated_watts=construction.rated_input,
        corded=not all(each.fixed for each in mains) if mains else None,
        cord_metres=None if None in lengths else min((each for each in lengths if each), default=None),
        cord_square_millimetres=None if None in sections else max((each for each in sections if each), default=None),
        refrigerating=appliance.kind.id in _REFRIGERATING,
    )
