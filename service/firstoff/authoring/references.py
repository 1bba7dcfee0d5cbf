"""References to resources of which nothing is said."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from difflib import get_close_matches

from firstoff.appliance.statements import FO, RDF_TYPE
from firstoff.authoring.draft import Draft
from firstoff.authoring.findings import Problem, error
from firstoff.authoring.names import PLATFORM, slug_of
from firstoff.authoring.ontology import VOCABULARY
from firstoff.store.terms import Iri, Term

MODEL = "https://firstoff.example/model/"


def unknown_references(draft: Draft) -> frozenset[str]:
    """IRIs that statements point to and of which neither the file nor a vocabulary says anything."""
    return frozenset(value.value for _, _, value in _unknown(draft))


def references(draft: Draft) -> Iterator[Problem]:
    """One problem for each statement that points to nothing, with the nearest name there is."""
    described = [term.value for term in draft.statements.by_subject if isinstance(term, Iri)]
    for subject, name, value in _unknown(draft):
        in_vocabulary = value.value.startswith(VOCABULARY)
        near = _nearest(value.value, draft.ontology.concepts if in_vocabulary else described)
        hint = f"Did you mean {draft.document.shortened(near)}? " if near else ""
        named = f"{draft.document.shortened(name)} names {draft.document.shortened(value.value)}"
        mend = "append it to the vocabulary" if in_vocabulary else "describe it in this file"
        yield error(
            "unknown-reference",
            slug_of(draft, subject),
            f"{named}, which is nowhere described.",
            f"{hint}Correct the name, or {mend}.",
        )


def _nearest(iri: str, known: Iterable[str]) -> str | None:
    """The IRI in the same vocabulary or platform whose last part is most like that of ``iri``, if any is like it."""
    start, slug = _split(iri)
    beside = {_split(other)[1]: other for other in known if _split(other)[0] == start}
    near = get_close_matches(slug, beside, n=1, cutoff=0.7)
    return beside[near[0]] if near else None


def _split(iri: str) -> tuple[str, str]:
    at = max(iri.rfind("/"), iri.rfind("#")) + 1
    return iri[:at], iri[at:]


def _unknown(draft: Draft) -> Iterator[tuple[Term, str, Iri]]:
    """Statements (subject, IRI of the property, value) of the ontology's properties that point to nothing."""
    known = draft.statements.by_subject
    for subject, properties in known.items():
        for name, values in properties.items():
            if name == RDF_TYPE or not name.startswith(FO):
                continue
            for value in values:
                if not isinstance(value, Iri) or value in known or value.value in draft.ontology.concepts:
                    continue
                if value.value.startswith((PLATFORM, MODEL, VOCABULARY)):
                    yield subject, name, value
