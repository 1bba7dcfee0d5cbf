"""The job sheet of a plan: the plan with the machine it is for and the picture of its way."""

from __future__ import annotations

from firstoff.answers.bench import Bench
from firstoff.answers.grounds import grounded
from firstoff.answers.plan import plan_answer, question_of
from firstoff.settings import Settings
from firstoff.sheet import Job, Machine, diagram_of
from firstoff_contract.removal import PlanRequest


def job_sheet(bench: Bench, settings: Settings, asked: PlanRequest) -> Job:
    """The plan that ``plan_answer`` gives, ready for paper.

    :raises FirstoffError: as ``plan_answer``.
    """
    appliance = bench.appliance
    plan = grounded(plan_answer(bench, settings, asked), (appliance,))
    machine = Machine(
        maker=appliance.maker,
        number=appliance.model_number,
        label=appliance.label,
        kind=appliance.kind.label,
        platform=appliance.platform.label,
        serial=asked.serial,
        serial_range=appliance.serial_range if asked.serial else None,
        bulletins=tuple(plan.bulletins),
    )
    nodes = [
        node for node in bench.planner.graph(question_of(appliance, asked).request(alternatives=0)) if not node.closing
    ]
    return Job(machine, plan, diagram_of(appliance, nodes, plan), shop=settings.shop)
