"""One model of a platform: parts left out, added and replaced."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from itertools import chain
from typing import Protocol, TypeVar

from firstoff.appliance.circuit import (
    Circuit,
    EnergySource,
    Link,
)
from firstoff.appliance.model import (
    AccessPath,
    Appliance,
    Caution,
    Check,
    Component,
    DisplayCode,
    Fault,
    FinishStep,
    Outcome,
    Removal,
    ServiceMode,
)
from firstoff.errors import ContentBroken


@dataclass(frozen=True, slots=True)
class Changes:
    """What a model or serial range does to its platform; ``replaces`` maps original to substitute.

    ``rated_input`` is in watts, None where it is the platform's. Where one of them leaves out and adds the same part,
    the part is left out.
    """

    leaves_out: frozenset[str] = frozenset()
    adds: frozenset[str] = frozenset()
    replaces: Mapping[str, str] = field(default_factory=dict)
    rated_input: float | None = None

    def merged(self, other: Changes) -> Changes:
        """These changes and then ``other``'s (a model's, and then its serial range's), which have the last word.

        A part that ``other`` adds or uses as a substitute is there though these leave it out or replace it.
        """
        brought = other.adds | frozenset(other.replaces.values())
        still = {original: part for original, part in self.replaces.items() if original not in brought}
        return Changes(
            (self.leaves_out - brought) | other.leaves_out,
            (self.adds - other.leaves_out) | other.adds,
            still | dict(other.replaces),
            self.rated_input if other.rated_input is None else other.rated_input,
        )

    @property
    def empty(self) -> bool:
        """True where no part is left out, added or replaced."""
        return not (self.leaves_out or self.adds or self.replaces)


class _Owned(Protocol):
    @property
    def component(self) -> str | None: ...


Item = TypeVar("Item", bound=_Owned)


@dataclass(frozen=True, slots=True)
class _Fit:
    """Which components a variant has, and which original reads as which substitute.

    A substitute may have a substitute of its own, where a serial range replaces what its model brought.
    """

    present: frozenset[str]
    renamed: Mapping[str, str]

    def name(self, component: str) -> str:
        """The component in whose place another stands, or the component itself."""
        while component in self.renamed:
            component = self.renamed[component]
        return component

    def names(self, components: Iterable[str]) -> frozenset[str]:
        """References to components, originals read as substitutes, absent ones dropped."""
        return frozenset(self.name(component) for component in components) & self.present

    def one(self, component: str | None) -> str | None:
        """As ``names``, for one reference."""
        return next(iter(self.names(() if component is None else (component,))), None)

    def owned(self, items: Mapping[str, Item]) -> dict[str, Item]:
        """Items of components that are there.

        A substitute's own items take the place of the original's; where it brings none it inherits them.
        """
        bringing = {item.component for item in items.values()}
        kept: dict[str, Item] = {}
        for slug, item in items.items():
            owner = item.component
            while owner is not None and (substitute := self.renamed.get(owner)) and substitute not in bringing:
                owner = substitute
            if owner is None or owner in self.present:
                kept[slug] = replace(item, component=owner)  # type: ignore[type-var]
        return kept


@dataclass(frozen=True, slots=True)
class Cause:
    """A fault as far as a variant has it: the component it afflicts, and the symptoms it shows."""

    component: str | None
    symptoms: frozenset[str]


@dataclass(frozen=True, slots=True)
class Had:
    """The slugs of what one model has and shows."""

    components: frozenset[str]
    symptoms: frozenset[str]
    codes: frozenset[str]


def had(
    components: frozenset[str],
    causes: Mapping[str, Cause],
    codes: Mapping[str, DisplayCode],
    changes: Changes,
    optional: frozenset[str],
) -> Had:
    """What ``narrowed`` leaves of a platform's components, symptoms and codes, without the rest of it.

    :raises ContentBroken: substitutes replace each other in a circle.
    """
    fit = _fit(components, changes, optional)
    kept = fit.owned(causes)
    left = _codes(codes, frozenset(kept))
    return Had(fit.present, _shown((each.symptoms for each in kept.values()), left), frozenset(left))


def _shown(symptoms: Iterable[Iterable[str]], codes: Mapping[str, DisplayCode]) -> frozenset[str]:
    return frozenset(chain(chain.from_iterable(symptoms), *(code.symptoms for code in codes.values())))


def _fit(components: Iterable[str], changes: Changes, optional: frozenset[str]) -> _Fit:
    for original in changes.replaces:
        seen = {original}
        substitute = changes.replaces[original]
        while substitute in changes.replaces and substitute not in seen:
            seen.add(substitute)
            substitute = changes.replaces[substitute]
        if substitute in seen:
            raise ContentBroken(f"{', '.join(sorted(seen))} are substitutes of each other.")
    brought = changes.adds | frozenset(changes.replaces.values())
    absent = (optional - brought) | changes.leaves_out | frozenset(changes.replaces)
    return _Fit(frozenset(components) - absent, changes.replaces)


def narrowed(platform: Appliance, changes: Changes, optional: frozenset[str]) -> Appliance:
    """The parts of one model.

    ``optional`` are the components that some model of the platform adds or uses as a substitute: a model has them
    only when it says so. What hangs on an absent part goes with it: removals, ways in, links, devices, faults and
    checks. A need for an absent part is met. A contact whose device is gone stays, and nothing opens it.

    :raises ContentBroken: substitutes replace each other in a circle.
    """
    fit = _fit(platform.components, changes, optional)
    circuit = _circuit(platform.circuit, fit)
    points, devices = frozenset(circuit.points), frozenset(circuit.devices)
    faults = _faults(platform.faults, fit, frozenset(circuit.links))
    codes = _codes(platform.codes, frozenset(faults))
    shown = _shown(([effect.symptom for effect in fault.effects] for fault in faults.values()), codes)
    variant = replace(
        platform,
        components=_components(platform.components, fit),
        removals=_removals(platform.removals, fit, circuit),
        access_paths=_access_paths(platform.access_paths, fit, points),
        states={s: replace(state, devices_open=state.devices_open & devices) for s, state in platform.states.items()},
        preparations={
            slug: replace(each, needs_off=fit.names(each.needs_off), needs_fitted=fit.names(each.needs_fitted))
            for slug, each in platform.preparations.items()
        },
        circuit=circuit,
        symptoms={slug: symptom for slug, symptom in platform.symptoms.items() if slug in shown},
        faults=faults,
        checks=_checks(platform.checks, fit, points, frozenset(faults)),
        codes=codes,
        service_modes=_service_modes(platform.service_modes, fit, devices),
        finish=_finish(platform, fit),
        construction=platform.construction
        if changes.rated_input is None
        else replace(platform.construction, rated_input=changes.rated_input),
    )
    gone = _slugs(platform) - _slugs(variant)
    return replace(variant, cautions=_cautions(platform.cautions, fit, gone))


def _components(components: Mapping[str, Component], fit: _Fit) -> dict[str, Component]:
    return {
        slug: replace(each, sits_inside=fit.one(each.sits_inside), replaced_as=fit.one(each.replaced_as))
        for slug, each in components.items()
        if slug in fit.present
    }


def _removals(removals: Mapping[str, Removal], fit: _Fit, circuit: Circuit) -> dict[str, Removal]:
    links, points = frozenset(circuit.links), frozenset(circuit.points)
    return {
        slug: replace(
            removal,
            needs_off=fit.names(removal.needs_off),
            opens=removal.opens & links,
            bares=removal.bares & points,
            connections=tuple(replace(each, opens=each.opens & links) for each in removal.connections),
        )
        for slug, removal in fit.owned(removals).items()
    }


def _access_paths(paths: Mapping[str, AccessPath], fit: _Fit, points: frozenset[str]) -> dict[str, AccessPath]:
    return {
        slug: replace(
            path,
            needs_off=fit.names(path.needs_off),
            needs_fitted=fit.names(path.needs_fitted),
            bares=path.bares & points,
        )
        for slug, path in fit.owned(paths).items()
    }


def _circuit(circuit: Circuit, fit: _Fit) -> Circuit:
    """Points stay with the place, so a substitute takes over the original's; the rest is owned."""
    moved = {slug: replace(point, component=fit.name(point.component)) for slug, point in circuit.points.items()}
    points = {slug: point for slug, point in moved.items() if point.component in fit.present}
    devices = {
        slug: replace(device, needs_off=fit.names(device.needs_off))
        for slug, device in fit.owned(circuit.devices).items()
    }
    joined = {
        slug: link for slug, link in fit.owned(circuit.links).items() if link.start in points and link.end in points
    }

    def link(each: Link) -> Link:
        """A contact that lost its device counts as closed: to drop it would call dead what may be live."""
        device = each.device if each.device in devices else None
        return replace(each, device=device, bleeds=each.bleeds if each.bleeds in joined else None)

    sources = {slug: kept for slug, source in circuit.sources.items() if (kept := _source(source, fit, points))}
    return Circuit(points, {slug: link(each) for slug, each in joined.items()}, devices, sources)


