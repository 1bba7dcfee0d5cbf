"""Which readings end a job on a machine, and their limits.

Every limit follows from the facts of the machine by one rule; where a fact is missing there is no limit. Where two
standards could hold, the stricter one is taken.
"""

from __future__ import annotations

from collections.abc import Callable
from math import floor

from firstoff.handover import standards
from firstoff.handover.facts import Facts
from firstoff.handover.standards import IEC_60335, NORTH_AMERICAN
from firstoff.handover.words import Limit, Measurement, Quantity

#: Volume resistivity of annealed copper at 20 degrees Celsius in ohm mm2/m (IEC 60028): the least that a cord can have,
#: so that the limit is never too high.
COPPER = 1 / 58

#: In DIN VDE 0701-0702 the lower insulation limit starts above this rated power, in watts.
_MUCH_HEATING = 3500.0
_FAMILY = "which standards the machine was built to (fo:builtTo)"
_CLASS = "the protection class (fo:protectionClass)"
_STATIONARY = "whether it is stationary (fo:stationary)"
_OPERATION = "whether it heats, is motor-operated or both (fo:operation)"
_WATTS = "the rated input (fo:ratedInput)"
_CORDED = "whether it has a cord or fixed wiring (fo:fixed of its mains)"
_LENGTH = "the length of the cord (fo:cordMetres)"
_SECTION = "the cross-section of the cord (fo:cordSquareMillimetres)"

#: Values that there are rules for.
_KNOWN: dict[str, tuple[object, ...]] = {
    _FAMILY: (IEC_60335, NORTH_AMERICAN),
    _CLASS: ("I", "II", "III"),
    _OPERATION: ("motor-operated", "heating", "combined"),
}

_EARTH_HOW = (
    "Supply isolated. With at least 10 A from no more than 12 V measure from the earth pin of the plug (fixed wiring: "
    "from the earth terminal) to every metal part that can be touched, those first whose earth was undone. Bend the "
    "cord meanwhile; the highest reading counts."
)
_INSULATION_HOW = (
    "Supply isolated, switches and programme contacts closed as far as they can be. With 500 V d.c. measure from all "
    "live conductors joined together to earth, or to metal that can be touched where there is no earth. Read after "
    "five seconds; discharge afterwards. Where a surge suppressor falsifies it, measure with 250 V and note that."
)
_LEAKAGE_HOW = (
    "All covers and earths back, earth continuity and insulation passed. Plug the machine into the tester, run it, and "
    "read the leakage current; where the plug goes in both ways round, read both. The highest reading counts."
)


def measurements(facts: Facts) -> tuple[Measurement, ...]:
    """The readings that end a job, in the order in which they are made: dead ones first."""
    return (_earth(facts), _insulation(facts), _leakage(facts))


def _earth(facts: Facts) -> Measurement:
    if facts.protection_class in ("II", "III"):
        return Measurement(
            Quantity.EARTH,
            _EARTH_HOW,
            needed=False,
            why_not=f"Protection class {facts.protection_class} has no protective earth.",
        )
    missing = _missing((_FAMILY, facts.built_to), (_CLASS, facts.protection_class))
    if not missing and facts.built_to == IEC_60335:
        missing = _missing((_CORDED, facts.corded))
        if facts.corded:
            missing = _missing((_LENGTH, facts.cord_metres), (_SECTION, facts.cord_square_millimetres))
    return Measurement(Quantity.EARTH, _EARTH_HOW, limit=None if missing else _earth_limit(facts), missing=missing)


def _earth_limit(facts: Facts) -> Limit:
    if facts.built_to == NORTH_AMERICAN:
        return Limit(
            standards.UL_GROUNDING, "Protection class I: from dead metal to the grounding blade of the plug.", 0.1
        )
    if not facts.corded:
        return Limit(standards.EN_50106, "Protection class I without a cord.", 0.1)
    length, section = facts.cord_metres or 0.0, facts.cord_square_millimetres or 1.0
    cord = COPPER * length / section
    why = (
        f"Protection class I: 0.1 ohm and the cord, {length:g} m of {section:g} mm2 copper or {cord:.3f} ohm at 20 "
        "degrees Celsius, rounded down."
    )
    return Limit(standards.EN_50106, why, floor((0.1 + cord) * 1000) / 1000)


