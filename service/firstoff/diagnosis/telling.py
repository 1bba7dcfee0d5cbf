"""Which checks tell the likely faults apart, the most telling for its minutes first.

The worth of a check is the entropy of the shares it is expected to remove, in bits, for each minute it takes. With
p(f) the share of fault f and p(o | f) the probability that the check ends in outcome o when f is at work,

    gain = H(p) - sum over o of p(o) H(p given o)        with p(o) = sum over f of p(f) p(o | f)

which is the mutual information of fault and outcome (Shannon 1948; the step-by-step choice of a test by expected
entropy is de Kleer and Williams 1987, from memory). An outcome has its probability from the faults it names:

1. A fault that some outcomes speak for ends in one of those, each as likely as the other.
2. A fault that no outcome speaks for leaves what is examined sound: it ends in a healthy outcome that does not rule it
   out, each as likely as the other.
3. Where there is no such outcome, in any outcome that does not rule it out; where all do, in any outcome.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from firstoff.appliance.model import (
    Appliance,
    Check,
    Outcome,
)
from firstoff.diagnosis.ranking import RankedFault

#: Minutes below which a check is not counted as quicker: a look takes half a minute. Common practice, no source.
LEAST_MINUTES = 0.5
#: Bits below which a check tells nothing: rounding of the sums, far under one part in a thousand of a coin toss.
_NOTHING = 1e-9


@dataclass(frozen=True, slots=True)
class ExpectedOutcome:
    """An outcome of a check, how likely it is (0 to 1), and the shares of the faults once it is seen.

    ``shares`` pairs fault and share, likeliest first, faults with no share left out; empty where the outcome is not
    expected at all.
    """

    outcome: Outcome
    probability: float
    shares: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class TellingCheck:
    """A check worth making: ``gain`` in bits, ``worth`` in bits a minute, ``minutes`` as they were counted."""

    check: str
    label: str
    component: str
    live: bool
    minutes: float
    gain: float
    worth: float
    outcomes: tuple[ExpectedOutcome, ...]


def telling_apart(
    appliance: Appliance, faults: Sequence[RankedFault], minutes: Mapping[str, float] | None = None
) -> tuple[TellingCheck, ...]:
    """The checks that tell ``faults`` apart, best first; those that tell nothing are left out.

    ``faults`` is all or part of what ``ranked`` gave; the shares are made to sum to 1 again. ``minutes`` gives, by
    check, minutes to use in place of the check's own, such as those with the way in added. Among equals a check with
    the supply off comes before a live one, then the quicker one, then by name.
    """
    shares = _normalised(faults)
    counted = minutes or {}
    found = [_told(check, shares, counted.get(check.id, check.minutes)) for check in appliance.checks.values()]
    return tuple(sorted((check for check in found if check.gain > _NOTHING), key=_order))


def outcome_probabilities(check: Check, fault: str) -> tuple[float, ...]:
    """p(o | fault) for each outcome of ``check``, in order, by the three rules above; sums to 1."""
    outcomes = check.outcomes
    spoken_for = [fault in outcome.speaks_for for outcome in outcomes]
    allowed = [fault not in outcome.rules_out for outcome in outcomes]
    sound = [outcome.healthy and fits for outcome, fits in zip(outcomes, allowed, strict=True)]
    for chosen in (spoken_for, sound, allowed):
        if any(chosen):
            return tuple(1 / sum(chosen) if one else 0.0 for one in chosen)
    return tuple(1 / len(outcomes) for _ in outcomes)


def entropy(shares: Sequence[float]) -> float:
    """Entropy in bits of shares that sum to 1."""
    return -math.fsum(share * math.log2(share) for share in shares if share > 0)


def _normalised(faults: Sequence[RankedFault]) -> dict[str, float]:
    total = math.fsum(item.share for item in faults)
    return {item.fault: item.share / total for item in faults if item.share > 0}


def _told(check: Check, shares: dict[str, float], minutes: float) -> TellingCheck:
    given = {fault: outcome_probabilities(check, fault) for fault in shares}
    expected: list[ExpectedOutcome] = []
    left = 0.0
    for place, outcome in enumerate(check.outcomes):
        joint = {fault: share * given[fault][place] for fault, share in shares.items()}
        probability = math.fsum(joint.values())
        after = {fault: part / probability for fault, part in joint.items() if part > 0}
        left += probability * entropy(list(after.values()))
        ordered = tuple(sorted(after.items(), key=lambda item: (-item[1], item[0])))
        expected.append(ExpectedOutcome(outcome, probability, ordered))
    gain = max(0.0, entropy(list(shares.values())) - left) if expected else 0.0
    return TellingCheck(
        check=check.id,
        label=check.label,
        component=check.component,
        live=check.live,
        minutes=minutes,
        gain=gain,
        worth=gain / max(minutes, LEAST_MINUTES),
        outcomes=tuple(expected),
    )


def _order(check: TellingCheck) -> tuple[float, bool, float, str]:
    # Rounded, so that equal worth computed by other sums is a tie and the safer check wins it.
    return (-round(check.worth, 9), check.live, check.minutes, check.check)
