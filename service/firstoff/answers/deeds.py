"""What was done to a machine, as far as finishing the job and proving it safe depend on it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from firstoff.appliance.circuit import LinkKind
from firstoff.appliance.model import (
    Appliance,
    Removal,
)
from firstoff.removal import Act, ActKind


@dataclass(frozen=True, slots=True)
class Deeds:
    """``things``: slugs of components that were off, preparations made and states in force at some time.

    ``removals`` are the ways by which components went back, the last one of each; ``bonds`` the earth bonds undone.
    """

    things: frozenset[str]
    removals: Mapping[str, Removal]
    bonds: frozenset[str]


def deeds_of(appliance: Appliance, acts: Iterable[Act], off: frozenset[str], states: Mapping[str, str]) -> Deeds:
    """What a plan does, begun with ``off`` missing and ``states`` in force (by variable, where not initial).

    A part that was off from the start may have come off by any of its removals.
    """
    things = set(off)
    initial = {slug for slug, state in appliance.states.items() if state.initial}
    in_force = set(states.values())
    removals: dict[str, Removal] = {}
    used: list[Removal] = [each for each in appliance.removals.values() if each.component in off]
    for act in acts:
        in_force |= set(act.states.values())
        if act.kind in (ActKind.PREPARE, ActKind.UNDO) and act.way is not None:
            things.add(act.way)
        removal = appliance.removals.get(act.way or "")
        if act.kind in (ActKind.REMOVE, ActKind.REFIT) and act.component is not None:
            things.add(act.component)
            if removal is not None:
                used.append(removal)
                if act.kind is ActKind.REFIT:
                    removals[act.component] = removal
    links = appliance.circuit.links
    opened = {slug for removal in used for slug in removal.opens if slug in links}
    bonds = frozenset(slug for slug in opened if links[slug].kind is LinkKind.EARTH_BOND)
    return Deeds(frozenset(things | (in_force - initial)), removals, bonds)


def deed_labels(appliance: Appliance, slugs: Iterable[str]) -> list[str]:
    """Components, preparations and states in words, in order of the words."""
    found = []
    for slug in slugs:
        for kind, words in (
            (appliance.components, "{} taken off"),
            (appliance.preparations, "{}"),
            (appliance.states, "{}"),
        ):
            if slug in kind:
                found.append(words.format(kind[slug].label))
    return sorted(dict.fromkeys(found))
