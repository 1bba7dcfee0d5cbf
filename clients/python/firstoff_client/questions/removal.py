"""Questions of removal: what comes off first, what else is within reach then, what a part hides."""

from __future__ import annotations

from ..asking import Names, Question, model_form, model_path, or_blank, query, text_form
from ..contract.reach import Exposed, Hidden, WhileOpen
from ..contract.removal import ParetoAnswer, RemovalPlan
from .planning import of_a_plan

_PLAN = "/v1/models/{}/removal-plan"

removal_plan = of_a_plan(
    "removal_plan",
    _PLAN,
    model_form(RemovalPlan),
    "What comes off first: the cheapest plan that reaches every target, its refit, its kit, the next-best plans.",
    by_body=True,
)
pareto = of_a_plan(
    "pareto",
    f"{_PLAN}/pareto",
    model_form(ParetoAnswer),
    "The plans that no other beats in minutes, parts off, single-use parts and exposures together.",
)
while_open = of_a_plan(
    "while_open",
    "/v1/models/{}/while-open",
    model_form(WhileOpen),
    "Parts with known wear that the plan lays open, and what replacing each now saves.",
)
job_sheet = of_a_plan(
    "job_sheet", "/v1/models/{}/job-sheet", text_form("text/html"), "The plan as a page to print, in HTML."
)
plan_picture = of_a_plan(
    "plan_picture", f"{_PLAN}/picture", text_form("image/svg+xml"), "The plan as a picture, in SVG."
)


def exposed(
    model: str,
    *,
    off: Names = (),
    states: Names = (),
    tools: Names | None = None,
    serial: str | None = None,
) -> Question[Exposed]:
    """What is within reach as the machine stands, and what each next removal would open."""
    asked = query(off=off, states=states, tools=or_blank(tools), serial=serial)
    return Question(model_path("/v1/models/{}/exposed", model), model_form(Exposed), query=asked)


def hidden(model: str, component: str, *, serial: str | None = None) -> Question[Hidden]:
    """Every component behind a part."""
    address = model_path("/v1/models/{}/components/{}/hidden", model, component)
    return Question(address, model_form(Hidden), query=query(serial=serial))
