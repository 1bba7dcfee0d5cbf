"""The procedure of making safe and restoring that belongs to a plan, as a contract answer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import chain

from firstoff.answers.bench import Bench
from firstoff.answers.plan import plan_answer
from firstoff.appliance.circuit import Device
from firstoff.appliance.model import Appliance
from firstoff.energy.procedure import Deed, PlanAct, ProcedureStep, procedure, sole_control
from firstoff.settings import Settings
from firstoff_contract.common import Ref
from firstoff_contract.energy import ReleaseNote
from firstoff_contract.procedure import PlanStepRef, Procedure, ProcedureNote, SoleControl
from firstoff_contract.removal import PlanRequest, RemovalPlan, Step

_DEEDS = {
    "isolate": Deed.ISOLATE,
    "isolate_again": Deed.ISOLATE,
    "prove_dead": Deed.PROVE,
    "release": Deed.RELEASE,
    "verify": Deed.INSPECT,
    "restore_supply": Deed.RESTORE,
    "read_hands_off": Deed.READ,
}
#: Energies that may build up again once they are released: charge by dielectric absorption, pressure with warmth.
_RETURNING = frozenset({"stored-charge", "refrigerant", "battery", "solar"})


def make_safe_answer(bench: Bench, settings: Settings, asked: PlanRequest) -> Procedure:
    """The plan for ``asked``, told as the procedure it has to follow.

    Raises what ``plan_answer`` raises.
    """
    appliance = bench.appliance
    plan = plan_answer(bench, settings, asked)
    acts = _acts(appliance, plan)
    devices = {device.id: device for act in acts for device in act.devices}
    found_open = _open_already(appliance, plan)
    energies = _energies(appliance, plan, [*devices.values(), *found_open])
    steps = procedure(acts, energies, found_open)
    where = _places(plan)
    return Procedure(
        model=plan.model,
        reach=plan.reach,
        needed=plan.make_safe.needed or bool(devices) or bool(plan.make_safe.release),
        minutes=plan.minutes,
        energies=energies,
        sole_control=_sole_control(appliance, [*devices.values(), *found_open]),
        upstream_only=plan.make_safe.upstream_only,
        unknown=plan.make_safe.unknown,
        cautions=plan.cautions,
        prove_dead=plan.make_safe.prove_dead,
        steps=[_note(appliance, n, step, where) for n, step in enumerate(steps, 1)],
        settled=plan.settled,
        revision=plan.revision,
    )


def _places(plan: RemovalPlan) -> list[PlanStepRef]:
    """Where each act of ``_acts`` stands in the plan, by its number."""
    return [PlanStepRef(way="steps", n=step.n) for step in plan.steps] + [
        PlanStepRef(way="refit", n=step.n) for step in plan.refit
    ]


def _acts(appliance: Appliance, plan: RemovalPlan) -> list[PlanAct]:
    releases = plan.make_safe.release
    return [_act(appliance, number, step, releases) for number, step in enumerate([*plan.steps, *plan.refit])]


def _act(appliance: Appliance, number: int, step: Step, releases: Sequence[ReleaseNote]) -> PlanAct:
    deed = _DEEDS.get(step.action, Deed.WORK)
    opened, closed = _switched(appliance, step)
    if deed is Deed.WORK and opened:
        deed = Deed.ISOLATE
    elif deed is Deed.WORK and closed:
        deed = Deed.RESTORE
    released = _released(step, releases) if deed is Deed.RELEASE else None
    told = step.instruction and (deed is not Deed.WORK)
    return PlanAct(
        number=number,
        deed=deed,
        text=f"{_capital(step.label)}. {step.instruction}" if told else _capital(step.label),
        devices=opened if deed is Deed.ISOLATE else closed,
        verify=released.verify if released is not None else "",
        returns=released is not None and released.energy in _RETURNING,
        competence=step.competence,
    )


def _released(step: Step, releases: Sequence[ReleaseNote]) -> ReleaseNote | None:
    """The release that a step carries out: where its component holds several energies, the one whose words it says.

    A charge that is taken off where it reaches, its own terminals covered, is said in other words than its own.
    """
    here = [each for each in releases if step.component is not None and each.component.id == step.component.id]
    said = (each for each in here if step.instruction.startswith(each.text))
    charge = (each for each in here if each.energy == "stored-charge")
    return next(chain(said, charge, here), None)


def _switched(appliance: Appliance, step: Step) -> tuple[tuple[Device, ...], tuple[Device, ...]]:
    """The isolating devices that a step opens, and those it closes."""
    made = appliance.preparations.get(step.way or "")
    if made is None:
        return (), ()
    before, after = appliance.states[made.from_state].devices_open, appliance.states[made.gives].devices_open
    if step.action in ("undo", "restore_supply"):
        before, after = after, before
    return _devices(appliance, after - before), _devices(appliance, before - after)


def _devices(appliance: Appliance, slugs: Iterable[str]) -> tuple[Device, ...]:
    known = appliance.circuit.devices
    return tuple(known[slug] for slug in sorted(slugs) if slug in known and known[slug].isolating)


def _open_already(appliance: Appliance, plan: RemovalPlan) -> tuple[Device, ...]:
    """The isolating devices that are open in the states the machine was found in."""
    return _devices(appliance, {slug for state in plan.states for slug in appliance.states[state.id].devices_open})


def _energies(appliance: Appliance, plan: RemovalPlan, devices: Iterable[Device]) -> list[str]:
    """What there is to make safe: the supplies that are shut off, then what is released."""
    shut_off = {device.id for device in devices}
    kinds = {
        appliance.variables[state.variable].controls
        for state in appliance.states.values()
        if state.devices_open & shut_off
    }
    kinds |= {device.energy for device in plan.make_safe.devices}
    words = []
    for source in appliance.circuit.sources.values():
        if source.kind.id in kinds and source.held_by is None and not source.derived_from:
            size = f", {source.volts:g} V {source.current or ''} to earth".rstrip() if source.volts else ""
            words.append(f"{source.label}{size}")
    words += [f"{release.energy.replace('-', ' ')}: {release.component.label}" for release in plan.make_safe.release]
    return list(dict.fromkeys(words))


def _sole_control(appliance: Appliance, devices: list[Device]) -> SoleControl:
    slugs = {device.id for device in devices}
    energies = {
        appliance.variables[state.variable].controls or "unknown"
        for state in appliance.states.values()
        if state.devices_open & slugs
    }
    if sole_control(devices, energies):
        return SoleControl(
            will_do=True,
            text="Pulling the plug and keeping it under your sole control will do instead of a lock. It is not enough "
            "while a capacitor holds charge or anything else is stored: release and verify all the same.",
        )
    why = "nothing is isolated by a plug alone" if devices else "this plan isolates nothing"
    return SoleControl(will_do=False, text=f"A plug kept in hand does not stand in for locks here: {why}.")


def _note(appliance: Appliance, n: int, step: ProcedureStep, where: list[PlanStepRef]) -> ProcedureNote:
    devices = appliance.circuit.devices
    return ProcedureNote(
        n=n,
        stage=step.stage.value,
        part=step.part.value,
        text=step.text,
        clause=step.clause,
        devices=[Ref(id=slug, label=devices[slug].label) for slug in step.devices],
        plan_steps=[where[act] for act in step.acts],
        competence=step.competence,
    )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
