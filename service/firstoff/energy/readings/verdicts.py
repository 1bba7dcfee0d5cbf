"""What a measured value says of the faults that could be there."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import isinf

from firstoff.appliance.circuit import Circuit, LinkKind
from firstoff.appliance.model import Appliance
from firstoff.energy.assume import AssumedKind, Assumption
from firstoff.energy.errors import EnergyError
from firstoff.energy.liveness import live_points
from firstoff.energy.readings.branches import Resistance
from firstoff.energy.readings.reading import Quantity, Reading, reading
from firstoff.energy.readings.setting import Setting
from firstoff.energy.readings.values import Value

METER_SHARE = 0.02
"""Accuracy of a usual service meter, as a fraction of the reading. From memory."""

METER_FLOOR: Mapping[Quantity, float] = {Quantity.AC: 1.0, Quantity.DC: 0.5, Quantity.OHMS: 0.5}
"""What leads and last digits add, in volts or ohms. Common practice, no source."""

OF_MODE: Mapping[str, tuple[AssumedKind, ...]] = {
    "open-circuit": (AssumedKind.OPEN,),
    "broken": (AssumedKind.OPEN,),
    "tripped": (AssumedKind.OPEN,),
    "contact-stuck-open": (AssumedKind.OPEN,),
    "loose": (AssumedKind.OPEN, AssumedKind.HIGH_RESISTANCE),
    "short-circuit": (AssumedKind.SHORTED,),
    "contact-welded": (AssumedKind.WELDED,),
    "earth-fault": (AssumedKind.EARTHED,),
    "high-resistance": (AssumedKind.HIGH_RESISTANCE,),
    "corroded": (AssumedKind.HIGH_RESISTANCE,),
}
"""What a failure mode of the vocabulary does to the links that a fault alters; the first is the usual one."""


class Verdict(StrEnum):
    """What a measured value says of a fault."""

    SUPPORTS = "supports"
    FITS_TOO = "fits_too"
    RULES_OUT = "rules_out"
    TELLS_NOTHING = "tells_nothing"


@dataclass(frozen=True, slots=True)
class Judged:
    """A fault with what the meter would read under it, and what the measured value says of it.

    ``fault`` is the slug of a described fault, or None for one of the circuit alone. ``verdict`` is None where nothing
    was measured. A fault is supported where the value lies in its band and not in that of the sound machine, fits too
    where it lies in both, is ruled out where it lies outside its band, and nothing is told where its band is unknown.
    """

    assumptions: tuple[Assumption, ...]
    fault: str | None
    reading: Reading | None
    verdict: Verdict | None


def fits(measured: float, value: Value, quantity: Quantity) -> bool:
    """Whether a measured value can be a known ``value``, by the accuracy of a usual meter; infinite is open."""
    assert value.low is not None
    assert value.high is not None
    if isinf(measured) or isinf(value.low):
        return isinf(measured) and isinf(value.high)
    floor = METER_FLOOR[quantity]
    return value.low * (1.0 - METER_SHARE) - floor <= measured <= value.high * (1.0 + METER_SHARE) + floor


def verdict_of(measured: float, sound: Reading, found: Reading) -> Verdict:
    """What ``measured`` says of the fault under which ``found`` would be read, where ``sound`` is read without any."""
    bands = [value for value in (found.value, found.turned) if value is not None]
    if any(not value.known for value in bands) or found.shorted:
        return Verdict.TELLS_NOTHING
    inside = any(fits(measured, value, found.quantity) for value in bands)
    ghost = found.ghost_volts is not None and measured <= found.ghost_volts
    if not inside and not ghost:
        return Verdict.RULES_OUT
    healthy = [value for value in (sound.value, sound.turned) if value is not None]
    if any(not value.known or fits(measured, value, sound.quantity) for value in healthy):
        return Verdict.FITS_TOO
    return Verdict.SUPPORTS


def described(appliance: Appliance) -> list[tuple[str, tuple[Assumption, ...]]]:
    """The faults of the content that alter links, with what each does to them."""
    found = []
    for fault in appliance.faults.values():
        kinds = OF_MODE.get(fault.failure_mode.id, ())
        links = sorted(fault.alters & frozenset(appliance.circuit.links))
        if kinds and links:
            found.append(
                (fault.id, tuple(Assumption(_fitting(appliance.circuit, kinds[0], id_), id_) for id_ in links))
            )
    return found


def _fitting(circuit: Circuit, kind: AssumedKind, link: str) -> AssumedKind:
    """A contact that shorts is welded; what is no contact cannot weld but short."""
    is_contact = circuit.links[link].kind is LinkKind.CONTACT
    if kind is AssumedKind.SHORTED and is_contact:
        return AssumedKind.WELDED
    return AssumedKind.SHORTED if kind is AssumedKind.WELDED and not is_contact else kind


def of_the_circuit(circuit: Circuit, links: Iterable[str]) -> list[Assumption]:
    """The single faults of some links: each open; loads and windings shorted or touching earthed metal besides;
    contacts welded."""
    found = []
    for id_ in links:
        link = circuit.links.get(id_)
        if link is None or link.kind is LinkKind.PIPE:
            continue
        found.append(Assumption(AssumedKind.OPEN, id_))
        if link.kind in (LinkKind.LOAD, LinkKind.WINDING):
            found += [Assumption(AssumedKind.SHORTED, id_), Assumption(AssumedKind.EARTHED, id_)]
        elif link.kind is LinkKind.CONTACT and link.device is not None:
            found.append(Assumption(AssumedKind.WELDED, id_))
    return found


def judged(
    appliance: Appliance,
    red: str,
    black: str,
    sound: Reading,
    setting: Setting,
    resistance: Resistance,
    measured: float | None = None,
    beside: Sequence[Assumption] = (),
) -> tuple[Judged, ...]:
    """Every fault under which the meter would read otherwise than ``sound``, or that nothing can be said of.

    They are the faults of the content that alter links, and single faults of the links near the probes or on the way
    from the supply to them. ``beside`` are assumptions that hold in any case.
    """
    circuit = appliance.circuit
    tried: list[tuple[str | None, tuple[Assumption, ...]]] = [*described(appliance)]
    known = {assumptions for _, assumptions in tried}
    states = live_points(circuit, setting.situation)
    feeding = [link for point in (red, black) for link in states[point].fed_by if link in circuit.links]
    near = of_the_circuit(circuit, dict.fromkeys([*_near(circuit, red, black, sound), *feeding]))
    tried += [(None, (each,)) for each in near if (each,) not in known]
    taken = {each.subject for each in beside}
    found = []
    for fault, assumptions in tried:
        if taken & {each.subject for each in assumptions}:
            continue
        try:
            faults, both_ways = [*beside, *assumptions], sound.turned is not None
            under = reading(circuit, red, black, sound.quantity, setting, resistance, faults, both_ways=both_ways)
        except EnergyError:
            under = None
        if under is not None and fault is None and _tells_nothing_new(sound, under):
            continue
        verdict = None
        if measured is not None:
            verdict = Verdict.TELLS_NOTHING if under is None else verdict_of(measured, sound, under)
        found.append(Judged(assumptions, fault, under, verdict))
    return tuple(found)


def _near(circuit: Circuit, red: str, black: str, sound: Reading) -> list[str]:
    """Links that carry the current of an ohmmeter, and those that end at a probe or one conductor further."""
    joined = {red, black}
    for link in circuit.links.values():
        if link.kind is LinkKind.CONDUCTOR and {link.start, link.end} & {red, black}:
            joined |= {link.start, link.end}
    ends = [id_ for id_, link in circuit.links.items() if {link.start, link.end} & joined]
    return [*dict.fromkeys([*sound.through, *ends])]


def _tells_nothing_new(sound: Reading, under: Reading) -> bool:
    one, other = sound.value, under.value
    if not other.known:
        return True
    if not one.known or one.nominal is None or other.nominal is None:
        return False
    if isinf(one.nominal) or isinf(other.nominal):
        return one.nominal == other.nominal
    return abs(one.nominal - other.nominal) <= 0.02 * max(one.nominal, other.nominal, 1.0)
