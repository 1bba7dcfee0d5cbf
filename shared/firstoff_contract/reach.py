"""What an opened machine lays open, what a part hides, and what is worth doing while the machine is open."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from .common import Answer, CautionNote, Grounded, Ref
from .removal import Exposure

Purpose = Literal["inspect", "test", "live-test", "replace"]


class WithinReach(Answer):
    """A component within reach without another part off."""

    component: Ref
    purpose: Purpose
    way: Ref | None = Field(description="The way in or the removal; null where the part is off already.")
    states: list[Ref] = Field(description="States to bring about first: those the way needs that are not in force.")


class OneMoreOff(Answer):
    """A removal that could be done next, and what it would bring within reach."""

    component: Ref
    way: Ref
    minutes_out: float
    minutes_back: float
    states: list[Ref] = Field(description="States to bring about first.")
    opens: list[WithinReach]


class Exposed(Grounded):
    """What can be inspected, tested or replaced as the machine stands, and what one more removal would open."""

    model: Ref
    off: list[Ref]
    states: list[Ref] = Field(description="States taken to be in force, where they are not the initial ones.")
    cautions: list[CautionNote]
    bare: list[Exposure] = Field(description="Points that the parts off leave bare, with their state as things stand.")
    now: list[WithinReach]
    next: list[OneMoreOff] = Field(description="Those that open most come first.")


class HiddenPart(Answer):
    component: Ref
    purposes: list[Purpose] = Field(description="What it cannot be reached for while the part in front is on.")


class Hidden(Grounded):
    """What stands behind a component."""

    model: Ref
    component: Ref
    always: list[HiddenPart] = Field(description="No way leads there with the component on.")
    usually: list[HiddenPart] = Field(
        description="The cheapest plan takes the component off, and another way leads there without."
    )
    complete: bool = Field(description="False where the time ended before every plan was found.")


class WearNote(Answer):
    """A fault that comes with use."""

    id: str
    label: str
    failure_mode: str
    relative_frequency: float = Field(description="How often, relative to the other faults of the platform.")


class WorthDoing(Answer):
    """A part with known wear that needs no further part off, besides itself."""

    component: Ref
    part_number: str | None
    wear: list[WearNote]
    minutes_more: float = Field(description="Minutes that replacing it adds to the plan.")
    minutes_alone: float = Field(description="Minutes that replacing it takes in a job of its own.")
    saves: float = Field(description="Minutes saved by doing it now.")


class WhileOpen(Grounded):
    """What is worth doing while the machine is open for a plan, the most frequent wear first."""

    model: Ref
    reach: list[Ref]
    minutes: float = Field(description="Minutes of the plan itself.")
    worth: list[WorthDoing]
    complete: bool = Field(description="False where the time ended before every part was looked at.")
