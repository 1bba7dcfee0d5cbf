"""How often each fault is the one: authored relative frequencies, updated by the faults confirmed on jobs.

The relative frequencies of the faults are taken to have a Dirichlet distribution. What the authors wrote is its prior:
relative frequencies made to sum to ``worth``, the number of jobs they are taken to be worth. A job on which one fault
was confirmed adds one to that fault's count, so that the posterior mean, which is what a diagnosis begins with, is

    weight(f) = (authored(f) + jobs(f)) / (worth + all jobs)

(the Dirichlet is conjugate to the multinomial; Gelman et al., Bayesian Data Analysis, 3rd ed., 3.4, from memory).
Counts are all that matters, so that jobs learned one by one or all at once, in any order, come to the same.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from firstoff.appliance.model import Appliance
from firstoff.diagnosis.errors import UnknownFinding


@dataclass(frozen=True, slots=True)
class Frequencies:
    """By fault: ``authored`` is the prior's count (jobs, not whole), ``jobs`` how many were confirmed."""

    authored: Mapping[str, float]
    jobs: Mapping[str, int]

    @property
    def worth(self) -> float:
        """Jobs that the authored frequencies are worth in all."""
        return math.fsum(self.authored.values())

    @property
    def job_count(self) -> int:
        """Jobs counted in all."""
        return sum(self.jobs.values())

    @property
    def learned(self) -> float:
        """How much of the frequencies is learned, 0 to 1; the rest is authored."""
        counts = self.worth + self.job_count
        return self.job_count / counts if counts else 0.0

    def weight(self, fault: str) -> float:
        """The relative frequency of ``fault`` after the jobs; the weights sum to 1, or are all nil without counts."""
        counts = self.worth + self.job_count
        return (self.authored[fault] + self.jobs.get(fault, 0)) / counts if counts else 0.0


def authored_frequencies(appliance: Appliance, worth: float) -> Frequencies:
    """What is known before any job: the authored frequencies, taken to be ``worth`` jobs (above 0)."""
    told = {slug: max(0.0, fault.relative_frequency) for slug, fault in appliance.faults.items()}
    total = math.fsum(told.values())
    return Frequencies({slug: worth * each / total if total else 0.0 for slug, each in told.items()}, {})


def after_jobs(frequencies: Frequencies, confirmed: Iterable[str] | Mapping[str, int]) -> Frequencies:
    """``frequencies`` once jobs are counted: the fault ``confirmed`` on each, or how many there were by fault.

    :raises UnknownFinding: a fault is not among them.
    """
    jobs = dict(frequencies.jobs)
    for fault, count in Counter(confirmed).items():
        if fault not in frequencies.authored:
            raise UnknownFinding("fault", fault)
        jobs[fault] = jobs.get(fault, 0) + count
    return Frequencies(frequencies.authored, jobs)


def taught(appliance: Appliance, frequencies: Frequencies) -> Appliance:
    """``appliance`` with the relative frequencies that the jobs leave; as it is where there were none."""
    if not frequencies.job_count:
        return appliance
    faults = {
        slug: replace(fault, relative_frequency=frequencies.weight(slug)) for slug, fault in appliance.faults.items()
    }
    return replace(appliance, faults=faults)
