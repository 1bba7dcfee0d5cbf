"""What every engine offers: load whole graphs, answer named queries."""

from __future__ import annotations

from typing import Protocol

from firstoff.store.terms import Iri, Row, Term


class Store(Protocol):
    """A triple store. Every method raises ``StoreError`` and nothing else."""

    def put_graph(self, graph: Iri, turtle: str, *, file: str) -> int:
        """Make ``graph`` hold exactly the triples of ``turtle``; return how many.

        Whole or not at all: a reader sees the old graph or the new one.

        :raises ContentSyntax: with the place in ``file``; nothing is loaded.
        """
        ...

    def point(self, platform: Iri, graph: Iri, revision: str) -> None:
        """Make ``graph`` the current version of ``platform``."""
        ...

    def withdraw(self, platform: Iri) -> None:
        """Let ``platform`` have no current version; its graphs stay."""
        ...

    def drop(self, graph: Iri) -> None:
        """Take a graph away, and its revision with it; nothing where there is none."""
        ...

    def select(self, query: str, bindings: dict[str, Term] | None = None) -> list[Row]:
        """The rows of the named query (a file of ``store/queries``) with ``bindings`` bound.

        :raises QueryRefused: the engine does not accept the text.
        :raises EngineFailed: the engine failed.
        """
        ...
