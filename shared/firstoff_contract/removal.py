"""The removal plan: what comes off first, and how it all goes back."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from .common import Answer, CautionNote, Condition, Grounded, Ref, SourceRef
from .energy import ProveDead, ReleaseNote
from .record import RecordBody

Action = Literal[
    "prepare", "undo", "remove", "refit", "inspect", "test", "replace",
    "isolate", "attach_probes", "restore_supply", "read_hands_off", "isolate_again", "release", "prove_dead", "verify",
]  # fmt: skip


Minimise = Literal["minutes", "parts", "single-use", "exposure"]


class PlanRequest(Answer):
    """Body of ``POST /v1/models/{model}/removal-plan``."""

    reach: list[str] = Field(
        default_factory=list, max_length=50, description="Targets as `component` or `component:purpose`; purpose is "
        "inspect, test, live-test or replace, and replace where none is given. Without any the plan closes up a "
        "machine of which `off` or `states` say how it stands.",
    )  # fmt: skip
    off: list[str] = Field(
        default_factory=list, max_length=1000, description="What is off as found: components, or the removals that "
        "took them off. The plan puts it back, by the removal named or by any.",
    )  # fmt: skip
    states: list[str] = Field(
        default_factory=list, max_length=100, description="States in force now, where they are not the initial ones."
    )
    tools: list[str] | None = Field(
        default=None,
        max_length=1000,
        description="Tools at hand. All tools are taken to be at hand where none are given.",
    )
    serial: str | None = Field(default=None, max_length=64, description="Serial number on the rating plate.")
    minimise: Minimise = Field(
        default="minutes", description="What the plan makes smallest: minutes, parts taken off, single-use parts "
        "broken, or exposures to a hazard. Of plans that are alike in it, the one with the fewest minutes is taken.",
    )  # fmt: skip
    limits: list[str] = Field(
        default_factory=list, max_length=100, description="Limits of the day: alone, no-refrigerant-licence or "
        "machine-fixed.",
    )  # fmt: skip


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


class HazardNote(Answer):
    """One exposure that counts when exposures are made fewest."""

    kind: Literal["live", "stored", "weight", "refrigerant"]
    text: str


class RefitCheck(Answer):
    text: str
    before_cover: bool = Field(description="True where it can only be seen before the next part goes on.")
    kind: Ref | None = Field(
        default=None, description="What is looked at: orientation, routing, seal, earth, latch, fit or function."
    )
    after_supply: bool = Field(default=False, description="True where electricity or water must be back for it.")
    wait_minutes: float | None = Field(default=None, description="Minutes to let it rest before the work goes on.")


class HiddenCheck(Answer):
    """A check of a part that went back before, which a step hides for good."""

    component: Ref
    kind: Ref | None
    text: str


class FinishNote(Answer):
    """What ends the job once all is back."""

    order: int
    text: str
    wait_minutes: float | None = Field(default=None, description="Minutes to let it rest, run or stand.")
    why: str | None = Field(default=None, description="What in this plan asks for it; null where every job does.")
    competence: str | None = Field(default=None, description="Who alone may do it.")
    recorded: bool = Field(default=False, description="True where it is entered in the safety record.")


class Consumable(Answer):
    label: str
    count: int


class Step(Answer):
    """One act, with its cautions to be read before it."""

    n: int
    action: Action
    way: str | None = Field(
        default=None,
        description="The removal, way in or preparation that is carried out; `off` takes removals by this name.",
    )
    component: Ref | None
    label: str
    instruction: str
    needed_for: list[Ref] = Field(description="The targets it is needed for, the nearest first.")
    because: str = Field(default="", description="What it is needed for next, in a sentence.")
    makes_possible: list[int] = Field(
        default=[], description="The later steps of the same list that rely on it directly, by their numbers."
    )
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
    consumables: list[Consumable] = Field(default=[], description="What this uses up besides, when it refits.")
    checks: list[RefitCheck] = Field(
        default=[], description="What must be true again, when this step refits; what the next part hides comes first."
    )
    hides_checks: list[HiddenCheck] = Field(
        default=[], description="Checks of parts put back before, which nobody can make any more after this step."
    )
    sources: list[SourceRef] = []
    exposures: list[HazardNote] = Field(default=[], description="The exposures to a hazard that count in this step.")
    states: list[str] | None = Field(
        default=None,
        description="The states in force after it that are not the initial ones, as `states` takes them to go on from "
        "here; null where the step changes none.",
    )


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


class PlanFigures(Answer):
    """What a plan has of everything that can be made smallest, out and back."""

    minutes: float
    parts: int = Field(description="Parts taken off, counted each time.")
    single_use: int = Field(description="Single-use fastenings, connections and parts broken.")
    exposures: int = Field(
        description="Exposures to a hazard: live parts, stored energy, more than 23 kg lifted alone, refrigerant work."
    )


class RuledOut(Answer):
    """A way that could matter to this plan, and why a limit rules it out."""

    way: Ref
    reason: str


class LimitNote(Answer):
    """A limit of the day: what it rules out of this plan, and what would lift it."""

    id: str
    label: str
    lifted_by: str
    rules_out: list[RuledOut]


class Lifting(Answer):
    """What the plan would be without a limit, or several."""

    lifts: list[str] = Field(description="Limits, and tools that are not at hand, that would have to be lifted.")
    figures: PlanFigures | None = Field(description="Of the plan then; null where it was not worked out in time.")
    proved: bool = Field(description="True only when that plan is proved to be the best then.")
    text: str


class RejectedWay(Answer):
    """Another way to serve a target, take off a part or bring about a state of the plan, and why it was not taken."""

    way: Ref
    of: Ref = Field(description="The target, component or state that it is another way for.")
    kind: Literal["limit", "tools", "live", "never", "more", "alike"]
    reason: str
    more: float | None = Field(
        default=None, description="How much more it takes of what is made smallest, at least; null where not known."
    )
    proved: bool = Field(description="True only when it takes exactly so much more, or is ruled out altogether.")


class Alternative(Answer):
    """A next-best plan, by what it does otherwise."""

    minutes: float
    figures: PlanFigures
    optimal: bool = Field(description="True only when it is proved the cheapest that leaves out what it leaves out.")
    instead: list[str] = Field(description="What this plan does that the best one does not.")
    steps: list[str]
    ways: list[str] = Field(default=[], description="The removals, access paths and preparations it uses.")


class RemovalPlan(Grounded):
    model: Ref
    reach: list[Target]
    off: list[Ref] = Field(description="What was said to be off already; the plan puts it back.")
    states: list[Ref] = Field(
        description="States taken to be in force at the start, where they are not the initial ones."
    )
    minutes: float = Field(description="Working minutes out and back with all preparations and their undoing.")
    minimise: Minimise = Field(description="What was made smallest.")
    figures: PlanFigures
    optimal: bool = Field(
        description="True only when no better plan exists, proved; where live points are bare at the start, none that "
        "begins by isolating."
    )
    bound: float = Field(description="No plan can have less than this of what was made smallest.")
    bound_minutes: float = Field(description="No plan that has as little as that can take fewer minutes than this.")
    limits: list[LimitNote] = Field(description="The limits given, tools at hand among them, and what they rule out.")
    liftings: list[Lifting] = Field(description="What it would be worth to lift a limit that rules out something.")
    order_proved: bool = Field(
        description="True where, of all orders of these acts that can be carried out, this one is proved to have the "
        "fewest acts by hand with the electrical supply on, then the fewest tool changes, then the fewest zone "
        "changes, then heavy or awkward parts off as briefly as possible."
    )
    rejected: list[RejectedWay] = Field(description="The other ways there are, and why each was not taken.")
    cautions: list[CautionNote]
    make_safe: MakeSafe
    steps: list[Step]
    refit: list[Step]
    finish: list[FinishNote] = Field(description="What ends the job, in order; only what this plan gives cause for.")
    waiting_minutes: float = Field(
        description="Minutes of waiting beside the work, one after the other; waits that can run together take less."
    )
    record: RecordBody | None = Field(
        description="The blank safety record of this plan; null where nothing is taken off or bared."
    )
    kit: Kit
    alternatives: list[Alternative]
    alternatives_complete: bool = Field(
        description="False where the search ended before it had found as many alternatives as it looks for; there may "
        "be more."
    )

    @property
    def settled(self) -> bool:
        """Whether nothing of it was left unproved because the time ended."""
        told = [self.optimal, self.order_proved, self.alternatives_complete]
        told += [other.optimal for other in self.alternatives] + [each.proved for each in self.liftings]
        return all(told) and all(each.more is not None for each in self.rejected if each.kind == "more")


class ParetoPlan(Answer):
    """A plan that no other beats in everything."""

    figures: PlanFigures
    best_at: list[Minimise] = Field(description="What no other plan has less of, where the plans differ in it.")
    text: str = Field(description="What it is best at, and what that costs beside the quickest.")
    instead: list[str] = Field(description="What this plan does that the quickest does not.")
    steps: list[str]
    ways: list[str] = Field(description="The removals, access paths and preparations it uses.")


class ParetoAnswer(Grounded):
    """The plans that no other beats in minutes, parts taken off, single-use parts broken and exposures alike."""

    model: Ref
    reach: list[Target]
    off: list[Ref] = Field(description="What was said to be off already; the plans put it back.")
    states: list[Ref] = Field(
        description="States taken to be in force at the start, where they are not the initial ones."
    )
    complete: bool = Field(description="True only when it is proved that no further plan belongs to these.")
    plans: list[ParetoPlan] = Field(description="The quickest first; one for each set of figures.")
    limits: list[LimitNote] = Field(description="The limits given, tools at hand among them, and what they rule out.")
