"""Makes the store that workers read: ``python -m firstoff.sparql.building``, a process of its own.

Its input is JSON: ``folder`` to make the store in, ``graphs`` from the name of each to its file of N-Triples. Every
triple goes into its named graph and into the default graph, which is their union: the engine can make that up by
itself, but then gives a triple that stands in two graphs twice.
"""

from __future__ import annotations

import io
import json
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

import pyoxigraph as ox

_END = b" .\n"


def main() -> None:
    """Build, and print how many triples the default graph and each named graph have."""
    asked = json.load(sys.stdin)
    print(json.dumps(built(Path(asked["folder"]), {name: Path(file) for name, file in asked["graphs"].items()})))


def built(folder: Path, graphs: Mapping[str, Path]) -> dict[str, int]:
    """Fill a new store in ``folder``; the triples of each graph by name, those of the default graph under ``""``."""
    counts = dict.fromkeys(graphs, 0)
    store = ox.Store(str(folder))
    lines = io.BufferedReader(_Chained(_quads(graphs, counts)), 1 << 20)
    store.bulk_load(lines, format=ox.RdfFormat.N_QUADS, lenient=True)  # a store wrote them
    store.flush()
    store.optimize()
    (row,) = store.query("SELECT (COUNT(*) AS ?triples) { ?s ?p ?o }")  # type: ignore[misc]
    counts[""] = int(row["triples"].value)
    return counts


def _quads(graphs: Mapping[str, Path], counts: dict[str, int]) -> Iterator[bytes]:
    """Every triple twice; all of it is one document, so that a blank node is the same in both places."""
    for name, file in graphs.items():
        graph = f" <{name}> .\n".encode()
        with file.open("rb") as lines:
            for line in lines:
                counts[name] += 1
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
