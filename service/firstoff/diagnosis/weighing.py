"""What findings say of the faults, one at work or two, and how far each finding moved them.

A hypothesis is one fault or two at once. A symptom that is there has, by the noisy-OR with leak (Pearl 1988, from
memory), the probability

    P(s | faults) = 1 - (1 - LEAK) * product over the faults of (1 - likelihood of s)

and one that was looked for and is absent one minus that. A symptom not told of is no evidence. An outcome of a check
has the probability that ``outcome_probabilities`` states: what it rules out is out. Findings are independent given the
hypothesis, so that their order does not matter.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from firstoff.appliance.model import Appliance, Fault
from firstoff.diagnosis.conflict import clash
from firstoff.diagnosis.errors import UnknownFinding, UnknownSymptom
from firstoff.diagnosis.ranking import LEAK
from firstoff.diagnosis.telling import outcome_probabilities

#: Probability of a display code beside a fault it does not stand for, to 1 beside one it does. Common practice.
CODE_LEAK = 0.02
#: Probability that a second fault, of the share 1, is there besides. Common practice, no source.
SECOND = 0.02
#: Probability that a fault has brought on one that it is said to bring on. Common practice, no source.
BROUGHT = 0.3


@dataclass(frozen=True, slots=True)
class Reading:
    """A finding of a meter: ``likelihoods`` by fault, 0 to 1; a fault that is left out has 1."""

    label: str
    likelihoods: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Findings:
    """``outcomes`` pairs a check's id and the label of the outcome seen; ``tried`` are remedies that did not help."""

    present: frozenset[str] = frozenset()
    absent: frozenset[str] = frozenset()
    outcomes: tuple[tuple[str, str], ...] = ()
    codes: frozenset[str] = frozenset()
    readings: tuple[Reading, ...] = ()
    tried: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Evidence:
    """One finding: ``likelihoods`` by fault, 0 to 1."""

    kind: str
    id: str
    label: str
    likelihoods: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Moved:
    """How far a finding moved a fault: shares before and after it, in the order given, and decibans.

    ``decibans``: ten times the common logarithm of the likelihood of the finding under the fault to that under the
    other faults as they stood (Good 1950, from memory); infinite where either is nil, None where nothing can be said.
    """

    kind: str
    finding: str
    label: str
    fault: str
    before: float
    after: float
    decibans: float | None


@dataclass(frozen=True, slots=True)
class Belief:
    """``shares`` by fault, summing to 1; empty where ``contradicted``: no described fault explains the findings.

    ``pairs`` are two faults at once that are likelier than either of them alone, with the ratio to the likelier one;
    likeliest first. ``unexplained`` are symptoms present that no fault with a share lists. Where contradicted,
    ``conflict`` are findings that no fault explains together, the fewest there are where ``smallest``.
    """

    shares: Mapping[str, float]
    moves: tuple[Moved, ...]
    pairs: tuple[tuple[str, str, float], ...]
    contradicted: bool
    unexplained: frozenset[str]
    conflict: tuple[Evidence, ...] = ()
    smallest: bool = True


def noisy_or(likelihoods: Iterable[float], leak: float = LEAK) -> float:
    """The probability of an effect of which each cause alone would show it with its likelihood."""
    return 1 - (1 - leak) * math.prod(1 - each for each in likelihoods)


def evidence_of(appliance: Appliance, findings: Findings) -> tuple[Evidence, ...]:
    """Every finding with its likelihood under each fault, in an order that does not depend on how they were given.

    :raises UnknownSymptom: a symptom is not among the appliance's.
    :raises UnknownFinding: a check, an outcome, a code or a remedy is not, or a symptom is given as present and absent.
    """
    told = findings.present | findings.absent
    if strange := sorted(told - appliance.symptoms.keys()):
        raise UnknownSymptom(appliance.model, strange)
    if both := sorted(findings.present & findings.absent):
        raise UnknownFinding("symptom", both[0], "it is given as present and as absent")
    every = appliance.faults
    found = [_symptom(appliance, each, True) for each in sorted(_present(appliance, findings))]
    found += [_symptom(appliance, each, False) for each in sorted(findings.absent)]
    for code in sorted(findings.codes):
        stands_for = appliance.codes[code].faults
        if stands_for:
            given = {fault: 1.0 if fault in stands_for else CODE_LEAK for fault in every}
            found.append(Evidence("code", code, appliance.codes[code].label, given))
    outcomes = sorted(set(findings.outcomes))
    for (slug, label), (again, other) in pairwise(outcomes):
        if slug == again:
            raise UnknownFinding("check", slug, f"it is given as {label!r} and as {other!r}")
    for slug, label in outcomes:
        place = _outcome(appliance, slug, label)
        check = appliance.checks[slug]
        given = {fault: outcome_probabilities(check, fault)[place] for fault in every}
        found.append(Evidence("outcome", slug, f"{check.label}: {label}", given))
    for reading in sorted(findings.readings, key=lambda each: (each.label, sorted(each.likelihoods.items()))):
        found.append(
            Evidence("reading", "", reading.label, {fault: reading.likelihoods.get(fault, 1.0) for fault in every})
        )
    return (*found, *_tried(appliance, findings.tried))


def weighed(appliance: Appliance, findings: Findings) -> Belief:
    """The shares of the faults once all ``findings`` are known. Raises as ``evidence_of`` does."""
    evidence = evidence_of(appliance, findings)
    priors = _normalised({fault.id: max(0.0, fault.relative_frequency) for fault in appliance.faults.values()})
    shares, moves = priors, list[Moved]()
    for each in evidence:
        after = _normalised({fault: share * each.likelihoods[fault] for fault, share in shares.items()})
        if not after:
            return _contradicted(appliance, evidence, priors, findings)
        moves += [_moved(each, shares, after, fault) for fault in shares]
        shares = after
    listed = {effect.symptom for fault, share in shares.items() if share for effect in appliance.faults[fault].effects}
    return Belief(
        shares, tuple(moves), _pairs(appliance, evidence, priors), not shares, frozenset(findings.present - listed)
    )


