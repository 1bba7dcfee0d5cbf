"""Models, components and their ways."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from .common import Answer, BulletinNote, CautionNote, Grounded, Ref, SourceRef
from .removal import ConnectionNote, FasteningNote, RefitCheck


class ModelSummary(Answer):
    id: str
    number: str
    label: str
    platform: Ref
    maker: str
    kind: str


class Page(Answer):
    total: int
    offset: int
    limit: int
    next: str | None = Field(default=None, description="Address of the next page, null on the last.")


class ModelList(Answer):
    page: Page
    models: list[ModelSummary]
    nearest: list[ModelSummary] = Field(default=[], description="Nearest numbers where none matched.")
    revision: str


class Difference(Answer):
    """How a model or serial range departs from its platform."""

    serials: str | None = Field(default=None, description="Serial range, null where it holds for the whole model.")
    leaves_out: list[Ref] = []
    adds: list[Ref] = []
    replaces: list[tuple[Ref, Ref]] = Field(default=[], description="Pairs of original and substitute.")


class DeviceNote(Answer):
    """What ``opened=`` may name."""

    id: str
    label: str
    kind: str
    isolating: bool = Field(description="Only an isolating device ever counts as isolation.")


class StateNote(Answer):
    """What ``states=`` may name; the states of one variable exclude each other."""

    id: str
    label: str
    variable: str
    initial: bool


class ModelDetail(Grounded):
    id: str
    number: str
    label: str
    platform: Ref
    maker: str
    kind: str
    status: Literal["draft", "reviewed"]
    serial_range: str | None
    differs: list[Difference]
    bulletins: list[BulletinNote]
    cautions: list[CautionNote]
    counts: dict[str, int] = Field(description="How many of each kind; only those all possible serial ranges share.")
    devices: list[DeviceNote]
    capacitors: list[Ref] = Field(description="What `released=` may name.")
    states: list[StateNote]
    tools: list[Ref] = Field(description="What `tools=` may name.")
    links: dict[str, str]


class ComponentSummary(Answer):
    id: str
    label: str
    kind: str
    zone: str
    part_number: str | None
    serials: list[str] = Field(
        default=[], description="The serial ranges that have it, where the serial number is open and not all do."
    )


class ComponentList(Grounded):
    model: Ref
    page: Page
    components: list[ComponentSummary]


class RemovalNote(Answer):
    id: str
    label: str
    needs_off: list[Ref]
    needs_states: list[Ref]
    fastenings: list[FasteningNote]
    connections: list[ConnectionNote]
    tools: list[Ref]
    persons: int
    minutes_out: float
    minutes_back: float
    bares: list[Ref]
    opens: list[Ref] = Field(description="Links it opens: connectors, earth wires.")
    consumables: list[str]
    single_use: bool = Field(description="True where the component itself must be new when it goes back.")
    checks: list[RefitCheck]
    instruction: str
    refit_instruction: str = Field(default="", description="How it goes back, where that is more than the reverse.")
    sources: list[SourceRef]


class WayIn(Answer):
    id: str
    label: str
    purpose: Literal["inspect", "test", "replace"]
    audience: str
    live: bool
    minutes: float
    needs_off: list[Ref]
    needs_fitted: list[Ref]
    needs_states: list[Ref]
    tools: list[Ref]
    bares: list[Ref]
    instruction: str
    sources: list[SourceRef]


class ComponentDetail(Grounded):
    model: Ref
    id: str
    label: str
    kind: str
    zone: str
    part_number: str | None
    supersedes: list[str]
    sits_inside: Ref | None
    replaced_as: Ref | None
    kilograms: float | None
    removals: list[RemovalNote]
    ways_in: list[WayIn]
    points: list[Ref]
    faults: list[Ref]
    cautions: list[CautionNote]
    sources: list[SourceRef]
