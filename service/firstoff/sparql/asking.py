"""What is asked, within which limits, and what is answered: plain data that both ends of a pipe know."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

JSON_RESULTS = "application/sparql-results+json"
XML_RESULTS = "application/sparql-results+xml"
CSV_RESULTS = "text/csv"
TSV_RESULTS = "text/tab-separated-values"
TURTLE = "text/turtle"
N_TRIPLES = "application/n-triples"
RDF_XML = "application/rdf+xml"
JSON_LD = "application/ld+json"

#: What SELECT and ASK can be answered in, the first where nothing is preferred. The last two are how old clients ask.
RESULT_TYPES = (JSON_RESULTS, XML_RESULTS, CSV_RESULTS, TSV_RESULTS, "application/json", "application/xml")
#: What CONSTRUCT and DESCRIBE can be answered in. They answer a graph without a name, so no N-Quads and no TriG.
GRAPH_TYPES = (TURTLE, N_TRIPLES, RDF_XML, JSON_LD)

#: What relative IRIs of a query are read against, where it has no BASE of its own.
BASE = "https://firstoff.example/"

#: Longest text of a query, in characters. One that a person or a tool wrote is well below it.
QUERY_CHARACTERS = 20_000


@dataclass(frozen=True, slots=True)
class Limits:
    """What one query may use: seconds, bytes of memory of its process, rows (or triples) and bytes of its answer."""

    seconds: float
    memory_bytes: int
    rows: int
    bytes: int


@dataclass(frozen=True, slots=True)
class Dataset:
    """Graphs by name: those that are merged to the default graph, and those that GRAPH finds (SPARQL 1.1, 13)."""

    default: tuple[str, ...] = ()
    named: tuple[str, ...] = ()

    def __bool__(self) -> bool:
        """Whether anything is said; if not, the whole content is meant."""
        return bool(self.default or self.named)


@dataclass(frozen=True, slots=True)
class Question:
    """A query, the dataset of the request, and the media types for either kind of answer; None where none will do."""

    text: str
    dataset: Dataset
    result_type: str | None
    graph_type: str | None


@dataclass(frozen=True, slots=True)
class Answer:
    """A whole answer; ``rows`` are solutions or triples. ``revision`` is that of the content it was read from."""

    body: bytes
    media_type: str
    rows: int
    revision: str = ""


@dataclass(frozen=True, slots=True)
class Served:
    """What a snapshot holds: its revision, the triples of the default graph, and of each named graph."""

    revision: str
    triples: int
    graphs: Mapping[str, int]
