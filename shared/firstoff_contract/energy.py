"""Live points and isolation."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from .common import Answer, Condition, Grounded, Ref


class PathStep(Answer):
    """A point or a link on the way from a source."""

    id: str
    label: str
    what: Literal["source", "point", "link"]


class LivePoint(Answer):
    id: str
    label: str
    component: str
    energy: str | None = Field(description="Energy kind of the source that feeds it, null where none does.")
    state: Condition
    volts: float | None = Field(description="Highest nominal voltage to earth, null where none is known.")
    current: Literal["ac", "dc"] | None
    fed_by: list[PathStep] = Field(description="The path from the source, empty where nothing feeds the point.")
    through_load: bool = Field(description="True where it is live only by way of a load, winding or the like.")
    cleared_by: list[list[str]] = Field(description="Every smallest set of isolating devices that would isolate it.")
    fault: str | None = Field(
        default=None, description="The single fault that makes it so, where the worst is asked for; null without any."
    )


class StoredCharge(Answer):
    component: str
    label: str
    link: str
    volts: float | None = Field(description="Highest voltage it can hold, at upper supply tolerance; null: not stated.")
    wait_s: float | None = Field(
        description="Seconds for the bleed alone, all tolerances at their worst; never permission."
    )
    safe_volts: float
    standard: str
    release: str
    joules: float | None = Field(default=None, description="Energy at the highest voltage and capacitance.")


class LivePoints(Grounded):
    model: Ref
    opened: list[str]
    off: list[str]
    released: list[str] = Field(description="Capacitors stated as discharged and proved dead.")
    assume: list[str] = Field(default=[], description="Faults that are taken to be there.")
    points: list[LivePoint]
    stored: list[StoredCharge]


class IsolationDevice(Answer):
    id: str
    label: str
    kind: str
    instruction: str
    minutes: float | None = Field(
        default=None, description="Minutes to reach and open it: the removal plan to get at it included."
    )
    lockable: bool | None = Field(default=None, description="Whether a lock can hold it open; null: not told.")


class ReleaseNote(Answer):
    id: str
    energy: str
    component: Ref
    text: str
    minutes: float | None = Field(description="Minutes to wait where a time is stated; never permission.")
    competence: str | None = Field(description="Who alone may do it.")
    verify: str = Field(default="", description="How it is seen to be gone.")


class IsolationSetNote(Answer):
    energy: str
    devices: list[IsolationDevice] = Field(description="In the order in which to open them.")
    minutes: float | None = Field(default=None, description="Minutes for all of them; the least comes first.")
    release: list[ReleaseNote] = Field(description="What to release afterwards, and how.")


class ProveDead(Answer):
    kind: Literal["prove_tester", "measure", "verify"]
    points: list[str]
    text: str


class IsolationAnswer(Grounded):
    model: Ref
    touch: list[str]
    sets: list[IsolationSetNote] = Field(description="Every smallest set, by energy.")
    prove_dead: list[ProveDead]
    upstream_only: bool = Field(description="True where some energy can only be isolated upstream of the appliance.")
    upstream_energies: list[str] = Field(description="The energies for which that is so.")
    if_neutral_proved: list[IsolationSetNote] = Field(
        description="What would do once the neutral of a fixed supply is measured dead to earth; never before."
    )
    unknown: list[str] = Field(description="Points nothing is known about: treat as live.")
