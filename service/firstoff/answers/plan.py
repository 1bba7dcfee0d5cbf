"""The removal plan as a contract answer."""

from __future__ import annotations

import time
from collections.abc import Iterable, Mapping

from firstoff.answers import names
from firstoff.answers.bared import way_of
from firstoff.answers.bench import Bench, in_the_way, needs_supply
from firstoff.answers.finish import Closing, closing_of
from firstoff.answers.isolation import prove_notes, release_notes, releases_of
from firstoff.answers.liftings import Limited, figures_note, worth, would_do
from firstoff.answers.limits import day_of, refuse_contradictions
from firstoff.answers.notes import (
    cautions_of,
    component_ref,
    component_refs,
    concept_ref,
    model_ref,
    note,
    state_refs,
    worst_first,
)
from firstoff.answers.question import Allowance, Question
from firstoff.answers.reasons import with_exposures
from firstoff.answers.steps import begun, numbered, renewals, steps_of, target_ref, verified_before_supply
from firstoff.answers.timeline import Moment, Safety, Timeline, carried_out, safety_of
from firstoff.appliance.model import AccessPath, Appliance, Concept, Preparation, Purpose, Removal
from firstoff.errors import BadRequest, OutOfTime, TargetUnreachable
from firstoff.removal import Act, ActKind, Budget, Measure, Phase, Plan, Target, Undecided, Unreachable
from firstoff.settings import Settings
from firstoff_contract.common import CautionNote
from firstoff_contract.removal import (
    Alternative,
    Consumable,
    FinishNote,
    Kit,
    KitPart,
    MakeSafe,
    MakeSafeDevice,
    PlanRequest,
    RemovalPlan,
    Step,
)
from firstoff_contract.removal import Target as TargetNote

#: Common practice, no source.
_USUAL = (
    (
        "usual-isolate",
        "WARNING",
        "electric shock",
        "A machine that is switched off at a button or standing idle is still connected to its supply.",
        "Before any cover comes off: isolate, release stored energy, prove dead with a tester proved before and after.",
    ),
    (
        "usual-edges",
        "CAUTION",
        "sharp edges",
        "Sheet metal inside appliances has sharp edges.",
        "Wear cut-resistant gloves while covers are off.",
    ),
)

_ALTERNATIVES = 3
# Nodes for putting one plan in order. Nearly all plans of the demo machines for up to two targets need fewer.
_ORDER_NODES = 5_000

_TESTER = Concept("two-pole-voltage-tester", "two-pole voltage tester")


def question_of(appliance: Appliance, asked: PlanRequest) -> Question:
    """``asked`` with its names looked up.

    :raises NotFound: a component, tool or state is unknown; carries the nearest names.
    :raises BadRequest: there is nothing to reach, a limit is unknown, or what is said contradicts itself.
    """
    aims = names.aims(appliance, asked.reach)
    off = names.known("component", asked.off, appliance.components)
    tools = names.known("tool", asked.tools, names.tools(appliance)) if asked.tools is not None else None
    states = _states_in_force(appliance, off, asked.states)
    day = day_of(appliance, asked.limits)
    refuse_contradictions(appliance, day, states)
    banned = names.ruled_out(appliance, aims) | _not_with_parts_off(appliance, off)
    return Question(tuple(aims), off, states, tools, day, banned, Measure(asked.minimise))


