"""The removal plan as a contract answer."""

from __future__ import annotations

import time
from collections.abc import Iterable
from dataclasses import replace

from firstoff.answers import names
from firstoff.answers.as_found import (
    as_found,
    found_refs,
    isolating_first,
    live_inside,
    off_caution,
    refuse_live_work,
)
from firstoff.answers.bared import way_of
from firstoff.answers.bench import Bench
from firstoff.answers.finish import Closing, closing_of
from firstoff.answers.isolation import prove_notes, release_notes, releases_of
from firstoff.answers.liftings import Limited, figures_note, worth, would_do
from firstoff.answers.limits import day_of, refuse_contradictions
from firstoff.answers.notes import (
    cautions_of,
    component_ref,
    concept_ref,
    model_ref,
    note,
    state_refs,
    worst_first,
)
from firstoff.answers.question import Allowance, Question
from firstoff.answers.reasons import explained
from firstoff.answers.rejected import rejected_ways
from firstoff.answers.steps import begun, renewals, steps_of, supplies, target_ref, verified_before_supply
from firstoff.answers.timeline import Moment, Safety, Timeline, carried_out, safety_of
from firstoff.appliance.model import (
    Appliance,
    Purpose,
    Removal,
)
from firstoff.appliance.terms import Concept
from firstoff.energy import STORED_CHARGE
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
_RESISTOR = Concept("discharge-resistor", "discharge resistor")


def question_of(appliance: Appliance, asked: PlanRequest) -> Question:
    """``asked`` with its names looked up.

    :raises NotFound: a component, tool or state is unknown; carries the nearest names.
    :raises BadRequest: there is nothing to do, a limit is unknown, or what is said contradicts itself.
    """
    aims = names.aims(appliance, asked.reach)
    found = as_found(appliance, asked.off, asked.states)
    if not aims and not found.off and all(appliance.states[slug].initial for slug in found.states.values()):
        raise BadRequest(
            "There is nothing to reach and nothing to put back.",
            mend="Give reach=component:purpose; or off= and states= of a machine that is to be closed up.",
        )
    tools = names.known("tool", asked.tools, names.tools(appliance)) if asked.tools is not None else None
    day = day_of(appliance, asked.limits)
    refuse_contradictions(appliance, day, found.states)
    return Question(tuple(aims), found, tools, day, names.ruled_out(appliance, aims), Measure(asked.minimise))


def plan_answer(bench: Bench, settings: Settings, asked: PlanRequest) -> RemovalPlan:
    """The best plan, made safe, with its refit, kit and alternatives.

    :raises NotFound: a component or tool is unknown; carries the nearest names.
    :raises BadRequest: there is nothing to do, what is said contradicts itself, or live points are bare and cannot be
        isolated as the machine stands.
    :raises TargetUnreachable: no plan exists within the limits given.
    :raises OutOfTime: the time for one plan ended before any was found.
    """
    appliance = bench.appliance
    question, limited, found = solved_plan(bench, settings, question_of(appliance, asked))
    aims, start = question.aims, question.found
    safety = safety_of(bench, found, start, settings.safe_volts)
    timeline = carried_out(appliance, found, safety, start)
    turn = _turning_point(timeline.moments)
    closing = closing_of(appliance, found.acts, start.off, start.states, bared=bool(safety.touched))
    if start.off and safety.extra and timeline.moments and all(moment.energised for moment in timeline.moments):
        raise refuse_live_work(appliance, safety.extra)
    out = steps_of(appliance, timeline.moments[:turn], safety, settings.safe_volts, closing.hidden)
    back = steps_of(appliance, timeline.moments[turn:], safety, settings.safe_volts, closing.hidden)
    if timeline.moments and not timeline.moments[0].was_energised:
        proved = begun(appliance, timeline, safety, settings.safe_volts)
        out, back = (proved + out, back) if turn else (out, proved + back)
    out, back, last = _verified(closing, out, back)
    steps, refit = explained(bench, timeline.moments, _as_asked(aims, out), _as_asked(aims, back))
    more_time = Allowance(settings.plan_seconds)
    return RemovalPlan(
        model=model_ref(appliance),
        reach=reach_notes(appliance, aims),
        off=found_refs(appliance, start),
        states=state_refs(appliance, (slug for slug in start.states.values() if not appliance.states[slug].initial)),
        minutes=round(found.minutes, 2),
        minimise=asked.minimise,
        figures=figures_note(found),
        optimal=found.optimal,
        bound=round(found.bound, 2),
        bound_minutes=round(found.bound_minutes, 2),
        limits=limited.notes(),
        order_proved=found.order_proved,
        liftings=worth(limited, question, found, more_time),
        rejected=rejected_ways(bench, question, found, limited, more_time),
        cautions=opening_cautions(appliance, off_caution(appliance, start, planned=True, first=question.first)),
        make_safe=_make_safe(appliance, safety, timeline),
        steps=steps,
        refit=refit,
        finish=last,
        waiting_minutes=_waiting([*steps, *refit], last),
        record=closing.record,
        kit=_kit(appliance, question.targets, found, safety, timeline.released),
        alternatives=[_alternative(appliance, each, found) for each in found.alternatives],
        alternatives_complete=found.alternatives_complete,
        revision=appliance.revision,
    )


