from __future__ import annotations

import pyoxigraph as ox
import pytest
import rdflib
import rdflib.compare

from firstoff.authoring.turtle import read_turtle, subject_lines, to_rdflib
from firstoff.errors import ContentSyntax
from support.small_platform import TURTLE

HEAD = "@prefix p: <https://firstoff.example/platform/x/> .\n@prefix fo: <https://firstoff.example/ontology#> .\n"


@pytest.mark.parametrize(
    ("body", "line", "expected"),
    [
        ("p:a a fo:Zone\np:b a fo:Zone .", 4, "A dot is expected at the end of statements"),
        ("p:a a q:Zone .", 3, "The prefix q: has not been declared"),
        ("p:a fo:kind [ a fo:Zone ; .", 3, "blank node property lists should end with a ']'"),
        ("p:a fo:minutes ten .", 3, "ten is not a valid RDF object"),
        ('\n\np:a fo:text "open .', 5, "Unexpected end of file"),
    ],
)
def test_syntax_errors_have_line_and_words(body: str, line: int, expected: str) -> None:
    with pytest.raises(ContentSyntax) as caught:
        read_turtle(HEAD + body, "x.ttl")
    assert (caught.value.file, caught.value.line, caught.value.expected) == ("x.ttl", line, expected)


def test_triples_about_triples_are_not_taken() -> None:
    with pytest.raises(ContentSyntax, match="speaks of a triple"):
        read_turtle(HEAD + "p:a fo:text <<( p:b fo:kind p:c )>> .", "x.ttl")


def test_document_knows_prefixes() -> None:
    document = read_turtle(HEAD + "p:a a fo:Zone .", "x.ttl")
    assert document.shortened("https://firstoff.example/platform/x/a") == "p:a"
    assert document.shortened("https://firstoff.example/ontology#Zone") == "fo:Zone"
    assert document.shortened("https://firstoff.example/model/m") == "<https://firstoff.example/model/m>"


def test_subject_lines() -> None:
    text = "# p:a is not here\np:a a fo:Zone ;\n    fo:kind p:c .\n\np:b-1 a fo:Zone .\np:a fo:kind p:b-1 .\n"
    text += "<https://x/y#d> a fo:Zone ."
    assert subject_lines(text) == {"a": 2, "b-1": 5, "d": 7}


def test_subject_lines_find_every_resource() -> None:
    triples = read_turtle(TURTLE, "small-box.ttl").triples
    subjects = {t.subject.value.rpartition("/")[2] for t in triples if isinstance(t.subject, ox.NamedNode)}
    lines = subject_lines(TURTLE)
    assert subjects == {slug for slug in lines if slug in subjects}
    for slug in subjects:
        assert slug in TURTLE.splitlines()[lines[slug] - 1].split(" a ")[0]


def test_to_rdflib_says_the_same_as_rdflib() -> None:
    """Against rdflib's own parser, up to the names of blank nodes."""
    ours = to_rdflib(read_turtle(TURTLE, "small-box.ttl").triples)
    theirs = rdflib.Graph().parse(data=TURTLE, format="turtle")
    assert rdflib.compare.isomorphic(ours, theirs)


@pytest.mark.parametrize("datatype", ["integer", "decimal", "double"])
def test_a_word_for_a_number_becomes_a_word(datatype: str) -> None:
    xsd = "http://www.w3.org/2001/XMLSchema#"
    graph = to_rdflib(read_turtle(f'{HEAD}p:a fo:minutes "ten"^^<{xsd}{datatype}> .', "x.ttl").triples)
    assert list(graph.objects()) == [rdflib.Literal("ten")]
