"""Models and components as contract answers."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from urllib.parse import urlencode

from firstoff.answers.names import capacitors, known, tools
from firstoff.answers.notes import (
    bulletin_notes,
    caution_notes,
    cautions_of,
    check_notes,
    component_ref,
    component_refs,
    concept_ref,
    connection_notes,
    fastening_notes,
    link_refs,
    model_ref,
    point_refs,
    source_refs,
    state_refs,
)
from firstoff.appliance.model import (
    AccessPath,
    Appliance,
    Removal,
)
from firstoff.appliance.variant import Changes
from firstoff.collection.catalogue import Collection, ModelEntry
from firstoff_contract.catalogue import (
    ComponentDetail,
    ComponentList,
    ComponentSummary,
    DeviceNote,
    Difference,
    ModelDetail,
    ModelList,
    ModelSummary,
    Page,
    RemovalNote,
    StateNote,
    WayIn,
)
from firstoff_contract.common import Ref


def _summary(entry: ModelEntry) -> ModelSummary:
    return ModelSummary(
        id=entry.id,
        number=entry.number,
        label=entry.label,
        platform=concept_ref(entry.platform),
        maker=entry.maker,
        kind=entry.kind.label,
    )


def page_of(total: int, offset: int, limit: int, address: str, **asked: str | None) -> Page:
    """The page from ``offset``, with the address of the next where there is one, ``asked`` again."""
    following = offset + limit
    query = urlencode({"offset": following, "limit": limit} | {k: v for k, v in asked.items() if v is not None})
    return Page(total=total, offset=offset, limit=limit, next=f"{address}?{query}" if following < total else None)


def model_list(collection: Collection, number: str | None, offset: int, limit: int, address: str) -> ModelList:
    """All models, or those a rating plate's number stands for; the nearest where there is none."""
    if number is None:
        entries = collection.models
        page = page_of(len(entries), offset, limit, address)
        return ModelList(
            page=page,
            models=[_summary(each) for each in entries[offset : offset + limit]],
            revision=collection.revision,
        )
    found = collection.reading_as(number)
    nearest = [] if found else list(collection.nearest(number))
    return ModelList(
        page=page_of(len(found), 0, limit, address),
        models=[_summary(each) for each in found],
        nearest=[_summary(each) for each in nearest],
        revision=collection.revision,
    )


def difference(whole: Appliance, changes: Changes, serials: str | None) -> Difference:
    """How a model or serial range departs from its platform."""
    return Difference(
        serials=serials,
        leaves_out=component_refs(whole, changes.leaves_out),
        adds=component_refs(whole, changes.adds),
        replaces=[(component_ref(whole, a), component_ref(whole, b)) for a, b in sorted(changes.replaces.items())],
    )


def differences(collection: Collection, model: str) -> list[Difference]:
    """The model's own differences from its platform, then each serial range's."""
    whole = collection.whole_platform(model)
    changes = collection.changes(model)
    own = [] if changes.empty else [difference(whole, changes, None)]
    return own + [difference(whole, each.changes, each.words) for each in collection.serial_ranges(model)]


def model_detail(collection: Collection, appliances: tuple[Appliance, ...]) -> ModelDetail:
    """What is known of a model; where several serial ranges are possible, what they share and what differs."""
    appliance = appliances[0]
    address = f"/v1/models/{appliance.model}"
    bulletins = {each.id: each for variant in appliances for each in variant.bulletins}
    return ModelDetail.model_validate(
        {
            "id": appliance.model,
            "number": appliance.model_number,
            "label": appliance.label,
            "platform": concept_ref(appliance.platform),
            "maker": appliance.maker,
            "kind": appliance.kind.label,
            "status": appliance.status,
            "serial_range": appliance.serial_range if len(appliances) == 1 else None,
            "differs": differences(collection, appliance.model),
            "bulletins": bulletin_notes(bulletins.values()),
            "cautions": cautions_of(appliance, appliance.platform.id),
            "counts": {name: _shared_count(appliances, name) for name in _COUNTED},
            "devices": [
                DeviceNote(id=each.id, label=each.label, kind=each.kind.label, isolating=each.isolating)
                for each in appliance.circuit.devices.values()
            ],
            "capacitors": [Ref(id=each.id, label=each.label) for each in capacitors(appliance).values()],
            "states": [
                StateNote(
                    id=each.id,
                    label=each.label,
                    variable=appliance.variables[each.variable].label,
                    initial=each.initial,
                )
                for each in appliance.states.values()
            ],
            "tools": [concept_ref(tool) for _, tool in sorted(tools(appliance).items())],
            "links": {
                "components": f"{address}/components",
                "removal-plan": f"{address}/removal-plan?reach={{component}}:{{purpose}}",
                "live-points": f"{address}/live-points",
                "isolation": f"{address}/isolation?touch={{point}}",
                "safety-record": f"{address}/safety-record",
            },
            "revision": appliance.revision,
        }
    )


