"""Block numbers against networkx."""

from __future__ import annotations

import networkx as nx
from hypothesis import given
from hypothesis import strategies as st

from firstoff.removal.blocks import blocks


@st.composite
def graphs(draw: st.DrawFn) -> list[list[int]]:
    count = draw(st.integers(0, 12))
    return [sorted(draw(st.sets(st.integers(0, count - 1), max_size=3))) for _ in range(count)]


@given(graphs())
def test_blocks_are_strong_components_in_topological_order(needs: list[list[int]]) -> None:
    block = blocks(needs)
    graph = nx.DiGraph((node, need) for node, some in enumerate(needs) for need in some)
    graph.add_nodes_from(range(len(needs)))
    together = {frozenset(component) for component in nx.strongly_connected_components(graph)}
    assert {frozenset(n for n in graph if block[n] == number) for number in set(block)} == together
    assert all(block[node] <= block[need] for node, need in graph.edges)


def test_a_long_chain_does_not_recurse() -> None:
    count = 100_000
    assert blocks([[node + 1] for node in range(count - 1)] + [[]]) == list(range(count))
