"""Why another way was not taken: for every target, and for everything that a plan takes off or prepares."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from firstoff.answers.bench import Bench
from firstoff.answers.liftings import Limited, way_ref
from firstoff.answers.notes import component_ref
from firstoff.answers.question import Allowance, Question, counted, sentence
from firstoff.answers.steps import target_ref
from firstoff.appliance.model import (
    AccessPath,
    Appliance,
)
from firstoff.removal import UNITS, ActKind, Measure, Plan, Undecided, Unreachable
from firstoff_contract.common import Ref
from firstoff_contract.removal import RejectedWay


@dataclass(frozen=True, slots=True)
class _Choice:
    """What the plan chose a way for, the ways it took, and the others there are."""

    of: Ref
    taken: frozenset[str]
    others: tuple[str, ...]


def rejected_ways(
    bench: Bench, question: Question, found: Plan, limited: Limited, allowance: Allowance
) -> list[RejectedWay]:
    """Every other way to serve a target, take off a part or bring about a state, and why it was not taken."""
    rejecting = _Rejecting(bench, question, found, limited, allowance)
    return [rejecting.why(choice, way) for choice in _choices(bench.appliance, found) for way in choice.others]


def _choices(appliance: Appliance, plan: Plan) -> Iterator[_Choice]:
    """Everything the plan chose a way for and had other ways for, each once, in the order of the plan."""
    used: dict[str, tuple[Ref, set[str], tuple[str, ...]]] = {}
    for act in plan.acts:
        if act.way is None or act.kind in (ActKind.REFIT, ActKind.UNDO):
            continue
        if act.kind is ActKind.REMOVE and act.component:
            of = component_ref(appliance, act.component)
            ways = [each.id for each in appliance.removals.values() if each.component == act.component]
        elif act.kind is ActKind.SERVE:
            of = target_ref(appliance, act.needed_for[0])
            path = appliance.access_paths[act.way]
            alike = (path.component, path.purpose)
            ways = [each.id for each in appliance.access_paths.values() if (each.component, each.purpose) == alike]
        else:
            preparation = appliance.preparations[act.way]
            of = Ref(id=preparation.gives, label=appliance.states[preparation.gives].label)
            ends = (preparation.from_state, preparation.gives)
            ways = [each.id for each in appliance.preparations.values() if (each.from_state, each.gives) == ends]
        used.setdefault(of.id, (of, set(), tuple(ways)))[1].add(act.way)
    for of, taken, every in used.values():
        others = tuple(way for way in every if way not in taken)
        if others:
            yield _Choice(of, frozenset(taken), others)


class _Rejecting:
    """Finds out why ways were not taken, within one allowance of time."""

    def __init__(self, bench: Bench, question: Question, found: Plan, limited: Limited, allowance: Allowance) -> None:
        self._bench = bench
        self._question = question
        self._found = found
        self._limited = limited
        self._allowance = allowance
        self._today = question.day.reasons()

    def why(self, choice: _Choice, way: str) -> RejectedWay:
        """Why ``way`` was not taken."""
        appliance = self._bench.appliance
        if way in self._question.banned:
            kind, reason = "live", self._out_of_question(appliance.access_paths.get(way))
        elif way in self._today:
            kind, reason = "limit", sentence(self._today[way])
        elif way in self._limited.missing:
            kind, reason = "tools", f"It needs {self._limited.labels(self._limited.missing[way])}, not at hand."
        elif way not in self._limited.ways:
            kind, reason = "never", "It cannot be used as it is described: it needs what this model does not have."
        else:
            return self._forced(choice, way)
        return self._note(choice, way, kind, reason, proved=True)

    def _out_of_question(self, path: AccessPath | None) -> str:
        if path is not None and path.live:
            return (
                "It is done with the supply on, and there is a way without: live parts are de-energised before work "
                "unless that is not feasible (29 CFR 1910.333(a)(1))."
            )
        return "It is done with the supply off, and a live test was asked for."

    def _forced(self, choice: _Choice, way: str) -> RejectedWay:
        """What the plan is when the other ways of the same thing are left out."""
        siblings = (*choice.taken, *(other for other in choice.others if other != way))
        if self._allowance.spent:
            return self._not_in_time(choice, way)
        request = self._question.request(banned=frozenset(siblings))
        try:
            other = self._bench.planner.plan(request, self._allowance.budget())
        except Unreachable as error:
            obstacles = [each for each in error.obstacles if each.way not in siblings]
            limits = self._question.day.ruling_out(each.way for each in obstacles)
            kind = "limit" if limits else "tools" if any(each.missing_tools for each in obstacles) else "never"
            said = [each.sentence for each in obstacles]
            reason = " ".join(said) or "What it needs cannot be brought about together."
            return self._note(choice, way, kind, f"It cannot be used: {reason}", proved=True)
        except Undecided:
            return self._not_in_time(choice, way)
        return self._compared(choice, way, other)

    def _compared(self, choice: _Choice, way: str, other: Plan) -> RejectedWay:
        """``way`` judged by the plan without the others: exactly where that uses it, else from below."""
        measure = self._question.minimise
        exact = other.optimal and way in other.ways
        more = (other.figures.of(measure) if other.optimal else other.bound) - self._found.figures.of(measure)
        minutes = other.minutes - self._found.minutes
        least = "" if exact else "at least "
        if more > 0:
            said = f"It takes {least}{counted(more, measure, 'more')}."
        elif not other.optimal:
            return self._not_in_time(choice, way)
        elif measure is not Measure.MINUTES and minutes > 0:
            said = f"It takes as many {UNITS[measure]}, and {least}{counted(minutes, Measure.MINUTES, 'more')}."
        elif exact:
            return self._note(choice, way, "alike", "It would do as well.", proved=True, more=0.0)
        else:
            return self._note(choice, way, "alike", "No plan is better for it.", proved=True, more=0.0)
        return self._note(choice, way, "more", said, proved=exact, more=max(0.0, more))

    def _not_in_time(self, choice: _Choice, way: str) -> RejectedWay:
        text = "How much more it takes was not worked out in the time there is."
        return self._note(choice, way, "more", text, proved=False)

    def _note(
        self, choice: _Choice, way: str, kind: str, reason: str, *, proved: bool, more: float | None = None
    ) -> RejectedWay:
        return RejectedWay.model_validate(
            {
                "way": way_ref(self._bench.appliance, way),
                "of": choice.of,
                "kind": kind,
                "reason": reason,
                "more": None if more is None else round(more, 2),
                "proved": proved,
            }
        )
