"""Every energy in a machine, worst first: how much, what isolates or releases it, how long, how to verify, who may.

What is not told is listed as unknown rather than left out.
"""

from __future__ import annotations

from dataclasses import dataclass

from firstoff.appliance.circuit import EnergySource, Link, LinkKind
from firstoff.appliance.model import Appliance
from firstoff.energy.charge import release_text, stored
from firstoff.energy.curves import OutOfRange, saturation
from firstoff.energy.heat import ROOM_CELSIUS, waiting
from firstoff.energy.held import release_of
from firstoff.energy.verifying import usual
from firstoff.energy.words import SAFE_VOLTS, STORED_CHARGE, Situation

WORST_FIRST = (
    "mains", "high-voltage", "solar", "battery", "stored-charge", "gas", "refrigerant", "water", "spring", "weight",
    "rotation", "heat", "extra-low-voltage",
)  # fmt: skip
"""Energy kinds by what they can do to a person. Common practice, no source."""

FLUID_HAZARDS: dict[str, str] = {
    "gas": "If gas is smelt: no flame, no switch, no plug, no phone in the room. Open windows and doors, shut the gas "
    "off outside the room, get everyone out, and have the electricity disconnected from outside the area.",
    "flammable-refrigerant": "It burns. Before the circuit is touched: no flame, spark or hot surface near, doors and "
    "windows open, a gas detector at floor level, and the electricity disconnected from outside the area.",
}


@dataclass(frozen=True, slots=True)
class Energy:
    """One energy: ``id`` is a source or a capacitor link.

    ``volts`` is nominal for a source, the highest possible for a charge; pressures are in kilopascals and say whether
    they are ``gauge`` or ``absolute``; ``joules``, ``kilograms``, ``litres`` and ``celsius`` (the start of heat) as
    far as they are known. ``isolated_by`` are isolating devices that a state of the machine opens for it. ``minutes``
    is a wait, ``computed`` where it follows from a time constant; it is never permission. ``unknown`` says what is not
    told, ``hazard`` what to do about a leak.
    """

    id: str
    label: str
    kind: str
    component: str | None
    volts: float | None = None
    current: str | None = None
    hertz: float | None = None
    gauge: float | None = None
    absolute: float | None = None
    joules: float | None = None
    kilograms: float | None = None
    litres: float | None = None
    celsius: float | None = None
    isolated_by: tuple[str, ...] = ()
    release: str = ""
    minutes: float | None = None
    computed: bool = False
    verify: str = ""
    competence: str | None = None
    hazard: str | None = None
    unknown: tuple[str, ...] = ()


def inventory(
    appliance: Appliance, ambient: float = ROOM_CELSIUS, safe_volts: float = SAFE_VOLTS
) -> tuple[Energy, ...]:
    """Every energy of the machine, worst kind first, in the order of the content within a kind.

    ``ambient`` is the temperature of the room in degrees Celsius.
    """
    found = [_of_source(appliance, source, ambient) for source in appliance.circuit.sources.values()]
    charges = {each.link: each for each in stored(appliance, Situation(), safe_volts)}
    for link in appliance.circuit.links.values():
        if link.kind is LinkKind.CAPACITOR:
            charge = charges[link.id]
            minutes = None if charge.wait_s is None else charge.wait_s / 60.0
            found.append(_of_capacitor(link, charge.volts, charge.joules, minutes, safe_volts))
    order = {kind: rank for rank, kind in enumerate(WORST_FIRST)}
    return tuple(sorted(found, key=lambda each: order.get(each.kind, -1)))


def _of_capacitor(
    link: Link, volts: float | None, joules: float | None, minutes: float | None, safe_volts: float
) -> Energy:
    unknown = [what for what, value in (("its voltage", volts), ("its capacitance", link.farads)) if value is None]
    if minutes is None:
        unknown.append("how long its charge lasts")
    return Energy(
        id=link.id,
        label=link.label,
        kind=STORED_CHARGE,
        component=link.component,
        volts=volts,
        current="dc",
        joules=joules,
        release=release_text(link, safe_volts),
        minutes=minutes,
        computed=minutes is not None,
        verify=link.verification or usual(STORED_CHARGE),
        unknown=tuple(unknown),
    )


def _of_source(appliance: Appliance, source: EnergySource, ambient: float) -> Energy:
    kind = source.kind.id
    gauge, absolute, unknown = _pressure(source, ambient)
    minutes, computed = waiting(source, ambient)
    if kind == "heat" and minutes is None:
        unknown.append("how long it stays hot")
    electrical = bool(source.lines) and source.held_by is None
    if electrical and source.volts is None:
        unknown.append("its voltage")
    devices = _devices(appliance, source)
    return Energy(
        id=source.id,
        label=source.label,
        kind=kind,
        component=source.held_by,
        volts=source.volts,
        current=source.current,
        hertz=source.hertz,
        gauge=gauge,
        absolute=absolute,
        kilograms=source.kilograms,
        litres=source.litres,
        celsius=source.start_celsius,
        isolated_by=devices,
        release=release_of(appliance, source) if source.held_by is not None else _shut_off(source, devices),
        minutes=minutes,
        computed=computed,
        verify=source.verification or usual(kind),
        competence=source.competence,
        hazard=_hazard(source),
        unknown=tuple(unknown),
    )


def _pressure(source: EnergySource, ambient: float) -> tuple[float | None, float | None, list[str]]:
    """Gauge and absolute kilopascals, and what is not told of them."""
    kind = source.kind.id
    if kind == "refrigerant":
        unknown = [] if source.kilograms is not None else ["its charge"]
        if source.refrigerant is None or source.refrigerant.id not in saturation.SERIES:
            return None, None, [*unknown, "which refrigerant it is, and so its pressure"]
        try:
            absolute = saturation.kilopascals_at(source.refrigerant.id, ambient)
        except OutOfRange:
            return None, None, [*unknown, f"its pressure at {ambient:g} degrees Celsius"]
        return saturation.gauge(absolute), absolute, unknown
    if source.kilopascals is not None:
        return source.kilopascals, saturation.absolute(source.kilopascals), []
    return None, None, ["its pressure"] if kind in ("water", "gas") and source.held_by is None else []


def _devices(appliance: Appliance, source: EnergySource) -> tuple[str, ...]:
    """The isolating devices that states of the variable for this energy open; a secondary goes with its primary."""
    kind = "mains" if source.derived_from else source.kind.id
    if source.held_by is not None:
        return ()
    devices = appliance.circuit.devices
    opened = {
        slug
        for state in appliance.states.values()
        if appliance.variables[state.variable].controls == kind
        for slug in state.devices_open
        if slug in devices and devices[slug].isolating
    }
    return tuple(sorted(opened))


def _shut_off(source: EnergySource, devices: tuple[str, ...]) -> str:
    if source.release is not None:
        return source.release
    if source.derived_from:
        return "It goes with the supply that feeds it; what its capacitors hold stays."
    if devices:
        return "Open its isolating devices, hold them open, and prove that nothing is left."
    return "No isolating device of the machine shuts it off: have it isolated upstream."


def _hazard(source: EnergySource) -> str | None:
    if source.kind.id == "gas":
        return FLUID_HAZARDS["gas"]
    if source.refrigerant is not None and source.refrigerant.id in saturation.FLAMMABLE:
        return FLUID_HAZARDS["flammable-refrigerant"]
    return None
