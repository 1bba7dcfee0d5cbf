"""The exception tree of the room.

::

    DiagnosisError
    ├── UnknownSymptom      a symptom the appliance does not show; carries the names
    └── UnknownFinding      a check, outcome or code it does not have, or a finding that contradicts itself
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


class UnknownFinding(DiagnosisError):
    """``kind`` is check, outcome, code or symptom; ``name`` what was given."""

    def __init__(self, kind: str, name: str, why: str = "there is none of that name") -> None:
        super().__init__(f"{kind} {name!r}: {why}.")
        self.kind = kind
        self.name = name
