"""The catalogue graph: which graph is the current version of a platform, as texts of SPARQL Update.

::

    catalogue  fo:holds         graph       a graph that is, or may be half, written
    catalogue  fo:drops         graph       a graph that is about to be, or may be half, taken away
    graph      fo:revision      "..."       the digest of what it says
    graph      fo:size          n           how many triples it has; an answer with another number is not whole
    graph      fo:number        n           later pointers have higher numbers
    platform   fo:currentGraph  graph       the pointer; of several, that to the highest number counts

Engines differ in what readers see during an update. Each step of ``moved`` leaves the catalogue so that a reader finds
the graph before or the graph after, never neither: the new pointer is one triple, put in before the old one is taken
away.
"""

from __future__ import annotations

from firstoff.store.converting import node, to_engine
from firstoff.store.terms import Iri, Text

_FO = "https://firstoff.example/ontology#"
CATALOGUE = Iri("https://firstoff.example/graph/catalogue")
#: A small graph that stays in a server, so that who comes to it can ask whether it does what is relied on.
PROBE = Iri("https://firstoff.example/graph/probe/1")
#: What has the graph of the vocabularies as its current one, as a platform has its.
VOCABULARY = Iri("https://firstoff.example/vocabulary")


def held(graph: Iri) -> str:
    """Note that a graph is being written."""
    return f"INSERT DATA {{ {_in(f'{node(CATALOGUE)} <{_FO}holds> {node(graph)}')} }}"


def moved(platform: Iri, graph: Iri, revision: str, size: int, number: int) -> tuple[str, ...]:
    """Make ``graph`` the current version of ``platform``."""
    subject, target = node(platform), node(graph)
    said = to_engine(Text(revision))
    facts = f"{target} <{_FO}revision> {said} ; <{_FO}size> {size} ; <{_FO}number> {number}"
    pointer = f"{subject} <{_FO}currentGraph>"
    return (
        f"INSERT DATA {{ {_in(facts)} }}",
        f"INSERT DATA {{ {_in(f'{pointer} {target}')} }}",
        _deleted(f"{pointer} ?old", f"FILTER(?old != {target})"),
        _deleted(f"{target} <{_FO}number> ?old", f"FILTER(?old != {number})"),
        _deleted(f"{target} <{_FO}size> ?old", f"FILTER(?old != {size})"),
        _deleted(f"{target} <{_FO}revision> ?old", f"FILTER(str(?old) != {said})"),
    )


def withdrawn(platform: Iri) -> str:
    """Let ``platform`` have no current version."""
    return _deleted(f"{node(platform)} <{_FO}currentGraph> ?old")


def dropped(graph: Iri) -> tuple[str, ...]:
    """Take a graph away. Nobody counts on it any more once the second step is done."""
    target, catalogue = node(graph), node(CATALOGUE)
    return (
        f"INSERT DATA {{ {_in(f'{catalogue} <{_FO}drops> {target}')} }}",
        f"DELETE DATA {{ {_in(f'{catalogue} <{_FO}holds> {target}')} }}",
        f"DROP SILENT GRAPH {target}",
        *(_deleted(f"{target} <{_FO}{name}> ?old") for name in ("revision", "size", "number")),
        f"DELETE DATA {{ {_in(f'{catalogue} <{_FO}drops> {target}')} }}",
    )


def _deleted(pattern: str, condition: str = "") -> str:
    return f"DELETE {{ {_in(pattern)} }} WHERE {{ {_in(f'{pattern} {condition}')} }}"


def _in(triples: str) -> str:
    return f"GRAPH {node(CATALOGUE)} {{ {triples} }}"
