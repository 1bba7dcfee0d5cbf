"""The ontology as a reader wants it: classes with the properties they take, vocabularies, prefixes.

Words come from ``core.ttl`` and ``vocabularies/``; what a class takes, and how often, from ``shapes.ttl``, the way the
sheets of a workbook are derived.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import pyoxigraph as ox
import rdflib
from rdflib.namespace import SH

from firstoff.authoring.ontology import FO, VOCABULARY
from firstoff.authoring.turtle import Document, read_turtle
from firstoff.authoring.workbook.sheets import Column, columns_of, described, shapes_of
from firstoff.content import ontology_folder

_RDF = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
_RDFS = "http://www.w3.org/2000/01/rdf-schema#"
_OWL = "http://www.w3.org/2002/07/owl#"
_SKOS = "http://www.w3.org/2004/02/skos/core#"
_DCTERMS = "http://purl.org/dc/terms/"
_HAS_UNIT = "http://qudt.org/schema/qudt/hasUnit"
#: What is told of a concept in a way of its own; the rest is listed.
_TOLD = frozenset(
    (
        _RDF + "type",
        *(_SKOS + name for name in ("inScheme", "topConceptOf", "broader", "prefLabel", "altLabel", "definition")),
    )
)

_Facts = dict[str, list[ox.NamedNode | ox.BlankNode | ox.Literal | ox.Triple]]


@dataclass(frozen=True, slots=True)
class Term:
    """A class or property: ``name`` is local; ``above``, ``close`` and ``unit`` are shortened addresses of other
    vocabularies, ``sources`` the standards it comes from."""

    name: str
    label: str
    definition: str
    above: tuple[str, ...]
    close: tuple[str, ...]
    sources: tuple[str, ...]
    unit: str | None


@dataclass(frozen=True, slots=True)
class Use:
    """A property as a class takes it. ``name`` is local, or shortened for a property of another vocabulary.

    ``fewest`` and ``most`` are how many values there may be (None: no end), ``one_a_language`` says that each of them
    is of another language. ``bounds`` are words such as "above 0".
    """

    column: Column
    name: str
    term: Term | None
    fewest: int
    most: int | None
    one_a_language: bool
    bounds: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Class:
    term: Term
    uses: tuple[Use, ...]


@dataclass(frozen=True, slots=True)
class Concept:
    """``labels`` and ``others`` map a language to the preferred label and to further ones; ``facts`` are name and
    value of whatever else is said of it."""

    name: str
    labels: Mapping[str, str]
    others: Mapping[str, tuple[str, ...]]
    definition: str
    broader: tuple[str, ...]
    facts: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Scheme:
    """A vocabulary: ``name`` is that of its file, ``prefix`` what its terms are written with."""

    name: str
    prefix: str
    title: str
    description: str
    sources: tuple[str, ...]
    concepts: tuple[Concept, ...]


@dataclass(frozen=True, slots=True)
class Glossary:
    """``properties`` holds every property of the core, whether a class takes it or not."""

    title: str
    description: str
    version: str
    classes: tuple[Class, ...]
    properties: tuple[Term, ...]
    schemes: tuple[Scheme, ...]
    prefixes: Mapping[str, str]


def load_glossary(folder: Path | None = None) -> Glossary:
    """Read the ontology of ``folder`` (the package's own unless given). All is in the order of the files.

    :raises ContentSyntax: a file cannot be parsed.
    :raises OSError: a file is not there.
    """
    folder = folder or ontology_folder()
    core = _read(folder / "core.ttl")
    facts = _facts(core)
    terms = {name: _term(core, name, facts[FO + name]) for name in _declared(facts)}
    graph = described(folder)
    own = facts[FO.rstrip("#")]
    vocabularies = [(path.stem, _read(path)) for path in sorted((folder / "vocabularies").glob("*.ttl"))]
    spaces = {name: space for _, document in [("", core), *vocabularies] for name, space in document.prefixes.items()}
    return Glossary(
        title=_text(own, _DCTERMS + "title"),
        description=_text(own, _DCTERMS + "description"),
        version=_text(own, _OWL + "versionInfo"),
        classes=tuple(
            Class(term, _uses(graph, core, terms, name))
            for name, term in terms.items()
            if _is(facts[FO + name], _OWL + "Class")
        ),
        properties=tuple(term for name, term in terms.items() if not _is(facts[FO + name], _OWL + "Class")),
        schemes=tuple(_scheme(name, document) for name, document in vocabularies),
        prefixes=dict(sorted(spaces.items())),
    )


def _read(path: Path) -> Document:
    return read_turtle(path.read_text(encoding="utf-8"), path.name)


def _facts(document: Document) -> dict[str, _Facts]:
    """Subject to property to values, in the order of the file."""
    found: dict[str, _Facts] = {}
    for triple in document.triples:
        of_subject = found.setdefault(str(getattr(triple.subject, "value", "")), {})
        of_subject.setdefault(triple.predicate.value, []).append(triple.object)
    return found


def _declared(facts: Mapping[str, _Facts]) -> list[str]:
    kinds = (_OWL + "Class", _OWL + "ObjectProperty", _OWL + "DatatypeProperty")
    return [
        iri.removeprefix(FO) for iri, each in facts.items() if iri.startswith(FO) and any(_is(each, k) for k in kinds)
    ]


def _is(facts: _Facts, kind: str) -> bool:
    return ox.NamedNode(kind) in facts.get(_RDF + "type", [])


def _term(core: Document, name: str, facts: _Facts) -> Term:
    units = _short(core, facts, _HAS_UNIT)
    return Term(
        name=name,
        label=_text(facts, _RDFS + "label"),
        definition=_text(facts, _SKOS + "definition"),
        above=(*_short(core, facts, _RDFS + "subClassOf"), *_short(core, facts, _RDFS + "subPropertyOf")),
        close=_short(core, facts, _SKOS + "closeMatch"),
        sources=tuple(_value(each) for key in (_DCTERMS + "source", _RDFS + "seeAlso") for each in facts.get(key, [])),
        unit=units[0] if units else None,
    )


def _uses(graph: rdflib.Graph, core: Document, terms: Mapping[str, Term], of: str) -> tuple[Use, ...]:
    return tuple(_use(graph, core, terms, of, column) for column in columns_of(graph, of))


def _use(graph: rdflib.Graph, core: Document, terms: Mapping[str, Term], of: str, column: Column) -> Use:
    shapes = shapes_of(graph, of, column.iri)
    name = column.iri.removeprefix(FO)
    fewest = [int(value) for value in _said(graph, shapes, SH.minCount)]
    most = [int(value) for value in _said(graph, shapes, SH.maxCount)]
    bounds = (
        *(f"above {value}" for value in _said(graph, shapes, SH.minExclusive)),
        *(f"at least {value}" for value in _said(graph, shapes, SH.minInclusive)),
        *(f"below {value}" for value in _said(graph, shapes, SH.maxExclusive)),
        *(f"at most {value}" for value in _said(graph, shapes, SH.maxInclusive)),
    )
    return Use(
        column=column,
        name=name if name in terms else core.shortened(column.iri),
        term=terms.get(name),
        fewest=max(fewest, default=0),
        most=min(most, default=None),
        one_a_language=bool(_said(graph, shapes, SH.uniqueLang)),
        bounds=tuple(dict.fromkeys(bounds)),
    )


def _said(graph: rdflib.Graph, shapes: list[rdflib.term.Node], constraint: rdflib.URIRef) -> list[str]:
    return [str(value) for shape in shapes for value in graph.objects(shape, constraint)]


def _scheme(name: str, document: Document) -> Scheme:
    start = f"{VOCABULARY}{name}#"
    facts = _facts(document)
    own = facts[start.rstrip("#")]
    return Scheme(
        name=name,
        prefix=next((prefix for prefix, space in document.prefixes.items() if space == start), name),
        title=_text(own, _DCTERMS + "title"),
        description=_text(own, _DCTERMS + "description"),
        sources=tuple(_value(each) for each in own.get(_DCTERMS + "source", [])),
        concepts=tuple(
            _concept(document, start, iri, each) for iri, each in facts.items() if _is(each, _SKOS + "Concept")
        ),
    )


def _concept(document: Document, start: str, iri: str, facts: _Facts) -> Concept:
    labels = _by_language(facts, _SKOS + "prefLabel")
    return Concept(
        name=iri.removeprefix(start),
        labels={language: texts[0] for language, texts in labels.items()},
        others=_by_language(facts, _SKOS + "altLabel"),
        definition=_text(facts, _SKOS + "definition"),
        broader=tuple(_value(each).removeprefix(start) for each in facts.get(_SKOS + "broader", [])),
        facts=tuple(
            (
                document.shortened(key),
                document.shortened(_value(each)) if isinstance(each, ox.NamedNode) else _value(each),
            )
            for key, values in facts.items()
            if key not in _TOLD
            for each in values
        ),
    )


def _by_language(facts: _Facts, key: str) -> dict[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for each in facts.get(key, []):
        language = (each.language if isinstance(each, ox.Literal) else None) or ""
        found[language] = (*found.get(language, ()), _value(each))
    return found


def _short(document: Document, facts: _Facts, key: str) -> tuple[str, ...]:
    return tuple(document.shortened(_value(each)) for each in facts.get(key, []))


def _text(facts: _Facts, key: str) -> str:
    return _value(facts[key][0]) if key in facts else ""


def _value(term: object) -> str:
    return str(getattr(term, "value", ""))