def plan_answer(bench: Bench, settings: Settings, asked: PlanRequest) -> RemovalPlan:
    """The best plan, made safe, with its refit, kit and alternatives.

    :raises NotFound: a component or tool is unknown; carries the nearest names.
    :raises BadRequest: there is nothing to reach, or what is said contradicts itself.
    :raises TargetUnreachable: no plan exists within the limits given.
    :raises OutOfTime: the time for one plan ended before any was found.
    """
    appliance = bench.appliance
    question = question_of(appliance, asked)
    aims, off, states = question.aims, question.off, question.states
    limited = Limited(bench, question)
    budget = Budget(seconds=settings.plan_seconds, clock=time.monotonic, order_nodes=_ORDER_NODES)
    try:
        found = bench.planner.plan(question.request(alternatives=_ALTERNATIVES), budget)
    except Unreachable as error:
        raise _unreachable(limited, question, appliance, error, Allowance(settings.plan_seconds)) from error
    except Undecided as error:
        raise OutOfTime(str(error)) from error
    safety = safety_of(bench, found, off, settings.safe_volts)
    timeline = carried_out(appliance, found, safety, off, states)
    turn = _turning_point(timeline.moments)
    closing = closing_of(appliance, found.acts, off, states, bared=bool(safety.touched))
    _refuse_live_work(appliance, safety, timeline, off)
    out = steps_of(appliance, timeline.moments[:turn], safety, off, settings.safe_volts, closing.hidden)
    back = steps_of(appliance, timeline.moments[turn:], safety, off, settings.safe_volts, closing.hidden)
    if timeline.moments and not timeline.moments[0].was_energised:
        out = begun(appliance, timeline, safety, settings.safe_volts) + out
    out, back, last = _verified(closing, out, back)
    out, back = (with_exposures(bench, found, each) for each in (out, back))
    steps, refit = numbered(_as_asked(aims, out)), numbered(_as_asked(aims, back))
    return RemovalPlan(
        model=model_ref(appliance),
        reach=[
            TargetNote.model_validate({"component": component_ref(appliance, aim.component), "purpose": aim.said})
            for aim in aims
        ],
        off=component_refs(appliance, off),
        states=state_refs(appliance, (slug for slug in states.values() if not appliance.states[slug].initial)),
        minutes=round(found.minutes, 2),
        minimise=asked.minimise,
        figures=figures_note(found),
        optimal=found.optimal,
        bound=round(found.bound, 2),
        bound_minutes=round(found.bound_minutes, 2),
        limits=limited.notes(),
        liftings=worth(limited, question, found, Allowance(settings.plan_seconds)),
        order_proved=found.order_proved,
        cautions=_opening_cautions(appliance, off, states),
        make_safe=_make_safe(appliance, safety, timeline),
        steps=steps,
        refit=refit,
        finish=last,
        waiting_minutes=_waiting([*steps, *refit], last),
        record=closing.record,
        kit=_kit(appliance, question.targets, found, safety),
        alternatives=[_alternative(appliance, each, found) for each in found.alternatives],
        alternatives_complete=found.alternatives_complete,
        revision=appliance.revision,
    )


def _verified(closing: Closing, out: list[Step], back: list[Step]) -> tuple[list[Step], list[Step], list[FinishNote]]:
    """The steps with what is verified before the supply returns in its place, and what is left to finish."""
    if any(step.action == "restore_supply" for step in back):
        return out, verified_before_supply(closing.before, back), list(closing.after)
    if any(step.action == "restore_supply" for step in out):
        return verified_before_supply(closing.before, out), back, list(closing.after)
    return out, back, [*closing.before, *closing.after]


def _waiting(steps: list[Step], finish: list[FinishNote]) -> float:
    """The minutes of all waits, one after the other."""
    waits = [each.wait_minutes for each in steps] + [each.wait_minutes for each in finish]
    return round(sum(wait or 0.0 for wait in waits), 2)


def _refuse_live_work(appliance: Appliance, safety: Safety, timeline: Timeline, off: frozenset[str]) -> None:
    """A plan on an opened machine whose supply is on, and that never isolates it, would be work beside live points.

    :raises BadRequest: that is what was asked for.
    """
    moments = timeline.moments
    if not off or not safety.extra or not moments or any(not moment.energised for moment in moments):
        return
    devices = ", ".join(appliance.circuit.devices[slug].label for slug in safety.extra)
    isolated = sorted(slug for slug, state in appliance.states.items() if state.devices_open & set(safety.extra))
    raise BadRequest(
        f"Parts are off and the supply is taken to be on, so that live points are within reach. Open {devices} first.",
        mend=f"Isolate, release, prove dead, and say so with states={', '.join(isolated) or 'the isolated state'}.",
    )


