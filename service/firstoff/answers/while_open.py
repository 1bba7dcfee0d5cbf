"""What is worth doing while the machine is open: parts with known wear that a plan lays open."""

from __future__ import annotations

import time
from collections.abc import Mapping
from dataclasses import dataclass, replace

from firstoff.answers.bench import Bench
from firstoff.answers.names import Aim
from firstoff.answers.notes import component_ref, model_ref
from firstoff.answers.plan import question_of, solved_plan
from firstoff.answers.question import Question
from firstoff.answers.steps import target_ref
from firstoff.appliance.model import (
    Appliance,
    Fault,
    Purpose,
)
from firstoff.errors import OutOfTime
from firstoff.removal import Budget, Measure, Plan, RemovalError, Undecided
from firstoff.settings import Settings
from firstoff_contract.reach import WearNote, WhileOpen, WorthDoing
from firstoff_contract.removal import PlanRequest


def while_open_answer(bench: Bench, settings: Settings, asked: PlanRequest, wear_modes: frozenset[str]) -> WhileOpen:
    """Parts with known wear that need nothing more off than the plan for ``asked`` and themselves.

    ``wear_modes`` are the failure modes that come with use. All is counted in minutes.

    :raises NotFound: a name is unknown.
    :raises BadRequest: as ``plan_answer``.
    :raises TargetUnreachable: there is no plan for ``asked``.
    :raises OutOfTime: that plan was not proved in time, so nothing can be said of what more would add.
    """
    appliance = bench.appliance
    question, _, plan = solved_plan(bench, settings, replace(question_of(appliance, asked), minimise=Measure.MINUTES))
    if not plan.optimal:
        raise OutOfTime("The plan itself was not proved the cheapest in time, so what more would add is not known.")
    ask = _Asking(bench, question, time.monotonic() + settings.plan_seconds)
    replaced = {aim.component for aim in question.aims if aim.purpose is Purpose.REPLACE}
    worth: list[WorthDoing] = []
    complete = True
    for component, faults in _worn(appliance, wear_modes).items():
        own = {component, appliance.components[component].replaced_as or component}
        if own & replaced:
            continue
        alone, told = ask.alone(component)
        more, told_too = ask.besides(component) if alone is not None else (None, True)
        complete = complete and told and told_too
        if alone is None or more is None or not set(more.removed) <= own.union(plan.removed):
            continue
        if more.minutes - plan.minutes < alone.minutes:
            worth.append(_note(appliance, component, faults, more.minutes - plan.minutes, alone.minutes))
    return WhileOpen(
        model=model_ref(appliance),
        reach=[target_ref(appliance, target) for target in question.targets],
        minutes=round(plan.minutes, 2),
        worth=sorted(worth, key=lambda each: (-sum(note.relative_frequency for note in each.wear), each.component.id)),
        complete=complete,
        revision=appliance.revision,
    )


@dataclass(frozen=True, slots=True)
class _Asking:
    """Asks for plans until ``deadline``, on the machine as ``question`` finds it or as it was found whole."""

    bench: Bench
    question: Question
    deadline: float

    def alone(self, component: str) -> tuple[Plan | None, bool]:
        """The cheapest plan for the component in a job of its own, if any; and whether there was time to tell."""
        whole = replace(self.question.found, said=frozenset(), off=frozenset(), ways={}, states={})
        aims = (Aim(component, Purpose.REPLACE),)
        return self._plan(replace(self.question, aims=aims, found=whole, first=None))

    def besides(self, component: str) -> tuple[Plan | None, bool]:
        """The same for the component beside all that is asked for."""
        return self._plan(replace(self.question, aims=(*self.question.aims, Aim(component, Purpose.REPLACE))))

    def _plan(self, question: Question) -> tuple[Plan | None, bool]:
        left = self.deadline - time.monotonic()
        if left <= 0:
            return None, False
        try:
            plan = self.bench.planner.plan(question.request(), Budget(seconds=left, clock=time.monotonic))
        except RemovalError as error:
            return None, not isinstance(error, Undecided)
        return (plan, True) if plan.optimal else (None, False)


def _worn(appliance: Appliance, wear_modes: frozenset[str]) -> Mapping[str, list[Fault]]:
    """The faults of wear of every component that has any, in order of the component."""
    found: dict[str, list[Fault]] = {}
    for fault in sorted(appliance.faults.values(), key=lambda each: (each.component or "", -each.relative_frequency)):
        if fault.component is not None and fault.failure_mode.id in wear_modes:
            found.setdefault(fault.component, []).append(fault)
    return found


def _note(appliance: Appliance, component: str, faults: list[Fault], more: float, alone: float) -> WorthDoing:
    part = appliance.components[appliance.components[component].replaced_as or component]
    return WorthDoing(
        component=component_ref(appliance, component),
        part_number=part.part_number,
        wear=[
            WearNote(
                id=fault.id,
                label=fault.label,
                failure_mode=fault.failure_mode.label,
                relative_frequency=fault.relative_frequency,
            )
            for fault in faults
        ],
        minutes_more=round(more, 2),
        minutes_alone=round(alone, 2),
        saves=round(alone - more, 2),
    )
