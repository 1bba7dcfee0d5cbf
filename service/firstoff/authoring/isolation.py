"""What isolation leaves live: the isolated states are held against the circuit.

Reach is plain: from the conductors of the sources along every link but earth bonds, contacts of the devices that the
state opens apart. Loads conduct, controls count closed, both throws of a changeover count closed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from firstoff.appliance.circuit import (
    EnergySource,
    Link,
    LinkKind,
)
from firstoff.appliance.model import (
    AccessPath,
    Appliance,
    Removal,
    State,
)
from firstoff.authoring.draft import Draft
from firstoff.authoring.findings import Problem, error, warning
from firstoff.authoring.states import isolated_states
from firstoff.authoring.ways import facts_to_be_had

#: Energy kinds that enter at points and are shut off by devices.
_FED = ("mains", "water", "gas")


def isolated_by_isolating_devices(draft: Draft) -> Iterator[Problem]:
    """Every supply has a state in which isolating devices, and only such, are open."""
    whole = draft.whole
    if whole is None:
        return
    for energy in _FED:
        for slug in sorted(isolated_states(whole, energy)):
            for device in sorted(whole.states[slug].devices_open & frozenset(whole.circuit.devices)):
                if not whole.circuit.devices[device].isolating:
                    yield error(
                        "isolated-by-control-device",
                        slug,
                        f"It opens {draft.label(device)}, a {whole.circuit.devices[device].kind.label}, "
                        "which only controls and never isolates.",
                        "Open a plug, breaker, disconnect switch, appliance connector or service valve instead.",
                    )
    told: set[str] = set()
    for words, appliance in _whole_and_variants(draft):
        for energy in _FED:
            sources = [source for source in appliance.circuit.sources.values() if _feeds(source, energy)]
            for source in [] if isolated_states(appliance, energy) else sources:
                if source.id not in told:
                    told.add(source.id)
                    yield error(
                        "supply-never-isolated",
                        source.id,
                        f"No state of a variable that controls energy:{energy} opens a device{words}, so nothing makes "
                        "work safe.",
                        f"Describe a state variable with fo:controls energy:{energy} and a state with fo:devicesOpen"
                        " whose device every model has.",
                    )


def isolation_complete(draft: Draft) -> Iterator[Problem]:
    """In an isolated state no point that is then touched is fed; pipes that carry water or gas are opened shut off."""
    told: set[tuple[str, str, str]] = set()
    for words, appliance in _whole_and_variants(draft):
        for energy in _FED:
            for slug in sorted(isolated_states(appliance, energy)):
                state = appliance.states[slug]
                fed = reached(appliance, energy, _opened(appliance, state))
                for owner, points in _touched(appliance, slug):
                    for point in sorted(points & fed):
                        if (owner, point, slug) not in told:
                            told.add((owner, point, slug))
                            yield error(
                                "isolation-leaves-live",
                                owner,
                                f"It bares {draft.label(point)}, which {energy} still feeds in the state "
                                f"{state.label}{words}.",
                                "Let the state open every device that is needed, or correct the circuit.",
                            )


def clearable(draft: Draft) -> Iterator[Problem]:
    """With every isolating device open nothing of the machine is fed; what lies before the first of them is the
    supply's own."""
    told: set[str] = set()
    for words, appliance in _whole_and_variants(draft):
        devices = appliance.circuit.devices
        isolating = frozenset(slug for slug, device in devices.items() if device.isolating)
        for energy in _FED:
            fed = reached(appliance, energy, isolating)
            left: dict[str, list[str]] = {}
            for point in sorted(fed & appliance.circuit.points.keys() - _supply_s_own(appliance, energy)):
                left.setdefault(appliance.circuit.points[point].component, []).append(point)
            for component, points in left.items():
                if component not in told:
                    told.add(component)
                    named = ", ".join(draft.label(point) for point in points[:3])
                    more = f" and {len(points) - 3} more" if len(points) > 3 else ""
                    yield warning(
                        "never-cleared",
                        component,
                        f"{energy.capitalize()} still feeds {named}{more} with every isolating device open{words}, so "
                        "nothing here makes it safe to touch.",
                        "Describe the isolating device that clears it, or correct the circuit.",
                    )


