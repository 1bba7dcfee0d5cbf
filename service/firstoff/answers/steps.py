"""Acts of a plan as numbered steps of the contract, with cautions before them and what they expose."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from firstoff.answers.bared import way_of
from firstoff.answers.notes import (
    cautions_of,
    component_ref,
    concept_ref,
    connection_notes,
    fastening_notes,
    note,
    source_refs,
    worst_first,
)
from firstoff.answers.refit import before_hiding, refit_checks, refit_wait, refit_words
from firstoff.answers.timeline import Discharge, Moment, Safety, Timeline, unsafe
from firstoff.appliance.circuit import Link
from firstoff.appliance.model import (
    AccessPath,
    Appliance,
    Preparation,
    Removal,
)
from firstoff.energy import PointCondition, PointState, Release
from firstoff.energy.feeds import peak_volts
from firstoff.energy.proving import ORDINARY_METER_VOLTS
from firstoff.removal import Act, ActKind, Target
from firstoff_contract.common import CautionNote, Ref
from firstoff_contract.removal import Action, Consumable, Exposure, FinishNote, HiddenCheck, Step

_VERBS = {"inspect": "Inspect", "test": "Test", "replace": "Replace"}


def target_ref(appliance: Appliance, target: Target) -> Ref:
    """A target as ``component:purpose`` with words."""
    part = component_ref(appliance, target.component).label
    return Ref(id=f"{target.component}:{target.purpose.value}", label=f"{_VERBS[target.purpose.value]}: {part}")


def steps_of(
    appliance: Appliance,
    moments: Sequence[Moment],
    safety: Safety,
    safe_volts: float,
    hidden: Mapping[int, list[HiddenCheck]],
) -> list[Step]:
    """The steps of some moments in order; isolating, and a live reading, become blocks of their own (guarantee 4).

    Until they are ``numbered``, ``n`` is the number of the act that a step is, counted from 1, and 0 for what is added.
    ``hidden`` are the checks that each act hides, by its number. The supply is not restored while a part that was off
    as found leaves an earth bond or a bleed undone.
    """
    steps: list[Step] = []
    for index, moment in enumerate(moments):
        steps += [_release(appliance, each) for each in moment.before]
        discharges = [_discharge(appliance, each, safe_volts) for each in moment.discharges]
        if moment.serves:
            steps += discharges
        serving = _live_reading(appliance, moments[index + 1 :]) if moment.restores else None
        if serving is not None:
            steps.append(_attach_probes(appliance, serving))
        step = _step(appliance, moment, hidden)
        steps.append(
            _held_back(appliance, step, moment.unprotected) if moment.restores and moment.unprotected else step
        )
        if moment.isolates:
            steps += _prove_dead(safety)
        if not moment.serves:
            steps += discharges
    return steps


def begun(appliance: Appliance, timeline: Timeline, safety: Safety, safe_volts: float) -> list[Step]:
    """What comes before the first act where the supply is off already: it is proved dead again, and charge released."""
    return _prove_dead(safety) + [_discharge(appliance, each, safe_volts) for each in timeline.begun]


def verified_before_supply(verifying: Sequence[FinishNote], steps: list[Step]) -> list[Step]:
    """What is verified before the supply returns put before every return of it (guarantee 3)."""
    verified = [
        Step(
            n=0,
            action="verify",
            component=None,
            label="Verify before the supply returns",
            instruction=each.text,
            needed_for=[],
            minutes=0.0,
            competence=each.competence,
            wait_minutes=each.wait_minutes,
        )
        for each in verifying
    ]
    return [each for step in steps for each in ((*verified, step) if step.action == "restore_supply" else (step,))]


def _held_back(appliance: Appliance, step: Step, off: frozenset[str]) -> Step:
    """Power returns only after earth bonds and guards are back (guarantee 3)."""
    labels = ", ".join(component_ref(appliance, slug).label for slug in sorted(off))
    danger = note(
        "put-back-first",
        "DANGER",
        "electric shock",
        f"These were off before this plan began: {labels}.",
        "Put them back, earth wires first, and check them before the supply is restored.",
    )
    said = f"Only once these are back in place: {labels}. {step.instruction}"
    return step.model_copy(update={"instruction": said, "cautions": [danger, *step.cautions]})


def _live_reading(appliance: Appliance, later: Sequence[Moment]) -> Act | None:
    """The first live reading before the supply goes off again whose probes no preparation has attached."""
    for moment in later:
        if not moment.energised:
            return None
        way = way_of(appliance, moment.act)
        if moment.serves and isinstance(way, AccessPath) and way.live:
            return None if _prepared_dead(appliance, way) else moment.act
    return None


def _prepared_dead(appliance: Appliance, path: AccessPath) -> bool:
    """True where a state the path needs is given by a preparation made with the supply isolated."""
    states = appliance.states
    return any(
        preparation.gives in path.needs_states and any(states[slug].devices_open for slug in preparation.needs_states)
        for preparation in appliance.preparations.values()
    )


def _attach_probes(appliance: Appliance, serving: Act) -> Step:
    way = way_of(appliance, serving)
    part = component_ref(appliance, serving.component or "")
    return Step(
        n=0,
        action="attach_probes",
        component=part,
        label=f"Attach the probes for: {way.label if way else part.label}",
        instruction=(
            "With the supply still isolated and proved dead, attach the probes so that they hold by themselves, lead "
            "them out clear of moving parts, and see that every other guard and every earth bond is in place."
        ),
        needed_for=[target_ref(appliance, target) for target in serving.needed_for],
        minutes=0.0,
    )


def _prove_dead(safety: Safety) -> list[Step]:
    if not safety.found.prove_dead:
        return []
    return [
        Step(
            n=0,
            action="prove_dead",
            component=None,
            label="Prove dead",
            instruction=(
                "Prove the tester on a known live source. Measure as listed under making safe: what is within reach "
                "now, and every other point as soon as it is within reach and before it is touched. Prove the tester "
                "again; if it fails, nothing is proved."
            ),
            needed_for=[],
            minutes=0.0,
        )
    ]


def _discharge(appliance: Appliance, discharge: Discharge, safe_volts: float) -> Step:
    """Charge that can now be touched: at the capacitor where it is within reach, else at the points themselves."""
    step = _release(appliance, discharge.release)
    points = _listed(appliance, discharge.at)
    said = step.instruction
    if discharge.covered:
        held = appliance.circuit.links[discharge.release.id]
        capacitor = held.label
        places = "between these points and to earth" if len(discharge.at) > 1 else "from there to earth"
        said = (
            f"The charge of {capacitor} can reach {points}, while its own terminals are covered. Measure {places}, "
            f"a.c. and d.c. Where more than {safe_volts:g} V is left, put the discharge resistor across the points "
            f"that show it and measure again.{_rated_for(held)}"
        )
    exposes = [exposure(appliance, state) for state in discharge.after]
    return step.model_copy(update={"instruction": said, "exposes": exposes})


def _rated_for(held: Link) -> str:
    """What meter and resistor must bear, where that is beyond ordinary ones."""
    peak = 0.0 if held.volts is None else peak_volts(held.volts, held.current, 0.0)
    if peak <= ORDINARY_METER_VOLTS:
        return ""
    return f" Meter, probe and resistor rated for {peak:.0f} V and more; an ordinary meter must not be used."


def _release(appliance: Appliance, release: Release) -> Step:
    part = component_ref(appliance, release.component)
    held = appliance.circuit.links.get(release.id) or appliance.circuit.sources.get(release.id)
    return Step(
        n=0,
        action="release",
        component=part,
        label=f"Release: {part.label}",
        instruction=f"{release.text} Only: {release.competence}." if release.competence else release.text,
        needed_for=[],
        minutes=0.0,
        competence=release.competence,
        wait_minutes=release.minutes,
        cautions=cautions_of(appliance, release.id, release.component),
        sources=source_refs(held.sources if held else ()),
    )


def _step(appliance: Appliance, moment: Moment, hidden: Mapping[int, list[HiddenCheck]]) -> Step:
    act = moment.act
    way = way_of(appliance, act)
    removal = way if isinstance(way, Removal) else None
    preparation = appliance.preparations.get(act.way or "") if act.kind in (ActKind.PREPARE, ActKind.UNDO) else None
    path = way if isinstance(way, AccessPath) else None
    back = act.kind is ActKind.REFIT
    deed = way or preparation
    tools = removal.all_tools if removal else deed.tools if deed else ()
    renew = renewals(appliance, removal) if removal and back else []
    used = supplies(removal) if removal and back else []
    said = refit_words(removal, renew + used) if removal and back else _instruction(act, removal, preparation, path)
    return Step(
        n=act.step + 1,
        action=_action(moment, path),
        way=act.way,
        component=component_ref(appliance, act.component) if act.component else None,
        label="Restore the supply" if moment.restores else _label(appliance, act, removal, preparation, path),
        instruction=before_hiding(hidden, act, said),
        needed_for=[target_ref(appliance, target) for target in act.needed_for],
        fastenings=fastening_notes(removal.fastenings) if removal else [],
        connections=connection_notes(removal.connections) if removal else [],
        tools=[concept_ref(tool) for tool in tools],
        persons=max((each.persons for each in (removal, preparation) if each), default=1),
        minutes=round(act.minutes, 2),
        cautions=worst_first(_exposure_cautions(appliance, moment) + cautions_of(appliance, act.component, act.way)),
        exposes=[exposure(appliance, state) for state in moment.bared],
        wait_minutes=refit_wait(removal) if removal and back else None,
        renew=renew,
        consumables=used,
        checks=refit_checks(removal) if removal and back else [],
        hides_checks=hidden.get(act.step, []),
        sources=source_refs(deed.sources if deed else ()),
        states=sorted(state for state in act.states.values() if not appliance.states[state].initial),
    )


def _action(moment: Moment, path: AccessPath | None) -> Action:
    act = moment.act
    if moment.restores:
        return "restore_supply"
    if moment.isolates:
        return "isolate_again" if moment.restored_before else "isolate"
    if act.kind is ActKind.SERVE:
        if path is not None and path.live:
            return "read_hands_off"
        return act.needed_for[0].purpose.value if act.needed_for else "inspect"
    actions: dict[ActKind, Action] = {
        ActKind.PREPARE: "prepare",
        ActKind.UNDO: "undo",
        ActKind.REMOVE: "remove",
        ActKind.REFIT: "refit",
    }
    return actions[act.kind]


def _label(
    appliance: Appliance, act: Act, removal: Removal | None, preparation: Preparation | None, path: AccessPath | None
) -> str:
    part = component_ref(appliance, act.component).label if act.component else ""
    if act.kind is ActKind.REFIT:
        return f"Refit: {part}"
    if act.kind is ActKind.UNDO and preparation:
        return f"Undo: {preparation.label}"
    if preparation:
        return preparation.label
    if removal:
        return removal.label
    purpose = act.needed_for[0].purpose.value if act.needed_for else "inspect"
    return path.label if path else f"{_VERBS[purpose]}: {part}"


def _instruction(act: Act, removal: Removal | None, preparation: Preparation | None, path: AccessPath | None) -> str:
    if act.kind is ActKind.REFIT:
        return "Put it back in the reverse order of taking it off."
    if preparation:
        return preparation.undo_instruction if act.kind is ActKind.UNDO else preparation.instruction
    if removal:
        return removal.instruction
    return path.instruction if path else "The part is off: do the work on it."


def renewals(appliance: Appliance, removal: Removal) -> list[Consumable]:
    """Every single-use part that must be new when the component goes back."""
    named = [
        Consumable(label=each.label or each.kind.label, count=each.count)
        for each in removal.fastenings
        if each.single_use
    ]
    named += [
        Consumable(label=f"{each.label}: {each.seal or each.kind.label}", count=1)
        for each in removal.connections
        if each.single_use
    ]
    if removal.single_use:
        named.append(Consumable(label=component_ref(appliance, removal.component).label, count=1))
    return named


def supplies(removal: Removal) -> list[Consumable]:
    """What the work uses up beside single-use parts, such as paste or tape."""
    return [Consumable(label=label, count=1) for label in removal.consumables]


def exposure(appliance: Appliance, state: PointState) -> Exposure:
    point = appliance.circuit.points[state.id]
    return Exposure.model_validate(
        {"id": state.id, "label": point.label, "state": state.state.value, "volts": state.volts}
    )


def _exposure_cautions(appliance: Appliance, moment: Moment) -> list[CautionNote]:
    """What the recomputed liveness has to say before the step."""
    bad = unsafe(moment.bared)
    if not bad:
        return []
    labels = _listed(appliance, [state.id for state in bad])
    live = [state for state in bad if state.state is PointCondition.LIVE]
    highest = max((state.volts or 0.0 for state in live), default=0.0)
    volts = f" Up to {highest:.4g} V." if highest else ""
    charged = {slug for discharge in moment.discharges for slug in discharge.at}
    if live and charged.issuperset(state.id for state in live):
        text = f"This step bares points that may hold a charge: {labels}.{volts}"
        protection = "Touch no pin and no bare end before the charge is released."
        return [note("charge-bared", "DANGER", "stored charge", text, protection)]
    if live:
        text = f"Points within reach are live during and after this step: {labels}.{volts}"
        protection = "Keep hands off; touch nothing until isolated and proved dead."
        return [note("live-points-bared", "DANGER", "electric shock", text, protection)]
    text = f"This step bares points that are not known to be isolated: {labels}."
    return [note("points-not-isolated", "WARNING", "electric shock", text, "Treat them as live until proved dead.")]


def _listed(appliance: Appliance, points: Sequence[str]) -> str:
    """The labels of the first five points, and how many more there are."""
    labels = ", ".join(appliance.circuit.points[slug].label for slug in points[:5])
    return f"{labels} and {len(points) - 5} more" if len(points) > 5 else labels
