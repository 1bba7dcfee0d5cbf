"""Faults, checks and remedies that lead nowhere."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from firstoff.appliance.model import (
    AccessPath,
    Appliance,
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


def faults_are_told_apart(draft: Draft) -> Iterator[Problem]:
    """Every fault is spoken for by an outcome of some check."""
    if draft.whole is None:
        return
    spoken = {
        fault for check in draft.whole.checks.values() for outcome in check.outcomes for fault in outcome.speaks_for
    }
    for fault in draft.whole.faults.values():
        if fault.id not in spoken:
            yield warning(
                "fault-without-check",
                fault.id,
                "No check speaks for this fault, so it can only be guessed.",
                "Name it under fo:speaksFor in an outcome of a check.",
            )


def remedies_can_be_done(draft: Draft) -> Iterator[Problem]:
    """What is replaced comes off, alone or as the unit it is replaced as."""
    whole = draft.whole
    if whole is None:
        return
    removable = {removal.component for removal in whole.removals.values()}
    told: set[str] = set()
    for fault in whole.faults.values():
        for remedy in fault.remedies:
            part = whole.components.get(remedy.component or "")
            if remedy.kind.id != "replace" or part is None or remedy.id in told:
                continue
            if (part.replaced_as or part.id) not in removable:
                told.add(remedy.id)
                yield error(
                    "remedy-cannot-be-done",
                    remedy.id,
                    f"It replaces {part.label}, and nothing takes {draft.label(part.replaced_as or part.id)} off.",
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
