"""Makes the stores that workers read: ``python -m firstoff.sparql.building``, a process of its own.

Its input is JSON, the arguments of ``built``. A store is ``kept`` that nobody reads; what changed is changed in it,
and a copy of it (hard links, for the most part) is what workers read. Every triple stands in its named graph and in the
default graph, which is their union: the engine can make that up by itself, but then gives a triple that stands in two
graphs twice.
"""

from __future__ import annotations

import io
import json
import os
import sys
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

import pyoxigraph as ox

_END = b" .\n"
_NICENESS = 10


def main() -> None:
    """Build, and print how many triples the default graph has; nobody waits for it but where it is the first."""
    asked = json.load(sys.stdin)
    if Path(asked["kept"]).exists():
        os.nice(_NICENESS)
    print(built(**asked))


def built(kept: str, folder: str, graphs: Mapping[str, str], dropped: Iterable[str], tidy: bool) -> int:
    """Bring the store ``kept`` to hold ``graphs`` anew and ``dropped`` no more, and copy it to the new ``folder``.

    ``graphs`` maps the name of each to its file of N-Triples. ``tidy`` writes the whole store anew, which takes as long
    as filling it: each change leaves something behind that scans pass over. Returns how many triples the default graph
    has.
    """
    store = ox.Store(kept)
    is_empty = next(iter(store), None) is None
    for name in (*dropped, *graphs):
        _take_out(store, name)
    lines = io.BufferedReader(_Chained(_quads(graphs)), 1 << 20)
    load = store.bulk_load if is_empty else store.load
    load(lines, format=ox.RdfFormat.N_QUADS, lenient=True)  # lenient, since a store wrote them
    store.flush()
    if tidy:
        store.optimize()
    store.backup(folder)
    (row,) = store.query("SELECT (COUNT(*) AS ?triples) { ?s ?p ?o }")  # type: ignore[misc]
    return int(row["triples"].value)


def _take_out(store: ox.Store, name: str) -> None:
    """Take away a graph, and from the default graph what stood in it alone."""
    graph = ox.NamedNode(name)
    if store.contains_named_graph(graph):
        elsewhere = f"GRAPH ?other {{ ?s ?p ?o }} FILTER (?other != {graph})"
        store.update(
            f"DELETE {{ ?s ?p ?o }} WHERE {{ GRAPH {graph} {{ ?s ?p ?o }} FILTER NOT EXISTS {{ {elsewhere} }} }} ;"
            f"DROP GRAPH {graph}"
        )


def _quads(graphs: Mapping[str, str]) -> Iterator[bytes]:
    """Every triple twice; all of it is one document, so that a blank node is the same in both places."""
    for name, file in graphs.items():
        graph = f" <{name}> .\n".encode()
        with Path(file).open("rb") as lines:
            for line in lines:
                yield line + line.removesuffix(_END) + graph


class _Chained(io.RawIOBase):
    """Pieces read as one file."""

    def __init__(self, pieces: Iterator[bytes]) -> None:
        self._pieces = pieces
        self._left = b""

    def readable(self) -> bool:
        return True

    def readinto(self, buffer: memoryview, /) -> int:  # type: ignore[override]
        if not self._left:
            self._left = next(self._pieces, b"")
        taken = self._left[: len(buffer)]
        buffer[: len(taken)] = taken
        self._left = self._left[len(taken) :]
        return len(taken)


if __name__ == "__main__":
    main()
