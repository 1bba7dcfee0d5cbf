"""The circuit: devices, points and sources that join nothing, and resistors that bleed nothing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from firstoff.appliance.circuit import LinkKind
from firstoff.appliance.model import Appliance
from firstoff.authoring.draft import Draft
from firstoff.authoring.findings import Problem, error, warning


def unused_devices(draft: Draft) -> Iterator[Problem]:
    """A device without a contact opens nothing; a changeover has two throws."""
    if draft.whole is None:
        return
    throws: Counter[str] = Counter()
    worked = set()
    for link in draft.whole.circuit.links.values():
        if link.kind is LinkKind.CONTACT and link.device is not None:
            worked.add(link.device)
            if link.changeover:
                throws[link.device] += 1
    for device in draft.whole.circuit.devices.values():
        if device.id not in worked:
            yield error(
                "device-without-contact",
                device.id,
                "This device has no contact, so opening it changes nothing.",
                "Describe its contacts as links of kind link:contact with fo:contactOf.",
            )
    for slug, count in throws.items():
        if count < 2:
            yield warning(
                "changeover-without-second-throw",
                slug,
                "This device has one changeover throw only.",
                "Describe both throws, or take fo:changeover away where the contact only opens.",
            )


def unjoined_points(draft: Draft) -> Iterator[Problem]:
    """A point in no link stays unknown, which is never shown as safe."""
    if draft.whole is None:
        return
    joined = {end for link in draft.whole.circuit.links.values() for end in (link.start, link.end)}
    for point in draft.whole.circuit.points.values():
        if point.id not in joined:
            yield warning(
                "point-without-link",
                point.id,
                "This point is in no link, so its state is unknown and it is never shown as safe.",
                "Describe the links that lead to it.",
            )


def floating_sources(draft: Draft) -> Iterator[Problem]:
    """A source whose points join nothing feeds nothing."""
    if draft.whole is None:
        return
    joined = {end for link in draft.whole.circuit.links.values() for end in (link.start, link.end)}
    for source in draft.whole.circuit.sources.values():
        for point in (*source.lines, *source.feeds, *((source.neutral,) if source.neutral else ())):
            if point not in joined:
                yield error(
                    "floating-source",
                    source.id,
                    f"Its point {draft.label(point)} is in no link, so it feeds nothing.",
                    "Describe the links that lead from it.",
                )


def bleeds_across(draft: Draft) -> Iterator[Problem]:
    """A bleed resistor lies across its capacitor, with nothing but conductors between; else no wait can be told."""
    if draft.whole is None:
        return
    links = draft.whole.circuit.links
    joint = joints(draft.whole, {LinkKind.CONDUCTOR})
    for link in links.values():
        capacitor = links.get(link.bleeds) if link.bleeds else None
        if capacitor is None:
            continue
        ends = {joint.get(link.start, link.start), joint.get(link.end, link.end)}
        if ends != {joint.get(capacitor.start, capacitor.start), joint.get(capacitor.end, capacitor.end)}:
            yield error(
                "bleed-not-across-capacitor",
                link.id,
                f"It is said to bleed {capacitor.label} and does not lie across it.",
                "Correct fo:from and fo:to, or take fo:bleeds away where a contact or another part lies between.",
            )


def joints(appliance: Appliance, kinds: Iterable[LinkKind]) -> dict[str, str]:
    """For each point a name that it shares with all points joined to it by links of ``kinds``."""
    joined: dict[str, str] = {}

    def find(point: str) -> str:
        while joined.get(point, point) != point:
            joined[point] = joined.get(joined[point], joined[point])
            point = joined[point]
        return point

    wanted = frozenset(kinds)
    for link in appliance.circuit.links.values():
        if link.kind in wanted:
            joined[find(link.start)] = find(link.end)
    return {point: find(point) for point in appliance.circuit.points}
