"""Which classes are shown together, and in which order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from firstoff.authoring.glossary import Class

_AREAS = {
    "Products": ("Platform", "Model", "SerialRange", "Substitution", "Bulletin", "FinishStep", "Source"),
    "Parts and ways in": (
        "Zone",
        "Component",
        "AccessPath",
        "Removal",
        "Fastening",
        "Connection",
        "ReassemblyCheck",
    ),
    "States and cautions": ("StateVariable", "State", "Preparation", "Caution"),
    "Energy and circuits": ("EnergySource", "Point", "Link", "Device", "ResistanceCurve"),
    "Faults and checks": ("DisplayCode", "ServiceMode", "ServiceStep", "Fault", "Effect", "Check", "Outcome", "Remedy"),
}
_REST = "Further classes"


@dataclass(frozen=True, slots=True)
class Area:
    """``anchor`` is an address within the page; no term has one with a hyphen."""

    title: str
    anchor: str
    classes: tuple[Class, ...]


def areas_of(classes: Sequence[Class]) -> tuple[Area, ...]:
    """Every class in one area; those of no area named here come last, in one of their own."""
    named = {name: title for title, names in _AREAS.items() for name in names}
    found = [
        (title, tuple(each for each in classes if named.get(each.term.name, _REST) == title))
        for title in (*_AREAS, _REST)
    ]
    return tuple(Area(title, f"area-{title.lower().replace(' ', '-')}", members) for title, members in found if members)
