"""A graph that knows at once what stands under a property, which is nearly all that a SHACL engine asks.

rdflib's own store answers the same through generators and bookkeeping of contexts that a single graph has no use for.
"""

from __future__ import annotations

from collections.abc import Generator, Iterable
from typing import Any

import rdflib
from rdflib.paths import Path


class IndexedGraph(rdflib.Graph):
    """An rdflib graph that is only added to. What it answers, and in which order, is what rdflib's graph would."""

    def __init__(self, triples: Iterable[tuple[Any, Any, Any]] = ()) -> None:
        super().__init__()
        self._objects: dict[tuple[Any, Any], dict[Any, None]] = {}
        self._subjects: dict[tuple[Any, Any], dict[Any, None]] = {}
        for triple in triples:
            self.add(triple)

    def add(self, triple: tuple[Any, Any, Any]) -> IndexedGraph:
        subject, prop, value = triple
        self._objects.setdefault((subject, prop), {})[value] = None
        self._subjects.setdefault((prop, value), {})[subject] = None
        super().add(triple)
        return self

    def remove(self, triple: Any) -> IndexedGraph:
        raise NotImplementedError("this graph is only added to")

    def objects(self, subject: Any = None, predicate: Any = None, unique: bool = False) -> Generator[Any, None, None]:
        if subject is None or predicate is None or isinstance(predicate, Path):
            yield from super().objects(subject, predicate, unique)
        else:
            yield from tuple(self._objects.get((subject, predicate), ()))

    def subjects(self, predicate: Any = None, object: Any = None, unique: bool = False) -> Generator[Any, None, None]:  # noqa: A002
        if object is None or predicate is None or isinstance(predicate, Path | list):
            yield from super().subjects(predicate, object, unique)
        else:
            yield from tuple(self._subjects.get((predicate, object), ()))

    def __contains__(self, triple: Any) -> bool:
        subject, prop, value = triple
        if subject is None or prop is None or value is None or isinstance(prop, Path):
            return super().__contains__(triple)
        return value in self._objects.get((subject, prop), ())
