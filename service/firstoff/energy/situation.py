"""From what was opened and taken off to what conducts no more; and which removals cost protection."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from firstoff.appliance.circuit import LinkKind
from firstoff.appliance.model import (
    Appliance,
    Component,
    Removal,
)
from firstoff.energy.charge import tied_across
from firstoff.energy.words import Situation


def situation_of(
    appliance: Appliance,
    opened: Iterable[str],
    off: Iterable[str],
    released: Iterable[str] = (),
    ways: Mapping[str, str] | None = None,
    *,
    neutral_proved: bool = False,
) -> Situation:
    """What conducts no more once the devices ``opened`` are open and the components ``off`` are off.

    ``ways`` says by which removal (id) each component came off. Where that is not said, or the removal named is not
    one of that component, a link counts as opened only if every removal of the component opens it, so that nothing is
    taken for less live than it may be; an earth bond counts as open if any removal opens it. What sits inside a
    component that is off is carried along: its bonds count as open, its other links are only in doubt.

    An isolating device counts as open where a removal undoes all its contacts, such as a connector; one that merely
    belongs to a part that is off stays as it was, since a cord taken off a machine may still be plugged in.
    """
    ways = ways or {}
    taken = frozenset(off)
    links = appliance.circuit.links
    bonds = frozenset(id_ for id_, link in links.items() if link.kind is LinkKind.EARTH_BOND)
    carried = carried_along(appliance.components, taken)
    isolating = _isolating_contacts(appliance)
    contacts = frozenset().union(*isolating.values())
    certain = {id_ for id_, link in links.items() if link.component in taken and id_ not in contacts}
    possible = {id_ for id_, link in links.items() if link.component in carried}
    by_component: dict[str, list[Removal]] = {component: [] for component in taken}
    for removal in appliance.removals.values():
        if removal.component in taken:
            by_component[removal.component].append(removal)
    for component, removals in by_component.items():
        used = [removal for removal in removals if removal.id == ways.get(component)] or removals
        if used:
            certain |= frozenset.intersection(*(removal.opens for removal in used))
            possible |= frozenset.union(*(removal.opens for removal in used))
    undone = frozenset(device for device, contacts in isolating.items() if contacts and contacts <= certain)
    return Situation(
        opened=frozenset(opened) | undone,
        links_open=frozenset(certain) - bonds,
        bonds_open=(frozenset(certain) | possible) & bonds,
        released=frozenset(released),
        neutral_proved=neutral_proved,
        links_in_doubt=frozenset(possible - certain) - bonds,
    )


def _isolating_contacts(appliance: Appliance) -> dict[str, frozenset[str]]:
    """The contacts of each isolating device."""
    contacts: dict[str, set[str]] = {
        id_: set() for id_, device in appliance.circuit.devices.items() if device.isolating
    }
    for id_, link in appliance.circuit.links.items():
        if link.device in contacts:
            contacts[link.device].add(id_)
    return {device: frozenset(found) for device, found in contacts.items()}


def opens_protection(appliance: Appliance, removal: Removal | str) -> frozenset[str]:
    """The earth bonds and bleed resistors that a removal opens, by itself or because they go with the part.

    A bleed resistor is opened too where the removal opens a conductor that ties it to its capacitor. Nothing may be
    energised or charged while any of them is open.

    Raises ``KeyError`` where no removal has the id given.
    """
    way = appliance.removals[removal] if isinstance(removal, str) else removal
    links = appliance.circuit.links
    gone = carried_along(appliance.components, frozenset({way.component})) | {way.component}
    opened = frozenset(id_ for id_, link in links.items() if link.component in gone) | way.opens
    lost = {id_ for id_ in opened if id_ in links and links[id_].kind is LinkKind.EARTH_BOND}
    for id_, link in links.items():
        if link.bleeds is not None and (
            id_ in opened
            or (tied_across(appliance.circuit, id_, frozenset()) and not tied_across(appliance.circuit, id_, opened))
        ):
            lost.add(id_)
    return frozenset(lost)


def carried_along(components: Mapping[str, Component], taken: frozenset[str]) -> frozenset[str]:
    """The components that sit, at any depth, inside one of ``taken``; a circle of nesting does no harm."""
    carried: set[str] = set()
    for id_ in components:
        chain: set[str] = set()
        inner: str | None = id_
        while inner is not None and inner not in chain and inner not in taken and inner not in carried:
            chain.add(inner)
            inner = components[inner].sits_inside if inner in components else None
        if inner is not None and (inner in taken or inner in carried):
            carried |= chain
    return frozenset(carried)
