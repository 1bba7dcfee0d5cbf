"""Statements of one graph, gathered by subject, with typed access to their values."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from math import isfinite
from typing import TypeVar

from firstoff.appliance.terms import (
    Concept,
    Source,
)
from firstoff.errors import ContentBroken
from firstoff.store.terms import Blank, Iri, Row, Term, Text

FO = "https://firstoff.example/ontology#"
RDF_TYPE = "http://www.w3.org/1999/02/22-rdf-syntax-ns#type"
RDFS_LABEL = "http://www.w3.org/2000/01/rdf-schema#label"

_NUMBER = re.compile(r"[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]+)?")

Member = TypeVar("Member", bound=StrEnum)


def english_first(text: Text) -> tuple[int, str, str]:
    """A sort key: English, then texts without a language, then the others by language; then in order of the text."""
    if text.language is None:
        return 1, "", text.value
    return 0 if text.language.split("-")[0] == "en" else 2, text.language, text.value


@dataclass(frozen=True, slots=True)
class Statements:
    """All resources of a graph by term, and the labels of vocabulary concepts by IRI."""

    by_subject: dict[Term, dict[str, list[Term]]]
    by_class: dict[Term, list[Term]]
    concept_labels: dict[str, str]

    @classmethod
    def gather(cls, rows: Iterable[Row], concept_labels: dict[str, str]) -> Statements:
        """From the rows of the ``statements`` query (subject, property, value)."""
        by_subject: dict[Term, dict[str, list[Term]]] = {}
        by_class: dict[Term, list[Term]] = {}
        for row in rows:
            subject, prop, value = row["subject"], row["property"], row["value"]
            if subject is not None and isinstance(prop, Iri) and value is not None:
                by_subject.setdefault(subject, {}).setdefault(prop.value, []).append(value)
                if prop.value == RDF_TYPE:
                    by_class.setdefault(value, []).append(subject)
        return cls(by_subject, by_class, concept_labels)

    def of_class(self, name: str) -> Iterator[Resource]:
        """Every resource of class ``fo:name``, ordered by slug."""
        found = [Resource(self, subject) for subject in self.by_class.get(Iri(FO + name), ())]
        return iter(sorted(found, key=lambda resource: resource.id))

    def label(self, term: Term) -> str:
        """The label of a resource of the graph or of a concept; its slug where it has none."""
        values = self.by_subject.get(term, {}).get(RDFS_LABEL, [])
        texts = [value for value in values if isinstance(value, Text)]
        if texts:
            return min(texts, key=english_first).value
        if isinstance(term, Iri):
            return self.concept_labels.get(term.value, term.slug)
        return ""


@dataclass(frozen=True, slots=True)
class Resource:
    """One subject of the graph. Property names are the local names of ``fo:``."""

    graph: Statements
    term: Term

    @property
    def id(self) -> str:
        """The slug of an IRI, the label of a blank node."""
        return self.term.slug if isinstance(self.term, Iri) else str(getattr(self.term, "label", ""))

    @property
    def label(self) -> str:
        return self.graph.label(self.term)

    def values(self, name: str) -> list[Term]:
        return self.graph.by_subject[self.term].get(FO + name, [])

    def resources(self, name: str) -> list[Iri]:
        """Every value of ``name``, each of which must be a resource with an address.

        :raises ContentBroken: one is a literal or has no address; a need that is passed over is a need not met.
        """
        found = []
        for value in self.values(name):
            if not isinstance(value, Iri):
                told = repr(value.value) if isinstance(value, Text) else "a resource without an address"
                raise ContentBroken(f"{self.id}: {name} must name a resource, not {told}.")
            found.append(value)
        return found

    def slugs(self, name: str) -> frozenset[str]:
        """The slugs of all resources that are values of ``name``.

        :raises ContentBroken: a value is no resource.
        """
        return frozenset(value.slug for value in self.resources(name))

    def slug(self, name: str) -> str | None:
        """The slug of the one value of ``name``, None where it has none.

        :raises ContentBroken: it has several.
        """
        slugs = self.slugs(name)
        if len(slugs) > 1:
            raise ContentBroken(f"{self.id} has more than one {name}: {', '.join(sorted(slugs))}.")
        return next(iter(slugs), None)

    def needed_slug(self, name: str) -> str:
        """As ``slug``.

        :raises ContentBroken: it has none, or several.
        """
        found = self.slug(name)
        if found is None:
            raise ContentBroken(f"{self.id} has no {name}.")
        return found

    def member(self, name: str, kind: type[Member]) -> Member:
        """The one value of ``name`` as a member of ``kind``.

        :raises ContentBroken: it has none, or several, or one that ``kind`` does not know.
        """
        slug = self.needed_slug(name)
        if slug not in [each.value for each in kind]:
            raise ContentBroken(f"{self.id}: {name} is {slug}, which is none of {', '.join(kind)}.")
        return kind(slug)

    def concept(self, name: str) -> Concept | None:
        """The one value of ``name`` with its label, None where it has none.

        :raises ContentBroken: it has several.
        """
        found = self.concepts(name)
        if len(found) > 1:
            raise ContentBroken(f"{self.id} has more than one {name}: {', '.join(each.id for each in found)}.")
        return found[0] if found else None

    def needed_concept(self, name: str) -> Concept:
        """As ``concept``.

        :raises ContentBroken: it has none, or several.
        """
        found = self.concept(name)
        if found is None:
            raise ContentBroken(f"{self.id} has no {name}.")
        return found

    def concepts(self, name: str) -> tuple[Concept, ...]:
        """Every value of ``name`` with its label, ordered by slug.

        :raises ContentBroken: a value is no resource.
        """
        found = [Concept(value.slug, self.graph.label(value)) for value in self.resources(name)]
        return tuple(sorted(found, key=lambda concept: (concept.id, concept.label)))

    def literals(self, name: str) -> list[Text]:
        """Every value of ``name``, each of which must be a literal, in the order of ``english_first``.

        :raises ContentBroken: one is no literal.
        """
        found = []
        for value in self.values(name):
            if not isinstance(value, Text):
                raise ContentBroken(f"{self.id}: {name} must be a text or a number, not a resource.")
            found.append(value)
        return sorted(found, key=english_first)

    def texts(self, name: str) -> tuple[str, ...]:
        """Every literal of ``name``, in the order of ``english_first``.

        :raises ContentBroken: a value is no literal.
        """
        return tuple(literal.value for literal in self.literals(name))

    def text(self, name: str) -> str | None:
        """The one literal of ``name`` in English, else without a language, else in the first language there is.

        :raises ContentBroken: it has several in that language.
        """
        found = self.literals(name)
        if len(found) > 1 and found[0].language == found[1].language:
            raise ContentBroken(f"{self.id} has more than one {name}: {found[0].value!r} and {found[1].value!r}.")
        return found[0].value if found else None

    def number(self, name: str) -> float | None:
        """The one number of ``name``.

        :raises ContentBroken: the literal is no finite number, or there are several.
        """
        text = self.text(name)
        if text is None:
            return None
        if _NUMBER.fullmatch(text) is None or not isfinite(float(text)):
            raise ContentBroken(f"{self.id}: {name} is {text!r}, which is no number.")
        return float(text)

    def count(self, name: str) -> int | None:
        """The one whole number of ``name``, 1 or more.

        :raises ContentBroken: the literal is no such number, or there are several.
        """
        found = self.number(name)
        if found is not None and (found < 1 or found != int(found)):
            raise ContentBroken(f"{self.id}: {name} is {found:g}, which is no whole number from 1.")
        return None if found is None else int(found)

    def needed_number(self, name: str) -> float:
        """As ``number``.

        :raises ContentBroken: it has none.
        """
        found = self.number(name)
        if found is None:
            raise ContentBroken(f"{self.id} has no {name}.")
        return found

    def flag_told(self, name: str) -> bool | None:
        """As ``flag``, None where nothing is said."""
        return self.flag(name) if self.values(name) else None

    def flag(self, name: str) -> bool:
        """True where ``name`` is true, False where it is false or nothing is said.

        Engines spell booleans as ``true`` and ``false`` or as ``1`` and ``0``.

        :raises ContentBroken: it is spelled otherwise, or said twice.
        """
        text = self.text(name)
        if text not in (None, "true", "1", "false", "0"):
            raise ContentBroken(f"{self.id}: {name} is {text!r}, which is neither true nor false.")
        return text in ("true", "1")

    def parts(self, name: str) -> list[Resource]:
        """The resources that are values of ``name``, ordered by slug, or by what they say where they are blank.

        :raises ContentBroken: a value is a literal, or a resource of which nothing is said.
        """
        found = []
        for value in self.values(name):
            if isinstance(value, Text):
                raise ContentBroken(f"{self.id}: {name} must name a resource, not {value.value!r}.")
            if value not in self.graph.by_subject:
                told = value.slug if isinstance(value, Iri) else "a resource"
                raise ContentBroken(f"{self.id}: {name} names {told}, of which nothing is said.")
            found.append(Resource(self.graph, value))
        return sorted(found, key=Resource.sort_key)

    def sort_key(self) -> str:
        """The slug, or for a blank node its values: an order that does not depend on the engine's labels."""
        return self.id if isinstance(self.term, Iri) else _spelled(self.graph, self.term, frozenset())


def _spelled(graph: Statements, term: Term, inside: frozenset[Term]) -> str:
    """A term as text; for a blank node what is said of it, once on a circle of blank nodes."""
    if not isinstance(term, Blank):
        return repr(term)
    if term in inside:
        return "[]"
    inside |= {term}
    said = [
        f"{name}={sorted(_spelled(graph, value, inside) for value in values)}"
        for name, values in sorted(graph.by_subject.get(term, {}).items())
    ]
    return f"[{'|'.join(said)}]"


def sources(resource: Resource) -> tuple[Source, ...]:
    """The documents behind a resource."""
    return tuple(Source(part.id, part.label, part.text("locator")) for part in resource.parts("source"))
