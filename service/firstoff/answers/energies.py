"""Energies, curves and saturation pressures as contract answers."""

from __future__ import annotations

from firstoff.answers.names import known
from firstoff.answers.notes import component_ref, model_ref
from firstoff.appliance.circuit import Link, ResistanceCurve
from firstoff.appliance.model import Appliance
from firstoff.energy.curves import OutOfRange, celsius_at, celsius_range, ohms_at, saturation
from firstoff.energy.heat import ROOM_CELSIUS
from firstoff.energy.inventory import Energy, inventory
from firstoff.errors import BadRequest, NotFound
from firstoff.search import near
from firstoff.settings import Settings
from firstoff_contract.common import Ref
from firstoff_contract.energies import ComponentCurves, CurveNote, CurvePoint, Energies, EnergyNote, Saturation

_STEPS = 13
#: What a curve is shown for where it goes further, in degrees Celsius.
_SHOWN = (-40.0, 300.0)


def energies_answer(appliance: Appliance, settings: Settings, ambient: float | None) -> Energies:
    """Every energy of the machine, worst first."""
    room = ROOM_CELSIUS if ambient is None else ambient
    return Energies(
        model=model_ref(appliance),
        ambient=room,
        energies=[_note(appliance, each) for each in inventory(appliance, room, settings.safe_volts)],
        revision=appliance.revision,
    )


def _note(appliance: Appliance, each: Energy) -> EnergyNote:
    devices = appliance.circuit.devices
    return EnergyNote.model_validate(
        {
            "id": each.id,
            "label": each.label,
            "energy": each.kind,
            "component": None if each.component is None else component_ref(appliance, each.component),
            "size": _size(each),
            "volts": each.volts,
            "current": each.current,
            "kilopascals_gauge": _rounded(each.gauge),
            "kilopascals_absolute": _rounded(each.absolute),
            "joules": _rounded(each.joules),
            "kilograms": each.kilograms,
            "litres": each.litres,
            "celsius": each.celsius,
            "isolated_by": [Ref(id=slug, label=devices[slug].label) for slug in each.isolated_by],
            "release": each.release,
            "minutes": _rounded(each.minutes),
            "computed": each.computed,
            "verify": each.verify,
            "competence": each.competence,
            "hazard": each.hazard,
            "unknown": list(each.unknown),
        }
    )


def _size(each: Energy) -> str:
    said = []
    if each.volts is not None:
        up_to = "up to " if each.kind == "stored-charge" else ""
        hertz = f" {each.hertz:g} Hz" if each.hertz is not None else ""
        current = {"ac": " a.c.", "dc": " d.c."}.get(each.current or "", "")
        said.append(f"{up_to}{each.volts:.4g} V{current}{hertz}")
    if each.joules is not None:
        said.append(f"{each.joules:.3g} J")
    if each.kilograms is not None:
        said.append(f"{each.kilograms * 1000:g} g" if each.kilograms < 1 else f"{each.kilograms:g} kg")
    if each.gauge is not None and each.absolute is not None:
        said.append(f"{each.gauge:.0f} kPa gauge ({each.absolute:.0f} kPa absolute)")
    if each.litres is not None:
        said.append(f"{each.litres:g} l")
    if each.celsius is not None:
        said.append(f"up to {each.celsius:g} degrees Celsius")
    return ", ".join(said)


def _rounded(value: float | None) -> float | None:
    return None if value is None else float(f"{value:.4g}")


# --- curves ------------------------------------------------------------------------------------------------


def curves_answer(
    appliance: Appliance, component: str, celsius: float | None = None, ohms: float | None = None
) -> ComponentCurves:
    """The curves of the sensors of a component: a table, the resistance at ``celsius``, or the temperature at ``ohms``.

    :raises NotFound: there is no such component.
    :raises BadRequest: it has no curve, or the value lies outside it; or both values are given.
    """
    known("component", [component], appliance.components)
    if celsius is not None and ohms is not None:
        raise BadRequest("Both a temperature and a resistance are given.", mend="Give celsius= or ohms=, not both.")
    links = [(link, link.curve) for link in appliance.circuit.links.values() if link.curve is not None]
    own = [(link, curve) for link, curve in links if link.component == component]
    if not own:
        others = sorted({link.component for link, _ in links})
        raise BadRequest(
            f"Nothing in {component_ref(appliance, component).label} follows a curve.",
            mend=f"Ask for {', '.join(others)}." if others else "No part of this model has a curve.",
        )
    try:
        notes = [_curve(link, curve, celsius, ohms) for link, curve in own]
    except (OutOfRange, ValueError) as error:
        raise BadRequest(str(error), mend="Give a value inside the range of the curve.") from error
    return ComponentCurves(
        model=model_ref(appliance),
        component=component_ref(appliance, component),
        ohms=ohms,
        curves=notes,
        revision=appliance.revision,
    )


