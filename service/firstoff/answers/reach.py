"""What an opened machine lays open, and what a part hides, as contract answers."""

from __future__ import annotations

import time
from collections.abc import Iterable, Mapping

from firstoff.answers import names
from firstoff.answers.as_found import AsFound, as_found, found_refs, off_caution
from firstoff.answers.bared import bared_by
from firstoff.answers.bench import Bench, in_the_way
from firstoff.answers.notes import component_ref, component_refs, model_ref, state_refs
from firstoff.answers.plan import opening_cautions
from firstoff.answers.steps import exposure
from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.energy import live_points, situation_of
from firstoff.removal import Budget, Plan, RemovalError, Request, Target, Undecided
from firstoff.removal.exposed import OneMore, Standing, Within, exposed
from firstoff.removal.hidden import hidden_by
from firstoff.settings import Settings
from firstoff_contract.common import Ref
from firstoff_contract.reach import Exposed, Hidden, HiddenPart, OneMoreOff, WithinReach
from firstoff_contract.removal import Exposure


def exposed_answer(bench: Bench, *, off: Iterable[str], states: Iterable[str], tools: Iterable[str] | None) -> Exposed:
    """What is within reach with the parts ``off`` and the ``states`` in force, and what one more removal would open.

    :raises NotFound: a name is unknown; carries the nearest.
    :raises BadRequest: two states exclude each other, or a part is said to be off in two ways.
    """
    appliance = bench.appliance
    found = as_found(appliance, off, states)
    parts, said = found.off, found.states
    at_hand = None if tools is None else names.known("tool", tools, names.tools(appliance))
    initial = {state.variable: state.id for state in appliance.states.values() if state.initial}
    now, after = exposed(appliance, Standing(parts, {**initial, **said}, at_hand))
    return Exposed(
        model=model_ref(appliance),
        off=found_refs(appliance, found),
        states=state_refs(appliance, (slug for slug in said.values() if not appliance.states[slug].initial)),
        cautions=opening_cautions(appliance, off_caution(appliance, found, planned=False)),
        bare=_bare(appliance, found, {**initial, **said}),
        now=[_within(appliance, each) for each in now],
        next=[_one_more(appliance, each) for each in after],
        revision=appliance.revision,
    )


def _bare(appliance: Appliance, found: AsFound, states: Mapping[str, str]) -> list[Exposure]:
    """The points that parts off have bared, or may have where it is not known by which removal they came off."""
    points = frozenset[str]().union(*(bared_by(appliance, removal) for removal in found.came_off_by(appliance)))
    opened = {device for state in states.values() for device in appliance.states[state].devices_open}
    shown = live_points(appliance, situation_of(appliance, opened, found.off, ways=found.ways))
    return [exposure(appliance, shown[point]) for point in sorted(points) if point in shown]


def _within(appliance: Appliance, each: Within) -> WithinReach:
    return WithinReach.model_validate(
        {
            "component": component_ref(appliance, each.component),
            "purpose": names.LIVE_TEST if each.live and each.purpose is Purpose.TEST else each.purpose.value,
            "way": None if each.way is None else Ref(id=each.way, label=_way_label(appliance, each.way)),
            "states": state_refs(appliance, each.states),
        }
    )


def _way_label(appliance: Appliance, way: str) -> str:
    return (appliance.removals.get(way) or appliance.access_paths[way]).label


def _one_more(appliance: Appliance, each: OneMore) -> OneMoreOff:
    removal = appliance.removals[each.removal]
    return OneMoreOff(
        component=component_ref(appliance, each.component),
        way=Ref(id=removal.id, label=removal.label),
        minutes_out=removal.minutes_out,
        minutes_back=removal.minutes_back,
        states=state_refs(appliance, each.states),
        opens=[_within(appliance, opened) for opened in each.opens],
    )


def hidden_answer(bench: Bench, settings: Settings, component: str) -> Hidden:
    """Everything behind a component: hidden by it for certain, or reached by taking it off on the cheapest way.

    :raises NotFound: the model has no such component.
    """
    appliance = bench.appliance
    names.known("component", [component], appliance.components)
    always = hidden_by(appliance, component)
    usually: set[Target] = set()
    deadline = time.monotonic() + settings.plan_seconds
    complete = True
    for target in _candidates(appliance, component) - always:
        plan, in_time = _quick(bench, (target,), deadline)
        complete = complete and in_time
        if plan is not None and component in plan.removed:
            usually.add(target)
    return Hidden(
        model=model_ref(appliance),
        component=component_ref(appliance, component),
        always=_parts(appliance, always),
        usually=_parts(appliance, usually),
        complete=complete,
        revision=appliance.revision,
    )


def _candidates(appliance: Appliance, component: str) -> set[Target]:
    """The targets that some way reaches by taking ``component`` off."""
    found: set[Target] = set()
    for path in appliance.access_paths.values():
        if not path.live and component in in_the_way(appliance, path.needs_off):
            found.add(Target(path.component, path.purpose))
    for other in appliance.components.values():
        units = frozenset({other.id, other.replaced_as or other.id})
        if component in in_the_way(appliance, units):
            found.add(Target(other.id, Purpose.REPLACE))
    return {target for target in found if target.component != component}


def _parts(appliance: Appliance, targets: Iterable[Target]) -> list[HiddenPart]:
    purposes: dict[str, list[Purpose]] = {}
    for target in targets:
        purposes.setdefault(target.component, []).append(target.purpose)
    order = list(Purpose)
    return [
        HiddenPart.model_validate(
            {"component": ref, "purposes": [each.value for each in sorted(purposes[ref.id], key=order.index)]}
        )
        for ref in component_refs(appliance, purposes)
    ]


def _quick(bench: Bench, targets: tuple[Target, ...], deadline: float) -> tuple[Plan | None, bool]:
    """The cheapest plan, None where there is none, and whether there was time to say so."""
    left = deadline - time.monotonic()
    if left <= 0:
        return None, False
    appliance = bench.appliance
    aims = [names.Aim(target.component, target.purpose) for target in targets]
    request = Request(targets, alternatives=0, banned=names.ruled_out(appliance, aims))
    try:
        plan = bench.planner.plan(request, Budget(seconds=left, clock=time.monotonic))
    except RemovalError as error:
        return None, not isinstance(error, Undecided)
    return plan, plan.optimal
