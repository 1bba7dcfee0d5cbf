"""What authors are told: findings of a check, what a change means for a technician, versions of a platform."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from .common import Answer, Condition, Ref


class FindingNote(Answer):
    """Something a check found, with its place: a line of a Turtle file, or a row and column of a sheet."""

    severity: Literal["error", "warning"]
    rule: str
    resource: str | None
    label: str | None
    message: str
    mend: str
    file: str
    line: int | None = Field(description="Line of a Turtle file, row of a sheet; counted from 1.")
    sheet: str | None = None
    column: str | None = None


class DifferenceNote(Answer):
    """A resource that differs between two versions, with a sentence for each thing that changed."""

    sort: Literal["added", "taken out", "changed"]
    resource: str
    label: str
    what: str = Field(description="What it is, such as component or removal.")
    sentences: list[str]


class PlanChange(Answer):
    """The cheapest plan to replace a component, out and back in minutes, before and after; None where there is none."""

    component: Ref
    minutes_before: float | None
    minutes_after: float | None
    off_before: list[str] = Field(description="Components taken off, in order, by their labels.")
    off_after: list[str]


class PointChange(Answer):
    """A point whose condition differs with the devices ``opened``; none opened is the machine as it stands."""

    point: Ref
    opened: list[Ref]
    before: Condition | None = Field(description="None where the point is not there.")
    after: Condition | None


class ChargeChange(Answer):
    """A capacitor that holds another charge with every isolating device open, or takes another time to lose it."""

    capacitor: Ref
    volts_before: float | None
    volts_after: float | None
    seconds_before: float | None = Field(description="None where no time is vouched for.")
    seconds_after: float | None


class FaultPlace(Answer):
    """A fault and its share, 0 to 1."""

    fault: Ref
    share: float


class RankChange(Answer):
    """The likeliest faults for one symptom alone, before and after."""

    symptom: Ref
    before: list[FaultPlace]
    after: list[FaultPlace]


class ModelChange(Answer):
    """What a change means for a technician in front of one model, or of one serial range of it."""

    model: Ref
    serial_range: str | None
    sort: Literal["added", "taken out", "changed"]
    plans: list[PlanChange] = []
    points: list[PointChange] = []
    charges: list[ChargeChange] = []
    faults: list[RankChange] = []


class GraphCheck(Answer):
    """A draft: what a check finds in it, what it says otherwise than what is published, and what that changes."""

    platform: str
    ok: bool = Field(description="True where nothing keeps it from being published.")
    findings: list[FindingNote]
    compared_with: str | None = Field(description="Revision that is published; none where the platform is new.")
    differences: list[DifferenceNote]
    models: list[ModelChange] = Field(description="Models for which an answer changes.")
    complete: bool = Field(description="False where time ended before every plan was compared.")


class VersionNote(Answer):
    """A version of a platform: who made it the one that is served, when and why."""

    number: int
    act: Literal["published", "restored", "found", "withdrawn"]
    revision: str = Field(description="Digest of the text, empty where the platform was withdrawn.")
    who: str
    when: str
    why: str
    restored: int | None = Field(description="The version whose text it has again.")


class GraphEntry(Answer):
    """A platform that is served, or was."""

    platform: str
    revision: str | None = Field(description="None where it is not served.")
    status: Literal["draft", "reviewed"] | None
    versions: int
    models: list[Ref]


class GraphList(Answer):
    """Every platform, with its models."""

    graphs: list[GraphEntry]


class VersionList(Answer):
    """The versions of one platform, the first first."""

    platform: str
    versions: list[VersionNote]


class VersionDifference(Answer):
    """What differs between two versions, in words, and for a technician."""

    platform: str
    before: int | None
    after: int | None
    differences: list[DifferenceNote]


class Published(Answer):
    """What was made the version that is served."""

    platform: str
    version: VersionNote
    revision: str = Field(description="Revision of the whole content that answers come from now.")
    warnings: list[FindingNote]
    differences: list[DifferenceNote] = Field(description="From the version before.")
    models: list[Ref] = Field(description="The models it touches.")
