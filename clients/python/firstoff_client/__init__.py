"""Ask a firstoff service from Python: what comes off first, what is still live, what is probably wrong.

::

    from firstoff_client import Firstoff

    with Firstoff("http://localhost:8080") as service:
        plan = service.removal_plan("tgd27-460-s", "drum-belt")

:class:`Firstoff` waits for its answers, :class:`AsyncFirstoff` is awaited; both have the same methods. Answers are the
models of :mod:`firstoff_client.contract`, errors the tree of :mod:`firstoff_client.errors`.
"""

from .async_client import AsyncFirstoff
from .client import Firstoff
from .contract.diagnosis import OutcomeSeen, ReadingSeen
from .contract.outcomes import OutcomeReport
from .contract.record import EnteredConfirmation, EnteredReading
from .errors import (
    BadName,
    FirstoffError,
    NoAnswer,
    Nonsense,
    NotFound,
    OtherVersion,
    ProblemError,
    SerialNeeded,
    Stale,
    TargetUnreachable,
)
from .questions.graphs import GraphText
from .retrying import Retrying
from .version import __version__

__all__ = [
    "AsyncFirstoff",
    "BadName",
    "EnteredConfirmation",
    "EnteredReading",
    "Firstoff",
    "FirstoffError",
    "GraphText",
    "NoAnswer",
    "Nonsense",
    "NotFound",
    "OtherVersion",
    "OutcomeReport",
    "OutcomeSeen",
    "ProblemError",
    "ReadingSeen",
    "Retrying",
    "SerialNeeded",
    "Stale",
    "TargetUnreachable",
    "__version__",
]
