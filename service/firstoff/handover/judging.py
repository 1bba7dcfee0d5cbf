"""Readings of an instrument, and what they say against a limit."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import isfinite
from unicodedata import normalize

from firstoff.handover.errors import ReadingRefused, UnitRefused
from firstoff.handover.words import Measurement, Quantity


class Verdict(StrEnum):
    """Of one reading, one line or a whole record. Only ``PASS`` lets a machine be handed over."""

    PASS = "pass"
    FAIL = "fail"
    NOT_MEASURED = "not_measured"
    UNKNOWN = "unknown"
    NOT_APPLICABLE = "not_applicable"


#: Units as instruments spell them, and what a value is multiplied or divided by to be in the unit of the limit. Milli
#: and mega are no units of one quantity, so that none is taken for the other.
_MULTIPLY = {
    Quantity.EARTH: {"ohm": 1.0, "ohms": 1.0, "\u03a9": 1.0},
    Quantity.INSULATION: {
        **dict.fromkeys(("Mohm", "megohm", "megohms", "M\u03a9"), 1.0),
        **dict.fromkeys(("Gohm", "G\u03a9"), 1000.0),
    },
    Quantity.LEAKAGE: {"mA": 1.0},
}
_DIVIDE = {
    Quantity.EARTH: dict.fromkeys(("mohm", "milliohm", "milliohms", "m\u03a9"), 1000.0),
    Quantity.INSULATION: dict.fromkeys(("kohm", "k\u03a9"), 1000.0),
    Quantity.LEAKAGE: dict.fromkeys(("uA", "\u03bcA"), 1000.0),
}
#: Beyond what instruments show, in the unit of the limit.
_MOST = {Quantity.EARTH: 1e6, Quantity.INSULATION: 1e7, Quantity.LEAKAGE: 1e4}


@dataclass(frozen=True, slots=True)
class Reading:
    """What an instrument showed. ``over_range``: it showed more than ``value``, the end of its range."""

    quantity: Quantity
    value: float
    unit: str
    over_range: bool = False

    def in_unit_of_limit(self) -> float:
        """The value in ohms, megohms or milliamperes.

        :raises UnitRefused: the unit is none of the quantity's.
        :raises ReadingRefused: the value is negative, not finite, or more than any instrument shows.
        """
        many, few = _MULTIPLY[self.quantity], _DIVIDE[self.quantity]
        unit = normalize("NFKC", self.unit.strip())  # one spelling each of the ohm and the micro sign
        if unit not in many and unit not in few:
            raise UnitRefused(self.quantity.value, self.unit, [name for name in (*many, *few) if name.isascii()])
        if not isfinite(self.value) or self.value < 0:
            raise ReadingRefused(
                f"{self.value:g} {self.unit} is no reading of {self.quantity.value}.",
                "Enter the number on the instrument, 0 or more. Where it shows more than its range, enter the end of "
                "the range and say over range.",
            )
        found = self.value * many[unit] if unit in many else self.value / few[unit]
        if found > _MOST[self.quantity]:
            raise ReadingRefused(
                f"{self.value:g} {self.unit} is more than any instrument shows of {self.quantity.value}.",
                "Look at the unit. Where the instrument shows more than its range, enter the end of the range and say "
                "over range.",
            )
        return found


def judged(reading: Reading, measurement: Measurement) -> Verdict:
    """What one reading says. Over range it says what holds for every value above.

    :raises HandoverError: the reading makes no sense.
    """
    value = reading.in_unit_of_limit()
    limit = measurement.limit
    if limit is None:
        return Verdict.UNKNOWN
    if not reading.over_range:
        return Verdict.PASS if limit.holds(value) else Verdict.FAIL
    if limit.at_most is not None:
        return Verdict.FAIL if value >= limit.at_most else Verdict.UNKNOWN
    return Verdict.PASS if limit.holds(value) else Verdict.UNKNOWN


def verdict(readings: Sequence[Reading], measurement: Measurement) -> Verdict:
    """What all readings of one measurement say: the worst counts.

    :raises HandoverError: a reading makes no sense.
    """
    found = {judged(each, measurement) for each in readings}
    if not measurement.needed:
        return Verdict.NOT_APPLICABLE
    for worst in (Verdict.FAIL, Verdict.UNKNOWN, Verdict.PASS):
        if worst in found:
            return worst
    return Verdict.NOT_MEASURED


def overall(verdicts: Iterable[Verdict]) -> Verdict:
    """Of a whole record: pass only where every line that applies passes and one does at least."""
    found = set(verdicts) - {Verdict.NOT_APPLICABLE}
    if Verdict.FAIL in found:
        return Verdict.FAIL
    if found == {Verdict.PASS}:
        return Verdict.PASS
    return Verdict.UNKNOWN if Verdict.UNKNOWN in found else Verdict.NOT_MEASURED
