"""Every energy of a machine, curves of its components, and pressures of refrigerants."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from .common import Answer, Grounded, Ref


class EnergyNote(Answer):
    id: str
    label: str
    energy: str = Field(description="Slug of the energy kind.")
    component: Ref | None = Field(description="What holds it; null for a supply.")
    size: str = Field(description="How much there is, in words; empty where nothing is told.")
    volts: float | None = Field(description="Nominal for a supply, the highest possible for a charge.")
    current: Literal["ac", "dc"] | None
    kilopascals_gauge: float | None
    kilopascals_absolute: float | None
    joules: float | None = Field(description="Energy of a charge at its highest voltage and capacitance.")
    kilograms: float | None
    litres: float | None
    celsius: float | None = Field(description="Highest temperature of a hot part at switching off.")
    isolated_by: list[Ref] = Field(description="Isolating devices that shut it off, all of them together.")
    release: str = Field(description="What shuts it off, releases or blocks it.")
    minutes: float | None = Field(description="Minutes to wait; never permission: verify.")
    computed: bool = Field(description="True where the minutes are computed, false where the content tells them.")
    verify: str = Field(description="How it is seen to be gone.")
    competence: str | None = Field(description="Who alone may do it.")
    hazard: str | None = Field(description="What to do about a leak that burns.")
    unknown: list[str] = Field(description="What is not told about it.")


class Energies(Grounded):
    model: Ref
    ambient: float = Field(description="Temperature of the room in degrees Celsius that times and pressures are for.")
    energies: list[EnergyNote] = Field(description="Worst kind first.")


class CurvePoint(Answer):
    celsius: float
    ohms: float = Field(description="Nominal resistance in ohms.")
    ohms_low: float
    ohms_high: float


class CurveNote(Answer):
    """How the resistance of one link depends on temperature."""

    link: Ref
    kind: str = Field(description="beta, inverse-polynomial, platinum or copper.")
    lowest_celsius: float
    highest_celsius: float
    table: list[CurvePoint]
    celsius: float | None = Field(default=None, description="Temperature at the resistance asked for.")
    celsius_low: float | None = Field(default=None, description="The same at one end of the part's tolerance.")
    celsius_high: float | None = None


class ComponentCurves(Grounded):
    model: Ref
    component: Ref
    ohms: float | None = Field(description="The resistance asked for.")
    curves: list[CurveNote]


class Saturation(Answer):
    """A refrigerant where liquid and vapour are together."""

    refrigerant: Ref
    flammable: bool = Field(description="Safety class A3 of ISO 817.")
    celsius: float
    kilopascals_absolute: float
    kilopascals_gauge: float = Field(description="Below zero where it is under the pressure of the air.")
    ambient_kilopascals: float
    error: float = Field(description="Largest error of the pressure as a fraction, against the equation of state.")
    source: str
