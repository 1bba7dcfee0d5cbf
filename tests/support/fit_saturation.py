"""Fits the saturation series of ``firstoff.energy.curves.saturation`` to CoolProp and prints them with their errors.

``python tests/support/fit_saturation.py`` prints what stands in that module.
"""

from __future__ import annotations

import numpy as np
from CoolProp.CoolProp import PropsSI

from firstoff.energy.curves.saturation import COLDEST, HOTTEST

DEGREE = 6


def reference(refrigerant: str, celsius: float) -> float:
    """Saturation pressure in kilopascals by CoolProp's equation of state."""
    return float(PropsSI("P", "T", celsius + 273.15, "Q", 1, refrigerant.upper().replace("A", "a"))) / 1000.0


def fitted(refrigerant: str) -> tuple[list[float], float]:
    """The coefficients, rounded as they are kept, and their largest error as a fraction."""
    celsius = np.linspace(COLDEST, HOTTEST, 2001)
    pressures = np.array([reference(refrigerant, each) for each in celsius])
    inverse = 1.0 / (celsius + 273.15)
    x = (2.0 * inverse - (inverse[0] + inverse[-1])) / (inverse[0] - inverse[-1])
    series = [round(float(each), 7) for each in np.polynomial.chebyshev.chebfit(x, np.log(pressures), DEGREE)]
    errors = np.exp(np.polynomial.chebyshev.chebval(x, series)) / pressures - 1.0
    return series, float(np.abs(errors).max())


if __name__ == "__main__":
    for each in ("r134a", "r290", "r600a"):
        print(each, *fitted(each))
