"""SHACL, and its results in the words of an appliance person.

The local name of a shape is the rule; its ``sh:message`` says what is wrong and its ``sh:description`` how to mend it
(Shapes Constraint Language, W3C Recommendation, 2017).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches

import pyshacl
import rdflib
from pyshacl.errors import ReportableRuntimeError
from rdflib.namespace import RDF, SH

from firstoff.authoring.findings import Problem, Severity
from firstoff.authoring.ontology import FO, Ontology
from firstoff.authoring.turtle import Document

#: Constraints that say a value is missing or one too many; their results carry no value.
_TOO_FEW = frozenset({SH.MinCountConstraintComponent, SH.QualifiedMinCountConstraintComponent})
_TOO_MANY = frozenset({SH.MaxCountConstraintComponent, SH.QualifiedMaxCountConstraintComponent})
#: Where a shape fails on several of its constraints at once, the first of these tells it best.
_TELLING = (SH.MinCountConstraintComponent, SH.MaxCountConstraintComponent, SH.ClassConstraintComponent)


@dataclass(frozen=True, slots=True)
class _Result:
    focus: rdflib.term.Node
    shape: rdflib.term.Node
    component: rdflib.term.Node
    path: rdflib.term.Node | None
    value: rdflib.term.Node | None
    warning: bool


def shape_problems(
    document: Document, graph: rdflib.Graph, ontology: Ontology, owners: Mapping[str, str], unknown: frozenset[str]
) -> Iterator[Problem]:
    """Everything in which ``graph`` departs from the shapes, one problem for each resource, shape and value.

    ``owners`` maps the label of a blank node to the slug of the resource it belongs to. Values in ``unknown`` (IRIs of
    which nothing is said) are told elsewhere and passed over. ``graph`` is added to.
    """
    for triple in ontology.kept:
        graph.add(triple)
    try:
        results = _results(graph, ontology)
    except ReportableRuntimeError as problem:
        yield Problem(
            Severity.ERROR,
            "shapes-not-judged",
            None,
            f"A value is of a kind that the shapes cannot judge, so nothing was held against them: {problem}",
            "Write numbers and texts as such, not as square brackets, and check again.",
        )
        return
    for (focus, shape, value), result in results.items():
        if value is not None and str(value) in unknown:
            continue
        closed = result.component == SH.ClosedConstraintComponent
        message = " ".join(
            part for part in (_text(ontology, shape, SH.message), _found(result, document, graph, ontology)) if part
        )
        yield Problem(
            Severity.WARNING if result.warning else Severity.ERROR,
            "unknown-property" if closed else _local(shape),
            _resource(focus, owners),
            message,
            _text(ontology, shape, SH.description),
        )


def _results(
    graph: rdflib.Graph, ontology: Ontology
) -> dict[tuple[rdflib.term.Node, rdflib.term.Node, rdflib.term.Node | None], _Result]:
    _, answer, _ = pyshacl.validate(graph, shacl_graph=ontology.shapes, inplace=True)
    if not isinstance(answer, rdflib.Graph):
        raise TypeError(f"The SHACL engine failed: {answer!r}")
    found: dict[tuple[rdflib.term.Node, rdflib.term.Node, rdflib.term.Node | None], _Result] = {}
    for node in answer.subjects(RDF.type, SH.ValidationResult):
        result = _Result(
            focus=_needed(answer, node, SH.focusNode),
            shape=_needed(answer, node, SH.sourceShape),
            component=_needed(answer, node, SH.sourceConstraintComponent),
            path=answer.value(node, SH.resultPath),
            value=answer.value(node, SH.value),
            warning=answer.value(node, SH.resultSeverity) == SH.Warning,
        )
        told = result.path if result.component == SH.ClosedConstraintComponent else result.value
        key = (result.focus, result.shape, told)
        if key not in found or _rank(result) < _rank(found[key]):
            found[key] = result
    return found


def _rank(result: _Result) -> tuple[int, str]:
    known = _TELLING.index(result.component) if result.component in _TELLING else len(_TELLING)
    return known, str(result.component)


def _found(result: _Result, document: Document, graph: rdflib.Graph, ontology: Ontology) -> str:
    """What stands there instead, as a sentence; empty where the message says it all."""
    if result.component == SH.ClosedConstraintComponent:
        return f"Found: {document.shortened(str(result.path))}.{_nearest_property(result.path, ontology)}"
    if result.component in _TOO_FEW or result.component in _TOO_MANY:
        if not isinstance(result.path, rdflib.URIRef):
            return ""
        values = sorted(_shown(value, document) for value in graph.objects(result.focus, result.path))
        return f"Found: {', '.join(values)}." if values else "Found: none."
    if result.value is not None and result.value != result.focus:
        return f"Found: {_shown(result.value, document)}."
    return ""


def _shown(value: rdflib.term.Node, document: Document) -> str:
    if isinstance(value, rdflib.URIRef):
        return document.shortened(str(value))
    if isinstance(value, rdflib.BNode):
        return "[ … ]"
    if isinstance(value, rdflib.Literal) and value.language:
        return f'"{value}"@{value.language}'
    return f'"{value}"'


def _nearest_property(path: rdflib.term.Node | None, ontology: Ontology) -> str:
    name = str(path).removeprefix(FO)
    if name in ontology.properties:
        return ""
    near = get_close_matches(name, sorted(ontology.properties), n=1)
    return f" Did you mean fo:{near[0]}?" if near else ""


def _resource(focus: rdflib.term.Node, owners: Mapping[str, str]) -> str | None:
    if isinstance(focus, rdflib.BNode):
        return owners.get(str(focus))
    return str(focus).replace("#", "/").rstrip("/").rpartition("/")[2]


def _local(shape: rdflib.term.Node) -> str:
    return str(shape).rpartition("#")[2]


def _text(ontology: Ontology, shape: rdflib.term.Node, name: rdflib.URIRef) -> str:
    return str(ontology.shapes.value(shape, name) or "")


def _needed(answer: rdflib.Graph, node: rdflib.term.Node, name: rdflib.URIRef) -> rdflib.term.Node:
    value = answer.value(node, name)
    if value is None:
        raise LookupError(f"The SHACL engine gave a result without {name}.")
    return value
