"""What every link of a circuit is to a meter: nothing between its ends, an impedance with limits, or unknown."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from firstoff.appliance.circuit import Circuit, Link, LinkKind
from firstoff.energy.errors import BadReading
from firstoff.energy.words import Situation

MOST_WINDING_OHMS = 50_000.0
"""A sound winding has at most this impedance at mains frequency, in ohms. Common practice, no source."""

LEAST_OHMS, MOST_OHMS = 1e-3, 1e9
"""Between these lies, in ohms, what nothing is known about: from all but shorted to all but open."""

Curve = Callable[[Link], tuple[float, float] | None]
"""The lowest and highest resistance, in ohms, of a link with a curve at the temperature asked for; None: not known."""


class Does(StrEnum):
    """How a link takes part in a reading."""

    JOINS = "joins"
    OPENS = "opens"
    IMPEDES = "impedes"
    UNKNOWN = "unknown"
    DRIVES = "drives"


@dataclass(frozen=True, slots=True)
class Element:
    """A link at one frequency. ``lowest`` and ``highest`` bound a known impedance (ohms) that varies in size only;
    ``UNKNOWN`` is passive and lies between them at any phase, ``DRIVES`` may besides put out a voltage of its own."""

    link: Link
    does: Does
    nominal: complex = 0j
    lowest: complex = 0j
    highest: complex = 0j


@dataclass(frozen=True, slots=True)
class Setting:
    """What is asked about: ``hertz`` is 0 for direct current; ``cold`` for a resistance, with the supply off."""

    hertz: float
    cold: bool
    actuated: frozenset[str] = frozenset()
    curve: Curve | None = None


_JOINS = frozenset({LinkKind.CONDUCTOR, LinkKind.FUSE})


def element(link: Link, situation: Situation, setting: Setting) -> Element:
    """What a link is in a situation.

    Raises ``BadReading`` where a value of the link is impossible: a resistance below zero, a capacitance of zero.
    """
    _check(link)
    if link.id in situation.links_open or link.kind is LinkKind.PIPE:
        return Element(link, Does.OPENS)
    if link.kind is LinkKind.EARTH_BOND:
        return Element(link, Does.OPENS if link.id in situation.bonds_open else Does.JOINS)
    if link.id in situation.links_in_doubt:
        return _unknown(link, Does.DRIVES)
    if link.kind in _JOINS:
        return Element(link, Does.JOINS)
    if link.kind is LinkKind.CONTACT:
        return _contact(link, situation, setting)
    if link.kind in (LinkKind.SEMICONDUCTOR, LinkKind.CONVERTER):
        return _unknown(link, Does.DRIVES)
    if link.kind is LinkKind.CAPACITOR:
        return _capacitor(link, setting)
    if link.kind is LinkKind.WINDING and setting.hertz:
        return _winding(link, setting)
    limits = _ohms(link, setting)
    if limits is None:
        return _unknown(link, Does.UNKNOWN)
    nominal, lowest, highest = limits
    return Element(link, Does.IMPEDES, complex(nominal), complex(lowest), complex(highest)) if lowest > 0 else Element(
        link, Does.JOINS if highest <= 0 else Does.UNKNOWN, complex(nominal), complex(LEAST_OHMS), complex(highest)
    )  # fmt: skip


def _check(link: Link) -> None:
    for value, name, least in (
        (link.ohms, "resistance", 0.0),
        (link.henries, "inductance", 0.0),
        (link.rated_watts, "power", 0.0),
    ):
        if value is not None and (not math.isfinite(value) or value < least):
            raise BadReading(f"{link.label} has an impossible {name}: {value:g}.")
    if link.farads is not None and (not math.isfinite(link.farads) or link.farads <= 0.0):
        raise BadReading(f"{link.label} has an impossible capacitance: {link.farads:g}.")


def _unknown(link: Link, does: Does, lowest: float = LEAST_OHMS, highest: float = MOST_OHMS) -> Element:
    return Element(link, does, complex(math.sqrt(lowest * highest)), complex(lowest), complex(highest))


def _contact(link: Link, situation: Situation, setting: Setting) -> Element:
    if link.device in situation.opened:
        return Element(link, Does.OPENS)
    if not link.changeover:
        return Element(link, Does.JOINS)
    if link.at_rest is None:
        return _unknown(link, Does.UNKNOWN)
    return Element(link, Does.JOINS if link.at_rest != (link.device in setting.actuated) else Does.OPENS)


def _capacitor(link: Link, setting: Setting) -> Element:
    if not setting.hertz:
        return Element(link, Does.OPENS)
    if link.farads is None:
        return _unknown(link, Does.UNKNOWN)
    nominal = 1.0 / (2j * math.pi * setting.hertz * link.farads)
    below = max(1.0 - link.farad_tolerance, 1e-6)
    return Element(link, Does.IMPEDES, nominal, nominal / (1.0 + link.farad_tolerance), nominal / below)


def _winding(link: Link, setting: Setting) -> Element:
    ohms = link.ohms
    if link.henries is None:
        lowest = LEAST_OHMS if ohms is None else max(LEAST_OHMS, ohms * (1.0 - link.ohm_tolerance))
        return _unknown(link, Does.UNKNOWN, lowest, max(MOST_WINDING_OHMS, 10.0 * lowest))
    reactance = 2j * math.pi * setting.hertz * link.henries
    resistance = ohms or 0.0
    lowest_z = resistance * (1.0 - link.ohm_tolerance) + reactance * (1.0 - link.henry_tolerance)
    highest_z = resistance * (1.0 + link.ohm_tolerance) + reactance * (1.0 + link.henry_tolerance)
    if lowest_z == 0:
        return _unknown(link, Does.UNKNOWN, LEAST_OHMS, MOST_WINDING_OHMS)
    return Element(link, Does.IMPEDES, resistance + reactance, lowest_z, highest_z)


def _ohms(link: Link, setting: Setting) -> tuple[float, float, float] | None:
    """Nominal, lowest and highest resistance; a rating is that of the hot part, ``ohms`` that of the part cold."""
    if link.curve is not None and setting.curve is not None:
        found = setting.curve(link)
        return None if found is None else ((found[0] + found[1]) / 2.0, *found)
    ratio = link.hot_cold_ratio or 1.0
    if link.ohms is not None:
        hot = 1.0 if setting.cold else ratio
        return tuple(link.ohms * hot * (1.0 + sign * link.ohm_tolerance) for sign in (0, -1, 1))  # type: ignore[return-value]
    if link.rated_volts and link.rated_watts:
        ohms = link.rated_volts**2 / link.rated_watts / (ratio if setting.cold else 1.0)
        return ohms, ohms / (1.0 + link.watt_tolerance), ohms / max(1.0 - link.watt_tolerance, 1e-6)
    return None


def electrical(circuit: Circuit) -> list[Link]:
    """The links that a meter may meet: no pipes."""
    return [link for link in circuit.links.values() if link.kind is not LinkKind.PIPE]
