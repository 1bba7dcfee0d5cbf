"""The embedded engine: pyoxigraph, in memory."""

from __future__ import annotations

import pyoxigraph as ox

from firstoff.errors import EngineFailed, QueryRefused, StoreError
from firstoff.store.queries import query_text
from firstoff.store.terms import Blank, Iri, Row, Term, Text
from firstoff.store.turtle import encoded, may_be_rdf_1_2, syntax_error, triples_of

CATALOGUE = Iri("https://firstoff.example/graph/catalogue")
_CURRENT = ox.NamedNode("https://firstoff.example/ontology#currentGraph")
_STRING = "http://www.w3.org/2001/XMLSchema#string"
_REVISION = ox.NamedNode("https://firstoff.example/ontology#revision")


def from_engine(term: object) -> Term | None:
    """Our term for one of the engine's; None for an unbound variable.

    :raises EngineFailed: for a term of a kind that ``put_graph`` lets in nowhere (a triple, a text with a direction).
    """
    if term is None:
        return None
    if isinstance(term, ox.NamedNode):
        return Iri(term.value)
    if isinstance(term, ox.BlankNode):
        return Blank(term.value)
    if isinstance(term, ox.Literal) and term.direction is None:
        return Text(term.value, term.datatype.value, term.language)
    raise EngineFailed(f"The engine answered with a term of an unexpected kind: {term!r}.")


def to_engine(term: Term) -> ox.NamedNode | ox.Literal:
    """The engine's term for one of ours.

    :raises QueryRefused: for a blank node, which cannot be bound into a query, and for what is no term of RDF.
    """
    if isinstance(term, Iri):
        return _node(term)
    if isinstance(term, Blank):
        raise QueryRefused("A blank node cannot be bound into a query.")
    try:
        if term.language is not None:
            return ox.Literal(term.value, language=term.language)
        return ox.Literal(term.value, datatype=ox.NamedNode(term.datatype))
    except ValueError as error:
        raise QueryRefused(f"{term!r} is not a literal: {error}.") from error


def _node(iri: Iri) -> ox.NamedNode:
    try:
        return ox.NamedNode(iri.value)
    except ValueError as error:
        raise QueryRefused(f"{iri.value!r} is not an IRI.") from error


def translated(error: Exception) -> StoreError:
    """Our exception for one the engine raised.

    pyoxigraph raises ``SyntaxError`` and ``ValueError`` for a text it does not accept, ``RuntimeError`` while
    evaluating, ``OSError`` from its files.
    """
    if isinstance(error, (SyntaxError, ValueError)):
        return QueryRefused(f"The engine does not accept the query: {error}")
    return EngineFailed(f"The engine failed: {error}")


class EmbeddedStore:
    """Holds the triples in this process. Reading from several threads is safe, beside one that writes."""

    def __init__(self) -> None:
        self._engine = ox.Store()

    def put_graph(self, graph: Iri, turtle: str, *, file: str) -> int:
        """See ``Store.put_graph``."""
        name = _node(graph)
        content = encoded(turtle, file=file)
        if may_be_rdf_1_2(content) or self._engine.contains_named_graph(name):
            self._replace(name, triples_of(turtle, file=file))
        else:
            try:  # in one transaction, and without making an object of each triple: four times as fast
                self._engine.load(content, format=ox.RdfFormat.TURTLE, to_graph=name)
            except SyntaxError as error:
                raise syntax_error(file, error) from error
            except Exception as error:
                raise translated(error) from error
        return self._size(name)

    def _replace(self, name: ox.NamedNode, triples: tuple[ox.Triple, ...]) -> None:
        body = "\n".join(f"{triple} ." for triple in triples)
        self._update(f"DROP SILENT GRAPH {name} ; INSERT DATA {{ GRAPH {name} {{ {body} }} }}")

    def dump(self, graph: Iri) -> bytes:
        """The triples of ``graph`` in N-Triples, a line for each; empty where there is no such graph.

        :raises EngineFailed: the engine failed.
        """
        try:
            return self._engine.dump(format=ox.RdfFormat.N_TRIPLES, from_graph=_node(graph)) or b""
        except Exception as error:
            raise translated(error) from error

    def _size(self, name: ox.NamedNode) -> int:
        counted = self._engine.query(f"SELECT (COUNT(*) AS ?size) WHERE {{ GRAPH {name} {{ ?s ?p ?o }} }}")
        return next((int(row["size"].value) for row in counted), 0)  # type: ignore[union-attr]

    def point(self, platform: Iri, graph: Iri, revision: str) -> None:
        """See ``Store.point``."""
        subject, target, catalogue = _node(platform), _node(graph), _node(CATALOGUE)
        said = f"{target} {_REVISION} {to_engine(Text(revision, _STRING))}"
        self._update(
            f"DELETE {{ GRAPH {catalogue} {{ {subject} {_CURRENT} ?graph . {target} {_REVISION} ?revision }} }} "
            f"INSERT {{ GRAPH {catalogue} {{ {subject} {_CURRENT} {target} . {said} }} }} "
            f"WHERE {{ OPTIONAL {{ GRAPH {catalogue} {{ {subject} {_CURRENT} ?graph }} }} "
            f"OPTIONAL {{ GRAPH {catalogue} {{ {target} {_REVISION} ?revision }} }} }}"
        )

    def withdraw(self, platform: Iri) -> None:
        """See ``Store.withdraw``."""
        self._update(f"DELETE WHERE {{ GRAPH {_node(CATALOGUE)} {{ {_node(platform)} {_CURRENT} ?graph }} }}")

    def drop(self, graph: Iri) -> None:
        """See ``Store.drop``."""
        name = _node(graph)
        self._update(
            f"DROP SILENT GRAPH {name} ; DELETE WHERE {{ GRAPH {_node(CATALOGUE)} {{ {name} {_REVISION} ?revision }} }}"
        )

    def _update(self, text: str) -> None:
        try:
            self._engine.update(text)
        except Exception as error:
            raise translated(error) from error

    def select(self, query: str, bindings: dict[str, Term] | None = None) -> list[Row]:
        """See ``Store.select``."""
        bound = {name: to_engine(term) for name, term in (bindings or {}).items()}
        try:
            text = query_text(query)
        except FileNotFoundError as error:
            raise QueryRefused(f"There is no query {query!r}.") from error
        try:
            solutions = self._engine.query(
                text, substitutions={ox.Variable(name): term for name, term in bound.items()}
            )
            if not isinstance(solutions, ox.QuerySolutions):
                raise QueryRefused(f"The query {query!r} is not a SELECT.")
            names = [variable.value for variable in solutions.variables]
            return [{name: from_engine(solution[name]) for name in names} for solution in solutions]
        except StoreError:
            raise
        except Exception as error:
            raise translated(error) from error
