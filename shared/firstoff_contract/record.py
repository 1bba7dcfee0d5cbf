"""The safety record: what is measured and confirmed before a machine is handed over, with limits and verdicts."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from .common import Answer, Grounded, Ref

MeasuredQuantity = Literal["earth-continuity", "insulation-resistance", "leakage-current"]
LineVerdict = Literal["pass", "fail", "not_measured", "unknown", "not_applicable"]
RecordVerdict = Literal["pass", "fail", "not_measured", "unknown"]


class EnteredReading(Answer):
    """What an instrument showed."""

    quantity: MeasuredQuantity
    value: float = Field(ge=0, allow_inf_nan=False, description="The number on the instrument.")
    unit: str = Field(
        min_length=1, max_length=20, description="As on the instrument: ohm or mohm; Mohm, kohm or Gohm; mA or uA."
    )
    over_range: bool = Field(
        default=False, description="True where the instrument showed more than `value`, the end of its range."
    )
    note: str | None = Field(default=None, max_length=500, description="Where it was measured, or with what.")


class EnteredConfirmation(Answer):
    """That a line without a measurement was done, and by whom."""

    line: str = Field(min_length=1, max_length=100, description="The id of the line.")
    by: str = Field(min_length=1, max_length=100, description="Name, and licence where the line asks for one.")
    note: str | None = Field(default=None, max_length=500)


class RecordRequest(Answer):
    """Body of ``POST /v1/models/{model}/safety-record``."""

    readings: list[EnteredReading] = Field(default_factory=list, max_length=200)
    confirmed: list[EnteredConfirmation] = Field(default_factory=list, max_length=100)
    done: list[str] | None = Field(
        default=None,
        max_length=1000,
        description="Components taken off, preparations made and states brought about. Lines that depend on them are "
        "asked for where nothing is said; empty where none was.",
    )
    serial: str | None = Field(default=None, max_length=64, description="Serial number on the rating plate.")


class RecordLimit(Answer):
    """The limit of a measurement; a reading at the limit is within it."""

    at_most: float | None
    at_least: float | None
    unit: str
    standard: str
    edition: str
    clause: str | None
    confirmed: Literal["secondary text", "from memory", "common practice, no source"] = Field(
        description="How this service came by the value."
    )
    why: str = Field(description="Which facts about the machine lead to this limit.")


class RecordPlace(Answer):
    """A metal part that is bonded to earth."""

    component: Ref
    opened: bool = Field(description="True where the work undid an earth of it.")


class JudgedReading(Answer):
    value: float
    unit: str
    over_range: bool
    note: str | None
    verdict: LineVerdict


class RecordLine(Answer):
    """One measurement or confirmation."""

    id: str
    kind: Literal["measurement", "confirmation"]
    label: str
    how: str
    with_supply: bool = Field(description="True where it is done with the machine plugged in.")
    unit: str | None
    limit: RecordLimit | None
    missing: list[str] = Field(description="Facts about the machine without which there is no limit.")
    places: list[RecordPlace] = Field(default=[], description="Where to measure: those first whose earth was undone.")
    competence: str | None = Field(default=None, description="Who alone may do it.")
    only_after: list[str] = Field(default=[], description="What must have been done for the line to apply, any of it.")
    readings: list[JudgedReading] = []
    confirmed_by: str | None = None
    note: str | None = None
    verdict: LineVerdict
    advice: str = Field(description="What to do about the verdict.")


class RecordFact(Answer):
    """A fact about the machine that its limits depend on; null where the content does not say."""

    name: str
    value: str | None


class RecordBody(Answer):
    standard: Ref | None = Field(description="The family of standards whose limits are used; null where none is told.")
    standard_note: str
    facts: list[RecordFact]
    lines: list[RecordLine]
    verdict: RecordVerdict = Field(description="Only `pass` lets the machine be handed over.")
    advice: list[str]


class SafetyRecord(Grounded, RecordBody):
    """Blank, or with readings judged."""

    model: Ref
