"""What every engine offers: load whole graphs, answer named queries."""

from __future__ import annotations

from typing import Protocol

from firstoff.store.terms import Iri, Row, Term


class Store(Protocol):
    """A triple store. Every method raises ``StoreError`` and nothing else.

    Terms are the same whatever the engine: numbers and booleans spelt as ``canonical`` does, language tags in small
    letters. An answer is whole: one that was, or may have been, cut is an error.
    """

    @property
    def writes(self) -> bool:
        """Whether this process may write to it."""
        ...

    @property
    def shared(self) -> bool:
        """Whether other services may read this engine: then old graphs have to stay for a while."""
        ...

    def check(self) -> None:
        """Nothing where the engine answers.

        :raises EngineFailed: it does not.
        """
        ...

    def put_graph(self, graph: Iri, turtle: str, *, file: str) -> int:
        """Make ``graph`` hold exactly the triples of ``turtle``; return how many.

        Whole or not at all: a reader sees the old graph or the new one. Where other services may read the engine, a
        graph that is pointed to is never changed.

        :raises ContentSyntax: with the place in ``file``; nothing is loaded.
        :raises NotHeld: the engine cannot keep what the text says; nothing is loaded.
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