_COUNTED: dict[str, Callable[[Appliance], Iterable[str]]] = {
    "components": lambda appliance: appliance.components,
    "points": lambda appliance: appliance.circuit.points,
    "symptoms": lambda appliance: appliance.symptoms,
    "faults": lambda appliance: appliance.faults,
    "checks": lambda appliance: appliance.checks,
    "codes": lambda appliance: appliance.codes,
}


def _shared_count(appliances: tuple[Appliance, ...], name: str) -> int:
    """How many of a kind all serial ranges still possible share."""
    return len(frozenset.intersection(*(frozenset(_COUNTED[name](each)) for each in appliances)))


def component_list(appliances: tuple[Appliance, ...], offset: int, limit: int, serial: str | None) -> ComponentList:
    """The components of a model in order of their labels.

    Where several serial ranges are possible, those of all of them; each says which ranges have it if not all do.
    """
    first = appliances[0]
    every = {slug: component for appliance in appliances for slug, component in appliance.components.items()}
    ordered = sorted(every.values(), key=lambda each: (each.label, each.id))
    return ComponentList(
        model=model_ref(first),
        page=page_of(len(ordered), offset, limit, f"/v1/models/{first.model}/components", serial=serial),
        components=[
            ComponentSummary(
                id=each.id,
                label=each.label,
                kind=each.kind.label,
                zone=each.zone.label,
                part_number=each.part_number,
                serials=_having(appliances, each.id),
            )
            for each in ordered[offset : offset + limit]
        ],
        revision=first.revision,
    )


def _having(appliances: tuple[Appliance, ...], component: str) -> list[str]:
    """The serial ranges that have a component; empty where all have it."""
    having = [each.serial_range or "all other serial numbers" for each in appliances if component in each.components]
    return having if len(having) < len(appliances) else []


def _removal_note(appliance: Appliance, removal: Removal) -> RemovalNote:
    return RemovalNote(
        id=removal.id,
        label=removal.label,
        needs_off=component_refs(appliance, removal.needs_off),
        needs_states=state_refs(appliance, removal.needs_states),
        fastenings=fastening_notes(removal.fastenings),
        connections=connection_notes(removal.connections),
        tools=[concept_ref(tool) for tool in removal.all_tools],
        persons=removal.persons,
        minutes_out=removal.minutes_out,
        minutes_back=removal.minutes_back,
        bares=point_refs(appliance, removal.bares),
        opens=link_refs(appliance, removal.opens),
        consumables=list(removal.consumables),
        single_use=removal.single_use,
        checks=check_notes(removal.checks),
        instruction=removal.instruction,
        refit_instruction=removal.refit_instruction,
        sources=source_refs(removal.sources),
    )


def _way_in(appliance: Appliance, path: AccessPath) -> WayIn:
    return WayIn(
        id=path.id,
        label=path.label,
        purpose=path.purpose.value,
        audience=path.audience.label,
        live=path.live,
        minutes=path.minutes,
        needs_off=component_refs(appliance, path.needs_off),
        needs_fitted=component_refs(appliance, path.needs_fitted),
        needs_states=state_refs(appliance, path.needs_states),
        tools=[concept_ref(tool) for tool in path.tools],
        bares=point_refs(appliance, path.bares),
        instruction=path.instruction,
        sources=source_refs(path.sources),
    )


def component_detail(appliance: Appliance, slug: str) -> ComponentDetail:
    """A component with its ways in, removals, points, faults and cautions.

    :raises NotFound: the model has no such component.
    """
    known("component", [slug], appliance.components)
    component = appliance.components[slug]
    removals = [each for each in appliance.removals.values() if each.component == slug]
    paths = [each for each in appliance.access_paths.values() if each.component == slug]
    names = {slug, *(each.id for each in removals), *(each.id for each in paths)}
    faults = [each for each in appliance.faults.values() if each.component == slug]
    return ComponentDetail(
        model=model_ref(appliance),
        id=slug,
        label=component.label,
        kind=component.kind.label,
        zone=component.zone.label,
        part_number=component.part_number,
        supersedes=list(component.supersedes),
        sits_inside=component_ref(appliance, component.sits_inside) if component.sits_inside else None,
        replaced_as=component_ref(appliance, component.replaced_as) if component.replaced_as else None,
        kilograms=component.kilograms,
        removals=[_removal_note(appliance, each) for each in removals],
        ways_in=[_way_in(appliance, each) for each in paths],
        points=point_refs(appliance, (p for p, point in appliance.circuit.points.items() if point.component == slug)),
        faults=[Ref(id=each.id, label=each.label) for each in faults],
        cautions=caution_notes(each for each in appliance.cautions if each.applies_to & names),
        sources=source_refs(component.sources),
        revision=appliance.revision,
    )
