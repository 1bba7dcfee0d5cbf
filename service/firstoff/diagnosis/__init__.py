"""What is probably wrong, and which check tells the likely faults apart.

``ranked(appliance, symptoms)`` gives every fault with its share; ``telling_apart(appliance, faults)`` the checks worth
making next.
"""

from firstoff.diagnosis.errors import DiagnosisError, UnknownSymptom
from firstoff.diagnosis.ranking import RankedFault, ranked
from firstoff.diagnosis.telling import ExpectedOutcome, TellingCheck, telling_apart

__all__ = [
    "DiagnosisError",
    "ExpectedOutcome",
    "RankedFault",
    "TellingCheck",
    "UnknownSymptom",
    "ranked",
    "telling_apart",
]
