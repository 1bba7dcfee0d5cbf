"""The job sheet of a plan: the plan with the machine it is for and the picture of its way."""

from __future__ import annotations

from firstoff.answers.bench import Bench
from firstoff.answers.notes import bulletin_notes
from firstoff.answers.plan import plan_answer, question_of
from firstoff.appliance.model import (
    Appliance,
    Bulletin,
)
from firstoff.settings import Settings
from firstoff.sheet import Job, Machine, diagram_of
from firstoff_contract.removal import PlanRequest, RemovalPlan


def job_sheet(bench: Bench, settings: Settings, asked: PlanRequest) -> Job:
    """The plan that ``plan_answer`` gives, ready for paper.

    :raises FirstoffError: as ``plan_answer``.
    """
    appliance = bench.appliance
    plan = plan_answer(bench, settings, asked)
    machine = Machine(
        maker=appliance.maker,
        number=appliance.model_number,
        label=appliance.label,
        kind=appliance.kind.label,
        platform=appliance.platform.label,
        serial=asked.serial,
        serial_range=appliance.serial_range if asked.serial else None,
        bulletins=tuple(bulletin_notes(each for each in appliance.bulletins if _matters(appliance, each, plan))),
    )
    nodes = [
        node for node in bench.planner.graph(question_of(appliance, asked).request(alternatives=0)) if not node.closing
    ]
    return Job(machine, plan, diagram_of(appliance, nodes, plan), shop=settings.shop)


def _matters(appliance: Appliance, bulletin: Bulletin, plan: RemovalPlan) -> bool:
    """Whether a bulletin concerns a part of the plan, or no part in particular, or safety."""
    parts = bulletin.concerns & appliance.components.keys()
    steps = [*plan.steps, *plan.refit]
    handled = {each.component.id for each in plan.reach} | {step.component.id for step in steps if step.component}
    return not parts or bool(parts & handled) or bulletin.kind.id == "safety-recall"
