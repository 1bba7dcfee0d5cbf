"""How a machine stands when a question is asked: what is off, by which removal, and the states in force."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from firstoff.answers import names
from firstoff.answers.bared import bared_by
from firstoff.answers.notes import component_ref, note
from firstoff.appliance.model import (
    Appliance,
    Preparation,
    Removal,
)
from firstoff.energy import PointCondition, PointState, live_points, opens_protection, situation_of
from firstoff.errors import BadRequest
from firstoff_contract.common import CautionNote, Ref


@dataclass(frozen=True, slots=True)
class AsFound:
    """``said`` is what was named as off, ``off`` the components that are, ``ways`` the removals of some, where known.

    ``states`` holds the state in force of each variable of which it was said, or is taken for given, by variable.
    """

    said: frozenset[str]
    off: frozenset[str]
    ways: Mapping[str, str]
    states: Mapping[str, str]

    def came_off_by(self, appliance: Appliance) -> list[Removal]:
        """Every removal by which something may have come off."""
        return [
            removal
            for removal in appliance.removals.values()
            if removal.component in self.off and self.ways.get(removal.component, removal.id) == removal.id
        ]


def as_found(appliance: Appliance, off: Iterable[str], states: Iterable[str]) -> AsFound:
    """The machine with ``off`` missing, components or the removals that took them off, and ``states`` in force.

    A part that is off must have come off in a state that all its removals name; where the parts agree, that state is
    taken to hold still. A supply is never taken to be off: it is isolated again.

    :raises NotFound: a name is unknown; carries the nearest names.
    :raises BadRequest: two states of one variable are said to be in force, or one part is said to be off in two ways.
    """
    said = frozenset(off)
    parts, ways = names.taken_off(appliance, said)
    found = AsFound(said, parts, ways, {})
    return AsFound(said, parts, ways, _states_in_force(appliance, found, list(states)))


def _states_in_force(appliance: Appliance, found: AsFound, said: list[str]) -> dict[str, str]:
    names.known("state", said, appliance.states)
    states: dict[str, str] = {}
    for slug in said:
        variable = appliance.states[slug].variable
        if states.setdefault(variable, slug) != slug:
            raise BadRequest(
                f"{slug} and {states[variable]} exclude each other.", mend="Give one state of each kind as states=."
            )
    needed: dict[str, set[str]] = {}
    removals = found.came_off_by(appliance)
    for component in found.off:
        ways = [removal.needs_states for removal in removals if removal.component == component]
        for slug in frozenset.intersection(*ways) if ways else ():
            needed.setdefault(appliance.states[slug].variable, set()).add(slug)
    for variable, slugs in needed.items():
        if len(slugs) == 1 and appliance.variables[variable].controls is None:
            states.setdefault(variable, *slugs)
    return states


def live_inside(appliance: Appliance, found: AsFound) -> bool:
    """Whether the supply is on while what is off bares points that are not isolated, or breaks protection."""
    if not appliance.energised(_in_force(appliance, found)):
        return False
    removals = found.came_off_by(appliance)
    if any(opens_protection(appliance, removal) for removal in removals):
        return True
    bared = frozenset[str]().union(*(bared_by(appliance, removal) for removal in removals))
    opened = {device for slug in _in_force(appliance, found) for device in appliance.states[slug].devices_open}
    states = live_points(appliance, situation_of(appliance, opened, found.off, ways=found.ways))
    return any(_electric(appliance, states[point]) for point in bared if point in states)


def _electric(appliance: Appliance, point: PointState) -> bool:
    """Whether a point is not isolated, and not known to hold something else than electricity."""
    source = appliance.circuit.sources.get(point.source or "")
    other = source is not None and not source.lines and not source.derived_from
    return point.state is not PointCondition.ISOLATED and not other


def isolating_first(
    appliance: Appliance, found: AsFound, tools: frozenset[str] | None, banned: frozenset[str]
) -> list[str]:
    """The preparations that isolate the mains and can be made as the machine stands, by id."""
    in_force = frozenset(_in_force(appliance, found))
    return [
        each.id
        for each in appliance.preparations.values()
        if each.id not in banned
        and _isolates(appliance, each)
        and each.from_state in in_force
        and each.needs_states - {each.gives, each.from_state} <= in_force
        and each.needs_off <= found.off
        and each.needs_fitted.isdisjoint(found.off)
        and (tools is None or tools.issuperset(tool.id for tool in each.tools))
    ]


def refuse_live_work(appliance: Appliance, devices: Iterable[str] = ()) -> BadRequest:
    """The error for work on a machine that stands open with the supply on and cannot be isolated as it stands.

    ``devices`` are those to open; all that the isolated states of the mains open where none is named.
    """
    states = [
        state
        for state in appliance.states.values()
        if state.devices_open and appliance.variables[state.variable].controls == "mains"
    ]
    opened = list(devices) or sorted(frozenset[str]().union(*(state.devices_open for state in states)))
    labels = ", ".join(appliance.circuit.devices[slug].label for slug in opened)
    isolated = sorted(state.id for state in states if state.devices_open & set(opened))
    return BadRequest(
        f"Parts are off and the supply is taken to be on, so that live points are within reach. Open {labels} first.",
        mend=f"Isolate, release, prove dead, and say so with states={', '.join(isolated) or 'the isolated state'}.",
    )


def found_refs(appliance: Appliance, found: AsFound) -> list[Ref]:
    """What was named as off, in order of the label: a removal with the component that it took off."""
    refs = [component_ref(appliance, name) for name in found.said & appliance.components.keys()]
    for name in found.said - appliance.components.keys():
        removal = appliance.removals[name]
        refs.append(Ref(id=name, label=f"{component_ref(appliance, removal.component).label}: {removal.label}"))
    return sorted(refs, key=lambda ref: (ref.label, ref.id))


def off_caution(appliance: Appliance, found: AsFound, *, planned: bool, first: str | None = None) -> list[CautionNote]:
    """What has to be known of a machine that stands open; nothing where it does not.

    ``planned``: a plan follows that puts back what is off. ``first`` is the preparation it begins with, by id, where
    that makes safe what is live inside.
    """
    if not found.off:
        return []
    labels = ", ".join(sorted(component_ref(appliance, slug).label for slug in found.off))
    states = (appliance.states[slug] for slug in sorted(found.states.values()))
    held = ", ".join(state.label for state in states if not state.initial)
    text = f"Off as found: {labels}. Points behind them may be live."
    if held:
        text += f" The machine is taken to be: {held}."
    if planned:
        text += " This plan puts back what is off."
    protection = "Do not restore the supply before guards and earth bonds are back in place."
    if first is not None:
        text += " The supply is taken to be on."
        label = appliance.preparations[first].label
        protection = f"Keep hands out of the machine until the first step is done and proved: {label}. {protection}"
    elif live_inside(appliance, found):
        text += " The supply is taken to be on."
        protection = f"Keep hands out of the machine until it is isolated, released and proved dead. {protection}"
    danger = first is not None or live_inside(appliance, found)
    return [note("already-off", "DANGER" if danger else "WARNING", "electric shock", text, protection)]


def _in_force(appliance: Appliance, found: AsFound) -> list[str]:
    initial = {state.variable: state.id for state in appliance.states.values() if state.initial}
    return list({**initial, **found.states}.values())


def _isolates(appliance: Appliance, preparation: Preparation) -> bool:
    state = appliance.states.get(preparation.gives)
    return state is not None and bool(state.devices_open) and appliance.variables[state.variable].controls == "mains"