def _verified(closing: Closing, out: list[Step], back: list[Step]) -> tuple[list[Step], list[Step], list[FinishNote]]:
    """The steps with what is verified before the supply returns in its place, and what is left to finish."""
    if not any(step.action == "restore_supply" for step in (*out, *back)):
        return out, back, [*closing.before, *closing.after]
    return verified_before_supply(closing.before, out), verified_before_supply(closing.before, back), [*closing.after]


def _waiting(steps: list[Step], finish: list[FinishNote]) -> float:
    """The minutes of all waits, one after the other."""
    waits = [each.wait_minutes for each in steps] + [each.wait_minutes for each in finish]
    return round(sum(wait or 0.0 for wait in waits), 2)


def begun_safely(bench: Bench, question: Question) -> list[Question]:
    """``question`` as it is; where live points are bare at the start, once for each way to isolate before all else.

    :raises BadRequest: live points are bare that cannot be isolated as the machine stands.
    """
    if not live_inside(bench.appliance, question.found):
        return [question]
    banned = question.banned | question.day.banned()
    firsts = isolating_first(bench.appliance, question.found, question.tools, banned)
    if not firsts:
        raise refuse_live_work(bench.appliance)
    return [replace(question, first=first) for first in firsts]


def solved_plan(bench: Bench, settings: Settings, question: Question) -> tuple[Question, Limited, Plan]:
    """The best plan; where live points are bare at the start, the best of those that begin by isolating.

    The question comes back with that first act, and with it what its limits rule out.
    """
    questions = begun_safely(bench, question)
    limited = Limited(bench, question)
    solved: list[tuple[Question, Plan]] = []
    for begun_so in questions:
        budget = Budget(seconds=settings.plan_seconds, clock=time.monotonic, order_nodes=_ORDER_NODES)
        try:
            plan = bench.planner.plan(begun_so.request(alternatives=_ALTERNATIVES), budget)
        except Unreachable as error:
            if begun_so is questions[-1] and not solved:
                allowance = Allowance(settings.plan_seconds)
                raise unreachable(limited, begun_so, bench.appliance, error, allowance) from error
        except Undecided as error:
            raise OutOfTime(str(error)) from error
        else:
            solved.append((begun_so, plan))
    best = min(solved, key=lambda each: (each[1].figures.of(question.minimise), each[1].minutes))
    return best[0], limited, best[1]


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


def opening_cautions(appliance: Appliance, own: list[CautionNote]) -> list[CautionNote]:
    """The usual cautions, the machine's, and ``own`` ones, worst first."""
    usual = [note(slug, word, hazard, text, protection) for slug, word, hazard, text, protection in _USUAL]
    return worst_first(usual + own + cautions_of(appliance, appliance.platform.id))


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