def _contradicted(
    appliance: Appliance, evidence: Sequence[Evidence], priors: Mapping[str, float], findings: Findings
) -> Belief:
    nil = [[fault for fault, given in each.likelihoods.items() if given <= 0] for each in evidence]
    found = clash(nil, (fault for fault, prior in priors.items() if prior > 0))
    conflict = tuple(evidence if found is None else (evidence[place] for place in found.places))
    pairs = _pairs(appliance, evidence, priors)
    return Belief({}, (), pairs, True, findings.present, conflict, found is not None and found.smallest)


def pair_weights(
    appliance: Appliance, evidence: Sequence[Evidence], priors: Mapping[str, float]
) -> dict[tuple[str, ...], float]:
    """Unnormalised weight of every single fault and pair, by the sorted ids of its faults."""
    weights: dict[tuple[str, ...], float] = {
        (fault,): prior * math.prod(each.likelihoods[fault] for each in evidence) for fault, prior in priors.items()
    }
    for one, other in combinations(sorted(priors), 2):
        first, second = appliance.faults[one], appliance.faults[other]
        prior = priors[one] * _follows(first, other, priors) + priors[other] * _follows(second, one, priors)
        given = math.prod(_both(each, first, second) for each in evidence)
        weights[one, other] = prior * given
    return weights


def _follows(fault: Fault, other: str, priors: Mapping[str, float]) -> float:
    return BROUGHT if other in fault.brings_on else SECOND * priors[other] / 2


def _both(evidence: Evidence, one: Fault, other: Fault) -> float:
    """P(finding | both faults): noisy-OR for symptoms; a code or a remedy meets either; else the mean."""
    if evidence.kind in ("present", "absent"):
        there = noisy_or(
            effect.likelihood for fault in (one, other) for effect in fault.effects if effect.symptom == evidence.id
        )
        return there if evidence.kind == "present" else 1 - there
    given = (evidence.likelihoods[one.id], evidence.likelihoods[other.id])
    return max(given) if evidence.kind in ("code", "tried") else sum(given) / 2


def _pairs(
    appliance: Appliance, evidence: Sequence[Evidence], priors: Mapping[str, float]
) -> tuple[tuple[str, str, float], ...]:
    weights = pair_weights(appliance, evidence, priors)
    found = []
    for names, weight in weights.items():
        if len(names) == 2:
            alone = max(weights[names[0],], weights[names[1],])
            if weight > alone:
                found.append((names[0], names[1], weight / alone if alone else math.inf))
    return tuple(sorted(found, key=lambda each: (-weights[each[0], each[1]], each)))


def _present(appliance: Appliance, findings: Findings) -> frozenset[str]:
    for code in sorted(findings.codes):
        if code not in appliance.codes:
            raise UnknownFinding("code", code)
    shown = (appliance.codes[code].symptoms & appliance.symptoms.keys() for code in findings.codes)
    return findings.present | (frozenset().union(*shown) - findings.absent)


def _symptom(appliance: Appliance, symptom: str, present: bool) -> Evidence:
    def given(fault: Fault) -> float:
        there = noisy_or(effect.likelihood for effect in fault.effects if effect.symptom == symptom)
        return there if present else 1 - there

    kind = "present" if present else "absent"
    likelihoods = {fault.id: given(fault) for fault in appliance.faults.values()}
    return Evidence(kind, symptom, appliance.symptoms[symptom].label, likelihoods)


def _tried(appliance: Appliance, remedies: Iterable[str]) -> Iterator[Evidence]:
    """A remedy ends its faults for certain: what was tried and did not help was not one of them."""
    for slug in sorted(remedies):
        ended = {fault.id for fault in appliance.faults.values() if any(each.id == slug for each in fault.remedies)}
        if not ended:
            raise UnknownFinding("remedy", slug)
        label = next(each.label for each in appliance.faults[min(ended)].remedies if each.id == slug)
        yield Evidence("tried", slug, f"{label}: did not help", {f: float(f not in ended) for f in appliance.faults})


def _outcome(appliance: Appliance, slug: str, label: str) -> int:
    if slug not in appliance.checks:
        raise UnknownFinding("check", slug)
    labels = [outcome.label for outcome in appliance.checks[slug].outcomes]
    if label not in labels:
        raise UnknownFinding("outcome", label, f"{slug} ends in: {'; '.join(labels)}")
    return labels.index(label)


def _moved(evidence: Evidence, before: Mapping[str, float], after: Mapping[str, float], fault: str) -> Moved:
    rest = 1 - before[fault]
    against = math.fsum(share * evidence.likelihoods[other] for other, share in before.items() if other != fault)
    given = evidence.likelihoods[fault]
    decibans: float | None = None
    if rest > 0 and (given > 0 or against > 0):
        ratio = given * rest / against if against else math.inf
        decibans = 10 * math.log10(ratio) if 0 < ratio < math.inf else math.copysign(math.inf, ratio - 1)
    return Moved(evidence.kind, evidence.id, evidence.label, fault, before[fault], after[fault], decibans)


def _normalised(weights: Mapping[str, float]) -> dict[str, float]:
    """Weights made to sum to 1; empty where all are nil."""
    largest = max(weights.values(), default=0.0)
    if largest <= 0:
        return {}
    scaled = {name: weight / largest for name, weight in weights.items()}
    total = math.fsum(scaled.values())
    return {name: weight / total for name, weight in scaled.items()}
