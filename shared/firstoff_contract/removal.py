"""The removal plan: what comes off first, and how it all goes back."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from firstoff_contract.common import Answer, CautionNote, Condition, Grounded, Ref, SourceRef
from firstoff_contract.energy import ProveDead, ReleaseNote

Action = Literal[
    "prepare", "undo", "remove", "refit", "inspect", "test", "replace",
    "isolate", "attach_probes", "restore_supply", "read_hands_off", "isolate_again", "release", "prove_dead", "verify",
]  # fmt: skip


class PlanRequest(Answer):
    """Body of ``POST /v1/models/{model}/removal-plan``."""

    reach: list[str] = Field(
        min_length=1, max_length=50, description="Targets as `component` or `component:purpose`; purpose is inspect, "
        "test, live-test or replace, and replace where none is given.",
    )  # fmt: skip
    off: list[str] = Field(default_factory=list, max_length=1000, description="Components that are off already.")
    states: list[str] = Field(
        default_factory=list, max_length=100, description="States in force now, where they are not the initial ones."
    )
    tools: list[str] | None = Field(
        default=None,
        max_length=1000,
        description="Tools at hand. All tools are taken to be at hand where none are given.",
    )
    serial: str | None = Field(default=None, max_length=64, description="Serial number on the rating plate.")
    minimise: Literal["minutes"] = Field(default="minutes", description="What the plan makes smallest.")


class FasteningNote(Answer):
    kind: str
    count: int
    drive: str | None = None
    size: str | None = None
    torque_nm: float | None = None
    single_use: bool = False


class ConnectionNote(Answer):
    kind: str
    label: str
    lock: str | None = None
    seal: str | None = None
    single_use: bool = False


class Exposure(Answer):
    """A point that can be touched after a step, with its state then."""

    id: str
    label: str
    state: Condition
    volts: float | None = None


class RefitCheck(Answer):
    text: str
    before_cover: bool = Field(description="True where it can only be seen before the next part goes on.")


class Consumable(Answer):
    label: str
    count: int


class Step(Answer):
    """One act, with its cautions to be read before it."""

    n: int
    action: Action
    way: str | None = Field(default=None, description="The removal, access path or preparation that is carried out.")
    component: Ref | None
    label: str
    instruction: str
    needed_for: list[Ref]
    fastenings: list[FasteningNote] = []
    connections: list[ConnectionNote] = []
    tools: list[Ref] = []
    persons: int = 1
    minutes: float
    wait_minutes: float | None = Field(default=None, description="Minutes to wait where a time is stated.")
    competence: str | None = Field(default=None, description="Who alone may do it.")
    cautions: list[CautionNote] = []
    exposes: list[Exposure] = Field(default=[], description="Points bared by this step, with their state after it.")
    renew: list[Consumable] = Field(default=[], description="Single-use parts that must be new, when this refits.")
    checks: list[RefitCheck] = Field(default=[], description="What must be true again, when this step refits.")
    sources: list[SourceRef] = []


class MakeSafeDevice(Answer):
    id: str
    label: str
    energy: str
    instruction: str


class MakeSafe(Answer):
    """What must be isolated, released and proved dead before the first step that bares anything."""

    needed: bool
    devices: list[MakeSafeDevice]
    release: list[ReleaseNote]
    prove_dead: list[ProveDead]
    upstream_only: bool = Field(description="True where some energy can only be isolated upstream of the appliance.")
    unknown: list[str] = Field(description="Points of the plan that nothing is known about: treat as live.")


class Target(Answer):
    component: Ref
    purpose: Literal["inspect", "test", "live-test", "replace"]


class KitPart(Answer):
    id: str
    label: str
    part_number: str | None


class Kit(Answer):
    tools: list[Ref]
    consumables: list[Consumable] = Field(description="What the work uses up: single-use parts, seals, ties, pastes.")
    parts: list[KitPart] = Field(description="The components to be replaced, as they are ordered.")


class Alternative(Answer):
    """A next-best plan, by what it does otherwise."""

    minutes: float
    optimal: bool = Field(description="True only when it is proved the cheapest that leaves out what it leaves out.")
    instead: list[str] = Field(description="What this plan does that the best one does not.")
    steps: list[str]
    ways: list[str] = Field(default=[], description="The removals, access paths and preparations it uses.")


class RemovalPlan(Grounded):
    model: Ref
    reach: list[Target]
    off: list[Ref] = Field(description="Components said to be off already.")
    states: list[Ref] = Field(
        description="States taken to be in force at the start, where they are not the initial ones."
    )
    minutes: float = Field(description="Minutes out and back with all preparations and their undoing.")
    optimal: bool = Field(description="True only when no cheaper plan exists, proved.")
    bound: float = Field(description="No plan can take fewer minutes than this.")
    cautions: list[CautionNote]
    make_safe: MakeSafe
    steps: list[Step]
    refit: list[Step]
    finish: list[str]
    kit: Kit
    alternatives: list[Alternative]
