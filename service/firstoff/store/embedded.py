"""The embedded engine: pyoxigraph, in memory or in a folder."""

from __future__ import annotations

from pathlib import Path

import pyoxigraph as ox

from firstoff.errors import EngineFailed, QueryRefused, StoreError
from firstoff.store.converting import answered, node, to_engine
from firstoff.store.numbering import Numbering
from firstoff.store.pointing import dropped, held, moved, withdrawn
from firstoff.store.queries import query_text
from firstoff.store.terms import Iri, Row, Term
from firstoff.store.turtle import encoded, may_be_rdf_1_2, syntax_error, triples_of

_LOCKED = ("lock file", "lock hold")


def translated(error: Exception, folder: Path | None = None) -> StoreError:
    """Our exception for one the engine raised.

    pyoxigraph raises ``SyntaxError`` and ``ValueError`` for a text it does not accept, ``RuntimeError`` while
    evaluating, ``OSError`` from its files.
    """
    if isinstance(error, (SyntaxError, ValueError)):
        return QueryRefused(f"The engine does not accept the query: {error}")
    if folder is None:
        return EngineFailed(f"The engine failed: {error}")
    return EngineFailed(f"The engine in the folder {str(folder)!r} failed: {error}", mend=_BUILD_ANEW)


_BUILD_ANEW = (
    "See that there is room on the disk. Where the folder is damaged, stop the service and run `firstoff rebuild`: the "
    "engine is built anew from the files of the content, and the damaged folder is kept beside it."
)


def _not_opened(folder: Path, error: Exception) -> EngineFailed:
    if any(each in str(error) for each in _LOCKED):
        return EngineFailed(
            f"The engine folder {str(folder)!r} is in use by another process.",
            mend="Stop the other service, or give this one a folder of its own in FIRSTOFF_ENGINE.",
        )
    return EngineFailed(f"The engine folder {str(folder)!r} cannot be opened: {error}", mend=_BUILD_ANEW)


class EmbeddedStore:
    """Holds the triples in this process, or in ``folder``. Safe to read from several threads, beside one that writes.

    :raises EngineFailed: the folder cannot be opened.
    """

    def __init__(self, folder: Path | None = None) -> None:
        self._folder = folder
        try:
            self._engine = ox.Store() if folder is None else ox.Store(str(folder))
        except Exception as error:
            raise _not_opened(folder or Path(), error) from error
        self._numbering = Numbering()

    @property
    def writes(self) -> bool:
        """See ``Store.writes``."""
        return True

    @property
    def shared(self) -> bool:
        """See ``Store.shared``."""
        return False

    def check(self) -> None:
        """See ``Store.check``."""
        self.select("numbers")

    def put_graph(self, graph: Iri, turtle: str, *, file: str) -> int:
        """See ``Store.put_graph``."""
        name = node(graph)
        content = encoded(turtle, file=file)
        self._update(held(graph))
        if may_be_rdf_1_2(content) or self._contains(name):
            self._replace(name, triples_of(turtle, file=file))
        else:
            try:  # in one transaction, and without making an object of each triple: four times as fast
                self._engine.load(content, format=ox.RdfFormat.TURTLE, to_graph=name)
            except SyntaxError as error:
                raise syntax_error(file, error) from error
            except Exception as error:
                raise translated(error, self._folder) from error
        return self._size(name)

    def _contains(self, name: ox.NamedNode) -> bool:
        try:
            return self._engine.contains_named_graph(name)
        except Exception as error:
            raise translated(error, self._folder) from error

    def _replace(self, name: ox.NamedNode, triples: tuple[ox.Triple, ...]) -> None:
        body = "\n".join(f"{triple} ." for triple in triples)
        self._update(f"DROP SILENT GRAPH {name} ; INSERT DATA {{ GRAPH {name} {{ {body} }} }}")

    def dump(self, graph: Iri) -> bytes:
        """The triples of ``graph`` in N-Triples, a line for each; empty where there is no such graph.

        :raises EngineFailed: the engine failed.
        """
        try:
            return self._engine.dump(format=ox.RdfFormat.N_TRIPLES, from_graph=node(graph)) or b""
        except Exception as error:
            raise translated(error, self._folder) from error

    def _size(self, name: ox.NamedNode) -> int:
        try:
            counted = self._engine.query(f"SELECT (COUNT(*) AS ?size) WHERE {{ GRAPH {name} {{ ?s ?p ?o }} }}")
            return next((int(row["size"].value) for row in counted), 0)  # type: ignore[union-attr]
        except Exception as error:
            raise translated(error, self._folder) from error

    def point(self, platform: Iri, graph: Iri, revision: str) -> None:
        """See ``Store.point``."""
        number, size = self._numbering.following(self), self._size(node(graph))
        self._update(" ; ".join(moved(platform, graph, revision, size, number)))  # at once: one transaction

    def withdraw(self, platform: Iri) -> None:
        """See ``Store.withdraw``."""
        self._update(withdrawn(platform))

    def drop(self, graph: Iri) -> None:
        """See ``Store.drop``."""
        self._update(" ; ".join(dropped(graph)))

    def _update(self, text: str) -> None:
        try:
            self._engine.update(text)
        except Exception as error:
            raise translated(error, self._folder) from error

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
            # In the order of the variables: to ask for each by its name takes four times as long.
            return [dict(zip(names, map(answered, solution), strict=True)) for solution in solutions]
        except StoreError:
            raise
        except Exception as error:
            raise translated(error, self._folder) from error
