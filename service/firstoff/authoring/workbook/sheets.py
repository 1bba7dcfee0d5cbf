"""The sheets of a workbook and their columns, derived from the shapes and the core ontology.

A class that a closed shape describes is a sheet; the properties the shape takes are its columns. What a value has to be
(text, number, term of a vocabulary, name of another row) is read from the property shapes, and the words for it from
the core ontology, so that a workbook can say whatever a graph can and nothing else.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from pathlib import Path

import rdflib
from rdflib.collection import Collection
from rdflib.namespace import OWL, RDF, RDFS, SH, SKOS, XSD

from firstoff.authoring.ontology import FO, VOCABULARY
from firstoff.authoring.turtle import read_turtle, to_rdflib
from firstoff.content import ontology_folder

#: Sheets in the order in which a machine is described, with the class of each.
SHEETS = {
    "platform": "Platform",
    "models": "Model",
    "serial ranges": "SerialRange",
    "substitutions": "Substitution",
    "sources": "Source",
    "zones": "Zone",
    "state variables": "StateVariable",
    "states": "State",
    "preparations": "Preparation",
    "components": "Component",
    "removals": "Removal",
    "fastenings": "Fastening",
    "connections": "Connection",
    "reassembly checks": "ReassemblyCheck",
    "ways in": "AccessPath",
    "devices": "Device",
    "points": "Point",
    "links": "Link",
    "resistance curves": "ResistanceCurve",
    "energy sources": "EnergySource",
    "cautions": "Caution",
    "display codes": "DisplayCode",
    "service modes": "ServiceMode",
    "service steps": "ServiceStep",
    "faults": "Fault",
    "effects": "Effect",
    "checks": "Check",
    "outcomes": "Outcome",
    "remedies": "Remedy",
    "bulletins": "Bulletin",
    "finish steps": "FinishStep",
}

#: Classes whose rows have no name of their own: a row belongs to the row of another sheet that it names.
_PARTS = {
    "Fastening": ("Removal", "fastening"),
    "Connection": ("Removal", "connection"),
    "ReassemblyCheck": ("Removal", "reassemblyCheck"),
    "ResistanceCurve": ("Link", "resistanceCurve"),
    "ServiceStep": ("ServiceMode", "serviceStep"),
    "Effect": ("Fault", "effect"),
    "Outcome": ("Check", "outcome"),
}
_SHARED = {
    str(RDFS.label): "label",
    str(RDFS.comment): "comment",
    str(RDFS.seeAlso): "see also",
    str(SKOS.altLabel): "also called",
}
_NOTES = {
    "label": "What it is called, in a few words.",
    "comment": "A remark for other authors; it is not shown to a technician.",
    "see also": "An address with more about it.",
    "also called": "Another name under which it is searched for; one a line.",
}


class Holds(StrEnum):
    """What a column holds."""

    TEXT = "text"  # with a language
    PLAIN = "plain text"
    NUMBER = "number"
    WHOLE = "whole number"
    YES_NO = "yes or no"
    CHOICE = "choice"
    TERM = "term"
    NAME = "name"
    ADDRESS = "address"


@dataclass(frozen=True, slots=True)
class Column:
    """``iri`` is that of the property. ``choices`` are the words allowed, none where every term of the vocabulary is;
    ``vocabulary`` is the IRI that a term starts with, ``classes`` the local names of the classes a name may be of."""

    iri: str
    title: str
    note: str
    holds: Holds
    needed: bool
    many: bool
    choices: tuple[str, ...] = ()
    vocabulary: str = ""
    classes: tuple[str, ...] = ()

    @property
    def in_languages(self) -> bool:
        """True for a text that a technician reads, and so may want in another language."""
        return self.holds is Holds.TEXT and self.title != "comment"


@dataclass(frozen=True, slots=True)
class Sheet:
    """``owner`` is the class whose rows the rows here belong to and ``owned_by`` the property that says so (an IRI);
    both None where a row has a name of its own."""

    title: str
    of: str
    note: str
    columns: tuple[Column, ...]
    owner: str | None = None
    owned_by: str | None = None

    @property
    def key(self) -> str:
        """Title of the first column: the row's own name, or the name of the row it belongs to."""
        return "name" if self.owner is None else f"of {words_of(self.owner)}"


