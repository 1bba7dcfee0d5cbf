"""Strongly connected components, so that mutual needs are found before they are searched."""

from __future__ import annotations

from collections.abc import Sequence


def blocks(needs: Sequence[Sequence[int]]) -> list[int]:
    """A block number for every node ``0 .. len(needs) - 1``, where ``needs[node]`` are the nodes it may need.

    Nodes that may need one another share a block; otherwise a node's number is less than that of what it needs.
    Tarjan's algorithm (SIAM J. Comput. 1:146, 1972) with a stack of its own, linear in nodes and needs.
    """
    order = [-1] * len(needs)
    low = [0] * len(needs)
    block = [-1] * len(needs)
    open_nodes: list[int] = []
    closed = 0
    count = 0
    for root in range(len(needs)):
        if order[root] >= 0:
            continue
        order[root] = low[root] = count
        count += 1
        open_nodes.append(root)
        path = [(root, iter(needs[root]))]
        while path:
            node, rest = path[-1]
            for need in rest:
                if order[need] < 0:
                    order[need] = low[need] = count
                    count += 1
                    open_nodes.append(need)
                    path.append((need, iter(needs[need])))
                    break
                if block[need] < 0:
                    low[node] = min(low[node], order[need])
            else:
                path.pop()
                if path:
                    parent = path[-1][0]
                    low[parent] = min(low[parent], low[node])
                if low[node] == order[node]:
                    closed += 1
                    while block[node] < 0:
                        block[open_nodes.pop()] = closed
    # Blocks close with what is needed first; count down so that what needs comes first.
    return [closed - number for number in block]
