"""A platform under check: its statements, and as much of the read model as can be compiled from them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from firstoff.appliance.compile import whole_platform
from firstoff.appliance.model import Appliance
from firstoff.appliance.statements import RDF_TYPE, Resource, Statements
from firstoff.appliance.variant import Changes, narrowed
from firstoff.authoring.ontology import FO, Ontology
from firstoff.authoring.turtle import Document
from firstoff.errors import ContentBroken
from firstoff.store.converting import from_engine
from firstoff.store.terms import Blank, Iri, Term


@dataclass(frozen=True, slots=True)
class Variant:
    """The parts of one model or serial range; ``words`` names it in a sentence."""

    words: str
    appliance: Appliance


@dataclass(frozen=True, slots=True)
class Draft:
    """``whole`` is the platform with the parts of all its models; None where the statements do not allow it.

    ``broken`` says why then, and ``variants`` is empty. ``owners`` maps the label of a blank node to the slug of the
    resource it belongs to, ``labels`` the slug of a resource to its label.
    """

    name: str
    document: Document
    statements: Statements
    ontology: Ontology
    owners: Mapping[str, str]
    labels: Mapping[str, str]
    whole: Appliance | None
    variants: tuple[Variant, ...]
    broken: str | None

    def label(self, slug: str) -> str:
        """The label of the resource with this slug, the slug itself where it has none."""
        return self.labels.get(slug, slug)

    def classes(self, term: Term) -> tuple[str, ...]:
        """Local names of the ontology's classes that ``term`` is said to be of."""
        types = self.statements.by_subject.get(term, {}).get(RDF_TYPE, [])
        names = (
            value.value.removeprefix(FO) for value in types if isinstance(value, Iri) and value.value.startswith(FO)
        )
        return tuple(sorted(name for name in names if name in self.ontology.classes))


def read_draft(name: str, document: Document, ontology: Ontology) -> Draft:
    """Gather the statements of a document and compile what can be compiled."""
    rows = (
        {"subject": from_engine(t.subject), "property": from_engine(t.predicate), "value": from_engine(t.object)}
        for t in document.triples
    )
    statements = Statements.gather(rows, dict(ontology.concepts))
    whole: Appliance | None = None
    variants: tuple[Variant, ...] = ()
    broken: str | None = None
    try:
        whole = whole_platform(
            statements, revision="draft", symptoms=ontology.symptoms, isolating_kinds=ontology.isolating_kinds
        )
        variants = tuple(_variants(statements, whole)) or (Variant("the platform", whole),)
    except ContentBroken as problem:
        broken = problem.detail
    except ValueError as problem:
        broken = f"{problem}."
    labels = {term.slug: statements.label(term) for term in statements.by_subject if isinstance(term, Iri)}
    return Draft(name, document, statements, ontology, _owners(statements), labels, whole, variants, broken)


def _variants(statements: Statements, whole: Appliance) -> Iterator[Variant]:
    """Each model, or each serial range of a model that has some."""
    models = tuple(statements.of_class("Model"))
    ranges = tuple(statements.of_class("SerialRange"))
    every = [changes_of(resource) for resource in (*models, *ranges)]
    optional = frozenset().union(*(each.adds | frozenset(each.replaces.values()) for each in every))
    for model in models:
        own = changes_of(model)
        parts = model.parts("hasSerialRange")
        for part in parts:
            words = f"{model.label}, {part.label}"
            yield Variant(words, narrowed(replace(whole, model=model.id), own.merged(changes_of(part)), optional))
        if not parts:
            yield Variant(model.label, narrowed(replace(whole, model=model.id), own, optional))


def changes_of(resource: Resource) -> Changes:
    """What a model or serial range does to its platform.

    :raises ContentBroken: a substitution is not complete.
    """
    return Changes(
        leaves_out=resource.slugs("leavesOut"),
        adds=resource.slugs("adds"),
        replaces={
            part.needed_slug("original"): part.needed_slug("substitute") for part in resource.parts("substitutes")
        },
        rated_input=resource.number("ratedInput"),
    )


def _owners(statements: Statements) -> dict[str, str]:
    """Blank nodes of blank nodes belong to the resource at the end of the chain."""
    holder: dict[str, Term] = {
        value.label: subject
        for subject, properties in statements.by_subject.items()
        for values in properties.values()
        for value in values
        if isinstance(value, Blank)
    }
    owners: dict[str, str] = {}
    for label in holder:
        owner: Term | None = holder[label]
        seen = {label}
        while isinstance(owner, Blank) and owner.label not in seen:
            seen.add(owner.label)
            owner = holder.get(owner.label)
        if isinstance(owner, Iri):
            owners[label] = owner.slug
    return owners
