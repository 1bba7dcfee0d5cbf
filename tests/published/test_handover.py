"""The limits of the safety record against the values of their sources.

How each value was confirmed stands beside it: S quoted in a text that could be read, M from memory.
"""

from __future__ import annotations

import pytest

from firstoff.handover import Facts, Quantity, measurements


def limit(quantity: Quantity, **facts: object) -> float:
    (found,) = (each for each in measurements(Facts(**facts)) if each.quantity is quantity)  # type: ignore[arg-type]
    assert found.limit is not None
    value = found.limit.at_most if found.limit.at_most is not None else found.limit.at_least
    assert value is not None
    return value


CLASS_I = {"built_to": "iec-60335", "protection_class": "I", "stationary": True, "operation": "motor-operated"}


#: length in metres, cross-section in mm2, least and most that the cord may add in ohms
CORDS = [
    # IEC 60228, flexible copper (classes 5 and 6), highest resistance at 20 degrees Celsius (S): 26.0, 19.5, 13.3 and
    # 7.98 ohm/km for 0.75, 1, 1.5 and 2.5 mm2. The least is that of solid annealed copper, IEC 60028 (S): 1/58 ohm
    # mm2/m. The limit counts the least, so that it is never too high.
    (2.0, 0.75, 0.0459, 0.0520),
    (2.0, 1.0, 0.0344, 0.0390),
    (3.0, 1.5, 0.0344, 0.0399),
    (5.0, 2.5, 0.0344, 0.0399),
]


@pytest.mark.parametrize(("metres", "section", "least", "most"), CORDS)
def test_earth_with_a_cord(metres: float, section: float, least: float, most: float) -> None:
    """EN 50106:2008, routine test of earth continuity (S): 0.2 ohm, or 0.1 ohm and the resistance of the cord.

    IEC 60335-1, 27.5 (M) has 0.1 ohm without the cord.
    """
    found = limit(Quantity.EARTH, **CLASS_I, corded=True, cord_metres=metres, cord_square_millimetres=section)
    assert least - 0.001 <= found - 0.1 <= most
    assert found == pytest.approx(0.1 + metres / section / 58, abs=0.001)


def test_earth_without_a_cord() -> None:
    """EN 50106:2008 (S): 0.1 ohm for appliances without a supply cord."""
    assert limit(Quantity.EARTH, **CLASS_I, corded=False) == 0.1


def test_grounding_in_north_america() -> None:
    """UL 859, 57.1 (S): dead metal to the grounding blade of the plug, 0.1 ohm; so UL 507, 42.1 and UL 1086, 34.1."""
    assert limit(Quantity.EARTH, built_to="north-american", protection_class="I") == 0.1


#: protection class, operation, rated watts, megohms
MEGOHMS = [
    # DIN VDE 0701-0702:2008-06 in the manual of an appliance tester (S)
    ("I", "motor-operated", 500.0, 1.0),
    ("I", "heating", 3500.0, 1.0),
    ("I", "heating", 3600.0, 0.3),
    ("II", "motor-operated", 500.0, 2.0),
    ("III", "motor-operated", 50.0, 0.25),
]


@pytest.mark.parametrize(("protection_class", "operation", "watts", "expected"), MEGOHMS)
def test_insulation(protection_class: str, operation: str, watts: float, expected: float) -> None:
    found = limit(
        Quantity.INSULATION,
        built_to="iec-60335",
        protection_class=protection_class,
        operation=operation,
        rated_watts=watts,
    )
    assert found == expected


#: protection class, stationary, operation, rated watts, milliamperes
MILLIAMPERES = [
    # IEC 60335-1, 13.2, of an older edition (S): class II 0.25; portable class I 0.75; stationary motor-operated
    # class I 3.5; stationary heating class I the greater of 0.75 and 0.75 for each kW, at most 5
    ("II", True, "motor-operated", 500.0, 0.25),
    ("I", False, "motor-operated", 500.0, 0.75),
    ("I", False, "heating", 2000.0, 0.75),
    ("I", True, "motor-operated", 500.0, 3.5),
    ("I", True, "heating", 800.0, 0.75),
    ("I", True, "heating", 2000.0, 1.5),
    ("I", True, "heating", 5400.0, 4.05),
    ("I", True, "heating", 6666.0, 5.0),
    ("I", True, "heating", 9000.0, 5.0),
    # class III 0.5 (M); combined: the greater of the two (M)
    ("III", True, "motor-operated", 500.0, 0.5),
    ("I", True, "combined", 2000.0, 3.5),
    ("I", True, "combined", 5400.0, 4.05),
]


@pytest.mark.parametrize(("protection_class", "stationary", "operation", "watts", "expected"), MILLIAMPERES)
def test_leakage(protection_class: str, stationary: bool, operation: str, watts: float, expected: float) -> None:
    found = limit(
        Quantity.LEAKAGE,
        built_to="iec-60335",
        protection_class=protection_class,
        stationary=stationary,
        operation=operation,
        rated_watts=watts,
    )
    assert found == pytest.approx(expected, abs=0.0006)


def test_leakage_of_refrigerating_appliances() -> None:
    """IEC 60335-2-24, 13.2 (M): 1.5 mA for class I, in place of the values of part 1."""
    assert limit(Quantity.LEAKAGE, **CLASS_I, refrigerating=True) == 1.5


#: stationary, milliamperes: UL 101 as quoted for UL 8750, 8.7.1 (S): 0.5 portable, 0.75 stationary or fixed
NORTH_AMERICA = [(False, 0.5), (True, 0.75)]


@pytest.mark.parametrize(("stationary", "expected"), NORTH_AMERICA)
def test_leakage_in_north_america(stationary: bool, expected: float) -> None:
    assert limit(Quantity.LEAKAGE, built_to="north-american", protection_class="I", stationary=stationary) == expected
