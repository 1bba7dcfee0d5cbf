"""What a job has shown: told once it is done, kept, and counted. Names of the content only, no text of one's own."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from .common import Answer, Grounded, Ref
from .diagnosis import OutcomeSeen
from .learning import FrequencyNote, LearnedNote

Name = Annotated[str, Field(min_length=1, max_length=100)]
Names = Annotated[list[Name], Field(default_factory=list, max_length=50)]
Day = Annotated[str, Field(pattern=r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$")]


class OutcomeReport(Answer):
    """Body of ``POST /v1/outcomes``. No name, address, serial number or text of one's own is taken."""

    model: Name = Field(description="Slug, or number as on the rating plate.")
    fault: Name | None = Field(
        default=None, description="The fault that was confirmed. May be left out where the remedy ends one fault alone."
    )
    remedy: Name | None = Field(default=None, description="The remedy that worked.")
    symptoms: Names = Field(description="Symptoms that were there.")
    absent: Names = Field(description="Symptoms looked for and not there.")
    outcomes: list[OutcomeSeen] = Field(
        default_factory=list, max_length=100, description="What checks showed; kept in the words of the check."
    )
    codes: Names = Field(description="Codes, as shown or by name.")
    on: Day | None = Field(default=None, description="Day of the job, as 2026-11-27; today (UTC) if not given.")


class OutcomeKept(Grounded):
    """What was kept of the job; the same whenever the same report is sent with the same key."""

    id: str
    model: str
    fault: str
    remedy: str | None
    symptoms: list[str]
    absent: list[str]
    outcomes: list[OutcomeSeen]
    codes: list[str]
    on: str
    revision: str = Field(description="Digest of the graph revision that the report was checked against.")


class FaultFrequency(Answer):
    id: str
    label: str
    authored_weight: float = Field(description="Relative frequency as authored, before any job.")
    frequency: FrequencyNote


class OutcomeSummary(Grounded):
    """What jobs have shown of a model, likeliest fault first."""

    model: Ref
    learned: LearnedNote
    faults: list[FaultFrequency]
    left_out: int = Field(
        description="Jobs kept of this platform that do not count here: their machine can have fewer faults than this "
        "one, or this one cannot have theirs."
    )
    first: str | None = Field(description="Day of the first of the jobs counted.")
    last: str | None = Field(description="Day of the last of them.")
