"""Faults, checks, display codes and service modes of a platform."""

from __future__ import annotations

from collections.abc import Iterator

from firstoff.appliance.model import (
    Check,
    DisplayCode,
    Effect,
    Fault,
    Outcome,
    Purpose,
    Remedy,
    ServiceMode,
    ServiceStep,
)
from firstoff.appliance.statements import Resource, Statements, sources
from firstoff.errors import ContentBroken


def faults(graph: Statements) -> dict[str, Fault]:
    """Every fault, by slug.

    :raises ContentBroken: a resource lacks what its class needs.
    """
    return {resource.id: _fault(resource) for resource in graph.of_class("Fault")}


def checks(graph: Statements) -> dict[str, Check]:
    """Every check, by slug.

    :raises ContentBroken: a resource lacks what its class needs.
    """
    return {resource.id: _check(resource) for resource in graph.of_class("Check")}


def codes(graph: Statements) -> dict[str, DisplayCode]:
    """Every display code, by slug."""
    return {
        resource.id: DisplayCode(
            id=resource.id,
            notation=resource.text("notation") or resource.id,
            label=resource.label,
            faults=resource.slugs("indicates"),
            symptoms=resource.slugs("accompanies"),
            set_when=resource.text("setWhen") or "",
            does_not_prove=resource.text("doesNotProve") or "",
            clearing=resource.text("clearing") or "",
            stored=resource.flag_told("stored") is not False,
        )
        for resource in graph.of_class("DisplayCode")
    }


def service_modes(graph: Statements) -> dict[str, ServiceMode]:
    """Every service mode, by slug.

    :raises ContentBroken: a step lacks what its class needs.
    """
    return {resource.id: _service_mode(resource) for resource in graph.of_class("ServiceMode")}


def _service_mode(resource: Resource) -> ServiceMode:
    steps = (_service_step(resource, part) for part in resource.parts("serviceStep"))
    return ServiceMode(
        id=resource.id,
        label=resource.label,
        instruction=resource.text("instruction") or "",
        kinds=resource.concepts("modeKind"),
        needs_states=resource.slugs("needsState"),
        needs_fitted=resource.slugs("needsFitted"),
        steps=tuple(sorted(steps, key=lambda step: (step.order, step.text))),
        sources=sources(resource),
    )


def _service_step(mode: Resource, part: Resource) -> ServiceStep:
    order, stage, text = part.count("order"), part.text("stage"), part.text("text")
    if order is None or stage is None or text is None:
        raise ContentBroken(f"{mode.id} has a step without its order, stage or text.")
    return ServiceStep(
        order=order,
        stage=stage,
        text=text,
        shows=part.text("shows") or "",
        runs=part.slugs("runs"),
        closes=part.slugs("closes"),
        minutes=part.number("minutes"),
    )


def _fault(resource: Resource) -> Fault:
    effects = (
        Effect(part.needed_slug("symptom"), part.needed_number("likelihood")) for part in resource.parts("effect")
    )
    return Fault(
        id=resource.id,
        label=resource.label,
        origin=resource.needed_concept("origin"),
        failure_mode=resource.needed_concept("failureMode"),
        relative_frequency=resource.needed_number("relativeFrequency"),
        component=resource.slug("afflicts"),
        effects=tuple(sorted(effects, key=lambda effect: effect.symptom)),
        brings_on=resource.slugs("bringsOn"),
        remedies=tuple(_remedy(part) for part in resource.parts("remedy")),
        sources=sources(resource),
        alters=resource.slugs("alters"),
    )


def _remedy(resource: Resource) -> Remedy:
    return Remedy(
        id=resource.id,
        label=resource.label,
        kind=resource.needed_concept("remedyKind"),
        component=resource.slug("worksOn"),
        minutes=resource.number("minutes"),
    )


def _outcomes(resource: Resource) -> Iterator[Outcome]:
    for part in resource.parts("outcome"):
        yield Outcome(
            label=part.label,
            healthy=part.flag("healthy"),
            speaks_for=part.slugs("speaksFor"),
            rules_out=part.slugs("rulesOut"),
            at_least=part.number("atLeast"),
            at_most=part.number("atMost"),
        )


def _check(resource: Resource) -> Check:
    return Check(
        id=resource.id,
        label=resource.label,
        component=resource.needed_slug("examines"),
        purpose=resource.member("checkPurpose", Purpose),
        quantity=resource.needed_concept("quantity"),
        minutes=resource.needed_number("minutes"),
        live=resource.flag("live"),
        between=tuple(sorted(resource.slugs("between"))),
        needs_states=resource.slugs("needsState"),
        tools=resource.concepts("tool"),
        outcomes=tuple(sorted(_outcomes(resource), key=lambda outcome: (not outcome.healthy, outcome.label))),
        instruction=resource.text("instruction") or "",
        sources=sources(resource),
    )
