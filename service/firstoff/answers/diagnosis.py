"""What is probably wrong and what to do next, as a contract answer."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from firstoff.answers.as_found import as_found
from firstoff.answers.bench import Bench
from firstoff.answers.diagnosis_access import access_of, actions_of, opened_of
from firstoff.answers.diagnosis_guard import guard_note
from firstoff.answers.diagnosis_readings import outcome_label, readings_of
from firstoff.answers.learning import Learned, frequency_note, learned_note, taught_bench
from firstoff.answers.names import LIVE_TEST, codes_named, known, tools
from firstoff.answers.notes import concept_ref, model_ref
from firstoff.appliance.model import Appliance, Remedy
from firstoff.diagnosis import (
    Belief,
    DiagnosisError,
    Findings,
    Reading,
    Situation,
    Step,
    Strategy,
    situation,
    weighed,
)  # fmt: skip
from firstoff.errors import BadRequest
from firstoff_contract.common import Ref
from firstoff_contract.diagnosis import (
    ConflictNote,
    Diagnosis,
    DiagnosisRequest,
    FaultShare,
    FindingNote,
    GuardNote,
    MovedNote,
    NextStep,
    OutcomeSeen,
    PairNote,
    ServiceModeNote,
    Then,
)  # fmt: skip

#: Faults that the next step is worked out for: the likeliest.
MOST_FAULTS = 8
Outcomes = tuple[tuple[str, str], ...]

_WORDED = {"present": "{} is there", "absent": "{} is not there", "code": "code for {}"}
#: Pairs of faults that are told, the likeliest first.
MOST_PAIRS = 5
#: Nodes of the exact search, and of the tree that is shown.
SEARCH_NODES, TREE_NODES = 3_000, 200


@dataclass(slots=True)
class _Shown:
    bench: Bench
    strategy: Strategy
    present: tuple[str, ...]
    left: int


def diagnosis_answer(bench: Bench, asked: DiagnosisRequest, learned: Learned) -> Diagnosis:
    """:raises NotFound: a name is unknown.
    :raises BadRequest: findings contradict themselves, or a reading's likelihood is no probability.
    """
    bench = taught_bench(bench, learned)
    appliance = bench.appliance
    found = as_found(appliance, asked.off, asked.states)
    readings, notes = readings_of(appliance, asked.readings)
    belief = _belief(appliance, asked, _outcomes(appliance, asked.outcomes), readings)
    at_hand = None if asked.tools is None else known("tool", asked.tools, tools(appliance))
    likely = dict(sorted(belief.shares.items(), key=lambda each: (-each[1], each[0]))[:MOST_FAULTS])
    made = frozenset(each.check for each in asked.outcomes)
    step = None
    expected = bound = None
    exact = False
    if likely:
        start = situation(likely, opened_of(appliance, found), made)
        strategy = Strategy(actions_of(bench, likely, made, at_hand), access_of(appliance), nodes=SEARCH_NODES)
        choice = strategy.choose(start)
        expected, bound, exact = round(choice.expected, 2), round(choice.bound, 2), choice.exact
        shown = _Shown(bench, strategy, tuple(asked.symptoms), TREE_NODES if asked.tree else 1)
        step = _step(shown, start, choice.step, choice.expected)
    modes = appliance.service_modes.values()
    return Diagnosis(
        model=model_ref(appliance),
        contradicted=belief.contradicted,
        readings=notes,
        conflict=_conflict(belief),
        said=_said(belief),
        unexplained=[Ref(id=each, label=appliance.symptoms[each].label) for each in sorted(belief.unexplained)],
        faults=_faults(appliance, belief, learned, asked.symptoms, made),
        pairs=[
            PairNote(faults=[_fault_ref(appliance, one), _fault_ref(appliance, two)], times=_finite(times))
            for one, two, times in belief.pairs[:MOST_PAIRS]
        ],
        next=step,
        expected_minutes=expected,
        bound=bound,
        exact=exact,
        considered=round(math.fsum(likely.values()), 4),
        service_modes=[ServiceModeNote(id=each.id, label=each.label, instruction=each.instruction) for each in modes],
        learned=learned_note(learned),
        revision=appliance.revision,
    )


def _belief(appliance: Appliance, asked: DiagnosisRequest, outcomes: Outcomes, readings: tuple[Reading, ...]) -> Belief:
    known("symptom", [*asked.symptoms, *asked.absent], appliance.symptoms)
    codes = codes_named(appliance, asked.codes)
    try:
        return weighed(
            appliance,
            Findings(
                present=frozenset(asked.symptoms),
                absent=frozenset(asked.absent),
                outcomes=outcomes,
                codes=codes,
                tried=known("remedy", asked.tried, _remedies(appliance)),
                readings=readings,
            ),
        )
    except DiagnosisError as error:
        raise BadRequest(str(error), mend="Give the outcome as the check words it, and each symptom once.") from error


def _outcomes(appliance: Appliance, seen: Iterable[OutcomeSeen]) -> Outcomes:
    told = list(seen)
    known("check", [each.check for each in told], appliance.checks)
    return tuple((each.check, outcome_label(appliance.checks[each.check], each)) for each in told)


def _remedies(appliance: Appliance) -> dict[str, Remedy]:
    return {each.id: each for fault in appliance.faults.values() for each in fault.remedies}


def _said(belief: Belief) -> str:
    if belief.contradicted:
        if not belief.conflict:
            return "No fault is described."
        named = "; ".join(_WORDED.get(each.kind, "{}").format(each.label) for each in belief.conflict)
        if len(belief.conflict) == 1:
            return f"No described fault explains this: {named}. Check it again; then get help."
        return f"No described fault explains this together: {named}. Check each of these again."
    if belief.unexplained:
        return "Part of what was found is listed by none of the faults still possible."
    return "Shares take one fault to be at work."


def _conflict(belief: Belief) -> ConflictNote | None:
    if not belief.conflict:
        return None
    found = [FindingNote(kind=each.kind, id=each.id, label=each.label) for each in belief.conflict]
    return ConflictNote(findings=found, smallest=belief.smallest)


def _faults(
    appliance: Appliance, belief: Belief, learned: Learned, present: Iterable[str], made: frozenset[str]
) -> list[FaultShare]:
    ordered = sorted(belief.shares.items(), key=lambda each: (-each[1], each[0]))
    return [
        FaultShare(
            id=slug,
            label=appliance.faults[slug].label,
            origin=concept_ref(appliance.faults[slug].origin),
            share=round(share, 4),
            frequency=frequency_note(learned, slug),
            guard=guard_note(appliance, slug, belief.shares, present, made),
            remedies=[remedy.label for remedy in appliance.faults[slug].remedies],
            moved=[
                MovedNote(
                    kind=each.kind, finding=each.label, before=round(each.before, 4), after=round(each.after, 4),
                    decibans=_finite(each.decibans),
                )
                for each in belief.moves if each.fault == slug
            ],
        )
        for slug, share in ordered if share > 0
    ]  # fmt: skip


def _finite(value: float | None) -> float | None:
    return round(value, 2) if value is not None and math.isfinite(value) else None


def _fault_ref(appliance: Appliance, slug: str) -> Ref:
    return Ref(id=slug, label=appliance.faults[slug].label)


def _step(shown: _Shown, at: Situation, step: Step, expected: float) -> NextStep:
    appliance = shown.bench.appliance
    shown.left -= 1
    check = appliance.checks.get(step.action or "")
    remedy = _remedies(appliance).get(step.action or "")
    label = check.label if check else remedy.label if remedy else "Get help: nothing described is worth doing next"
    repaired = max(0.0, 1 - math.fsum(branch.probability for branch in step.branches))
    then = [_then(shown, branch.outcome, branch.probability, branch.then, step) for branch in step.branches]
    if remedy and repaired > 0:
        done = Then(outcome="repaired", probability=round(repaired, 4), faults={}, next_step=None, step=None, cut=False)
        then.insert(0, done)
    if check:
        reach: str | None = f"{check.component}:{LIVE_TEST if check.live else check.purpose.value}"
    else:
        reach = f"{remedy.component}:replace" if remedy and remedy.component and remedy.kind.id == "replace" else None
    return NextStep(
        id=step.action,
        kind="check" if check else "remedy" if remedy else "help",
        label=label,
        component=check.component if check else remedy.component if remedy else None,
        live=bool(check and check.live),
        instruction=check.instruction if check else "",
        minutes=round(step.minutes, 2),
        expected_minutes=round(expected, 2),
        opens=sorted(shown.strategy.opens(at, step.action)) if step.action else [],
        reach=reach,
        guard=_guard(shown, at, remedy),
        then=then,
    )


def _guard(shown: _Shown, at: Situation, remedy: Remedy | None) -> GuardNote | None:
    """Of the likeliest fault that ``remedy`` ends."""
    appliance, shares = shown.bench.appliance, dict(at.shares)
    ended = [slug for slug in shares if remedy in appliance.faults[slug].remedies]
    likeliest = max(ended, key=lambda slug: shares[slug], default=None)
    return guard_note(appliance, likeliest, shares, shown.present, at.made) if likeliest else None


def _then(shown: _Shown, outcome: int, probability: float, at: Situation, step: Step) -> Then:
    check = shown.bench.appliance.checks.get(step.action or "")
    choice = shown.strategy.choose(at)
    deeper = shown.left > 0
    return Then(
        outcome=check.outcomes[outcome].label if check else "not repaired",
        probability=round(probability, 4),
        faults={fault: round(share, 4) for fault, share in at.shares},
        next_step=choice.step.action,
        step=_step(shown, at, choice.step, choice.expected) if deeper else None,
        cut=not deeper,
    )
