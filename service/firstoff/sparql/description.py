"""The service told in RDF: SPARQL 1.1 Service Description (https://www.w3.org/TR/sparql11-service-description/)."""

from __future__ import annotations

from firstoff.sparql.asking import Served
from firstoff.sparql.triples import written_term
from firstoff.store.terms import XSD, Iri, Text

#: The formats of https://www.w3.org/ns/formats/ in which answers are given.
_FORMATS = (
    "SPARQL_Results_JSON",
    "SPARQL_Results_XML",
    "SPARQL_Results_CSV",
    "SPARQL_Results_TSV",
    "Turtle",
    "N-Triples",
    "RDF_XML",
    "JSON-LD",
)


def description(endpoint: str, served: Served) -> str:
    """Turtle about the service at the address ``endpoint`` and what it holds: triples of each graph, by name."""
    graphs = ",\n".join(_named(name, served.graphs[name]) for name in sorted(served.graphs))
    formats = ", ".join(written_term(Iri(f"http://www.w3.org/ns/formats/{each}")) for each in _FORMATS)
    return f"""@prefix sd: <http://www.w3.org/ns/sparql-service-description#> .
@prefix void: <http://rdfs.org/ns/void#> .
@prefix dcterms: <http://purl.org/dc/terms/> .

[] a sd:Service ;
    sd:endpoint {written_term(Iri(endpoint))} ;
    sd:supportedLanguage sd:SPARQL11Query ;
    sd:feature sd:UnionDefaultGraph ;
    sd:resultFormat {formats} ;
    sd:defaultDataset [
        a sd:Dataset ;
        dcterms:identifier {written_term(Text(served.revision, XSD + "string"))} ;
        sd:defaultGraph [ a sd:Graph ; void:triples {served.triples} ] ;
        sd:namedGraph
{graphs}
    ] .
"""


def _named(name: str, triples: int) -> str:
    graph = f"[ a sd:Graph ; void:triples {triples} ]"
    return f"            [ a sd:NamedGraph ; sd:name {written_term(Iri(name))} ; sd:graph {graph} ]"
