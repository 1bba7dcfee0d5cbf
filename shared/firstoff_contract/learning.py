"""How much of the faults' frequencies is authored and how much is learned from jobs."""

from __future__ import annotations

from pydantic import Field

from .common import Answer


class LearnedNote(Answer):
    """What an answer's frequencies rest on."""

    authored_jobs: float = Field(description="How many jobs the authored frequencies are taken to be worth.")
    jobs: int = Field(description="Jobs told that count for this machine.")
    learned: float = Field(description="How much of the frequencies is learned, 0 to 1; the rest is authored.")
    revision: str | None = Field(description="Digest of the jobs that were kept; null where none are kept.")
    said: str = Field(description="The same in a sentence.")


class FrequencyNote(Answer):
    """How often a fault is the one, before any finding."""

    authored: float = Field(description="The authored frequency as a number of jobs, need not be whole.")
    jobs: int = Field(description="Jobs told on which this fault was confirmed.")
    weight: float = Field(description="Relative frequency used: authored and jobs together, over all faults.")
