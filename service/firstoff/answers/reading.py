"""What a meter should read, as a contract answer."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from math import inf, isinf

from firstoff.answers.faults_assumed import asked_rightly, assumptions_of
from firstoff.answers.names import capacitors, known, taken_off
from firstoff.answers.notes import model_ref
from firstoff.appliance.model import Appliance
from firstoff.energy import situation_of
from firstoff.energy.assume import Assumption
from firstoff.energy.curves import resistance_of
from firstoff.energy.readings import Judged, Quantity, Reading, Setting, judged, reading
from firstoff.energy.readings.setting import ROOM_CELSIUS
from firstoff.energy.readings.values import Value
from firstoff.energy.readings.verdicts import fits
from firstoff.errors import BadRequest
from firstoff_contract.common import Ref
from firstoff_contract.reading import Expected, FaultReading, ReadingAnswer

QUANTITIES = ("voltage", "ac-voltage", "dc-voltage", "resistance")
"""What may be asked for; ``voltage`` is the alternating or the direct one, whichever shows more."""

_MEASURED = re.compile(r"\s*([0-9]*\.?[0-9]+(?:[eE][+-]?[0-9]+)?)\s*([kKmM]?)\s*(V|v|volts?|ohms?|Ω|Ω)?\s*")
_OPEN = frozenset({"ol", "inf", "open", "∞"})
_NOTHING_VOLTS = 1.0
_ORDER = {"supports": 0, "fits_too": 1, "tells_nothing": 2, "rules_out": 3, None: 2}


@dataclass(frozen=True, slots=True)
class ReadingRequest:
    """What is asked of a meter: two points, a quantity, and how the machine stands."""

    between: tuple[str, ...]
    quantity: str = "voltage"
    opened: tuple[str, ...] = ()
    actuated: tuple[str, ...] = ()
    off: tuple[str, ...] = ()
    released: tuple[str, ...] = ()
    assume: tuple[str, ...] = ()
    celsius: float | None = None
    measured: str | None = None
    serial: str | None = None


@dataclass(frozen=True, slots=True)
class Taken:
    """A reading that was asked for, with how the machine stands, what is measured (infinite: open) and what it says."""

    between: tuple[str, str]
    setting: Setting
    off: frozenset[str]
    assumed: tuple[Assumption, ...]
    found: Reading
    measured: float | None
    judged: tuple[Judged, ...]

    @property
    def fits(self) -> bool | None:
        """Whether the measured value fits the machine as assumed; None where nothing was measured or is known."""
        return _fits(self.measured, self.found)


def taken(appliance: Appliance, asked: ReadingRequest) -> Taken:
    """What the meter should read, and what a measured value says of the faults.

    :raises NotFound: a name is unknown; carries the nearest names.
    :raises BadRequest: the question makes no sense: not two points, no such quantity, a value nobody can read, ohms of
        something live, or faults that contradict each other.
    """
    red, black = _two_points(appliance, asked.between)
    circuit = appliance.circuit
    opened = known("device", asked.opened, circuit.devices)
    actuated = known("device", asked.actuated, circuit.devices)
    off, ways = taken_off(appliance, asked.off)
    released = known("capacitor", asked.released, capacitors(appliance))
    faults = assumptions_of(circuit, asked.assume)
    celsius = ROOM_CELSIUS if asked.celsius is None else asked.celsius
    setting = Setting(situation_of(appliance, opened, off, released, ways), actuated, celsius)
    measured = None if asked.measured is None else measured_value(asked.measured)
    with asked_rightly():
        found = _taken(appliance, asked.quantity, red, black, setting, faults)
        others = judged(appliance, red, black, found, setting, resistance_of, measured, faults)
    return Taken((red, black), setting, off, tuple(faults), found, measured, others)


def reading_answer(appliance: Appliance, asked: ReadingRequest) -> ReadingAnswer:
    """The expected value with its band, what could mislead, what a measured value says. Raises as ``taken`` does."""
    got = taken(appliance, asked)
    circuit, found, quantity, measured = appliance.circuit, got.found, got.found.quantity, got.measured
    return ReadingAnswer.model_validate(
        {
            "model": model_ref(appliance),
            "between": [Ref(id=slug, label=circuit.points[slug].label) for slug in got.between],
            "quantity": quantity.value,
            "unit": _unit(quantity),
            "opened": sorted(set(asked.opened)),
            "actuated": sorted(got.setting.actuated),
            "off": sorted(got.off),
            "released": sorted(set(asked.released)),
            "assume": [fault.text for fault in got.assumed],
            "celsius": got.setting.celsius,
            "expected": expected_value(appliance, found),
            "declared": found.declared,
            "low_impedance": None if found.low_impedance is None else _rounded(found.low_impedance),
            "ghost_volts": None if found.ghost_volts is None else _rounded(found.ghost_volts),
            "turned": None if found.turned is None else _expected(appliance, found.turned, quantity),
            "through": [_thing(appliance, slug) for slug in found.through],
            "capacitors": [_thing(appliance, slug) for slug in found.capacitors],
            "notes": reading_notes(appliance, found),
            "measured": None if measured is None or isinf(measured) else measured,
            "measured_open": measured is not None and isinf(measured),
            "fits": got.fits,
            "faults": sorted(
                (_fault(appliance, each, quantity) for each in got.judged),
                key=lambda each: (_ORDER[each.verdict], each.fault is None, each.label),
            ),
            "revision": appliance.revision,
        }
    )


def expected_value(appliance: Appliance, found: Reading) -> Expected:
    """The value a reading should show, in words too."""
    return _shorted(appliance, found) or _expected(appliance, found.value, found.quantity)


def _two_points(appliance: Appliance, between: Iterable[str]) -> tuple[str, str]:
    named = list(between)
    known("point", named, appliance.circuit.points)
    if len(named) != 2:
        raise BadRequest(
            f"A meter goes to two points; {len(named)} are given.", mend="Give between= twice, each with a point."
        )
    return named[0], named[1]


def measured_value(text: str) -> float:
    """A value as it is read off a meter: ``230``, ``12.4 kohm``, ``OL`` (infinite).

    :raises BadRequest: nobody can read it.
    """
    if text.strip().lower() in _OPEN:
        return inf
    found = _MEASURED.fullmatch(text)
    if found is None:
        raise BadRequest(f"{text!r} is no value of a meter.", mend="Give a number, such as 230 or 12.4 kohm, or OL.")
    value = float(found[1]) * {"k": 1e3, "K": 1e3, "m": 1e-3, "M": 1e6, "": 1.0}[found[2]]
    if isinf(value):
        raise BadRequest(f"{text!r} is no value of a meter.", mend="Give OL for an open circuit.")
    return value


def _taken(
    appliance: Appliance, asked: str, red: str, black: str, setting: Setting, faults: list[Assumption]
) -> Reading:
    """The reading of the quantity asked for; for ``voltage`` that of the kind of current that shows more.

    A value that is declared goes before one that is unknown, and what is unknown before nothing.
    """
    if asked not in QUANTITIES:
        raise BadRequest(f"{asked!r} is no quantity of a meter.", mend=f"Give {', '.join(QUANTITIES)}.")
    if asked != "voltage":
        return reading(appliance.circuit, red, black, Quantity(asked), setting, resistance_of, faults)
    taken = [
        reading(appliance.circuit, red, black, quantity, setting, resistance_of, faults)
        for quantity in (Quantity.AC, Quantity.DC)
    ]
    return max(taken, key=_shows)


def _shows(found: Reading) -> tuple[int, float]:
    volts = found.value.nominal or 0.0
    if found.declared or volts >= _NOTHING_VOLTS:
        return 2, volts
    return (1, 0.0) if not found.value.known else (0, volts)


def _unit(quantity: Quantity) -> str:
    return "ohm" if quantity is Quantity.OHMS else "V"


def _rounded(value: float) -> float:
    """Four digits, or a millionth where there is nothing: more than any meter shows."""
    return 0.0 if abs(value) < 1e-4 else float(f"{value:.4g}")


def _expected(appliance: Appliance, value: Value, quantity: Quantity) -> Expected:
    if value.nominal is None:
        things = [_thing(appliance, slug) for slug in value.depends_on]
        named = ", ".join(thing.label for thing in things)
        return Expected(
            known=False, nominal=None, low=None, high=None, depends_on=things, text=f"unknown: it depends on {named}"
        )
    nominal, low, high = (None if each is None or isinf(each) else _rounded(each) for each in _band(value))
    unit = _unit(quantity)
    if nominal is None:
        text = "open circuit (OL)"
    elif high is None:
        text = f"{nominal:g} {unit}, from {low:g} {unit} to an open circuit"
    else:
        text = f"{nominal:g} {unit} ({low:g} to {high:g})" if high > (low or 0.0) else f"{nominal:g} {unit}"
    return Expected(known=True, nominal=nominal, low=low, high=high, open_circuit=nominal is None, text=text)


def _shorted(appliance: Appliance, found: Reading) -> Expected | None:
    if not found.shorted:
        return None
    things = [_thing(appliance, slug) for slug in found.shorted]
    named = ", ".join(thing.label for thing in things)
    text = f"nothing: as it stands {named} is shorted; say with opened= which contacts are open then"
    return Expected(known=False, nominal=None, low=None, high=None, depends_on=things, text=text)


def _band(value: Value) -> tuple[float | None, float | None, float | None]:
    return value.nominal, value.low, value.high


def _thing(appliance: Appliance, slug: str) -> Ref:
    circuit = appliance.circuit
    for kind in (circuit.links, circuit.sources, circuit.points):
        if slug in kind:
            return Ref(id=slug, label=kind[slug].label)
    return Ref(id=slug, label=slug.replace("-", " "))


def reading_notes(appliance: Appliance, found: Reading) -> list[str]:
    """What to know before a reading is believed."""
    notes = []
    if found.quantity is not Quantity.OHMS:
        notes.append(
            "Measuring live: guards on, probes clipped on dead, supply restored, read hands off. "
            "A meter that reads 0 V proves nothing dead unless it was proved before and after."
        )
    if found.ghost_volts is not None:
        notes.append(
            f"A 10-megohm meter may show up to {_rounded(found.ghost_volts):g} V here that are only strays. "
            "Measure again at low impedance before you believe it."
        )
    if found.shorted:
        names = ", ".join(_thing(appliance, slug).label for slug in found.shorted)
        notes.append(f"This shorts {names}: a fuse or breaker opens, and nothing can be read.")
    if found.turned is not None:
        notes.append("The plug fits both ways round: the value differs when it is turned.")
    if found.declared:
        notes.append("This value is told by the content; behind a rectifier it is not computed.")
    if len(found.through) > 1:
        names = ", ".join(_thing(appliance, slug).label for slug in found.through)
        notes.append(f"In circuit the ohmmeter reads through {names}. Unplug one side to read a part alone.")
    if found.capacitors:
        notes.append("Capacitors are in the circuit: discharge them first; the reading starts low and climbs.")
    if found.lower_assumed and found.quantity is Quantity.AC:
        notes.append("How far the supply may fall is not told; its upper tolerance is taken both ways.")
    return notes


def _fits(measured: float | None, found: Reading) -> bool | None:
    bands = [value for value in (found.value, found.turned) if value is not None]
    if measured is None or any(not value.known for value in bands):
        return None
    return any(fits(measured, value, found.quantity) for value in bands)


def _fault(appliance: Appliance, each: Judged, quantity: Quantity) -> FaultReading:
    described = appliance.faults.get(each.fault or "")
    things = ", ".join(_thing(appliance, fault.subject).label for fault in each.assumptions)
    said = f"{things}: {each.assumptions[0].kind.value.replace('-', ' ')}"
    return FaultReading.model_validate(
        {
            "fault": None if described is None else Ref(id=described.id, label=described.label),
            "assume": [fault.text for fault in each.assumptions],
            "label": described.label if described is not None else said,
            "expected": None if each.reading is None else _expected(appliance, each.reading.value, quantity),
            "verdict": None if each.verdict is None else each.verdict.value,
        }
    )
