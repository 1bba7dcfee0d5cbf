"""Exposures to a hazard, way by way: what a plan has fewest of when it is to make exposures smallest.

One is counted for each time a way is gone and each of four hazards: live parts, stored energy, a weight lifted alone,
refrigerant. It counts that somebody relies on a measure of protection there, not how well that protects: a spring
counts where it is released first, a charge where it is discharged first. The whole is a common-sense tally, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from firstoff.answers.bared import bared_by
from firstoff.appliance.circuit import (
    EnergySource,
    LinkKind,
)
from firstoff.appliance.model import (
    AccessPath,
    Appliance,
    Preparation,
    Removal,
)
from firstoff.energy import SAFE_VOLTS, PointCondition, live_points, situation_of

#: The load constant of the revised NIOSH lifting equation: what may be lifted where all else is as good as can be
#: (Waters, Putz-Anderson, Garg, Fine 1993, Ergonomics 36:749-776, doi 10.1080/00140139308967940; the value as quoted by
#: the Canadian Centre for Occupational Health and Safety).
MOST_KILOGRAMS_ALONE = 23.0

#: Held energy that a hand meets even where nothing is taken off.
FELT_WHEN_HANDLED = frozenset({"heat", "rotation"})

REFRIGERANT = "refrigerant"


class Hazard(StrEnum):
    """What somebody is exposed to."""

    LIVE = "live"
    STORED = "stored"
    WEIGHT = "weight"
    REFRIGERANT = "refrigerant"


@dataclass(frozen=True, slots=True)
class Exposed:
    """One exposure, in words."""

    hazard: Hazard
    text: str


@dataclass(frozen=True, slots=True)
class WayExposures:
    """The exposures when a way is gone (``done``) and when it is taken back: a refit, or the undoing of a state."""

    done: tuple[Exposed, ...] = ()
    taken_back: tuple[Exposed, ...] = ()


def exposures_of(appliance: Appliance) -> dict[str, WayExposures]:
    """The exposures of every way that has any, by its id."""
    charged = charged_points(appliance)
    found = {
        **{each.id: _of_removal(appliance, each, charged) for each in appliance.removals.values()},
        **{each.id: _of_path(appliance, each, charged) for each in appliance.access_paths.values()},
        **{each.id: _of_preparation(appliance, each) for each in appliance.preparations.values()},
    }
    return {id_: each for id_, each in found.items() if each.done or each.taken_back}


def amounts(exposures: Mapping[str, WayExposures]) -> dict[str, tuple[int, int]]:
    """How many exposures each way has when it is done and when it is taken back."""
    return {id_: (len(each.done), len(each.taken_back)) for id_, each in exposures.items()}


def charged_points(appliance: Appliance) -> frozenset[str]:
    """The points that a stored charge reaches when every isolating device is open and all parts are in place.

    Points that no more than a safe voltage reaches, such as those of a separated low-voltage supply, are left out.
    """
    circuit = appliance.circuit
    opened = [device.id for device in circuit.devices.values() if device.isolating]
    capacitors = [link.id for link in circuit.links.values() if link.kind is LinkKind.CAPACITOR]
    if not capacitors:
        return frozenset()

    def live(released: Iterable[str]) -> set[str]:
        states = live_points(appliance, situation_of(appliance, opened, (), released))
        return {
            id_
            for id_, point in states.items()
            if point.state is PointCondition.LIVE and (point.volts is None or point.volts > SAFE_VOLTS)
        }

    return frozenset(live(()) - live(capacitors))


def frees_refrigerant(appliance: Appliance, way: Removal | Preparation) -> EnergySource | None:
    """The refrigerant that a way frees or takes out, if any: its holder comes off, or it is recovered or charged."""
    for source in appliance.circuit.sources.values():
        if source.kind.id != REFRIGERANT:
            continue
        if isinstance(way, Preparation) and (way.gives in source.gone_in) != (way.from_state in source.gone_in):
            return source
        if isinstance(way, Removal) and way.component in _handled(source):
            return source
    return None


def too_heavy_alone(appliance: Appliance, removal: Removal) -> bool:
    """Whether the component is more than one person may lift."""
    return (appliance.components[removal.component].kilograms or 0.0) > MOST_KILOGRAMS_ALONE


def _handled(source: EnergySource) -> frozenset[str]:
    """The components whose handling frees what ``source`` holds."""
    return source.release_before | ({source.held_by} if source.held_by else frozenset())


def _of_removal(appliance: Appliance, removal: Removal, charged: frozenset[str]) -> WayExposures:
    bared = bared_by(appliance, removal)
    live = _live(appliance, removal.needs_states, bared)
    done = [*live, *_stored(appliance, removal, bared & charged)]
    weight: list[Exposed] = []
    if too_heavy_alone(appliance, removal) and removal.persons == 1:
        part = appliance.components[removal.component]
        over = f"over {MOST_KILOGRAMS_ALONE:g} kg"
        text = f"{part.label} weighs {part.kilograms:g} kg, {over}, and is lifted by one person."
        weight = [Exposed(Hazard.WEIGHT, text)]
    source = frees_refrigerant(appliance, removal)
    if source is not None and not source.gone_in & removal.needs_states:
        done.append(Exposed(Hazard.REFRIGERANT, f"Frees {source.label}."))
    return WayExposures((*done, *weight), (*live, *weight))


def _of_path(appliance: Appliance, path: AccessPath, charged: frozenset[str]) -> WayExposures:
    if path.live:
        live = [Exposed(Hazard.LIVE, "Done with the supply on.")]
    else:
        live = _live(appliance, path.needs_states, path.bares | _behind(appliance, path.needs_off))
    return WayExposures((*live, *_stored(appliance, path, path.bares & charged)))


def _of_preparation(appliance: Appliance, preparation: Preparation) -> WayExposures:
    found = _live(appliance, preparation.needs_states, _behind(appliance, preparation.needs_off))
    source = frees_refrigerant(appliance, preparation)
    if source is not None:
        found = [*found, Exposed(Hazard.REFRIGERANT, f"Recovers or charges what is otherwise {source.label}.")]
    return WayExposures(tuple(found), tuple(found))


def _behind(appliance: Appliance, parts: frozenset[str]) -> frozenset[str]:
    """The points that any way of taking ``parts`` off lays bare."""
    ways = (removal for removal in appliance.removals.values() if removal.component in parts)
    return frozenset().union(*(bared_by(appliance, removal) for removal in ways))


def _live(appliance: Appliance, states: frozenset[str], points: frozenset[str]) -> list[Exposed]:
    if not points or not appliance.energised(states):
        return []
    return [Exposed(Hazard.LIVE, f"Done with the supply on, within reach of {_listed(appliance, points)}.")]


def _stored(appliance: Appliance, way: Removal | AccessPath, charged: frozenset[str]) -> list[Exposed]:
    """One exposure at most, whatever the number of charges, springs and the like."""
    held = [
        source.label
        for source in appliance.circuit.sources.values()
        if source.kind.id != REFRIGERANT
        and (isinstance(way, Removal) or source.kind.id in FELT_WHEN_HANDLED)
        and way.component in _handled(source)
        and not source.gone_in & way.needs_states
    ]
    said = []
    if charged:
        said.append(f"a charge reaches {_listed(appliance, charged)}")
    if held:
        said.append(f"first to be released: {', '.join(held)}")
    if not said:
        return []
    text = "; ".join(said)
    return [Exposed(Hazard.STORED, f"{text[0].upper()}{text[1:]}.")]


def _listed(appliance: Appliance, points: frozenset[str]) -> str:
    labels = [appliance.circuit.points[slug].label for slug in sorted(points)]
    return ", ".join(labels[:3]) + (f" and {len(labels) - 3} more" if len(labels) > 3 else "")
