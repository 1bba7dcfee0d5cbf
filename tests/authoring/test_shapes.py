"""Every shape passes the small platform and tells the change made for it."""

from __future__ import annotations

import pyshacl
import pytest
import rdflib
from rdflib.namespace import RDF, RDFS, SH

from firstoff.authoring import Report, Severity
from firstoff.authoring.check import check_text
from firstoff.authoring.ontology import Ontology, load_ontology
from support.shape_changes import ROWS
from support.small_platform import NAME, TURTLE, changed

SHAPE = "https://firstoff.example/shape#"
FO = "https://firstoff.example/ontology#"
ONTOLOGY = load_ontology()
SHAPES = ONTOLOGY.shapes
CLOSED = sorted(str(SHAPES.value(shape, SH.targetClass)).removeprefix(FO) for shape in SHAPES.subjects(SH.closed))


def named_shapes() -> list[rdflib.URIRef]:
    found = {*SHAPES.subjects(RDF.type, SH.NodeShape), *SHAPES.subjects(RDF.type, SH.PropertyShape)}
    return sorted(shape for shape in found if isinstance(shape, rdflib.URIRef))


def rules_of(report: Report) -> dict[str, Severity]:
    return {finding.rule: finding.severity for finding in report.findings}


def test_small_platform_passes_every_shape(ontology: Ontology) -> None:
    assert check_text(TURTLE, NAME, ontology).findings == ()


@pytest.mark.parametrize(
    ("rule", "start", "old", "new"), ROWS, ids=[f"{row[0]}: {row[3] or row[2]}"[:60] for row in ROWS]
)
def test_change_is_told(rule: str, start: str, old: str, new: str, ontology: Ontology) -> None:
    report = check_text(changed(old, new, start=start), NAME, ontology)
    told = [finding for finding in report.findings if finding.rule == rule]
    severity = SHAPES.value(rdflib.URIRef(SHAPE + rule), SH.severity)
    expected = Severity.WARNING if severity == SH.Warning else Severity.ERROR
    assert [finding.severity for finding in told] == [expected] * len(told)
    assert told, rules_of(report)


@pytest.mark.parametrize("name", CLOSED)
def test_closed_shape_tells_a_property_it_does_not_take(name: str, ontology: Ontology) -> None:
    wrong = changed(f"a fo:{name} ;", f"a fo:{name} ; fo:needOff p:lamp ;")
    told = [finding for finding in check_text(wrong, NAME, ontology).findings if finding.rule == "unknown-property"]
    assert len(told) == 1
    assert "Found: fo:needOff. Did you mean fo:needsOff?" in told[0].message


def test_every_class_of_the_ontology_is_closed(ontology: Ontology) -> None:
    assert set(CLOSED) == ontology.classes


def test_every_shape_has_a_change_made_for_it() -> None:
    changes = {row[0] for row in ROWS}
    for shape in named_shapes():
        name = shape.removeprefix(SHAPE)
        closed = SHAPES.value(shape, SH.closed) is not None
        only_leads_to_others = SHAPES.value(shape, SH.message) is None
        assert closed or only_leads_to_others or name in changes, f"no change is made for {name}"
    assert changes <= {shape.removeprefix(SHAPE) for shape in named_shapes()}


def test_shapes_without_a_message_only_lead_to_others() -> None:
    """A shape that can fail on its own says what is wrong."""
    leading = {RDF.type, SH.targetNode, SH.path, SH.property}
    helpers = {node for kind in (SH["not"], SH.node) for node in SHAPES.objects(None, kind)}
    for shape in named_shapes():
        if SHAPES.value(shape, SH.message) is None and shape not in helpers:
            assert set(SHAPES.predicates(shape)) <= leading, shape


def test_every_message_has_a_mend_in_plain_sentences() -> None:
    for shape in SHAPES.subjects(SH.message):
        for name in (SH.message, SH.description):
            texts = list(SHAPES.objects(shape, name))
            assert len(texts) == 1, (shape, name)
            assert isinstance(texts[0], rdflib.Literal)
            assert texts[0].language == "en"
            assert str(texts[0])[0].isupper(), texts[0]
            assert str(texts[0])[-1] == ".", texts[0]


def test_a_value_that_the_engine_cannot_judge_is_told(ontology: Ontology) -> None:
    """A blank node where two numbers are compared: the engine gives up on the whole file."""
    report = check_text(changed("fo:atMost 4000", "fo:atMost [ a fo:Outcome ]", start="p:lamp-ohms"), NAME, ontology)
    assert not report.ok
    assert "shapes-not-judged" in rules_of(report)


