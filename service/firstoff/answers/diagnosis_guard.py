"""Parts that must not be condemned yet, as contract notes: cheaper look-alikes first, then what confirms."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from firstoff.appliance.model import Appliance, Remedy
from firstoff.diagnosis import confirming, guard, look_alikes
from firstoff_contract.common import Ref
from firstoff_contract.diagnosis import GuardNote

#: Look-alikes that are told, the cheapest first.
MOST_ALIKE = 6


def guard_note(
    appliance: Appliance,
    fault: str,
    shares: Mapping[str, float],
    present: Iterable[str],
    made: frozenset[str],
) -> GuardNote | None:
    """None where ``fault`` has a remedy that replaces nothing dear or rarely failing. ``made`` are the checks made."""
    guards = [guard(appliance, remedy) for remedy in appliance.faults[fault].remedies]
    first = next(iter(guards), None)
    if first is None or None in guards:
        return None
    checks = sorted(confirming(appliance, fault), key=lambda each: (appliance.checks[each].minutes, each))
    alike = look_alikes(appliance, fault, shares, present)[:MOST_ALIKE]
    return GuardNote(
        part=Ref(id=first.part, label=appliance.components[first.part].label),
        why=first.why,
        look_alikes=[Ref(id=each, label=appliance.faults[each].label) for each in alike],
        confirm=[_check_ref(appliance, each) for each in checks if each not in made],
        confirmed_by=[_check_ref(appliance, each) for each in checks if each in made],
    )


def gated_by(appliance: Appliance, remedy: Remedy, ends: Iterable[str]) -> dict[str, frozenset[str]]:
    """By fault that ``remedy`` ends the checks it waits for; empty where it may be tried on suspicion."""
    return {} if guard(appliance, remedy) is None else {fault: confirming(appliance, fault) for fault in ends}


def _check_ref(appliance: Appliance, check: str) -> Ref:
    return Ref(id=check, label=appliance.checks[check].label)
