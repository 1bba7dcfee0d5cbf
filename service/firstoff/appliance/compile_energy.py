"""The circuit of a platform: points, links, devices and sources of every kind of energy."""

from __future__ import annotations

from firstoff.appliance.circuit import (
    Circuit,
    CurveKind,
    Device,
    EnergySource,
    Link,
    LinkKind,
    Point,
    ResistanceCurve,
)
from firstoff.appliance.statements import Resource, Statements, sources
from firstoff.errors import ContentBroken


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
        phase_angle=resource.number("phaseAngle"),
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
        watt_tolerance=resource.number("wattTolerance") or 0.0,
        henries=resource.number("henries"),
        henry_tolerance=resource.number("henryTolerance") or 0.0,
        hot_cold_ratio=resource.number("hotColdRatio"),
        at_rest=resource.flag_told("atRest"),
        curve=next((_curve(part) for part in resource.parts("resistanceCurve")), None),
        verification=resource.text("verification"),
    )


def _curve(resource: Resource) -> ResistanceCurve:
    kind = resource.text("curveKind")
    if kind not in {each.value for each in CurveKind}:
        raise ContentBroken(f"{resource.id}: curveKind is {kind!r}, which is none of {', '.join(CurveKind)}.")
    terms = [resource.number(name) for name in ("termConstant", "termLinear", "termSquare", "termCube")]
    return ResistanceCurve(
        kind=CurveKind(kind),
        ohms=resource.needed_number("referenceOhms"),
        celsius=resource.number("referenceCelsius"),
        beta=resource.number("betaKelvin"),
        terms=tuple(term or 0.0 for term in terms) if any(term is not None for term in terms) else (),
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
        lockable=resource.flag_told("lockable"),
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
        lower_tolerance=resource.number("lowerTolerance"),
        primary_volts=resource.number("primaryVolts"),
        refrigerant=resource.concept("refrigerant"),
        kilograms=resource.number("kilograms"),
        kilopascals=resource.number("kilopascals"),
        litres=resource.number("litres"),
        start_celsius=resource.number("startCelsius"),
        safe_celsius=resource.number("safeCelsius"),
        time_constant=resource.number("timeConstant"),
        verification=resource.text("verification"),
    )