def test_shapes_speak_of_the_ontology_only(ontology: Ontology) -> None:
    named = {str(node) for triple in SHAPES for node in triple if str(node).startswith(FO)}
    assert {iri.removeprefix(FO) for iri in named} <= ontology.classes | ontology.properties


def test_every_property_of_the_ontology_is_held_by_a_shape(ontology: Ontology) -> None:
    """Its own path in some property shape; vocabulary-only properties aside."""
    held = {str(path).removeprefix(FO) for path in SHAPES.objects(None, SH.path)}
    assert ontology.properties - held == {"isolates", "wear"}
    assert RDFS.label in set(SHAPES.objects(None, SH.path))


class TestEachConstraint:
    """Every constraint of every shape that has a class as target, made to fail on all resources at once."""

    OWN = tuple(
        shape
        for shape in named_shapes()
        if SHAPES.value(shape, SH.targetClass) and isinstance(SHAPES.value(shape, SH.path), rdflib.URIRef)
    )
    VALUES = (SH["class"], SH.datatype, SH["in"], SH["or"], SH.minExclusive, SH.minInclusive, SH.nodeKind, SH.pattern)

    @staticmethod
    def told(graph: rdflib.Graph) -> set[tuple[object, object]]:
        """Pairs of the resource and the shape that tells it."""
        for triple in ONTOLOGY.kept:
            graph.add(triple)
        _, results, _ = pyshacl.validate(graph, shacl_graph=SHAPES)
        assert isinstance(results, rdflib.Graph)
        return {
            (results.value(result, SH.focusNode), results.value(result, SH.sourceShape))
            for result in results.subjects(RDF.type, SH.ValidationResult)
        }

    @staticmethod
    def path(shape: rdflib.URIRef) -> rdflib.URIRef:
        path = SHAPES.value(shape, SH.path)
        assert isinstance(path, rdflib.URIRef)
        return path

    @staticmethod
    def resources(graph: rdflib.Graph, shape: rdflib.URIRef) -> set[rdflib.term.Node]:
        found = {
            subject for kind in SHAPES.objects(shape, SH.targetClass) for subject in graph.subjects(RDF.type, kind)
        }
        assert found, shape
        return found

    def test_missing_values(self) -> None:
        whole = rdflib.Graph().parse(data=TURTLE, format="turtle")
        bare = rdflib.Graph()
        for triple in whole.triples((None, RDF.type, None)):
            bare.add(triple)
        told = self.told(bare)
        needing = [shape for shape in self.OWN if SHAPES.value(shape, SH.minCount) is not None]
        assert len(needing) > 50
        for shape in needing:
            for resource in self.resources(whole, shape):
                assert (resource, shape) in told, (resource, shape)

    def test_too_many_values(self) -> None:
        whole = rdflib.Graph().parse(data=TURTLE, format="turtle")
        limited = [shape for shape in self.OWN if SHAPES.value(shape, SH.maxCount) is not None]
        assert len(limited) > 80
        crowded = rdflib.Graph()
        for triple in whole:
            crowded.add(triple)
        for shape in limited:
            path, most = self.path(shape), int(str(SHAPES.value(shape, SH.maxCount)))
            for resource in self.resources(whole, shape):
                for number in range(most + 1):
                    crowded.add(
                        (resource, path, rdflib.URIRef(f"https://firstoff.example/platform/small-box/x{number}"))
                    )
        told = self.told(crowded)
        for shape in limited:
            for resource in self.resources(whole, shape):
                assert (resource, shape) in told, (resource, shape)

    @pytest.mark.parametrize(
        "wrong",
        [
            # a literal of no kind that any property takes, and a resource of no class that any property takes
            rdflib.Literal("", datatype=rdflib.XSD.anyURI),
            rdflib.URIRef("https://firstoff.example/nothing"),
        ],
        ids=["wrong literal", "wrong resource"],
    )
    def test_wrong_values(self, wrong: rdflib.Literal | rdflib.URIRef) -> None:
        whole = rdflib.Graph().parse(data=TURTLE, format="turtle")
        valued = [shape for shape in self.OWN if any(SHAPES.value(shape, name) is not None for name in self.VALUES)]
        assert len(valued) > 100
        spoilt = rdflib.Graph()
        for triple in whole.triples((None, RDF.type, None)):
            spoilt.add(triple)
        for shape in valued:
            for resource in self.resources(whole, shape):
                spoilt.add((resource, self.path(shape), wrong))
        told = self.told(spoilt)
        for shape in valued:
            for resource in self.resources(whole, shape):
                assert (resource, shape) in told, (resource, shape)