@dataclass(frozen=True)
class Workbook:
    """``sheets`` in order; ``terms`` maps the start of a vocabulary to its terms, local name to English label, and
    ``prefixes`` to the prefix it is written with."""

    sheets: tuple[Sheet, ...]
    terms: Mapping[str, Mapping[str, str]]
    prefixes: Mapping[str, str]

    @cached_property
    def of_class(self) -> Mapping[str, Sheet]:
        return {sheet.of: sheet for sheet in self.sheets}

    @cached_property
    def titled(self) -> Mapping[str, Sheet]:
        return {sheet.title: sheet for sheet in self.sheets}


def words_of(name: str) -> str:
    """``AccessPath`` as "access path"."""
    return "".join(f" {letter.lower()}" if letter.isupper() else letter for letter in name).strip()


def load_workbook(folder: Path | None = None) -> Workbook:
    """The sheets for the ontology of ``folder`` (the package's own unless given).

    :raises OSError: a file is not there.
    """
    folder = folder or ontology_folder()
    graph = described(folder)
    vocabularies = [_vocabulary(path) for path in sorted((folder / "vocabularies").glob("*.ttl"))]
    return Workbook(
        sheets=tuple(_sheet(graph, title, of) for title, of in SHEETS.items()),
        terms={start: terms for start, _, terms in vocabularies},
        prefixes={start: prefix for start, prefix, _ in vocabularies},
    )


def described(folder: Path) -> rdflib.Graph:
    """Core and shapes of the ontology in ``folder``, in one graph."""
    graph = rdflib.Graph()
    for name in ("core.ttl", "shapes.ttl"):
        graph += to_rdflib(read_turtle((folder / name).read_text(encoding="utf-8"), name).triples)
    return graph


def _vocabulary(path: Path) -> tuple[str, str, dict[str, str]]:
    start = f"{VOCABULARY}{path.stem}#"
    document = read_turtle(path.read_text(encoding="utf-8"), path.name)
    prefix = next((name for name, space in document.prefixes.items() if space == start), path.stem)
    graph = to_rdflib(document.triples)
    found: dict[str, str] = {}
    for concept in graph.subjects(RDF.type, SKOS.Concept):
        labels = {str(label.language): str(label) for label in _literals(graph, concept, SKOS.prefLabel)}
        slug = str(concept).removeprefix(start)
        found[slug] = labels.get("en", slug)
    return start, prefix, dict(sorted(found.items()))


def _sheet(graph: rdflib.Graph, title: str, of: str) -> Sheet:
    owner, owned_by = _PARTS.get(of, (None, None))
    inside = {FO + prop for whole, prop in _PARTS.values() if whole == of}
    columns = tuple(each for each in columns_of(graph, of) if each.iri not in inside)
    first = [each for each in columns if each.title == "label"]
    last = [each for each in columns if each.title in _SHARED.values() and each.title != "label"]
    last += [each for each in columns if each.iri in (FO + "source", FO + "status")]
    own = [each for each in columns if each not in first and each not in last]
    note = str(graph.value(rdflib.URIRef(FO + of), SKOS.definition) or "")
    return Sheet(title, of, note, (*first, *own, *last), owner, None if owned_by is None else FO + owned_by)


def columns_of(graph: rdflib.Graph, of: str) -> tuple[Column, ...]:
    """All properties that the closed shape of the class takes, in its order."""
    shapes = list(graph.subjects(SH.targetClass, rdflib.URIRef(FO + of)))
    closed = next(each for each in shapes if graph.value(each, SH.closed) is not None)
    properties = [each for each in _members(graph, closed, SH.ignoredProperties) if each != RDF.type]
    return tuple(_column(graph, rdflib.URIRef(str(each)), shapes_of(graph, of, str(each))) for each in properties)


def shapes_of(graph: rdflib.Graph, of: str, iri: str) -> list[rdflib.term.Node]:
    """The property shapes that hold for a property on a class: those of the class, then those of every use of it, such
    as that a source is a source."""
    path = rdflib.URIRef(iri)
    found = [*graph.subjects(SH.targetClass, rdflib.URIRef(FO + of)), *graph.subjects(SH.targetSubjectsOf, path)]
    return [each for each in found if graph.value(each, SH.path) == path]


