"""What a meter should read between two points, and what a measured value says of the faults."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from .common import Answer, Grounded, Ref

QuantityName = Literal["ac-voltage", "dc-voltage", "resistance"]


class Expected(Answer):
    """A value with the band that tolerances allow, in volts or ohms; or nothing, and what it depends on."""

    known: bool
    nominal: float | None = Field(description="Volts or ohms; null where it is unknown or an open circuit.")
    low: float | None = Field(description="Lower end of the band; null where unknown, or where it is open.")
    high: float | None = Field(description="Upper end of the band; null where unknown, or where it may be open.")
    open_circuit: bool = Field(default=False, description="True where an ohmmeter shows an open circuit (OL).")
    depends_on: list[Ref] = Field(
        default=[], description="What nobody can know from the content, where the value is unknown."
    )
    text: str = Field(description="The value in words.")


class FaultReading(Answer):
    """What would be read under a fault."""

    fault: Ref | None = Field(description="A fault that the content describes; null for one of the circuit alone.")
    assume: list[str] = Field(description="As `assume=` takes it.")
    label: str
    expected: Expected | None = Field(description="Null where no such reading could be taken.")
    verdict: Literal["supports", "fits_too", "rules_out", "tells_nothing"] | None = Field(
        description="What the measured value says of it; `fits_too` where it fits the sound machine as well."
    )


class ReadingAnswer(Grounded):
    model: Ref
    between: list[Ref]
    quantity: QuantityName
    unit: Literal["V", "ohm"]
    opened: list[str]
    actuated: list[str] = Field(description="Devices whose changeover contacts are thrown over.")
    off: list[str]
    released: list[str]
    assume: list[str]
    celsius: float = Field(description="Temperature of the parts, in degrees Celsius.")
    expected: Expected = Field(description="On a meter of 10 megohm, or on an ohmmeter.")
    declared: bool = Field(description="True where the value is told by the content and not computed.")
    low_impedance: float | None = Field(
        description="Volts on a meter of low impedance; null for ohms or where unknown."
    )
    ghost_volts: float | None = Field(
        description="Volts that strays may show on 10 megohm where a low-impedance meter shows next to none; null "
        "where nothing misleads."
    )
    turned: Expected | None = Field(description="With an unpolarised plug the other way round, where that differs.")
    through: list[Ref] = Field(description="What carries the current of an ohmmeter.")
    capacitors: list[Ref] = Field(description="Capacitors that make an ohmmeter's reading climb.")
    notes: list[str] = Field(description="What to know before the reading is believed.")
    measured: float | None
    measured_open: bool
    fits: bool | None = Field(
        description="Whether the measured value fits the machine as assumed; null where nothing was measured or "
        "nothing is known."
    )
    faults: list[FaultReading] = Field(description="Those that a value would tell, supported ones first.")
