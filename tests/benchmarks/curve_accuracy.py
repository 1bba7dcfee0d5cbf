"""Prints how far each curve is from its reference: ``python tests/benchmarks/curve_accuracy.py``."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from firstoff.energy.curves.copper import copper_ohms
from firstoff.energy.curves.platinum import platinum_celsius, platinum_ohms
from firstoff.energy.curves.saturation import COLDEST, HOTTEST, SERIES, celsius_at, kilopascals_at
from firstoff.energy.curves.thermistor import beta_ohms, polynomial_celsius, polynomial_ohms
from published.test_curves import PT100, TERMS
from support.fit_saturation import reference

TEMPERATURES = [float(value) for value in np.linspace(COLDEST, HOTTEST, 5001)]


def rows() -> list[tuple[str, str, str]]:
    """Each curve, its reference, and the greatest difference."""
    found = []
    for refrigerant in SERIES:
        off = max(abs(kilopascals_at(refrigerant, t) / reference(refrigerant, t) - 1) for t in TEMPERATURES)
        back = max(abs(celsius_at(refrigerant, kilopascals_at(refrigerant, t)) - t) for t in TEMPERATURES[1:-1])
        found.append(
            (f"saturation {refrigerant}", f"CoolProp, {COLDEST:g} to {HOTTEST:g} C", f"{off:.4%}; back {back:.1e} K")
        )
    off = max(abs(platinum_ohms(t) - ohms) for t, ohms in PT100)
    back = max(abs(platinum_celsius(platinum_ohms(float(t))) - t) for t in np.linspace(-200, 850, 5001))
    found.append(("Pt100", "table of IEC 60751", f"{off:.4f} ohm; back {back:.1e} K"))
    table = [(96_358, -20.01), (32_554, -0.01), (10_000, 25.0), (3_606, 50.0)]
    off = max(abs(polynomial_celsius(10_000, TERMS, ohms) - t) for ohms, t in table)
    found.append(("thermistor, four terms", "datasheet", f"{off:.4f} K"))
    for celsius in (-20, 0, 50):
        off = beta_ohms(10_000, 25, 3977, celsius) / polynomial_ohms(10_000, TERMS, celsius) - 1
        found.append((f"thermistor by B at {celsius} C", "four terms", f"{off:+.1%}"))
    off = max(abs(copper_ohms(1, t) - (234.5 + t) / 254.5) for t in (0, 60, 100, 200))
    found.append(("copper, 0 to 200 C", "234.5 form", f"{off:.1e} of the resistance at 20"))
    return found


if __name__ == "__main__":
    for curve, against, difference in rows():
        print(f"{curve:30} {against:24} {difference}")