def _column(graph: rdflib.Graph, path: rdflib.URIRef, shapes: list[rdflib.term.Node]) -> Column:
    title = _SHARED.get(str(path)) or str(graph.value(path, RDFS.label))
    note = _NOTES.get(title) or str(graph.value(path, SKOS.definition) or "")
    once = path == RDFS.label or any(_number(graph, shape, SH.maxCount) == 1 for shape in shapes)
    holds = _holds(graph, path, shapes)
    vocabulary = next(iter(_vocabularies(graph, shapes)), "")
    return Column(
        iri=str(path),
        title=title,
        note=note,
        holds=holds,
        needed=any((_number(graph, shape, SH.minCount) or 0) > 0 for shape in shapes),
        many=not once and holds not in (Holds.NUMBER, Holds.WHOLE, Holds.YES_NO) and not _one_a_language(graph, shapes),
        choices=tuple(str(each).removeprefix(vocabulary) for each in _choices(graph, shapes)),
        vocabulary=vocabulary,
        classes=tuple(sorted(_classes(graph, shapes))) if holds is Holds.NAME else (),
    )


def _holds(graph: rdflib.Graph, path: rdflib.URIRef, shapes: list[rdflib.term.Node]) -> Holds:
    if path == RDFS.seeAlso:
        return Holds.ADDRESS
    if any(_vocabularies(graph, shapes)):
        return Holds.TERM
    if any(_choices(graph, shapes)):
        return Holds.CHOICE
    if (path, RDF.type, OWL.ObjectProperty) in graph:
        return Holds.NAME
    types = {graph.value(shape, SH.datatype) for shape in shapes} - {None}
    types = types or {graph.value(path, RDFS.range)}
    for datatype, holds in (
        (XSD.boolean, Holds.YES_NO),
        (XSD.integer, Holds.WHOLE),
        (XSD.decimal, Holds.NUMBER),
        (XSD.string, Holds.PLAIN),
    ):
        if datatype in types:
            return holds
    return Holds.TEXT


def _one_a_language(graph: rdflib.Graph, shapes: list[rdflib.term.Node]) -> bool:
    return any(graph.value(shape, SH.uniqueLang) is not None for shape in shapes)


def _vocabularies(graph: rdflib.Graph, shapes: list[rdflib.term.Node]) -> Iterator[str]:
    for shape in shapes:
        pattern = str(graph.value(shape, SH.pattern) or "")
        if pattern.startswith("^" + VOCABULARY):
            yield pattern.removeprefix("^")
    for choice in _choices(graph, shapes):
        if str(choice).startswith(VOCABULARY):
            yield str(choice).partition("#")[0] + "#"


def _choices(graph: rdflib.Graph, shapes: list[rdflib.term.Node]) -> list[rdflib.term.Node]:
    return [each for shape in shapes for each in _members(graph, shape, SH["in"])]


def _classes(graph: rdflib.Graph, shapes: list[rdflib.term.Node]) -> Iterator[str]:
    for shape in shapes:
        alternatives = list(_members(graph, shape, SH["or"]))
        for node in [shape, *alternatives]:
            for found in graph.objects(node, SH["class"]):
                if str(found).startswith(FO):
                    yield str(found).removeprefix(FO)


def _members(graph: rdflib.Graph, shape: rdflib.term.Node, name: rdflib.URIRef) -> Iterator[rdflib.term.Node]:
    listed = graph.value(shape, name)
    if listed is not None:
        yield from Collection(graph, listed)


def _number(graph: rdflib.Graph, shape: rdflib.term.Node, name: rdflib.URIRef) -> int | None:
    value = graph.value(shape, name)
    return None if value is None else int(str(value))


def _literals(graph: rdflib.Graph, node: rdflib.term.Node, name: rdflib.URIRef) -> Iterator[rdflib.Literal]:
    for value in graph.objects(node, name):
        if isinstance(value, rdflib.Literal):
            yield value
