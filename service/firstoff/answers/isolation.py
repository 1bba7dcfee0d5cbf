"""Isolation sets as a contract answer."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import fsum

from firstoff.answers.bench import Bench
from firstoff.answers.names import touch_points
from firstoff.answers.notes import component_ref, model_ref
from firstoff.appliance.model import Appliance
from firstoff.energy import Isolation, IsolationSet, ProveStep, Release, isolation, situation_of
from firstoff.settings import Settings
from firstoff_contract.energy import IsolationAnswer, IsolationDevice, IsolationSetNote, ProveDead, ReleaseNote


def isolation_answer(bench: Bench, settings: Settings, *, touch: Iterable[str]) -> IsolationAnswer:
    """How to make points, or all points of components, safe to touch.

    :raises BadRequest: there is nothing to touch.
    :raises NotFound: a name is neither a point nor a component; carries the nearest names.
    """
    appliance, effort = bench.appliance, bench.effort
    points, holders = touch_points(appliance, touch)
    found = isolation(
        appliance,
        points,
        situation_of(appliance, (), ()),
        bared_to_reach=effort.bared,
        cost=effort.minutes,
        components=holders,
        safe_volts=settings.safe_volts,
    )
    return IsolationAnswer(
        model=model_ref(appliance),
        touch=sorted(points),
        sets=set_notes(appliance, found.sets, effort.minutes),
        prove_dead=prove_notes(found.prove_dead),
        upstream_only=bool(found.upstream_only),
        upstream_energies=sorted(found.upstream_only),
        if_neutral_proved=set_notes(appliance, found.if_neutral_proved, effort.minutes),
        unknown=sorted(found.unknown),
        revision=appliance.revision,
    )


def set_notes(
    appliance: Appliance, sets: Iterable[IsolationSet], minutes: Mapping[str, float]
) -> list[IsolationSetNote]:
    """The sets with the ``minutes`` that it takes to reach and open each device."""
    devices = appliance.circuit.devices
    return [
        IsolationSetNote(
            energy=each.energy,
            devices=[
                IsolationDevice(
                    id=slug,
                    label=devices[slug].label,
                    kind=devices[slug].kind.label,
                    instruction=devices[slug].instruction,
                    minutes=round(minutes[slug], 2),
                    lockable=devices[slug].lockable,
                )
                for slug in each.devices
            ],
            minutes=round(fsum(minutes[slug] for slug in each.devices), 2) if each.devices else None,
            release=release_notes(appliance, each.release),
        )
        for each in sets
    ]


def release_notes(appliance: Appliance, releases: Iterable[Release]) -> list[ReleaseNote]:
    return [
        ReleaseNote(
            id=each.id,
            energy=each.energy,
            component=component_ref(appliance, each.component),
            text=each.text,
            minutes=each.minutes,
            competence=each.competence,
            verify=each.verify,
        )
        for each in releases
    ]


def prove_notes(steps: Iterable[ProveStep]) -> list[ProveDead]:
    return [
        ProveDead.model_validate({"kind": each.kind.value, "points": list(each.points), "text": each.text})
        for each in steps
    ]


def releases_of(found: Isolation) -> tuple[Release, ...]:
    """Every release of any set, each once."""
    return tuple({release.id: release for each in found.sets for release in each.release}.values())
