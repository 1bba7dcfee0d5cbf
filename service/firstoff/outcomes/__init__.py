"""What jobs have shown, kept on disk: one line an outcome, only ever added to.

``OutcomeLog(folder)`` keeps and counts; ``Outcome`` is what is kept of a job. No text of a person's own gets in: only
names that the content has, a day, and digests.
"""

from firstoff.outcomes.log import Counted, OutcomeLog
from firstoff.outcomes.record import Outcome, digest

__all__ = ["Counted", "Outcome", "OutcomeLog", "digest"]
