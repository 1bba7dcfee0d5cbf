"""How things stand between two steps: which faults are possible, what is open, which checks were made."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Situation:
    """``shares`` pairs fault and share, sorted, none of them nil; ``made`` are the checks made."""

    shares: tuple[tuple[str, float], ...]
    opened: frozenset[str] = frozenset()
    made: frozenset[str] = frozenset()


def situation(
    shares: Mapping[str, float], opened: frozenset[str] = frozenset(), made: frozenset[str] = frozenset()
) -> Situation:
    """A situation with ``shares`` made to sum to 1; raises ``ValueError`` where there is none."""
    total = math.fsum(shares.values())
    if total <= 0:
        raise ValueError("no fault has a share")
    # Rounded, so that orders of the same findings meet in the memory.
    kept = tuple((fault, round(share / total, 12)) for fault, share in sorted(shares.items()) if share / total > 1e-12)
    return Situation(kept, opened, made)