def _source(source: EnergySource, fit: _Fit, points: Mapping[str, object]) -> EnergySource | None:
    """The source with what is left of it; None where its holder, or every point it feeds, is absent."""

    def there(named: tuple[str, ...]) -> tuple[str, ...]:
        return tuple(point for point in named if point in points)

    kept = replace(
        source,
        lines=there(source.lines),
        neutral=source.neutral if source.neutral in points else None,
        protective_earth=source.protective_earth if source.protective_earth in points else None,
        feeds=there(source.feeds),
        derived_from=there(source.derived_from),
        held_by=fit.one(source.held_by),
        release_before=fit.names(source.release_before),
    )
    if source.held_by is not None and kept.held_by is None:
        return None
    fed, still_fed = ((*each.lines, *each.feeds, each.neutral) for each in (source, kept))
    return kept if kept.held_by is not None or any(still_fed) or not any(fed) else None


def _faults(faults: Mapping[str, Fault], fit: _Fit, links: frozenset[str]) -> dict[str, Fault]:
    kept = fit.owned(faults)
    return {
        slug: replace(
            fault,
            brings_on=fault.brings_on & frozenset(kept),
            alters=fault.alters & links,
            remedies=tuple(
                replace(each, component=fit.one(each.component))
                for each in fault.remedies
                if each.component is None or fit.one(each.component) is not None
            ),
        )
        for slug, fault in kept.items()
    }


