"""All that conducts in an appliance, of every kind of energy: points, links, devices and sources.

Identifiers are slugs, unique within a platform. Units are SI's except where a name says otherwise; tolerances are
fractions.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from firstoff.appliance.terms import Concept, Source


class LinkKind(StrEnum):
    """What joins two points."""

    CONDUCTOR = "conductor"
    LOAD = "load"
    WINDING = "winding"
    CONTACT = "contact"
    FUSE = "fuse"
    SEMICONDUCTOR = "semiconductor"
    CONVERTER = "converter"
    CAPACITOR = "capacitor"
    EARTH_BOND = "earth-bond"
    PIPE = "pipe"


@dataclass(frozen=True, slots=True)
class Point:
    """``volts`` and ``current`` are declared only where they differ from the source that feeds the point.

    ``phase_angle`` is that of a line conductor against the others of its source, in degrees.
    """

    id: str
    label: str
    component: str
    terminal: str | None = None
    volts: float | None = None
    current: str | None = None
    phase_angle: float | None = None


class CurveKind(StrEnum):
    """The formula that a resistance curve follows."""

    BETA = "beta"
    INVERSE_POLYNOMIAL = "inverse-polynomial"
    PLATINUM = "platinum"
    COPPER = "copper"


@dataclass(frozen=True, slots=True)
class ResistanceCurve:
    """How a resistance depends on temperature.

    ``ohms`` at ``celsius``; ``beta`` in kelvin; ``terms`` are those of 1/T in kelvin by rising powers of
    ln(R / ``ohms``), constant first.
    """

    kind: CurveKind
    ohms: float
    celsius: float | None = None
    beta: float | None = None
    terms: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Link:
    """Joins ``start`` and ``end``; vanishes when ``component`` is off. ``device`` is set on contacts only.

    ``at_rest`` tells of a changeover throw whether it is made while its device is not actuated. ``hot_cold_ratio`` is
    the resistance at work over that at 20 degrees Celsius. ``release`` and ``verification`` are those of a capacitor.
    """

    id: str
    label: str
    kind: LinkKind
    start: str
    end: str
    component: str
    device: str | None = None
    changeover: bool = False
    ohms: float | None = None
    ohm_tolerance: float = 0.0
    rated_volts: float | None = None
    rated_watts: float | None = None
    farads: float | None = None
    farad_tolerance: float = 0.0
    volts: float | None = None
    current: str | None = None
    bleeds: str | None = None
    release: str | None = None
    sources: tuple[Source, ...] = ()
    watt_tolerance: float = 0.0
    henries: float | None = None
    henry_tolerance: float = 0.0
    hot_cold_ratio: float | None = None
    at_rest: bool | None = None
    curve: ResistanceCurve | None = None
    verification: str | None = None


@dataclass(frozen=True, slots=True)
class Device:
    """Opens all its contacts together. Only an ``isolating`` device ever counts as isolation.

    ``lockable`` is None where the content does not say whether a lock can hold it open.
    """

    id: str
    label: str
    kind: Concept
    component: str
    isolating: bool
    minutes: float = 0.0
    needs_off: frozenset[str] = frozenset()
    needs_states: frozenset[str] = frozenset()
    instruction: str = ""
    lockable: bool | None = None


@dataclass(frozen=True, slots=True)
class EnergySource:
    """Mains, secondary, water or gas that feeds points; or energy held by a component.

    ``volts`` is nominal r.m.s. to earth. ``derived_from`` makes it a separated secondary, alive while any of those
    primary points may be. ``release_before`` names components, besides the holder, before whose handling held energy
    is released; in the states ``gone_in`` it is not there. ``lower_tolerance`` is None where it is not stated.
    ``primary_volts`` is the rated primary voltage of a transformer; a converter, which holds its output, has none.
    ``kilograms`` is the charge of ``refrigerant`` or the mass that can fall, ``kilopascals`` a gauge pressure,
    ``litres`` trapped water; ``start_celsius``, ``safe_celsius`` and ``time_constant`` (minutes) are those of heat.
    """

    id: str
    label: str
    kind: Concept
    lines: tuple[str, ...] = ()
    neutral: str | None = None
    protective_earth: str | None = None
    feeds: tuple[str, ...] = ()
    volts: float | None = None
    current: str | None = None
    hertz: float | None = None
    upper_tolerance: float = 0.0
    polarised: bool = False
    fixed: bool = False
    earthed_neutral: bool = False
    derived_from: tuple[str, ...] = ()
    held_by: str | None = None
    release_before: frozenset[str] = frozenset()
    gone_in: frozenset[str] = frozenset()
    release: str | None = None
    minutes: float | None = None
    competence: str | None = None
    sources: tuple[Source, ...] = ()
    lower_tolerance: float | None = None
    primary_volts: float | None = None
    refrigerant: Concept | None = None
    kilograms: float | None = None
    kilopascals: float | None = None
    litres: float | None = None
    start_celsius: float | None = None
    safe_celsius: float | None = None
    time_constant: float | None = None
    verification: str | None = None


@dataclass(frozen=True, slots=True)
class Circuit:
    """All that conducts, of every kind of energy: points and links, the devices and the sources."""

    points: Mapping[str, Point] = field(default_factory=dict)
    links: Mapping[str, Link] = field(default_factory=dict)
    devices: Mapping[str, Device] = field(default_factory=dict)
    sources: Mapping[str, EnergySource] = field(default_factory=dict)
