"""What is probably wrong, and which check tells the likely faults apart.

``ranked(appliance, symptoms)`` gives every fault with its share; ``telling_apart(appliance, faults)`` the checks worth
making next. ``weighed(appliance, findings)`` takes all that was found into account; ``Strategy(actions, access)`` says
what to do next for the fewest expected minutes to a repaired machine, ``best_load`` what to carry. ``taught(appliance,
frequencies)`` is the appliance with the frequencies that jobs have shown.
"""

from firstoff.diagnosis.access import Access, Action
from firstoff.diagnosis.carrying import Load, best_load
from firstoff.diagnosis.condemning import Guard, confirming, cost, guard, look_alikes
from firstoff.diagnosis.errors import DiagnosisError, UnknownFinding, UnknownSymptom
from firstoff.diagnosis.learning import Frequencies, after_jobs, authored_frequencies, taught
from firstoff.diagnosis.ranking import RankedFault, ranked
from firstoff.diagnosis.situation import Situation, situation
from firstoff.diagnosis.strategy import Branch, Choice, Step, Strategy
from firstoff.diagnosis.telling import ExpectedOutcome, TellingCheck, telling_apart
from firstoff.diagnosis.weighing import Belief, Findings, Moved, Reading, noisy_or, weighed

__all__ = [
    "Access",
    "Action",
    "Belief",
    "Branch",
    "Choice",
    "DiagnosisError",
    "ExpectedOutcome",
    "Findings",
    "Frequencies",
    "Guard",
    "Load",
    "Moved",
    "RankedFault",
    "Reading",
    "Situation",
    "Step",
    "Strategy",
    "TellingCheck",
    "UnknownFinding",
    "UnknownSymptom",
    "after_jobs",
    "authored_frequencies",
    "best_load",
    "confirming",
    "cost",
    "guard",
    "look_alikes",
    "noisy_or",
    "ranked",
    "situation",
    "taught",
    "telling_apart",
    "weighed",
]
