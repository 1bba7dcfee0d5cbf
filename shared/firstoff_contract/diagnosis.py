"""From findings to the likely faults, the next step and what to carry."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from .common import Answer, Grounded, Ref
from .learning import FrequencyNote, LearnedNote

MeterQuantity = Literal["voltage", "ac-voltage", "dc-voltage", "resistance"]


class OutcomeSeen(Answer):
    check: str
    label: str = Field(description="As the check words it; where its outcomes have bounds, the value read will do.")


class ReadingSeen(Answer):
    """What a meter showed: two points, a value, and how the machine stood. Or likelihoods of one's own."""

    between: list[str] = Field(default_factory=list, max_length=2, description="Points of the probes, the red first.")
    quantity: MeterQuantity = "voltage"
    value: str = Field(default="", max_length=40, description="As shown, such as 230, 12.4 kohm or OL.")
    opened: list[str] = Field(default_factory=list, max_length=200, description="Devices that were open.")
    actuated: list[str] = Field(default_factory=list, max_length=200, description="Devices that were thrown over.")
    off: list[str] = Field(default_factory=list, max_length=1000, description="What was off while it was read.")
    released: list[str] = Field(default_factory=list, max_length=200, description="Capacitors that were discharged.")
    celsius: float | None = Field(default=None, ge=-60, le=300, description="Of the parts; 20 if not given.")
    label: str = Field(default="", max_length=200, description="What the reading is called; made up if not given.")
    likelihoods: dict[str, float] = Field(
        default_factory=dict,
        max_length=500,
        description="In place of points and value: by fault, 0 to 1, how likely the reading is if it is at work; 1 if "
        "left out.",
    )


class DiagnosisRequest(Answer):
    """Body of ``POST /v1/models/{model}/diagnosis``."""

    symptoms: list[str] = Field(default_factory=list, max_length=50, description="Symptoms that are there.")
    absent: list[str] = Field(default_factory=list, max_length=50, description="Symptoms looked for and not there.")
    outcomes: list[OutcomeSeen] = Field(default_factory=list, max_length=100)
    readings: list[ReadingSeen] = Field(default_factory=list, max_length=50)
    codes: list[str] = Field(default_factory=list, max_length=20, description="Codes, as shown or by name.")
    tried: list[str] = Field(default_factory=list, max_length=100, description="Remedies done that did not help.")
    off: list[str] = Field(default_factory=list, max_length=1000, description="What is off as found.")
    states: list[str] = Field(default_factory=list, max_length=100, description="States in force now.")
    tools: list[str] | None = Field(default=None, max_length=1000, description="Tools at hand; all where none given.")
    tree: bool = Field(default=False, description="True for the whole decision tree, cut where it grows too large.")
    serial: str | None = Field(default=None, max_length=64)


class UnderstoodNote(Answer):
    """Words that are no symptom's name, and the symptom they were taken for; ``others`` they might mean too."""

    words: str
    taken_for: Ref
    others: list[Ref]


class MovedNote(Answer):
    kind: str
    finding: str
    before: float
    after: float
    decibans: float | None = Field(description="Weight of evidence; null where it is without bound or undefined.")


class GuardNote(Answer):
    """A part that is not replaced on suspicion, as it is dear or fails rarely."""

    part: Ref
    why: str = Field(description="dear, fails rarely, or price not told, which counts as dear.")
    look_alikes: list[Ref] = Field(
        description="Faults still possible that share a symptom with it and cost less to end, the cheapest first: rule "
        "these out."
    )
    confirm: list[Ref] = Field(description="Checks still to make that confirm the fault, the quickest first.")
    confirmed_by: list[Ref] = Field(description="Checks made, after which the fault is still possible.")


class FaultShare(Answer):
    id: str
    label: str
    origin: Ref
    share: float
    frequency: FrequencyNote
    guard: GuardNote | None = Field(description="Null where a remedy may be tried on suspicion.")
    remedies: list[str]
    moved: list[MovedNote]


class PairNote(Answer):
    faults: list[Ref]
    times: float | None = Field(description="How many times likelier than the likelier of them alone; null: boundless.")


class FindingNote(Answer):
    kind: str = Field(description="present, absent, code, outcome, reading or tried.")
    id: str = Field(description="Of the symptom, code, check or remedy; empty for a reading.")
    label: str


class ReadingNote(Answer):
    """What a reading says of the faults that the content describes."""

    label: str
    expected: str = Field(description="What a sound machine shows, in words.")
    fits: bool | None = Field(description="Whether the value fits a sound machine; null where that is unknown.")
    supports: list[Ref] = Field(description="Faults under which it would be read, and not in a sound machine.")
    rules_out: list[Ref] = Field(description="Faults under which something else would be read.")
    circuit: list[str] = Field(description="Faults of the circuit that no described fault stands for, and that fit.")
    notes: list[str] = Field(description="What to know before the reading is believed.")


class ConflictNote(Answer):
    """Findings of which each may be right, but not all together: no described fault explains them."""

    findings: list[FindingNote]
    smallest: bool = Field(description="True where no fewer findings contradict each other; else none can be left out.")


class Then(Answer):
    """An outcome: ``faults`` are the shares once it is seen, ``next_step`` what to do then."""

    outcome: str
    probability: float
    faults: dict[str, float]
    next_step: str | None
    step: NextStep | None = Field(description="The rest of the tree; null where it was not asked for, or is cut.")
    cut: bool


class NextStep(Answer):
    id: str | None = Field(description="Null: nothing described is left that is worth doing; get help.")
    kind: str
    label: str
    component: str | None
    live: bool
    instruction: str
    minutes: float = Field(description="With the way there and back from how the machine stands.")
    expected_minutes: float
    opens: list[str] = Field(description="Ways and preparations that are still to do to get there.")
    reach: str | None = Field(
        description="As the removal plan and make-safe take it: ask them before anything is opened. Null where there "
        "is nothing to ask."
    )
    guard: GuardNote | None = Field(description="Of a remedy that replaces a dear or rarely failing part.")
    then: list[Then]


class ServiceModeNote(Answer):
    id: str
    label: str
    instruction: str


class Diagnosis(Grounded):
    model: Ref
    understood: list[UnderstoodNote] = []
    contradicted: bool = Field(description="True where no described fault explains the findings.")
    readings: list[ReadingNote]
    conflict: ConflictNote | None = Field(description="What to check again where findings contradict each other.")
    said: str
    unexplained: list[Ref]
    faults: list[FaultShare]
    pairs: list[PairNote] = Field(description="Two faults at once, where that is likelier than either alone.")
    next: NextStep | None
    expected_minutes: float | None
    bound: float | None
    exact: bool = Field(description="True where no policy over what was considered has fewer expected minutes.")
    considered: float = Field(description="Share of the faults the next step was worked out for.")
    service_modes: list[ServiceModeNote]
    learned: LearnedNote
    revision: str


class CarryAnswer(Grounded):
    model: Ref
    understood: list[UnderstoodNote] = []
    parts: list[Ref] = Field(description="In the order of what each adds.")
    chance: float = Field(description="That one visit suffices as far as parts go, one fault being at work.")
    exact: bool = Field(description="True where no other parts, as many, are likelier to suffice.")
    greedy: float = Field(description="The chance of the parts taken one remedy at a time, for comparison.")
    without_remedy: float = Field(description="Share of the faults that no described remedy ends.")
    tools: list[Ref] = Field(description="For the likeliest faults' remedies and checks.")
    consumables: list[str]
    learned: LearnedNote
    revision: str


Then.model_rebuild()