def _checks(checks: Mapping[str, Check], fit: _Fit, points: frozenset[str], faults: frozenset[str]) -> dict[str, Check]:
    def outcome(each: Outcome) -> Outcome:
        return replace(each, speaks_for=each.speaks_for & faults, rules_out=each.rules_out & faults)

    return {
        slug: replace(check, outcomes=tuple(outcome(each) for each in check.outcomes))
        for slug, check in fit.owned(checks).items()
        if points.issuperset(check.between)
    }


def _codes(codes: Mapping[str, DisplayCode], faults: frozenset[str]) -> dict[str, DisplayCode]:
    """A code whose faults are all of absent parts is not shown by this model."""
    return {
        slug: replace(code, faults=code.faults & faults)
        for slug, code in codes.items()
        if not code.faults or code.faults & faults
    }


def _service_modes(modes: Mapping[str, ServiceMode], fit: _Fit, devices: frozenset[str]) -> dict[str, ServiceMode]:
    return {
        slug: replace(
            mode,
            needs_fitted=fit.names(mode.needs_fitted),
            steps=tuple(replace(s, runs=fit.names(s.runs), closes=s.closes & devices) for s in mode.steps),
        )
        for slug, mode in modes.items()
    }


def _finish(platform: Appliance, fit: _Fit) -> tuple[FinishStep, ...]:
    """A step that depends on components of which none is there is not done."""

    def after(step: FinishStep) -> frozenset[str]:
        components = step.only_after & frozenset(platform.components)
        return (step.only_after - components) | fit.names(components)

    return tuple(
        replace(step, only_after=after(step)) for step in platform.finish if not step.only_after or after(step)
    )


def _slugs(appliance: Appliance) -> frozenset[str]:
    """Everything that a model may lack."""
    circuit = appliance.circuit
    return frozenset[str]().union(
        *(appliance.components, appliance.removals, appliance.access_paths, appliance.checks, appliance.faults),
        *(appliance.codes, circuit.points, circuit.links, circuit.devices, circuit.sources),
    )


def _cautions(cautions: Iterable[Caution], fit: _Fit, gone: frozenset[str]) -> tuple[Caution, ...]:
    """A caution goes only with the last thing it applies to."""
    kept = (replace(each, applies_to=frozenset(fit.name(slug) for slug in each.applies_to) - gone) for each in cautions)
    return tuple(each for each in kept if each.applies_to)
