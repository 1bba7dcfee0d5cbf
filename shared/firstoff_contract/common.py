"""What several answers share."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

SignalWord = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
Condition = Literal["live", "off_not_isolated", "isolated", "unknown"]

NOTICE = (
    "Local codes and licensed practice (refrigerant, gas, fixed wiring) come first. "
    "Isolate, release stored energy and prove dead before touching anything; what is unknown is treated as live."
)


class Answer(BaseModel):
    """Base of every contract model: unknown fields are refused, instances do not change."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class Ref(Answer):
    """A resource named by its slug and shown by its label."""

    id: str
    label: str


class SourceRef(Answer):
    """The document behind a statement, and where in it."""

    id: str
    title: str
    locator: str | None = None


class CautionNote(Answer):
    """A hazard, shown before the act it belongs to."""

    id: str
    signal_word: SignalWord
    hazard: str
    text: str
    protection: str


class BulletinNote(Answer):
    """A notice that touches the model in hand."""

    id: str
    kind: str
    label: str
    text: str


class Grounded(Answer):
    """An answer computed from one revision of the graph."""

    revision: str = Field(description="Digest of the graph revision the answer was computed from.")
    notice: str = Field(default=NOTICE, description="What always comes before this answer.")
    draft: bool = Field(
        default=False,
        description="True where it rests on content that nobody has reviewed: verify it on the machine first.",
    )
    bulletins: list[BulletinNote] = Field(default=[], description="Notices that touch what the answer names.")