def _kit(
    appliance: Appliance, targets: tuple[Target, ...], found: Plan, safety: Safety, released: frozenset[str]
) -> Kit:
    tools: dict[str, Concept] = {}
    consumables: dict[str, int] = {}
    from_off = _refits_of_found(found)
    for act in found.acts:
        way = way_of(appliance, act) or appliance.preparations.get(act.way or "")
        needed = way.all_tools if isinstance(way, Removal) else way.tools if way else ()
        tools.update((tool.id, tool) for tool in needed)
        if isinstance(way, Removal) and (act.kind is ActKind.REMOVE or act.step in from_off):
            for each in (*supplies(way), *renewals(appliance, way)):
                consumables[each.label] = consumables.get(each.label, 0) + each.count
    if safety.needed:
        tools.setdefault(_TESTER.id, _TESTER)
    if any(each.energy == STORED_CHARGE and each.id in released for each in releases_of(safety.found)):
        tools.setdefault(_RESISTOR.id, _RESISTOR)
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


def _refits_of_found(found: Plan) -> frozenset[int]:
    """The numbers of the acts that put back what was off from the start: each first refit without a removal before."""
    taken: set[str | None] = set()
    steps = set()
    for act in found.acts:
        if act.kind is ActKind.REFIT and act.component not in taken:
            steps.add(act.step)
        if act.kind in (ActKind.REFIT, ActKind.REMOVE):
            taken.add(act.component)
    return frozenset(steps)


def _alternative(appliance: Appliance, other: Plan, best: Plan) -> Alternative:
    known = {(act.kind, act.way) for act in best.acts}
    labels = [
        _act_label(appliance, act) for act in other.acts if act.phase is Phase.OUT and (act.kind, act.way) not in known
    ]
    return Alternative(
        minutes=round(other.minutes, 2),
        figures=figures_note(other),
        optimal=other.optimal,
        instead=list(dict.fromkeys(labels)),
        ways=sorted(other.ways),
        steps=act_labels(appliance, other),
    )


def act_labels(appliance: Appliance, plan: Plan) -> list[str]:
    """What is done until the last target is served, in a few words each."""
    return [_act_label(appliance, act) for act in plan.acts if act.phase is Phase.OUT]


def reach_notes(appliance: Appliance, aims: Iterable[names.Aim]) -> list[TargetNote]:
    """The targets as they were asked for."""
    return [
        TargetNote.model_validate({"component": component_ref(appliance, aim.component), "purpose": aim.said})
        for aim in aims
    ]


def _act_label(appliance: Appliance, act: Act) -> str:
    way = way_of(appliance, act) or appliance.preparations.get(act.way or "")
    if way is not None:
        return f"Undo: {way.label}" if act.kind is ActKind.UNDO else way.label
    return target_ref(appliance, act.needed_for[0]).label if act.needed_for else act.kind.value


def unreachable(
    limited: Limited, question: Question, appliance: Appliance, error: Unreachable, allowance: Allowance
) -> TargetUnreachable:
    """The error that says what stands in the way, and what would lift it."""
    target = target_ref(appliance, error.target).label if error.target else "The machine as it was found"
    if error.parts:
        target = error.label
    missing = {tool.id: tool.label for obstacle in error.obstacles for tool in obstacle.missing_tools}
    sentences = [obstacle.sentence for obstacle in error.obstacles]
    would = [each.text for each in would_do(limited, question, allowance)]
    bring = "Reach it for another purpose."
    if error.parts:
        bring = "Leave out of off= what is on, and name the removal that took a part off where that is known."
    if missing:
        bring = f"Bring {', '.join(sorted(missing.values()))}."
    return TargetUnreachable(
        target,
        sentences,
        sorted(missing),
        mend=" ".join(would) or bring,
        limits=[limit.value for limit in question.day.ruling_out(each.way for each in error.obstacles)],
        would_do=would,
        deed="put back" if error.parts else "reached",
    )