def _curve(link: Link, curve: ResistanceCurve, celsius: float | None, ohms: float | None) -> CurveNote:
    lowest, highest = celsius_range(curve)
    low, high = max(lowest, _SHOWN[0]), min(highest, _SHOWN[1])
    shown = [celsius] if celsius is not None else [low + (high - low) * n / (_STEPS - 1) for n in range(_STEPS)]
    ends = [None, None] if ohms is None else _ends(curve, ohms, link.ohm_tolerance)
    return CurveNote(
        link=Ref(id=link.id, label=link.label),
        kind=curve.kind.value,
        lowest_celsius=round(lowest, 2),
        highest_celsius=round(highest, 2),
        table=[] if ohms is not None else [_point(curve, round(each, 2), link.ohm_tolerance) for each in shown],
        celsius=None if ohms is None else round(celsius_at(curve, ohms), 2),
        celsius_low=ends[0],
        celsius_high=ends[1],
    )


def _ends(curve: ResistanceCurve, ohms: float, tolerance: float) -> list[float | None]:
    """The temperatures at both ends of the part's tolerance, lower first; None where one lies outside the curve."""
    found: list[float | None] = []
    for factor in (1.0 / (1.0 + tolerance), 1.0 / (1.0 - tolerance) if tolerance < 1.0 else 1.0):
        try:
            found.append(round(celsius_at(curve, ohms * factor), 2))
        except (OutOfRange, ValueError):
            found.append(None)
    return sorted(found, key=lambda each: (each is None, each or 0.0))


def _point(curve: ResistanceCurve, celsius: float, tolerance: float) -> CurvePoint:
    ohms = ohms_at(curve, celsius)
    low, high = ohms * (1.0 - tolerance), ohms * (1.0 + tolerance)
    return CurvePoint(
        celsius=celsius,
        ohms=float(f"{ohms:.5g}"),
        ohms_low=float(f"{low:.5g}"),
        ohms_high=float(f"{high:.5g}"),
    )


# --- refrigerants ------------------------------------------------------------------------------------------


def saturation_answer(
    refrigerant: str,
    *,
    celsius: float | None = None,
    gauge: float | None = None,
    absolute: float | None = None,
    ambient: float = saturation.ATMOSPHERE,
) -> Saturation:
    """Pressure at a temperature, or temperature at a pressure in kilopascals, gauge or absolute.

    :raises NotFound: there is no such refrigerant.
    :raises BadRequest: not exactly one value is given, or it lies outside what the fit holds for.
    """
    slug = refrigerant.strip().lower().replace("-", "").replace(" ", "")
    if slug not in saturation.SERIES:
        raise NotFound("refrigerant", refrigerant, near(slug, list(saturation.SERIES), limit=3))
    if sum(value is not None for value in (celsius, gauge, absolute)) != 1:
        raise BadRequest(
            "A saturation needs one value: a temperature or a pressure.",
            mend="Give celsius=, kilopascals_gauge= or kilopascals_absolute=.",
        )
    try:
        if celsius is None:
            pressure = absolute if absolute is not None else saturation.absolute(gauge or 0.0, ambient)
            celsius = saturation.celsius_at(slug, pressure)
        else:
            pressure = saturation.kilopascals_at(slug, celsius)
    except OutOfRange as error:
        raise BadRequest(str(error), mend="Gauge and absolute pressures must not be mixed up.") from error
    return Saturation(
        refrigerant=Ref(id=slug, label=slug.upper().replace("A", "a")),
        flammable=slug in saturation.FLAMMABLE,
        celsius=round(celsius, 2),
        kilopascals_absolute=float(f"{pressure:.5g}"),
        kilopascals_gauge=round(saturation.gauge(pressure, ambient), 2),
        ambient_kilopascals=ambient,
        error=saturation.LARGEST_ERROR,
        source=saturation.SOURCES[slug],
    )
