"""Which faults the symptoms speak for.

One fault at a time is taken to be at work. Its share is its relative frequency times, for every symptom seen, the
probability that the fault shows it, made to sum to 1 (Bayes' rule with symptoms independent given the fault). A
symptom that a fault does not list may still be there for another reason: it has the small likelihood ``LEAK``. A
symptom not reported is no evidence, since customers do not report everything.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from firstoff.appliance.model import (
    Appliance,
    Fault,
    Remedy,
)
from firstoff.appliance.terms import Concept
from firstoff.diagnosis.errors import UnknownSymptom

#: Likelihood of a symptom that a fault does not list. Common practice, no source.
LEAK = 0.02


@dataclass(frozen=True, slots=True)
class RankedFault:
    """A fault with its ``share``, 0 to 1, among the faults of the appliance.

    ``explains`` are the symptoms given that the fault lists, ``unexplained`` those it does not.
    """

    fault: str
    label: str
    component: str | None
    origin: Concept
    share: float
    explains: frozenset[str]
    unexplained: frozenset[str]
    remedies: tuple[Remedy, ...]
    brings_on: frozenset[str]


def ranked(appliance: Appliance, symptoms: Iterable[str]) -> tuple[RankedFault, ...]:
    """Every fault of ``appliance``, likeliest first, by name where shares are equal; shares sum to 1.

    ``symptoms`` are slugs; one given twice counts once. Without symptoms the shares are the relative frequencies.

    :raises UnknownSymptom: a slug is not among ``appliance.symptoms``.
    """
    seen = frozenset(symptoms)
    unknown = sorted(seen - appliance.symptoms.keys())
    if unknown:
        raise UnknownSymptom(appliance.model, unknown)
    faults = list(appliance.faults.values())
    shares = _shares([_log_weight(fault, seen) for fault in faults])
    found = [_ranked(fault, share, seen) for fault, share in zip(faults, shares, strict=True)]
    return tuple(sorted(found, key=lambda item: (-item.share, item.fault)))


def likelihood(fault: Fault, symptom: str) -> float:
    """The probability that ``fault`` shows ``symptom``, never below ``LEAK``; the largest where it is listed twice."""
    return max([LEAK, *(effect.likelihood for effect in fault.effects if effect.symptom == symptom)])


def _log_weight(fault: Fault, seen: frozenset[str]) -> float:
    """Natural logarithm of the unnormalised share: a product over many symptoms would underflow."""
    if fault.relative_frequency <= 0:
        return -math.inf
    evidence = math.fsum(math.log(likelihood(fault, symptom)) for symptom in seen)
    return math.log(fault.relative_frequency) + evidence


def _shares(log_weights: list[float]) -> list[float]:
    """Weights made to sum to 1; equal shares where no fault has any weight."""
    largest = max(log_weights, default=-math.inf)
    if largest == -math.inf:
        return [1 / len(log_weights) for _ in log_weights]
    weights = [math.exp(weight - largest) for weight in log_weights]
    total = math.fsum(weights)
    return [weight / total for weight in weights]


def _ranked(fault: Fault, share: float, seen: frozenset[str]) -> RankedFault:
    listed = frozenset(effect.symptom for effect in fault.effects)
    return RankedFault(
        fault=fault.id,
        label=fault.label,
        component=fault.component,
        origin=fault.origin,
        share=share,
        explains=seen & listed,
        unexplained=seen - listed,
        remedies=fault.remedies,
        brings_on=fault.brings_on,
    )
