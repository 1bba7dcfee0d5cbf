"""The circuit of a platform: points, links, devices and sources of every kind of energy."""

from __future__ import annotations

from firstoff.appliance.circuit import (
    Circuit,
    Device,
    EnergySource,
    Link,
    LinkKind,
    Point,
)
from firstoff.appliance.statements import Resource, Statements, sources


def circuit(graph: Statements, isolating_kinds: frozenset[str]) -> Circuit:
    """All that conducts.

    :raises ContentBroken: a resource lacks what its class needs.
    """
    return Circuit(
        points={resource.id: _point(resource) for resource in graph.of_class("Point")},
        links={resource.id: _link(resource) for resource in graph.of_class("Link")},
        devices={resource.id: _device(resource, isolating_kinds) for resource in graph.of_class("Device")},
        sources={resource.id: _source(resource) for resource in graph.of_class("EnergySource")},
    )


def _point(resource: Resource) -> Point:
    return Point(
        id=resource.id,
        label=resource.label,
        component=resource.needed_slug("onComponent"),
        terminal=resource.text("terminal"),
        volts=resource.number("volts"),
        current=resource.text("currentKind"),
    )


def _link(resource: Resource) -> Link:
    return Link(
        id=resource.id,
        label=resource.label,
        kind=resource.member("linkKind", LinkKind),
        start=resource.needed_slug("from"),
        end=resource.needed_slug("to"),
        component=resource.needed_slug("onComponent"),
        device=resource.slug("contactOf"),
        changeover=resource.flag("changeover"),
        ohms=resource.number("ohms"),
        ohm_tolerance=resource.number("ohmTolerance") or 0.0,
        rated_volts=resource.number("ratedVolts"),
        rated_watts=resource.number("ratedWatts"),
        farads=resource.number("farads"),
        farad_tolerance=resource.number("faradTolerance") or 0.0,
        volts=resource.number("volts"),
        current=resource.text("currentKind"),
        bleeds=resource.slug("bleeds"),
        release=resource.text("release"),
        sources=sources(resource),
    )


def _device(resource: Resource, isolating_kinds: frozenset[str]) -> Device:
    kind = resource.needed_concept("deviceKind")
    return Device(
        id=resource.id,
        label=resource.label,
        kind=kind,
        component=resource.needed_slug("onComponent"),
        isolating=kind.id in isolating_kinds,
        minutes=resource.number("minutes") or 0.0,
        needs_off=resource.slugs("needsOff"),
        needs_states=resource.slugs("needsState"),
        instruction=resource.text("instruction") or "",
    )


def _source(resource: Resource) -> EnergySource:
    return EnergySource(
        id=resource.id,
        label=resource.label,
        kind=resource.needed_concept("energyKind"),
        lines=tuple(sorted(resource.slugs("line"))),
        neutral=resource.slug("neutral"),
        protective_earth=resource.slug("protectiveEarth"),
        feeds=tuple(sorted(resource.slugs("feeds"))),
        volts=resource.number("volts"),
        current=resource.text("currentKind"),
        hertz=resource.number("hertz"),
        upper_tolerance=resource.number("upperTolerance") or 0.0,
        polarised=resource.flag("polarised"),
        fixed=resource.flag("fixed"),
        earthed_neutral=resource.flag("earthedNeutral"),
        derived_from=tuple(sorted(resource.slugs("derivedFrom"))),
        held_by=resource.slug("heldBy"),
        release_before=resource.slugs("releaseBefore"),
        gone_in=resource.slugs("goneIn"),
        release=resource.text("release"),
        minutes=resource.number("minutes"),
        competence=resource.text("competence"),
        sources=sources(resource),
    )
