"""What proves a machine safe after work: which readings end a job on it, their limits, and what a reading says.

``facts_of(appliance)`` gathers what decides the limits, ``measurements(facts)`` the readings that end a job with the
limit and the standard of each, and ``verdict(readings, measurement)`` judges what an instrument showed. Where a fact is
missing there is no limit, and without a limit nothing passes: unknown is never safe.
"""

from firstoff.handover.errors import HandoverError, ReadingRefused, UnitRefused
from firstoff.handover.facts import CORD_KIND, Facts, facts_of
from firstoff.handover.judging import Reading, Verdict, overall, verdict
from firstoff.handover.limits import measurements
from firstoff.handover.standards import Standard
from firstoff.handover.words import UNITS, Limit, Measurement, Quantity

__all__ = [
    "CORD_KIND",
    "UNITS",
    "Facts",
    "HandoverError",
    "Limit",
    "Measurement",
    "Quantity",
    "Reading",
    "ReadingRefused",
    "Standard",
    "UnitRefused",
    "Verdict",
    "facts_of",
    "measurements",
    "overall",
    "verdict",
]
