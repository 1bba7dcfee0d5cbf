"""A machine to take along: what can be asked of it, its supply as rows, and what its live points are computed from."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from .common import Answer, BulletinNote, Grounded, Ref
from .energy import StoredCharge

RowKind = Literal[
    "supply",
    "battery",
    "pipe",
    "coupling",
    "isolator",
    "control",
    "fuse",
    "filter",
    "converter",
    "winding",
    "load",
    "capacitor",
    "earth",
    "end",
]


class SupplyRow(Answer):
    """A device, part, source or end of a line. It is as bad as the worst of its points; each point is in some row."""

    id: str
    parent: str | None = Field(description="The row it hangs below; null at the top.")
    label: str
    what: RowKind
    component: str | None = Field(description="The part it stands for, or that the device belongs to.")
    device: str | None = Field(description="The device, where it is one that can be opened.")
    isolating: bool = Field(description="True where opening it counts as isolation.")
    coupled: bool = Field(description="True where a transformer or converter lies between it and the row above.")
    line: list[str] = Field(description="Those of its points that are on the line from the row above.")
    beyond: list[str] = Field(description="Those that a device feeds: dead where it is open and nothing else feeds.")
    points: list[str] = Field(description="All of its points.")


class CircuitPoint(Answer):
    """A point, counted from 0 in the order given; `volts` and `current` where they differ from its source's."""

    id: str
    label: str
    component: str
    volts: float | None
    current: Literal["ac", "dc"] | None


class CircuitLink(Answer):
    """Joins two points, given by number. Conducts unless its device is open."""

    id: str
    label: str
    start: int
    end: int
    load: bool = Field(description="True for a load, winding, capacitor or semiconductor: ways without come first.")
    device: str | None = Field(description="The device that opens it; null for what none opens, such as a changeover.")


class CircuitFeed(Answer):
    """What feeds points, given by number: a source, or a store of energy, the capacitors among them."""

    id: str
    label: str
    energy: str
    starts: list[int]
    neutral: int | None
    derived: bool = Field(description="True for a separated secondary: alive once a point of `derived_from` is fed.")
    derived_from: list[int]
    holds: bool = Field(description="True for a store.")
    capacitor: bool = Field(description="True where it feeds no more once it is released.")
    wet: bool = Field(description="True where protective earth does not stop it.")
    volts: float | None
    current: Literal["ac", "dc"] | None
    peak: float | None
    tolerance: float
    known: bool = Field(description="False where a voltage should be told but is not.")


class CircuitWait(Answer):
    """Seconds for a capacitor: at place b where of `sharing` those with a bit set in b are released."""

    sharing: list[str]
    seconds: list[float | None]


class CircuitSituation(Answer):
    """What holds with one set of the deciding devices open, whatever the others do."""

    earth: list[int] = Field(description="Points on protective earth, by number: no way leads through them but water.")
    doubt: list[int] = Field(description="Points that are unknown unless they are live.")
    cleared_by: int = Field(description="Place in `clearings`.")
    waits: int = Field(description="Place in `waits`.")


class CircuitBulletin(Answer):
    """A notice for an answer that names one of `parts`; for every answer where that is null."""

    note: BulletinNote
    parts: list[str] | None


class PocketCircuit(Answer):
    """With this the live points can be computed for any devices open and any capacitors released, no part off."""

    points: list[CircuitPoint]
    links: list[CircuitLink]
    feeds: list[CircuitFeed] = Field(description="Sources first, then stores.")
    devices: list[str]
    isolating: list[str]
    deciding: list[str] = Field(description="The devices that isolate or open an earth bond.")
    situations: list[CircuitSituation] = Field(
        description="At place b where of `deciding` those with a bit set in b are open."
    )
    sets: list[list[list[str]]] = Field(description="Answers to what would clear a point, each once.")
    clearings: list[list[int]] = Field(description="For each point a place in `sets`.")
    stored: list[StoredCharge] = Field(description="What each capacitor holds, its time aside.")
    times: list[CircuitWait]
    waits: list[list[int]] = Field(description="For each of `stored` a place in `times`.")
    bulletins: list[CircuitBulletin]


class Pocket(Grounded):
    model: Ref
    reach: list[str] = Field(description="Every target that there is a way to, as component:purpose.")
    touch: list[str] = Field(description="Every component that isolation says something about.")
    rows: list[SupplyRow] = Field(description="The supply from top to bottom, each row after the one it hangs below.")
    circuit: PocketCircuit | None = Field(description="Null where it cannot be exact without the service.")
    why_no_circuit: str | None