def isolating_devices_in_reach(draft: Draft) -> Iterator[Problem]:
    """What isolates can be got at before it isolates: no device lies behind work that needs it open already."""
    for variant in draft.variants:
        appliance = variant.appliance
        for state in appliance.states.values():
            devices = [
                appliance.circuit.devices[slug] for slug in sorted(state.devices_open & set(appliance.circuit.devices))
            ]
            had = facts_to_be_had(appliance, without=frozenset({state.id})) if devices else frozenset()
            for device in devices:
                behind = sorted((device.needs_off | device.needs_states) - had)
                if behind:
                    yield error(
                        "isolating-device-out-of-reach",
                        device.id,
                        f"It is open in the state {state.label}, and getting at it takes {draft.label(behind[0])}, "
                        "which cannot be had before.",
                        "Correct the needs of the device, or let another device isolate.",
                    )


def wet_work_shut_off(draft: Draft) -> Iterator[Problem]:
    """A removal that opens a pipe under water or gas pressure needs that supply shut off."""
    whole = draft.whole
    if whole is None:
        return
    for energy in ("water", "gas"):
        fed = reached(whole, energy, frozenset())
        off = isolated_states(whole, energy)
        for removal in whole.removals.values():
            links = [link for slug, link in whole.circuit.links.items() if slug in removal.opens]
            pipes = [link for link in links if link.kind is LinkKind.PIPE and link.start in fed]
            if pipes and not removal.needs_states & off:
                yield error(
                    f"{energy}-not-shut-off",
                    removal.id,
                    f"It opens {draft.label(pipes[0].id)} and does not need the {energy} shut off.",
                    f"Write fo:needsState with the state in which the {energy} is off.",
                )


def reached(appliance: Appliance, energy: str, opened: frozenset[str]) -> frozenset[str]:
    """Points that sources of ``energy`` feed with the devices ``opened`` open, separated secondaries included."""
    sources = appliance.circuit.sources.values()
    beside: dict[str, list[str]] = {}
    for link in appliance.circuit.links.values():
        if _conducts(link, opened):
            beside.setdefault(link.start, []).append(link.end)
            beside.setdefault(link.end, []).append(link.start)
    found = _spread(_starts(source for source in sources if _feeds(source, energy)), beside)
    while True:
        secondaries = _starts(source for source in sources if found.intersection(source.derived_from))
        grown = found | _spread(secondaries, beside)
        if grown == found:
            return found
        found = grown


def _whole_and_variants(draft: Draft) -> Iterator[tuple[str, Appliance]]:
    """The platform, then each model, with the words for where."""
    if draft.whole is not None:
        yield "", draft.whole
    for variant in draft.variants:
        yield f" (on {variant.words})", variant.appliance


def _supply_s_own(appliance: Appliance, energy: str) -> frozenset[str]:
    """Where a supply enters, and all points of the components that are no part of the machine."""
    entries = _starts(source for source in appliance.circuit.sources.values() if _feeds(source, energy))
    outside = {slug for slug, part in appliance.components.items() if part.kind.id in ("supply-outlet", "stop-tap")}
    points = appliance.circuit.points.values()
    return frozenset(entries) | {point.id for point in points if point.component in outside}


def _spread(starts: Iterable[str], beside: dict[str, list[str]]) -> frozenset[str]:
    found: set[str] = set()
    waiting = list(starts)
    while waiting:
        point = waiting.pop()
        if point not in found:
            found.add(point)
            waiting += beside.get(point, ())
    return frozenset(found)


def _starts(sources: Iterable[EnergySource]) -> Iterator[str]:
    for source in sources:
        yield from source.lines
        yield from source.feeds
        neutral_is_earthed = source.fixed and source.earthed_neutral and source.polarised
        if source.neutral is not None and not neutral_is_earthed:
            yield source.neutral


def _conducts(link: Link, opened: frozenset[str]) -> bool:
    if link.kind is LinkKind.EARTH_BOND:
        return False
    return link.kind is not LinkKind.CONTACT or link.changeover or link.device not in opened


def _opened(appliance: Appliance, state: State) -> frozenset[str]:
    devices = appliance.circuit.devices
    return frozenset(slug for slug in state.devices_open if slug in devices and devices[slug].isolating)


def _touched(appliance: Appliance, state: str) -> Iterator[tuple[str, frozenset[str]]]:
    """Removals and ways in that need ``state``, with the points they bare."""
    owners: tuple[Removal | AccessPath, ...] = (*appliance.removals.values(), *appliance.access_paths.values())
    for owner in owners:
        if state in owner.needs_states:
            yield owner.id, owner.bares


def _feeds(source: EnergySource, energy: str) -> bool:
    return source.kind.id == energy and source.held_by is None
