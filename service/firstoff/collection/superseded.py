"""Graphs that nothing points to any more: they stay for as long as a reader may be reading them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from time import monotonic

from firstoff.collection.pointers import leftovers
from firstoff.store.interface import Store
from firstoff.store.terms import Iri

#: Seconds that a graph stays where other services read: they look for a new version every second or so, and a question
#: that was begun before is answered long before this.
SHARED_SECONDS = 300.0
#: How many of a platform stay in an engine of this process alone, where readers are threads.
OWN_KEPT = 2


class Superseded:
    """Drops the old graphs of one store that this process writes. What is left from before is nobody's in an own store.

    ``now`` counts seconds and is never set back.
    """

    def __init__(self, store: Store, now: Callable[[], float] = monotonic) -> None:
        self._store, self._now = store, now
        self._since: dict[Iri, float] = {}
        self.look()
        if not store.shared:
            self._drop(list(self._since))

    def look(self) -> None:
        """Note what nothing points to now.

        :raises StoreError: the engine failed.
        """
        found, when = leftovers(self._store), self._now()
        self._since = {graph: self._since.get(graph, when) for graph in found}

    def tidy(self) -> None:
        """Let go what nobody can be reading.

        :raises StoreError: the engine failed.
        """
        if self._store.shared:
            self._drop([graph for graph, since in self._since.items() if self._now() - since > SHARED_SECONDS])
            return
        own: dict[str, list[Iri]] = defaultdict(list)
        for graph, _ in sorted(self._since.items(), key=lambda each: each[1]):
            own[graph.value.rpartition("/")[0]].append(graph)
        self._drop([graph for graphs in own.values() for graph in graphs[:-OWN_KEPT]])

    def _drop(self, graphs: list[Iri]) -> None:
        idle = frozenset(leftovers(self._store)) if graphs else frozenset()
        for graph in graphs:
            if graph in idle:
                self._store.drop(graph)
            del self._since[graph]
