"""Faults, checks and remedies that lead nowhere."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from firstoff.appliance.model import (
    AccessPath,
    Appliance,
    Fault,
)
from firstoff.authoring.draft import Draft
from firstoff.authoring.findings import Problem, error, warning


def checks_have_ways_in(draft: Draft) -> Iterator[Problem]:
    """The component a check examines has a way in for that purpose, live where the check is."""
    told: set[tuple[str, str | None]] = set()
    for variant in draft.variants:
        for problem in _ways_in(draft, variant.appliance):
            if (problem.rule, problem.resource) not in told:
                told.add((problem.rule, problem.resource))
                yield problem


def _ways_in(draft: Draft, appliance: Appliance) -> Iterator[Problem]:
    paths: dict[tuple[str, str], list[AccessPath]] = defaultdict(list)
    for path in appliance.access_paths.values():
        paths[path.component, path.purpose].append(path)
    for check in appliance.checks.values():
        ways = paths[check.component, check.purpose]
        component = draft.label(check.component)
        if not ways:
            yield error(
                "check-without-way-in",
                check.id,
                f"No access path leads to {component} for the purpose {check.purpose}.",
                f"Describe a fo:AccessPath that reaches it with fo:purpose purpose:{check.purpose}.",
            )
        elif check.live and not any(way.live for way in ways):
            yield error(
                "live-check-by-dead-way",
                check.id,
                f"The check is live, and every way in to {component} for the purpose {check.purpose} is dead.",
                "Describe a way in with fo:live true, or take fo:live from the check.",
            )
        elif not check.live and all(way.live for way in ways):
            yield error(
                "dead-check-by-live-way",
                check.id,
                f"The check is dead, and every way in to {component} for the purpose {check.purpose} is live.",
                "Describe a way in that needs the supply isolated, or write fo:live true in the check.",
            )


def faults_can_be_confirmed(draft: Draft) -> Iterator[Problem]:
    """On every model that can have it, a fault is spoken for by an outcome of some check."""
    told: set[str] = set()
    for variant in draft.variants:
        checks = variant.appliance.checks.values()
        spoken = {fault for check in checks for outcome in check.outcomes for fault in outcome.speaks_for}
        for fault in variant.appliance.faults.keys() - spoken - told:
            told.add(fault)
            where = f" of {variant.words}" if len(draft.variants) > 1 else ""
            yield warning(
                "fault-without-check",
                fault,
                f"No check{where} speaks for this fault, so it can only be guessed.",
                "Name it under fo:speaksFor in an outcome of a check.",
            )


def faults_are_told_apart(draft: Draft) -> Iterator[Problem]:
    """No two faults with different remedies are alike to every check; each group of such is told once.

    To a check faults are alike where every outcome speaks for them all or for none, and rules them all out or none.
    """
    told: set[str] = set()
    for variant in draft.variants:
        faults = variant.appliance.faults
        for group in _alike(variant.appliance):
            if told.issuperset(group) or len({_remedies(faults[fault]) for fault in group}) == 1:
                continue
            told.update(group)
            others = ", ".join(draft.label(fault) for fault in group[1:])
            where = f" of {variant.words}" if len(draft.variants) > 1 else ""
            yield warning(
                "faults-alike",
                group[0],
                f"No check{where} tells it from {others}, and the remedies differ, so the wrong one may be done.",
                "Describe a check with an outcome that speaks for one of them and not for the other.",
            )


def _alike(appliance: Appliance) -> Iterator[list[str]]:
    """Faults that no check tells apart, two or more, in order of their names; those that none speaks for left out."""
    signs: dict[str, set[tuple[str, int, bool]]] = {}
    for check in appliance.checks.values():
        for number, outcome in enumerate(check.outcomes):
            for speaks, faults in ((True, outcome.speaks_for), (False, outcome.rules_out)):
                for fault in faults & appliance.faults.keys():
                    signs.setdefault(fault, set()).add((check.id, number, speaks))
    groups: dict[frozenset[tuple[str, int, bool]], list[str]] = defaultdict(list)
    for fault, sign in sorted(signs.items()):
        if any(speaks for _, _, speaks in sign):
            groups[frozenset(sign)].append(fault)
    yield from (group for group in groups.values() if len(group) > 1)


def _remedies(fault: Fault) -> frozenset[str]:
    return frozenset(remedy.id for remedy in fault.remedies)


def symptoms_have_faults(draft: Draft) -> Iterator[Problem]:
    """A symptom that comes with a display code is an effect of some fault, on every model that shows the code."""
    told: set[tuple[str, str]] = set()
    for variant in draft.variants:
        caused = {effect.symptom for fault in variant.appliance.faults.values() for effect in fault.effects}
        for code in variant.appliance.codes.values():
            for symptom in sorted(code.symptoms - caused):
                if (code.id, symptom) in told:
                    continue
                told.add((code.id, symptom))
                named = variant.appliance.symptoms.get(symptom)
                where = f" of {variant.words}" if len(draft.variants) > 1 else ""
                yield warning(
                    "symptom-without-fault",
                    code.id,
                    f"It comes with the symptom {named.label if named else symptom}, which no fault{where} has, so "
                    "that a search for the symptom leads nowhere.",
                    "Write the symptom as a fo:effect of the fault that brings it, or take fo:accompanies away.",
                )


def remedies_can_be_done(draft: Draft) -> Iterator[Problem]:
    """What is replaced comes off, alone or as the unit it is replaced as."""
    told: set[str] = set()
    for variant in draft.variants:
        appliance = variant.appliance
        removable = {removal.component for removal in appliance.removals.values()}
        where = f" on {variant.words}" if len(draft.variants) > 1 else ""
        for remedy in (each for fault in appliance.faults.values() for each in fault.remedies):
            part = appliance.components.get(remedy.component or "")
            if remedy.kind.id != "replace" or part is None or remedy.id in told:
                continue
            if (part.replaced_as or part.id) not in removable:
                told.add(remedy.id)
                unit = draft.label(part.replaced_as or part.id)
                yield error(
                    "remedy-cannot-be-done",
                    remedy.id,
                    f"It replaces {part.label}, and nothing takes {unit} off{where}.",
                    "Describe a fo:Removal, or name the unit it is replaced as.",
                )


def nothing_inside_itself(draft: Draft) -> Iterator[Problem]:
    """No component sits inside itself or is replaced as itself, by however many steps."""
    if draft.whole is None:
        return
    parts = draft.whole.components
    for rule, words, holder in (
        ("sits-inside-itself", "sits inside", {part.id: part.sits_inside for part in parts.values()}),
        ("replaced-as-itself", "is replaced as", {part.id: part.replaced_as for part in parts.values()}),
    ):
        for slug in parts:
            chain = [slug]
            following = holder.get(slug)
            while following is not None and following not in chain:
                chain.append(following)
                following = holder.get(following)
            if following == slug and slug == min(chain):
                told = f" {words} ".join(draft.label(part) for part in (*chain, slug))
                yield error(rule, slug, f"The parts run in a circle: {told}.", "Take one of these statements away.")
