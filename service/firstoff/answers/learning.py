"""What jobs have shown of a machine: which of them count for it, and how much of its frequencies they make up.

A job counts for a machine whose faults that job could all have had. The frequencies of a machine with some faults
fewer are those of its platform, given that none of these is the one; so a job on a machine with all of a platform's
faults counts for the smaller one wherever the smaller one can have its fault. The other way round it does not: that
an ice maker's fault was never met on machines without an ice maker says nothing of those with one. As no serial
number is kept, a job is taken to be of any serial range: each has to have all the faults.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from firstoff.answers.bench import Bench
from firstoff.appliance.model import Appliance
from firstoff.collection.catalogue import Collection
from firstoff.diagnosis import Frequencies, after_jobs, authored_frequencies, taught
from firstoff.outcomes import Counted
from firstoff_contract.learning import FrequencyNote, LearnedNote


@dataclass(frozen=True, slots=True)
class Learned:
    """``frequencies`` after the jobs of ``models``; ``authored`` before any. ``others`` are of the platform too."""

    authored: Frequencies
    frequencies: Frequencies
    models: frozenset[str]
    others: frozenset[str]
    revision: str | None


def learned_of(collection: Collection, appliance: Appliance, counted: Counted, worth: float) -> Learned:
    """What ``counted`` says of ``appliance``; models that are no longer described are passed over."""
    platform = {each.id for each in collection.models if each.platform.id == appliance.platform.id}
    told = platform & counted.jobs.keys()
    needed = appliance.faults.keys()
    models = {model for model in told if all(each.faults.keys() >= needed for each in collection.appliances(model))}
    authored = frequencies = authored_frequencies(appliance, worth)
    for model in sorted(models):
        jobs = {fault: count for fault, count in counted.jobs[model].items() if fault in needed}
        frequencies = after_jobs(frequencies, jobs)
    return Learned(authored, frequencies, frozenset(models), frozenset(told - models), counted.revision)


def taught_bench(bench: Bench, learned: Learned) -> Bench:
    """``bench`` with the frequencies that were learned; a plan does not depend on them."""
    return replace(bench, appliance=taught(bench.appliance, learned.frequencies))


def learned_note(learned: Learned) -> LearnedNote:
    found = learned.frequencies
    worth = f"{found.worth:g} job{'' if found.worth == 1 else 's'}"
    if found.job_count:
        jobs = f"{found.job_count} job{'' if found.job_count == 1 else 's'}"
        said = f"How often each fault is the one: {found.learned:.0%} from {jobs}, the rest authored (worth {worth})."
    else:
        said = f"How often each fault is the one: authored (worth {worth}); no job counts for this machine yet."
    return LearnedNote(
        authored_jobs=round(found.worth, 4),
        jobs=found.job_count,
        learned=round(found.learned, 4),
        revision=learned.revision,
        said=said,
    )


def frequency_note(learned: Learned, fault: str) -> FrequencyNote:
    found = learned.frequencies
    return FrequencyNote(
        authored=round(found.authored[fault], 4),
        jobs=found.jobs.get(fault, 0),
        weight=round(found.weight(fault), 6),
    )
