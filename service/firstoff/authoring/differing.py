"""What differs between two versions of a platform, in words: by resource, then by what is said of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from firstoff.appliance.statements import RDF_TYPE, RDFS_LABEL, Statements
from firstoff.authoring.ontology import FO, Ontology
from firstoff.authoring.turtle import Document
from firstoff.store.converting import from_engine
from firstoff.store.terms import Blank, Iri, Term, Text


class Sort(StrEnum):
    ADDED = "added"
    TAKEN_OUT = "taken out"
    CHANGED = "changed"


@dataclass(frozen=True, slots=True)
class Difference:
    """One resource that differs: ``what`` it is (such as ``component``), and a sentence for each thing that changed."""

    sort: Sort
    resource: str
    label: str
    what: str
    sentences: tuple[str, ...]


def differences(before: Document | None, after: Document | None, ontology: Ontology) -> tuple[Difference, ...]:
    """Every resource that differs, in order of what it is and its label; none where both say the same.

    A resource without an address is a part of the one that names it and compared by all that is said of it, so that its
    place in the file does not matter. None stands for a platform that is not there.
    """
    sides = _Side.of(before, ontology), _Side.of(after, ontology)
    found = []
    for subject in sorted(sides[0].addressed | sides[1].addressed, key=lambda term: term.value):
        old, new = (side.said(subject) for side in sides)
        if _same(old, new):
            continue
        sort = Sort.CHANGED if old and new else Sort.ADDED if new else Sort.TAKEN_OUT
        named = sides[1] if new else sides[0]
        told = tuple(_sentences(*sides, old, new)) if sort is Sort.CHANGED else ()
        found.append(Difference(sort, subject.slug, named.label(subject), named.what(subject), told))
    return tuple(sorted(found, key=lambda each: (each.what, each.label, each.resource)))


#: What is said of a resource: for each property, each value as it is compared and how many like it came before.
Said = Mapping[str, Mapping[tuple[str, int], Term]]


@dataclass(frozen=True, slots=True)
class _Side:
    """One of the two versions."""

    statements: Statements
    ontology: Ontology

    @classmethod
    def of(cls, document: Document | None, ontology: Ontology) -> _Side:
        rows = (
            {"subject": from_engine(t.subject), "property": from_engine(t.predicate), "value": from_engine(t.object)}
            for t in (document.triples if document else ())
        )
        return cls(Statements.gather(rows, dict(ontology.concepts)), ontology)

    @property
    def addressed(self) -> frozenset[Iri]:
        return frozenset(term for term in self.statements.by_subject if isinstance(term, Iri))

    def said(self, subject: Term) -> Said:
        found: dict[str, dict[tuple[str, int], Term]] = {}
        for prop, values in self.statements.by_subject.get(subject, {}).items():
            counts: Counter[str] = Counter()
            own = found.setdefault(prop, {})
            for value in values:
                key = self._told(value, (subject,), repr)
                own[key, counts[key]] = value
                counts[key] += 1
        return found

    def words(self, term: Term) -> str:
        return self._told(term, (), self._name, unsaid=RDF_TYPE)

    def _name(self, term: Iri | Text) -> str:
        if isinstance(term, Text):
            return f"“{term.value}” ({term.language})" if term.language else term.value
        name = self.statements.label(term)
        return name if name == term.slug else f"{name} ({term.slug})"

    def _told(
        self, term: Term, inside: Sequence[Term], name: Callable[[Iri | Text], str], unsaid: str | None = None
    ) -> str:
        """A value as text. A resource without an address is told whole, save where it stands inside itself.

        ``unsaid`` is a property left out for brevity; for comparing, none is.
        """
        if isinstance(term, (Iri, Text)):
            return name(term)
        if term in inside:
            return "itself"
        parts = []
        for prop, values in sorted(self.statements.by_subject.get(term, {}).items()):
            if prop != unsaid:
                told = sorted(self._told(value, (*inside, term), name, unsaid) for value in values)
                parts.append(f"{_word(prop, self.ontology)} {', '.join(told)}")
        return f"[{'; '.join(parts)}]"

    def label(self, subject: Iri) -> str:
        return self.statements.label(subject)

    def what(self, subject: Iri) -> str:
        types = self.statements.by_subject.get(subject, {}).get(RDF_TYPE, [])
        words = sorted(_word(each.value, self.ontology) for each in types if isinstance(each, Iri))
        return ", ".join(words) or "resource"


def _same(old: Said, new: Said) -> bool:
    return {prop: set(values) for prop, values in old.items()} == {prop: set(values) for prop, values in new.items()}


def _sentences(before: _Side, after: _Side, old: Said, new: Said) -> Iterator[str]:
    """A sentence for each value that went or came; one value in place of one other is one sentence."""
    for prop in sorted(old.keys() | new.keys(), key=lambda prop: _word(prop, after.ontology)):
        was, is_ = old.get(prop, {}), new.get(prop, {})
        gone = [was[key] for key in sorted(was.keys() - is_.keys())]
        come = [is_[key] for key in sorted(is_.keys() - was.keys())]
        word = _word(prop, after.ontology)
        if len(gone) == len(come) == 1:
            if isinstance(gone[0], Blank) and isinstance(come[0], Blank):
                inner = _sentences(before, after, before.said(gone[0]), after.said(come[0]))
                yield from (f"{word}, {sentence}" for sentence in inner)
            else:
                yield f"{word}: {after.words(come[0])}, before {before.words(gone[0])}"
            continue
        yield from (f"{word}: no longer {before.words(value)}" for value in gone)
        yield from (f"{word}: new {after.words(value)}" for value in come)


def _word(iri: str, ontology: Ontology) -> str:
    """A property or class as people say it."""
    if iri.startswith(FO):
        local = iri.removeprefix(FO)
        return ontology.words.get(local, local)
    if iri == RDFS_LABEL:
        return "label"
    return Iri(iri).slug


def in_words(found: Iterable[Difference]) -> tuple[str, ...]:
    """A line for each thing that differs, such as ``removal take off the lid: minutes out: 12, before 10``."""
    lines = []
    for each in found:
        name = f"{each.what} {each.label} ({each.resource})"
        lines += [f"{name}: {sentence}" for sentence in each.sentences] or [f"{name}: {each.sort}"]
    return tuple(lines)