def _as_asked(aims: Iterable[names.Aim], steps: list[Step]) -> list[Step]:
    """The steps with each target named as the request named it."""
    said = {f"{aim.component}:{aim.purpose.value}": f"{aim.component}:{aim.said}" for aim in aims}

    def renamed(step: Step) -> Step:
        refs = [ref.model_copy(update={"id": said.get(ref.id, ref.id)}) for ref in step.needed_for]
        return step.model_copy(update={"needed_for": refs})

    return [renamed(step) for step in steps]


def _turning_point(timeline: tuple[Moment, ...]) -> int:
    """The index of the first moment on the way back; a block with the supply on is closed before it."""
    turn = next((index for index, moment in enumerate(timeline) if moment.act.phase is Phase.BACK), len(timeline))
    restored = any(moment.restores for moment in timeline[:turn])
    if restored and timeline[turn - 1].energised:
        isolated = (n for n, moment in enumerate(timeline[turn:], turn) if not moment.energised)
        return next(isolated, turn - 1) + 1
    return turn


def _not_with_parts_off(appliance: Appliance, off: frozenset[str]) -> frozenset[str]:
    """What needs the supply on, and would be done with a part missing that is not in its way: guards may be off."""
    ways: list[AccessPath | Preparation] = [*appliance.access_paths.values(), *appliance.preparations.values()]
    return frozenset(
        way.id for way in ways if needs_supply(appliance, way) and not off <= in_the_way(appliance, way.needs_off)
    )


def _states_in_force(appliance: Appliance, off: frozenset[str], said: list[str]) -> dict[str, str]:
    """The state of each variable that is not in its initial one: as said, else as the parts already off require.

    A part that is off must have come off in a state that all its removals name; where the parts agree, that state is
    taken to hold still. A supply is never taken to be off: it is isolated again.

    :raises NotFound: a state is unknown.
    :raises BadRequest: two states of one variable are said to be in force.
    """
    names.known("state", said, appliance.states)
    states: dict[str, str] = {}
    for slug in said:
        variable = appliance.states[slug].variable
        if states.setdefault(variable, slug) != slug:
            raise BadRequest(
                f"{slug} and {states[variable]} exclude each other.", mend="Give one state of each kind as states=."
            )
    needed: dict[str, set[str]] = {}
    for component in off:
        ways = [removal.needs_states for removal in appliance.removals.values() if removal.component == component]
        for slug in frozenset.intersection(*ways) if ways else ():
            needed.setdefault(appliance.states[slug].variable, set()).add(slug)
    for variable, slugs in needed.items():
        if len(slugs) == 1 and appliance.variables[variable].controls is None:
            states.setdefault(variable, *slugs)
    return states


def _opening_cautions(appliance: Appliance, off: frozenset[str], states: Mapping[str, str]) -> list[CautionNote]:
    usual = [note(slug, word, hazard, text, protection) for slug, word, hazard, text, protection in _USUAL]
    if off:
        labels = ", ".join(component_ref(appliance, slug).label for slug in sorted(off))
        held = ", ".join(appliance.states[s].label for s in sorted(states.values()) if not appliance.states[s].initial)
        taken = f" The machine is taken to be: {held}." if held else ""
        usual.append(
            note(
                "already-off",
                "WARNING",
                "electric shock",
                f"Already off and not put back by this plan: {labels}. Points behind them may be live.{taken}",
                "Do not restore the supply before guards and earth bonds are back in place.",
            )
        )
    return worst_first(usual + cautions_of(appliance, appliance.platform.id))


