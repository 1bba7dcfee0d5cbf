"""States: needs that contradict each other, and work that needs the supply isolated and does not say so."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from firstoff.appliance.circuit import Device
from firstoff.appliance.model import (
    AccessPath,
    Appliance,
    Check,
    Preparation,
    Removal,
)
from firstoff.authoring.draft import Draft
from firstoff.authoring.findings import Problem, error, warning


def contradictory_states(draft: Draft) -> Iterator[Problem]:
    """Needs that ask for two values of one variable at a time."""
    if draft.whole is None:
        return
    for slug, needs in _needs(draft.whole):
        by_variable: dict[str, list[str]] = defaultdict(list)
        for need in sorted(needs & frozenset(draft.whole.states)):
            by_variable[draft.whole.states[need].variable].append(need)
        for variable, asked in by_variable.items():
            if len(asked) > 1:
                told = " and ".join(draft.label(state) for state in asked)
                yield error(
                    "contradictory-states",
                    slug,
                    f"It needs {told} at once, two values of {draft.label(variable)}.",
                    "Keep the one that is meant.",
                )


def preparations_of_one_variable(draft: Draft) -> Iterator[Problem]:
    """A preparation changes one variable; every state but the initial one has a preparation that gives it."""
    if draft.whole is None:
        return
    states = draft.whole.states
    for preparation in draft.whole.preparations.values():
        if preparation.from_state in states and preparation.gives in states:
            before, after = states[preparation.from_state], states[preparation.gives]
            if before.variable != after.variable:
                yield error(
                    "preparation-crosses-variables",
                    preparation.id,
                    f"It goes from {before.label} to {after.label}, which are values of different variables.",
                    "Let fo:fromState and fo:gives be states of one variable.",
                )
    given = {preparation.gives for preparation in draft.whole.preparations.values()}
    for state in states.values():
        if not state.initial and state.id not in given:
            yield warning(
                "state-never-given",
                state.id,
                "No preparation brings this state about.",
                "Describe the fo:Preparation that gives it, or take the state away.",
            )


def isolated_states(appliance: Appliance, energy: str = "mains") -> frozenset[str]:
    """States in which devices of the supply of ``energy`` are open."""
    return frozenset(
        state.id
        for state in appliance.states.values()
        if state.devices_open and appliance.variables[state.variable].controls == energy and not state.initial
    )


def work_isolated(draft: Draft) -> Iterator[Problem]:
    """A removal that uses a tool, bares a point or opens a link, and a dead way in to points, need an isolated supply.

    Source: 29 CFR 1910.147(a)(2)(ii) and 1910.333(b)(2) for the duty to isolate before parts are exposed; the rule as
    written here is the house's own.
    """
    whole = draft.whole
    if whole is None or not _fed_by(whole, "mains"):
        return
    isolated = isolated_states(whole)
    mend = "Write fo:needsState with the state in which the supply is isolated."
    for removal in whole.removals.values():
        reasons = [
            *(["uses a tool"] if removal.all_tools else []),
            *(["bares a point"] if removal.bares else []),
            *(["opens a link"] if removal.opens else []),
        ]
        if reasons and not removal.needs_states & isolated:
            told = " and ".join(reasons)
            yield error("supply-not-isolated", removal.id, f"It {told} and does not need the supply isolated.", mend)
    for path in whole.access_paths.values():
        if path.live or path.needs_states & isolated:
            continue
        if path.purpose == "test" or path.bares:
            told = "is for a test" if path.purpose == "test" else "bares a point"
            yield error(
                "supply-not-isolated",
                path.id,
                f"It {told}, is not called live and does not need the supply isolated.",
                f"{mend} Write fo:live true only where the test makes no sense without the supply.",
            )


def live_not_isolated(draft: Draft) -> Iterator[Problem]:
    """What is called live does not need the supply isolated."""
    if draft.whole is None:
        return
    isolated = isolated_states(draft.whole)
    items: tuple[AccessPath | Check, ...] = (*draft.whole.access_paths.values(), *draft.whole.checks.values())
    for item in items:
        if item.live and item.needs_states & isolated:
            yield error(
                "live-but-isolated",
                item.id,
                "It is called live and needs the supply isolated.",
                "Take one of the two away.",
            )


def _fed_by(appliance: Appliance, energy: str) -> bool:
    return any(source.kind.id == energy and source.held_by is None for source in appliance.circuit.sources.values())


def _needs(appliance: Appliance) -> Iterator[tuple[str, frozenset[str]]]:
    owners: tuple[Removal | AccessPath | Preparation | Device | Check, ...] = (
        *appliance.removals.values(),
        *appliance.access_paths.values(),
        *appliance.preparations.values(),
        *appliance.circuit.devices.values(),
        *appliance.checks.values(),
    )
    for owner in owners:
        yield owner.id, owner.needs_states
