"""What a change of content means for a technician: plans, points and faults before and after."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import zip_longest

from firstoff.answers.bench import Bench, laid_out
from firstoff.answers.names import Aim, ruled_out
from firstoff.answers.notes import component_ref
from firstoff.appliance.model import Appliance, Purpose
from firstoff.collection.catalogue import Collection
from firstoff.diagnosis import ranked
from firstoff.energy import live_points, situation_of, stored
from firstoff.removal import Plan, RemovalError, Request, Target
from firstoff_contract.authoring import ChargeChange, FaultPlace, ModelChange, PlanChange, PointChange, RankChange
from firstoff_contract.common import Ref

#: Faults told for each symptom, and by how much a share must move to be told.
_LIKELIEST, _MOVED = 5, 0.005


def compared(
    before: Collection | None,
    after: Collection | None,
    *,
    seconds: float,
    progress: Callable[[str], None] = lambda _: None,
) -> tuple[list[ModelChange], bool]:
    """The models whose answers differ, and whether every plan was compared within ``seconds``.

    Each collection holds one version of one platform; None stands for a platform that is not there. The serial ranges
    of a model are compared by their place.
    """
    deadline = time.monotonic() + seconds
    slugs = sorted({entry.id for side in (before, after) if side for entry in side.models})
    changes: list[ModelChange] = []
    complete = True
    for slug in slugs:
        progress(f"comparing {slug}")
        for old, new in zip_longest(_appliances(before, slug), _appliances(after, slug)):
            change, whole = _change(old, new, deadline)
            complete = complete and whole
            if change is not None:
                changes.append(change)
    return changes, complete


def _appliances(side: Collection | None, slug: str) -> Sequence[Appliance]:
    if side is None or slug not in {entry.id for entry in side.models}:
        return ()
    return side.appliances(slug)


def _change(old: Appliance | None, new: Appliance | None, deadline: float) -> tuple[ModelChange | None, bool]:
    named = new or old
    if named is None:
        return None, True
    model = Ref(id=named.model, label=named.label)
    if old is None or new is None:
        sort = "added" if old is None else "taken out"
        return ModelChange.model_validate({"model": model, "serial_range": named.serial_range, "sort": sort}), True
    plans, whole = _plans(laid_out(old), laid_out(new), deadline)
    change = ModelChange(
        model=model,
        serial_range=named.serial_range,
        sort="changed",
        plans=plans,
        points=list(_points(old, new)),
        charges=list(_charges(old, new)),
        faults=list(_faults(old, new)),
    )
    return (change if change.plans or change.points or change.charges or change.faults else None), whole


def _plans(old: Bench, new: Bench, deadline: float) -> tuple[list[PlanChange], bool]:
    """Components whose cheapest plan takes other minutes, or takes other parts off; what is new or gone included."""
    found: list[PlanChange] = []
    for slug in sorted(old.appliance.components.keys() | new.appliance.components.keys()):
        if time.monotonic() > deadline:
            return found, False
        plans = _plan(old, slug), _plan(new, slug)
        minutes = tuple(None if plan is None else round(plan.minutes, 2) for plan in plans)
        off = tuple(() if plan is None else plan.removed for plan in plans)
        if minutes[0] != minutes[1] or off[0] != off[1]:
            side = new if slug in new.appliance.components else old
            found.append(
                PlanChange(
                    component=component_ref(side.appliance, slug),
                    minutes_before=minutes[0],
                    minutes_after=minutes[1],
                    off_before=[component_ref(old.appliance, part).label for part in off[0]],
                    off_after=[component_ref(new.appliance, part).label for part in off[1]],
                )
            )
    return found, True


def _plan(bench: Bench, component: str) -> Plan | None:
    appliance = bench.appliance
    if component not in appliance.components:
        return None
    banned = ruled_out(appliance, [Aim(component, Purpose.REPLACE)])
    try:
        return bench.planner.plan(Request((Target(component, Purpose.REPLACE),), alternatives=0, banned=banned))
    except RemovalError:
        return None


def _points(old: Appliance, new: Appliance) -> Iterator[PointChange]:
    """With nothing opened, and with each device open alone."""
    devices = sorted(old.circuit.devices.keys() | new.circuit.devices.keys())
    for opened in [(), *((device,) for device in devices)]:
        states = tuple(_states(side, opened) for side in (old, new))
        for slug in sorted(states[0].keys() | states[1].keys()):
            before, after = states[0].get(slug), states[1].get(slug)
            if before == after or (opened and (before is None or after is None)):
                continue  # what is new or gone is told once, with nothing opened
            side = new if slug in new.circuit.points else old
            yield PointChange.model_validate(
                {
                    "point": Ref(id=slug, label=side.circuit.points[slug].label),
                    "opened": [Ref(id=device, label=_device(old, new, device)) for device in opened],
                    "before": before,
                    "after": after,
                }
            )


def _states(appliance: Appliance, opened: Sequence[str]) -> Mapping[str, str]:
    """The condition of each point; none at all where a device to be opened is not there."""
    if any(device not in appliance.circuit.devices for device in opened):
        return {}
    found = live_points(appliance, situation_of(appliance, opened, ()))
    return {slug: state.state.value for slug, state in found.items()}


def _device(old: Appliance, new: Appliance, slug: str) -> str:
    return (new if slug in new.circuit.devices else old).circuit.devices[slug].label


def _charges(old: Appliance, new: Appliance) -> Iterator[ChargeChange]:
    held = []
    for side in (old, new):
        isolating = [device.id for device in side.circuit.devices.values() if device.isolating]
        held.append({each.link: each for each in stored(side, situation_of(side, isolating, ()))})
    for link in sorted(held[0].keys() | held[1].keys()):
        before, after = held[0].get(link), held[1].get(link)
        figures = [
            (None, None) if each is None else (_rounded(each.volts), _rounded(each.wait_s)) for each in (before, after)
        ]
        if figures[0] == figures[1] and before is not None and after is not None:
            continue
        side = new if after is not None else old
        yield ChargeChange(
            capacitor=Ref(id=link, label=side.circuit.links[link].label),
            volts_before=figures[0][0],
            volts_after=figures[1][0],
            seconds_before=figures[0][1],
            seconds_after=figures[1][1],
        )


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 3)


def _faults(old: Appliance, new: Appliance) -> Iterator[RankChange]:
    """Symptoms for which another fault is likely, or as likely as no more."""
    shown = {effect.symptom for side in (old, new) for fault in side.faults.values() for effect in fault.effects}
    for symptom in sorted(shown):
        shares = [_shares(side, symptom) for side in (old, new)]
        moved = any(
            abs(shares[0].get(fault, 0.0) - shares[1].get(fault, 0.0)) >= _MOVED
            for fault in shares[0].keys() | shares[1].keys()
        )
        if moved or list(shares[0])[:_LIKELIEST] != list(shares[1])[:_LIKELIEST]:
            side = new if symptom in new.symptoms else old
            yield RankChange(
                symptom=Ref(id=symptom, label=side.symptoms[symptom].label),
                before=_places(old, shares[0]),
                after=_places(new, shares[1]),
            )


def _shares(appliance: Appliance, symptom: str) -> dict[str, float]:
    """The share of each fault, the likeliest first; none where the symptom is not shown."""
    if symptom not in appliance.symptoms:
        return {}
    return {each.fault: each.share for each in ranked(appliance, [symptom])}


def _places(appliance: Appliance, shares: Mapping[str, float]) -> list[FaultPlace]:
    likeliest = list(shares.items())[:_LIKELIEST]
    return [
        FaultPlace(fault=Ref(id=fault, label=appliance.faults[fault].label), share=round(share, 4))
        for fault, share in likeliest
    ]
