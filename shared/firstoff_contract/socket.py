"""Checking the socket or the terminals that a machine hangs on."""

from __future__ import annotations

from pydantic import Field

from .common import Answer, Grounded, Ref


class PairNote(Answer):
    """Two conductors that a meter is put between."""

    pair: str = Field(description="As `measured=` takes it, such as line-neutral.")
    between: list[Ref]
    low: float | None = Field(description="Least volts of a sound supply; null where nothing can be said.")
    high: float | None
    measured: float | None


class SupplyCondition(Answer):
    """What may be the matter with a supply."""

    id: str
    label: str
    mend: str
    danger: bool = Field(description="True where metal may be live or without earth.")
    fits: bool | None = Field(description="Whether all that was measured fits; null where nothing was measured.")
    volts: dict[str, list[float]] = Field(
        description="Least and most volts by pair; a pair that is left out may show anything, ghost voltages too."
    )


class SocketCheck(Grounded):
    model: Ref
    supply: Ref
    fixed: bool = Field(description="True for fixed wiring, false for plug and socket.")
    pairs: list[PairNote]
    conditions: list[SupplyCondition] = Field(
        description="The sound one first; those that fit before those that do not."
    )
    notes: list[str]
