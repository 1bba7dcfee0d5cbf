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
    """``volts`` and ``current`` are declared only where they differ from the source that feeds the point."""

    id: str
    label: str
    component: str
    terminal: str | None = None
    volts: float | None = None
    current: str | None = None


@dataclass(frozen=True, slots=True)
class Link:
    """Joins ``start`` and ``end``; vanishes when ``component`` is off. ``device`` is set on contacts only."""

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


@dataclass(frozen=True, slots=True)
class Device:
    """Opens all its contacts together. Only an ``isolating`` device ever counts as isolation."""

    id: str
    label: str
    kind: Concept
    component: str
    isolating: bool
    minutes: float = 0.0
    needs_off: frozenset[str] = frozenset()
    needs_states: frozenset[str] = frozenset()
    instruction: str = ""


@dataclass(frozen=True, slots=True)
class EnergySource:
    """Mains, secondary, water or gas that feeds points; or energy held by a component.

    ``volts`` is nominal r.m.s. to earth. ``derived_from`` makes it a separated secondary, alive while any of those
    primary points may be. ``release_before`` names components, besides the holder, before whose handling held energy
    is released; in the states ``gone_in`` it is not there.
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


@dataclass(frozen=True, slots=True)
class Circuit:
    """All that conducts, of every kind of energy: points and links, the devices and the sources."""

    points: Mapping[str, Point] = field(default_factory=dict)
    links: Mapping[str, Link] = field(default_factory=dict)
    devices: Mapping[str, Device] = field(default_factory=dict)
    sources: Mapping[str, EnergySource] = field(default_factory=dict)
