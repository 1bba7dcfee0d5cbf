"""No good part is condemned: what is dear or fails rarely is replaced only after a check that confirms it.

A check confirms a fault where one of its outcomes speaks for it. Look-alikes are faults with a symptom in common whose
remedy costs less: the connector, the lead, the supply.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from firstoff.appliance.model import Appliance, Component, Fault, Remedy

#: A part fails rarely where its replacement ends no more than this share of all that goes wrong. Common practice.
RARE = 0.01
#: What a remedy costs besides the work, in order; a part whose price is not told counts as dear.
_BANDS = {"small": 1, "middle": 2, "dear": 3}
_REFERRED = 2


@dataclass(frozen=True, slots=True)
class Guard:
    """Why ``part`` is not replaced on suspicion: ``dear``, ``price not told`` or ``fails rarely``."""

    part: str
    why: str


def guard(appliance: Appliance, remedy: Remedy) -> Guard | None:
    """The guard on a remedy; None where it may be tried on suspicion."""
    part = _part(appliance, remedy)
    if part is None:
        return None
    if part.price_band is None:
        return Guard(part.id, "price not told")
    if part.price_band.id == "dear":
        return Guard(part.id, "dear")
    ended = sum(fault.relative_frequency for fault in appliance.faults.values() if _ended(fault, remedy))
    every = sum(fault.relative_frequency for fault in appliance.faults.values())
    return Guard(part.id, "fails rarely") if ended <= RARE * every else None


def confirming(appliance: Appliance, fault: str) -> frozenset[str]:
    """The checks of which an outcome speaks for ``fault``."""
    return frozenset(
        check.id
        for check in appliance.checks.values()
        if any(fault in outcome.speaks_for and not outcome.healthy for outcome in check.outcomes)
    )


def cost(appliance: Appliance, remedy: Remedy) -> int:
    """What a remedy costs besides the work: 0 nothing, 1 small, 2 middle, 3 dear or not told."""
    part = _part(appliance, remedy)
    if part is None:
        return _REFERRED if remedy.kind.id == "refer" else 0
    return _BANDS.get(part.price_band.id, 3) if part.price_band is not None else 3


def look_alikes(
    appliance: Appliance, fault: str, shares: Mapping[str, float], present: Iterable[str] = ()
) -> tuple[str, ...]:
    """Faults still possible that look like ``fault`` and cost less to end, the cheapest first, then the likeliest.

    They share a symptom: one of ``present`` where the fault lists any of those, else any it lists.
    """
    own = _symptoms(appliance.faults[fault])
    shown = own & frozenset(present) or own
    least = _least(appliance, fault)
    found = [
        (_least(appliance, other), -share, other)
        for other, share in shares.items()
        if share > 0 and other != fault and shown & _symptoms(appliance.faults[other])
    ]
    return tuple(other for costs, _, other in sorted(found) if costs < least)


def _least(appliance: Appliance, fault: str) -> int:
    return min((cost(appliance, remedy) for remedy in appliance.faults[fault].remedies), default=3)


def _part(appliance: Appliance, remedy: Remedy) -> Component | None:
    """The part, or the unit it comes in, that a replacement takes."""
    part = appliance.components.get(remedy.component or "")
    if remedy.kind.id != "replace" or part is None:
        return None
    return appliance.components.get(part.replaced_as or "", part)


def _ended(fault: Fault, remedy: Remedy) -> bool:
    return any(each.id == remedy.id for each in fault.remedies)


def _symptoms(fault: Fault) -> frozenset[str]:
    return frozenset(effect.symptom for effect in fault.effects)
