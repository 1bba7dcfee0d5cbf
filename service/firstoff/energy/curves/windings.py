"""The start, run and common terminals of a single-phase motor, from the three resistances between them.

The two windings meet at the common terminal, so the largest of the three is the sum of the others and lies between the
two that are not common. Which of those is start and which is run resistance alone does not tell for certain: the start
winding usually has more ohms, not always. The content's nominal values decide.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations
from math import isinf

from firstoff.energy.curves.band import OutOfRange

AGREEMENT = 0.05
"""How far the sum of two readings may lie from the third, as a fraction, or ``FLOOR`` ohms. Common practice."""

FLOOR = 0.3
"""Ohms that leads and last digits may add. Common practice, no source."""


class WindingState(StrEnum):
    """What three readings say of the windings."""

    SOUND = "sound"
    OVERLOAD_OPEN = "overload_open"
    ONE_OPEN = "one_open"
    OPEN = "open"
    NO_SUM = "no_sum"


@dataclass(frozen=True, slots=True)
class Windings:
    """``common`` is None where it cannot be told; ``larger`` and ``smaller`` are the terminals at the far end of the
    winding with more and with fewer ohms, in ``ohms``. ``start`` and ``run`` are told where nominal values decide."""

    state: WindingState
    common: str | None = None
    larger: str | None = None
    smaller: str | None = None
    ohms: tuple[float, float] | None = None
    start: str | None = None
    run: str | None = None


def sorted_out(readings: Mapping[frozenset[str], float], nominal: tuple[float, float] | None = None) -> Windings:
    """What the readings between three terminals say: ohms for each pair of names, infinite for an open circuit.

    ``nominal`` are the ohms of the start and of the run winding, where they are known. Without them a single finite
    reading is taken for an open overload, the usual case. Raises ``OutOfRange`` where there are not three pairs of
    three names, or a reading is negative.
    """
    names = sorted(frozenset().union(*readings)) if readings else []
    pairs = [frozenset(pair) for pair in combinations(names, 2)]
    if len(names) != 3 or set(readings) != set(pairs) or any(not value >= 0.0 for value in readings.values()):
        raise OutOfRange("Three terminals have three resistances between them, none below zero.")
    open_pairs = [pair for pair in pairs if isinf(readings[pair])]
    if len(open_pairs) == 3:
        return Windings(WindingState.OPEN)
    if open_pairs:
        return _partly_open(readings, open_pairs, nominal)
    far = max(pairs, key=lambda pair: (readings[pair], sorted(pair)))
    (common,) = set(names) - far
    near = {name: readings[frozenset((common, name))] for name in far}
    total = sum(near.values())
    if min(readings.values()) == 0.0:
        # A winding that reads nothing is shorted, though the sum may be right.
        return Windings(WindingState.NO_SUM)
    if abs(total - readings[far]) > max(AGREEMENT * readings[far], FLOOR):
        return Windings(WindingState.NO_SUM, common)
    if max(near.values()) >= (1.0 - AGREEMENT) * readings[far]:
        # Two readings this alike could each be the largest: nothing is made of the difference.
        return Windings(WindingState.SOUND)
    larger, smaller = sorted(near, key=lambda name: (-near[name], name))
    found = Windings(WindingState.SOUND, common, larger, smaller, (near[larger], near[smaller]))
    if nominal is None or nominal[0] == nominal[1]:
        return found
    start, run = (larger, smaller) if nominal[0] > nominal[1] else (smaller, larger)
    return Windings(found.state, common, larger, smaller, found.ohms, start, run)


def _partly_open(
    readings: Mapping[frozenset[str], float], open_pairs: list[frozenset[str]], nominal: tuple[float, float] | None
) -> Windings:
    """One finite reading is that of both windings in a row with their common end cut off by the overload, or that of
    one winding with the other open: nominal values tell which. Two finite readings and an open one belong to no motor.
    """
    if len(open_pairs) == 1:
        return Windings(WindingState.NO_SUM)
    (cut,) = open_pairs[0] & open_pairs[1]
    finite = min(readings.values())
    if nominal is not None and min(abs(finite - each) for each in nominal) < abs(finite - sum(nominal)):
        return Windings(WindingState.ONE_OPEN)
    return Windings(WindingState.OVERLOAD_OPEN, common=cut)
