"""The circuit: devices, points and sources that join nothing, and resistors that bleed nothing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from firstoff.appliance.circuit import LinkKind
from firstoff.appliance.model import Appliance
from firstoff.authoring.draft import Draft
from firstoff.authoring.findings import Problem, error, warning
from firstoff.energy.assume import supplies


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


def isolating_poles(draft: Draft) -> Iterator[Problem]:
    """A manual switch isolates only if it opens every ungrounded conductor of its supply (29 CFR 1910.147(b))."""
    whole = draft.whole
    if whole is None:
        return
    joint = joints(whole, {LinkKind.CONDUCTOR, LinkKind.FUSE, LinkKind.WINDING})
    for source in supplies(whole.circuit):
        ends = {joint.get(line, line): line for line in source.lines}
        opened: dict[str, set[str]] = {}
        for link in whole.circuit.links.values():
            device = whole.circuit.devices.get(link.device or "")
            if device is not None and device.isolating:
                own = {joint.get(link.start, link.start), joint.get(link.end, link.end)} & ends.keys()
                opened.setdefault(device.id, set()).update(own)
        for slug, lines in opened.items():
            if lines and len(lines) < len(ends):
                left = ", ".join(draft.label(line) for end, line in sorted(ends.items()) if end not in lines)
                yield error(
                    "isolating-device-lacks-pole",
                    slug,
                    f"It opens some lines of {source.label} and leaves {left}.",
                    "Describe a contact for every ungrounded conductor, or make it a control device.",
                )


def supply_facts(draft: Draft) -> Iterator[Problem]:
    """Facts without which nobody can say what a meter should read."""
    whole = draft.whole
    if whole is None:
        return
    points = whole.circuit.points
    for source in supplies(whole.circuit):
        if source.lower_tolerance is None:
            yield warning(
                "lower-tolerance-missing",
                source.id,
                "It is not told how far this supply may fall; its upper tolerance is taken both ways.",
                "Write fo:lowerTolerance 0.10 for ten per cent.",
            )
        lost = [line for line in source.lines if line in points and points[line].phase_angle is None]
        if len(source.lines) > 1 and lost:
            yield warning(
                "phase-angle-missing",
                source.id,
                f"{draft.label(lost[0])} has no phase angle, so the voltage between the lines is unknown.",
                "Write fo:phaseAngle 0 and 180 on the lines of a split-phase supply, 0, 120 and 240 on three phases.",
            )
    for link in whole.circuit.links.values():
        if link.changeover and link.at_rest is None:
            yield warning(
                "throw-without-rest",
                link.id,
                "It is not told whether this throw is made at rest, so readings that depend on it are unknown.",
                "Write fo:atRest true on the throw that is made while nothing moves the contact, false on the other.",
            )


def floating_parts(draft: Draft) -> Iterator[Problem]:
    """A part of the circuit to which no source leads is unknown, and never shown as safe."""
    whole = draft.whole
    if whole is None:
        return
    joint = joints(whole, frozenset(LinkKind))
    fed = {
        joint.get(point, point)
        for source in whole.circuit.sources.values()
        for point in (
            *source.lines,
            *source.feeds,
            *(each for each in (source.neutral, source.protective_earth) if each),
        )
    }
    joined = {end for link in whole.circuit.links.values() for end in (link.start, link.end)}
    groups: dict[str, list[str]] = {}
    for point in whole.circuit.points:
        if point in joined and joint[point] not in fed:
            groups.setdefault(joint[point], []).append(point)
    for members in groups.values():
        yield warning(
            "circuit-floats",
            members[0],
            f"No source leads to it, nor to the {len(members) - 1} points joined to it, so their state is unknown.",
            "Describe the source that feeds them, or the links that lead there.",
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