def _make_safe(appliance: Appliance, safety: Safety, timeline: Timeline) -> MakeSafe:
    """The isolation as a whole; of what could be released, that which some step of the plan releases."""
    devices = appliance.circuit.devices
    energies = _energy_of_devices(appliance)
    return MakeSafe(
        needed=safety.needed,
        devices=[
            MakeSafeDevice(
                id=slug,
                label=devices[slug].label,
                energy=safety.extra.get(slug) or energies.get(slug, "unknown"),
                instruction=devices[slug].instruction,
            )
            for slug in safety.devices
        ],
        release=release_notes(appliance, (each for each in releases_of(safety.found) if each.id in timeline.released)),
        prove_dead=prove_notes(safety.found.prove_dead),
        upstream_only=bool(safety.found.upstream_only),
        unknown=sorted(safety.found.unknown),
    )


def _energy_of_devices(appliance: Appliance) -> dict[str, str]:
    """The energy kind that the states of the appliance say a device shuts off."""
    return {
        device: controls
        for state in appliance.states.values()
        for device in state.devices_open
        if (controls := appliance.variables[state.variable].controls)
    }


def _kit(appliance: Appliance, targets: tuple[Target, ...], found: Plan, safety: Safety) -> Kit:
    tools: dict[str, Concept] = {}
    consumables: dict[str, int] = {}
    for act in found.acts:
        way = way_of(appliance, act) or appliance.preparations.get(act.way or "")
        needed = way.all_tools if isinstance(way, Removal) else way.tools if way else ()
        tools.update((tool.id, tool) for tool in needed)
        if act.kind is ActKind.REMOVE and isinstance(way, Removal):
            for each in renewals(appliance, way):
                consumables[each.label] = consumables.get(each.label, 0) + each.count
    if safety.needed:
        tools.setdefault(_TESTER.id, _TESTER)
    replaced = [
        appliance.components[appliance.components[each.component].replaced_as or each.component]
        for each in targets
        if each.purpose is Purpose.REPLACE
    ]
    return Kit(
        tools=[concept_ref(tools[slug]) for slug in sorted(tools)],
        consumables=[Consumable(label=label, count=count) for label, count in consumables.items()],
        parts=[KitPart(id=each.id, label=each.label, part_number=each.part_number) for each in dict.fromkeys(replaced)],
    )


def _alternative(appliance: Appliance, other: Plan, best: Plan) -> Alternative:
    known = {(act.kind, act.way) for act in best.acts}
    out = [act for act in other.acts if act.phase is Phase.OUT]
    labels = [_act_label(appliance, act) for act in out if (act.kind, act.way) not in known]
    return Alternative(
        minutes=round(other.minutes, 2),
        figures=figures_note(other),
        optimal=other.optimal,
        instead=list(dict.fromkeys(labels)),
        steps=[_act_label(appliance, act) for act in out],
        ways=sorted(other.ways),
    )


def _act_label(appliance: Appliance, act: Act) -> str:
    way = way_of(appliance, act) or appliance.preparations.get(act.way or "")
    if way is not None:
        return f"Undo: {way.label}" if act.kind is ActKind.UNDO else way.label
    return target_ref(appliance, act.needed_for[0]).label if act.needed_for else act.kind.value


def _unreachable(
    limited: Limited, question: Question, appliance: Appliance, error: Unreachable, allowance: Allowance
) -> TargetUnreachable:
    target = target_ref(appliance, error.target).label if error.target else "The machine as it was found"
    missing = {tool.id: tool.label for obstacle in error.obstacles for tool in obstacle.missing_tools}
    sentences = [obstacle.sentence for obstacle in error.obstacles]
    would = [each.text for each in would_do(limited, question, allowance)]
    bring = f"Bring {', '.join(sorted(missing.values()))}." if missing else "Reach it for another purpose."
    return TargetUnreachable(
        target,
        sentences,
        sorted(missing),
        mend=" ".join(would) or bring,
        limits=[limit.value for limit in question.day.ruling_out(each.way for each in error.obstacles)],
        would_do=would,
    )