def _insulation(facts: Facts) -> Measurement:
    missing = _missing((_FAMILY, facts.built_to), (_CLASS, facts.protection_class))
    if not missing and facts.built_to == IEC_60335 and facts.protection_class == "I":
        missing = _missing((_OPERATION, facts.operation))
        if facts.operation in ("heating", "combined"):
            missing = _missing((_WATTS, facts.rated_watts))
    limit = None if missing else _insulation_limit(facts)
    return Measurement(Quantity.INSULATION, _INSULATION_HOW, limit=limit, missing=missing)


def _insulation_limit(facts: Facts) -> Limit:
    if facts.built_to == NORTH_AMERICAN:
        least = 2.0 if facts.protection_class == "II" else 1.0
        return Limit(standards.USUAL_MEGOHM, f"Protection class {facts.protection_class}.", at_least=least)
    heats = facts.operation in ("heating", "combined") and (facts.rated_watts or 0.0) > _MUCH_HEATING
    if facts.protection_class == "I" and heats:
        why = f"Protection class I with heating elements, {_kilowatts(facts)} kW and so above 3.5 kW."
        return Limit(standards.VDE_0701_0702, why, at_least=0.3)
    least = {"I": 1.0, "II": 2.0, "III": 0.25}[facts.protection_class or "II"]
    return Limit(standards.VDE_0701_0702, f"Protection class {facts.protection_class}.", at_least=least)


def _leakage(facts: Facts) -> Measurement:
    missing = _missing((_FAMILY, facts.built_to), (_CLASS, facts.protection_class))
    if not missing and facts.protection_class == "I":
        missing = _missing((_STATIONARY, facts.stationary))
        if facts.built_to == IEC_60335 and facts.stationary:
            missing = _missing((_OPERATION, facts.operation))
            if facts.operation in ("heating", "combined"):
                missing = _missing((_WATTS, facts.rated_watts))
    rules: dict[str, Callable[[Facts], Limit]] = {IEC_60335: _leakage_iec, NORTH_AMERICAN: _leakage_ul}
    limit = None if missing else rules[facts.built_to or IEC_60335](facts)
    return Measurement(Quantity.LEAKAGE, _LEAKAGE_HOW, limit=limit, missing=missing, with_supply=True)


def _leakage_ul(facts: Facts) -> Limit:
    if facts.protection_class == "I" and facts.stationary:
        return Limit(standards.UL_101, "With a grounding conductor, stationary.", 0.75)
    said = "Portable." if facts.protection_class == "I" else "Without a grounding conductor."
    return Limit(standards.UL_101, said, 0.5)


def _leakage_iec(facts: Facts) -> Limit:
    if facts.protection_class == "II":
        return Limit(standards.IEC_60335_1, "Protection class II.", 0.25)
    if facts.protection_class == "III":
        return Limit(standards.IEC_60335_1_CLASS_III, "Protection class III.", 0.5)
    found = _leakage_class_one(facts)
    if facts.refrigerating and (found.at_most or 0.0) > 1.5:
        return Limit(standards.IEC_60335_2_24, "Protection class I, refrigerating: part 2 goes before part 1.", 1.5)
    return found


def _leakage_class_one(facts: Facts) -> Limit:
    """IEC 60335-1, 13.2: a combined appliance has the greater of the two limits (from memory), not their sum."""
    if not facts.stationary:
        return Limit(standards.IEC_60335_1, "Protection class I, portable.", 0.75)
    if facts.operation == "motor-operated":
        return Limit(standards.IEC_60335_1, "Protection class I, stationary, motor-operated.", 3.5)
    heating = min(max(0.75, round(0.75 * (facts.rated_watts or 0.0) / 1000, 3)), 5.0)
    said = f"{_kilowatts(facts)} kW: 0.75 mA or 0.75 mA for each kW, at most 5 mA."
    if facts.operation == "combined" and heating < 3.5:
        return Limit(
            standards.IEC_60335_1, "Protection class I, stationary, combined: as for motors, the greater.", 3.5
        )
    kind = "combined: as for heating, the greater" if facts.operation == "combined" else "heating"
    return Limit(standards.IEC_60335_1, f"Protection class I, stationary, {kind}, {said}", heating)


def _kilowatts(facts: Facts) -> str:
    return f"{(facts.rated_watts or 0.0) / 1000:g}"


def _missing(*needed: tuple[str, object]) -> tuple[str, ...]:
    """The names of facts that are not told; one without a rule here, such as another standard, counts as not told."""
    return tuple(name for name, value in needed if value is None or value not in _KNOWN.get(name, (value,)))
