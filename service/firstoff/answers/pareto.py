"""The plans that no other beats in everything, as a contract answer."""

from __future__ import annotations

from collections.abc import Sequence

from firstoff.answers.as_found import found_refs
from firstoff.answers.bench import Bench
from firstoff.answers.liftings import Limited, figures_note
from firstoff.answers.notes import model_ref, state_refs
from firstoff.answers.plan import act_labels, begun_safely, question_of, reach_notes, unreachable
from firstoff.answers.question import Allowance, counted
from firstoff.errors import OutOfTime
from firstoff.removal import UNITS, Measure, Plan, Undecided, Unreachable
from firstoff.settings import Settings
from firstoff_contract.removal import ParetoAnswer, ParetoPlan, PlanRequest


def pareto_answer(bench: Bench, settings: Settings, asked: PlanRequest) -> ParetoAnswer:
    """Every plan that no other beats in minutes, parts taken off, single-use parts broken and exposures alike.

    :raises NotFound: a component or tool is unknown; carries the nearest names.
    :raises BadRequest: there is nothing to do, what is said contradicts itself, or live points are bare and cannot be
        isolated as the machine stands.
    :raises TargetUnreachable: no plan exists within the limits given.
    :raises OutOfTime: the time for one answer ended before any plan was found.
    """
    appliance = bench.appliance
    question = begun_safely(bench, question_of(appliance, asked))[0]
    limited = Limited(bench, question)
    try:
        found = bench.planner.pareto(question.request(), Allowance(settings.plan_seconds).budget())
    except Unreachable as error:
        raise unreachable(limited, question, appliance, error, Allowance(settings.plan_seconds)) from error
    except Undecided as error:
        raise OutOfTime(str(error)) from error
    labels = [act_labels(appliance, plan) for plan in found.plans]
    return ParetoAnswer(
        model=model_ref(appliance),
        reach=reach_notes(appliance, question.aims),
        off=found_refs(appliance, question.found),
        states=state_refs(appliance, (s for s in question.states.values() if not appliance.states[s].initial)),
        complete=found.complete,
        plans=[
            ParetoPlan(
                figures=figures_note(plan),
                best_at=[measure.value for measure in _best_at(plan, found.plans)],
                text=_text(plan, found.plans),
                instead=[label for label in steps if label not in labels[0]],
                steps=steps,
                ways=sorted(plan.ways),
            )
            for plan, steps in zip(found.plans, labels, strict=True)
        ],
        limits=limited.notes(),
        revision=appliance.revision,
    )


def _best_at(plan: Plan, plans: Sequence[Plan]) -> list[Measure]:
    """What no other of the plans has less of, where they differ in it."""
    return [
        measure
        for measure in Measure
        if plan.figures.of(measure) == min(other.figures.of(measure) for other in plans)
        and len({other.figures.of(measure) for other in plans}) > 1
    ]


def _text(plan: Plan, plans: Sequence[Plan]) -> str:
    """What a plan is best at, and what it has more and less of than the quickest."""
    if len(plans) == 1:
        return "No other plan is better in anything."
    best = " and ".join(UNITS[measure] for measure in _best_at(plan, plans))
    said = f"The fewest {best}" if best else "The fewest of nothing, yet no other plan is at least as good throughout"
    quickest = plans[0]
    if plan is quickest:
        return f"{said}."
    differences = {measure: plan.figures.of(measure) - quickest.figures.of(measure) for measure in Measure}
    more = [counted(amount, measure, "more") for measure, amount in differences.items() if amount > 0]
    less = [counted(-amount, measure, "fewer") for measure, amount in differences.items() if amount < 0]
    return f"{said}. Beside the quickest: {', '.join((*less, *more))}."
