"""What every part of the read model refers to: terms of a vocabulary, and documents."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Concept:
    """A term of a vocabulary, or any resource shown by its label alone."""

    id: str
    label: str


@dataclass(frozen=True, slots=True)
class Source:
    """The document behind a statement and where in it."""

    id: str
    title: str
    locator: str | None = None
