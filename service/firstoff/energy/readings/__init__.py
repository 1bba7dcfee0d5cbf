"""What a meter should read between two points of a circuit, and what a measured value says of its faults.

``branches`` turns a circuit in a situation into branches of known or unknown impedance, ``nodal`` solves them,
``values`` puts the solutions together into a value with its band, ``reading`` answers for a kind of reading,
``verdicts`` weighs a measured value against the faults.
"""

from firstoff.energy.readings.reading import Quantity, Reading, reading
from firstoff.energy.readings.setting import Setting
from firstoff.energy.readings.verdicts import Judged, Verdict, judged

__all__ = ["Judged", "Quantity", "Reading", "Setting", "Verdict", "judged", "reading"]
