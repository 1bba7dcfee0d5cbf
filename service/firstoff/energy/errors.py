"""What can be wrong with a question about energy.

EnergyError
    UnknownSubject      an assumption is about something the circuit does not have
    Contradiction       assumptions that cannot hold together, or one that makes no sense of its subject
    BadReading          a reading that nobody can take: one point, no such point, or a part with an impossible value
    TooMany             a circuit with too many devices or capacitors to work everything out beforehand
"""

from __future__ import annotations

from collections.abc import Sequence


class EnergyError(Exception):
    """A question that cannot be answered as it stands; its text says why."""


class UnknownSubject(EnergyError):
    """``subject`` is none of ``candidates``, the names that an assumption of this kind may be about."""

    def __init__(self, what: str, subject: str, candidates: Sequence[str]) -> None:
        super().__init__(f"There is no {what} {subject!r}.")
        self.what = what
        self.subject = subject
        self.candidates = tuple(candidates)


class Contradiction(EnergyError):
    """Assumptions that cannot hold together."""


class BadReading(EnergyError):
    """A reading that nobody can take."""


class TooMany(EnergyError):
    """A circuit of which not everything can be worked out beforehand."""
