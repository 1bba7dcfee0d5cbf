"""What is still live, how to isolate it, and what to release: pure functions over the read model.

``situation_of`` says what conducts no more, ``live_points`` what every point then is, ``cleared_by`` what would
make one point isolated (``clearings``: each of several), ``isolation`` how to make a set of points safe to touch,
``stored`` what capacitors hold, ``opens_protection`` which removals cost an earth bond or a bleed resistor, and
``driven`` what a service mode makes live. Unknown is never safe.
"""

from firstoff.energy.charge import stored
from firstoff.energy.driven import Driven, driven
from firstoff.energy.isolation import cleared_by, clearings, isolation
from firstoff.energy.liveness import live_points
from firstoff.energy.situation import opens_protection, situation_of
from firstoff.energy.words import (
    SAFE_STANDARD,
    SAFE_VOLTS,
    STORED_CHARGE,
    Isolation,
    IsolationSet,
    PointCondition,
    PointState,
    ProveKind,
    ProveStep,
    Release,
    Situation,
    StoredCharge,
)

__all__ = [
    "SAFE_STANDARD",
    "SAFE_VOLTS",
    "STORED_CHARGE",
    "Driven",
    "Isolation",
    "IsolationSet",
    "PointCondition",
    "PointState",
    "ProveKind",
    "ProveStep",
    "Release",
    "Situation",
    "StoredCharge",
    "cleared_by",
    "clearings",
    "driven",
    "isolation",
    "live_points",
    "opens_protection",
    "situation_of",
    "stored",
]
