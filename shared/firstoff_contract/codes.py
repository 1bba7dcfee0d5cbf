"""Display codes, what they say of the faults, and the service modes that read and clear them."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from .catalogue import Page
from .common import Answer, CautionNote, Condition, Grounded, Ref, SourceRef
from .diagnosis import NextStep
from .learning import LearnedNote

Stage = Literal["enter", "read", "run", "set", "clear", "leave"]
Supply = Literal["on", "off", "not-told"]


class CodeSummary(Answer):
    id: str
    notation: str = Field(description="As the machine shows it.")
    label: str
    stored: bool = Field(description="False for a code that is shown while it holds and not stored.")
    faults: list[Ref] = Field(description="Faults that the code points to.")
    symptoms: list[Ref] = Field(description="Symptoms that usually come with it; as a finding it counts them as there.")


class CodeList(Grounded):
    model: Ref
    page: Page
    codes: list[CodeSummary]
    read_with: list[Ref] = Field(description="Service modes that show stored codes.")
    clear_with: list[Ref] = Field(description="Service modes that clear them.")


class CodeFault(Answer):
    """A fault as the code alone moves it: shares before any finding and with the code as the only one."""

    id: str
    label: str
    origin: Ref
    pointed_to: bool = Field(description="False for a fault that the code does not point to and that may be there.")
    before: float
    after: float
    decibans: float | None = Field(description="Weight of the code as evidence; null where it is without bound.")


class CodeDetail(Grounded):
    """One code. Read ``does_not_prove`` before a part is ordered."""

    model: Ref
    code: CodeSummary
    set_when: str = Field(description="What the control must have seen; empty where the content does not tell.")
    faults: list[CodeFault] = Field(description="Likeliest first; those it does not point to only from one percent on.")
    others: float = Field(description="Share, with the code, of all faults that it does not point to.")
    does_not_prove: list[str]
    clearing: str = Field(description="How it goes once the cause is mended.")
    read_with: list[Ref] = Field(description="Service modes that show stored codes.")
    clear_with: list[Ref] = Field(description="Service modes that clear them.")
    learned: LearnedNote
    first: NextStep | None = Field(
        description="The first check or remedy with the code as the only finding, on the quickest expected way to a "
        "repair; null where no fault explains the code."
    )


class DrivenPoint(Answer):
    """A point that counts as live while a step goes on."""

    id: str
    label: str
    component: Ref
    state: Condition
    volts: float | None = Field(description="Highest nominal voltage to earth, null where none is known.")
    only_so: bool = Field(description="True where it is live only because this step switches it on.")


class ServiceStepNote(Answer):
    order: int
    stage: Stage
    text: str
    shows: str = Field(description="What a sound machine then shows or does; empty where nothing is told.")
    minutes: float | None = Field(description="How long it takes, or goes on by itself; null where it is not told.")
    runs: list[Ref] = Field(description="What it switches on.")
    closes: list[Ref] = Field(description="Control devices by way of which it does.")
    live: list[DrivenPoint] = Field(description="Points that are live, or not known not to be, while it goes on.")
    untold: list[Ref] = Field(description="What it switches on and no point of is described: all of it counts as live.")


class ServiceModeDetail(Answer):
    id: str
    label: str
    kinds: list[Ref]
    instruction: str = Field(description="The whole mode in a sentence or two.")
    cautions: list[CautionNote] = Field(description="Worst first; read them before the mode is entered.")
    supply: Supply = Field(description="Whether the electricity supply is on in this mode.")
    needs_states: list[Ref] = Field(description="States the machine must be in, all the while.")
    needs_fitted: list[Ref] = Field(description="Components that must be in place, all the while.")
    steps: list[ServiceStepNote] = Field(description="In order; empty where the content tells the instruction alone.")
    sources: list[SourceRef]


class ServiceModeList(Grounded):
    model: Ref
    service_modes: list[ServiceModeDetail]
