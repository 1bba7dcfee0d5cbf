"""What the engine points to: the current graph of each platform and of the vocabularies."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from firstoff.errors import EngineFailed
from firstoff.store.interface import Store
from firstoff.store.pointing import PROBE
from firstoff.store.terms import Iri, Row, Text


@dataclass(frozen=True, slots=True)
class Pointer:
    """``size`` is the number of triples of the graph; of several pointers, the one with the highest number counts."""

    number: int
    graph: Iri
    revision: str
    size: int


def pointers(store: Store) -> dict[Iri, Pointer]:
    """By platform; the vocabularies are at ``pointing.VOCABULARY``.

    :raises StoreError: the engine failed.
    """
    found: dict[Iri, Pointer] = {}
    for row in store.select("platforms"):
        platform, pointer = row["platform"], _pointer(row)
        if isinstance(platform, Iri) and (platform not in found or found[platform].number < pointer.number):
            found[platform] = pointer
    return found


def _pointer(row: Row) -> Pointer:
    graph, revision, size, number = (row[name] for name in ("graph", "revision", "size", "number"))
    if not (isinstance(graph, Iri) and isinstance(revision, Text)):
        raise EngineFailed("The catalogue of the engine is not as it was written.")
    return Pointer(_whole(number), graph, revision.value, _whole(size))


def _whole(term: object) -> int:
    if not isinstance(term, Text) or not term.value.isdigit():
        raise EngineFailed("The catalogue of the engine is not as it was written.")
    return int(term.value)


def graphs_held(store: Store) -> frozenset[Iri]:
    """Every graph that was written and may be read still.

    :raises StoreError: the engine failed.
    """
    rows = store.select("graphs")
    return frozenset(_in_state(rows, ["holds"])) - frozenset(_in_state(rows, ["drops"]))


def leftovers(store: Store) -> tuple[Iri, ...]:
    """Graphs that nothing points to: superseded, or left by a process that was killed while it wrote.

    :raises StoreError: the engine failed.
    """
    current = {pointer.graph for pointer in pointers(store).values()}
    written = frozenset(_in_state(store.select("graphs"), ["holds", "drops"]))
    return tuple(sorted(written - current - {PROBE}, key=lambda graph: graph.value))


def _in_state(rows: Iterable[Row], states: Iterable[str]) -> Iterable[Iri]:
    for row in rows:
        graph, state = row["graph"], row["state"]
        if isinstance(graph, Iri) and isinstance(state, Iri) and state.slug in states:
            yield graph
