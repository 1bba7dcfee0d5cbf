"""RDF terms of our own, so that nothing above the store depends on an engine."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

XSD = "http://www.w3.org/2001/XMLSchema#"
_LANG_STRING = "http://www.w3.org/1999/02/22-rdf-syntax-ns#langString"


@dataclass(frozen=True, slots=True)
class Iri:
    value: str

    @property
    def slug(self) -> str:
        """The last part of the IRI, behind its last ``/`` or ``#``."""
        return self.value.rpartition("#")[2] if "#" in self.value else self.value.rpartition("/")[2]


@dataclass(frozen=True, slots=True)
class Blank:
    """A blank node; its label holds within one answer only."""

    label: str


@dataclass(frozen=True, slots=True)
class Text:
    """A literal: lexical form, datatype IRI, and language tag where it has one.

    A language tag is kept in small letters and makes the datatype ``rdf:langString`` (RDF 1.1 Concepts, 3.3), so that
    two ways to say the same are equal.
    """

    value: str
    datatype: str = XSD + "string"
    language: str | None = None

    def __post_init__(self) -> None:
        if self.language is not None:
            object.__setattr__(self, "language", self.language.lower())
            object.__setattr__(self, "datatype", _LANG_STRING)


Term = Iri | Blank | Text
Row = Mapping[str, Term | None]
