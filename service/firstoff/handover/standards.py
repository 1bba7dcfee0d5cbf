"""The documents that limits are from, and how each value was confirmed.

Numbers only are taken from them. The edition is a field of every limit: editions differ, and local codes may ask for
another.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Confirmed = Literal["secondary text", "from memory", "common practice, no source"]


@dataclass(frozen=True, slots=True)
class Standard:
    """``clause`` is empty where none is known. ``confirmed``: how the value was come by."""

    title: str
    edition: str
    clause: str = ""
    confirmed: Confirmed = "from memory"


#: The families of standards that limits are known of.
IEC_60335, NORTH_AMERICAN = "iec-60335", "north-american"

#: Earth at the end of production: 0.1 ohm, or with a cord 0.1 ohm and the cord. Quoted in a catalogue of standards.
EN_50106 = Standard("EN 50106, routine tests of household appliances", "2008", "annex A.1", "secondary text")

#: Insulation after repair: I 1, I with heating above 3.5 kW 0.3, II 2, III 0.25 megohm. Quoted in a manufacturer's
#: manual of an appliance tester. Split in 2021 into EN 50678 (after repair) and EN 50699 (recurrent).
VDE_0701_0702 = Standard(
    "DIN VDE 0701-0702, tests after repair and recurrent tests (now EN 50678 and EN 50699)",
    "2008-06",
    "insulation resistance",
    "secondary text",
)

#: Leakage current by class, of an older edition: later ones tell some of the limits as peak values.
IEC_60335_1 = Standard("IEC 60335-1, leakage current", "4th edition, 2001", "13.2", "secondary text")
IEC_60335_1_CLASS_III = Standard("IEC 60335-1, leakage current", "4th edition, 2001", "13.2", "from memory")

#: 1.5 mA for refrigerating appliances of class I, in place of the values of part 1.
IEC_60335_2_24 = Standard(
    "IEC 60335-2-24, leakage current of refrigerating appliances", "6th edition, 2002", "13.2", "from memory"
)

#: 0.1 ohm from dead metal to the grounding blade of the plug, alike in several appliance standards of UL. The clause of
#: the standard for clothes dryers, UL 2158, is not confirmed.
UL_GROUNDING = Standard(
    "UL 859, continuity of grounding (alike in UL 507 and UL 1086)", "edition not confirmed", "57.1", "secondary text"
)

#: 0.5 mA with two wires or portable, 0.75 mA with a grounding conductor and stationary; quoted for UL 8750, 8.7.1.
UL_101 = Standard("UL 101, leakage current for utilization equipment", "2019-12", "", "secondary text")

#: North American standards test the dielectric in production; after repair 1 megohm at 500 V d.c. is usual.
USUAL_MEGOHM = Standard("workshop practice", "no document", "", "common practice, no source")
