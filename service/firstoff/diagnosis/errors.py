"""The exception tree of the room.

::

    DiagnosisError
    └── UnknownSymptom      a symptom the appliance does not show; carries the names
"""

from __future__ import annotations

from collections.abc import Sequence


class DiagnosisError(Exception):
    """Root of the tree."""


class UnknownSymptom(DiagnosisError):
    """``symptoms`` are the slugs that are not among the symptoms of ``model``, in alphabetical order."""

    def __init__(self, model: str, symptoms: Sequence[str]) -> None:
        super().__init__(f"{model} has no symptom named {', '.join(symptoms)}.")
        self.model = model
        self.symptoms = tuple(symptoms)
