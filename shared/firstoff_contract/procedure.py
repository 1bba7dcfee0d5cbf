"""Making a machine safe for a plan, and restoring it, in the order of 29 CFR 1910.147."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from .common import Answer, CautionNote, Grounded, Ref
from .energy import ProveDead
from .removal import Target

Stage = Literal[
    "prepare", "tell", "shut_down", "get_at", "isolate", "lock_and_tag", "release", "verify", "work", "inspect",
    "clear_people", "take_locks_off", "restore", "read_hands_off",
]  # fmt: skip


class PlanStepRef(Answer):
    """A step of the removal plan for the same request."""

    way: Literal["steps", "refit"] = Field(description="The list of the plan that the step is in.")
    n: int


class ProcedureNote(Answer):
    n: int
    stage: Stage
    part: Literal["make_safe", "work", "live_test", "restore"]
    text: str
    clause: str | None = Field(description="Where its place in the order is from; null for work.")
    devices: list[Ref] = Field(description="The isolating devices it is about.")
    plan_steps: list[PlanStepRef] = Field(description="The steps of the removal plan that it stands for.")
    competence: str | None = Field(default=None, description="Who alone may do it.")


class SoleControl(Answer):
    """Whether keeping the plug in hand will do instead of a lock."""

    will_do: bool
    text: str
    clause: str = "29 CFR 1910.147(a)(2)(iii)(A)"


class Procedure(Grounded):
    """What a plan does, told as the procedure it has to follow, and how the machine is restored."""

    model: Ref
    reach: list[Target]
    needed: bool = Field(description="False where the plan brings nothing that carries energy within reach.")
    minutes: float = Field(description="Working minutes of the plan, out and back.")
    energies: list[str] = Field(description="What has to be made safe, in words, with its size where that is known.")
    sole_control: SoleControl
    upstream_only: bool = Field(description="True where some energy can only be isolated upstream of the appliance.")
    unknown: list[str] = Field(description="Points of the plan that nothing is known about: treat as live.")
    cautions: list[CautionNote]
    prove_dead: list[ProveDead] = Field(description="What is measured wherever a step says to prove dead.")
    steps: list[ProcedureNote]
    standard: str = Field(
        default="29 CFR 1910.147 (United States); where other rules hold, they come first.",
        description="Whose order this is.",
    )
    settled: bool = Field(description="False where the plan was not proved in the time allowed.")
