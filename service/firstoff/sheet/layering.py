"""Which layer each box of a graph without circles stands in.

Layers are counted from the boxes that nothing follows: these are in layer 0, and every box is at least one layer above
all that follow it, as near to them as there is room (longest path with a bounded width, after Coffman and Graham 1972).
"""

from __future__ import annotations

from collections.abc import Sequence

Edges = Sequence[tuple[int, int]]


def layers_of(widths: Sequence[float], edges: Edges, widest: float, gap: float) -> list[int]:
    """The layer of each box, 0 for the last; edges lead from a higher number to a lower one.

    ``widths`` are those of the boxes; the boxes of a layer with ``gap`` between them take at most ``widest`` together,
    except where a single box is wider. Raises ``ValueError`` where the edges form a circle.
    """
    depth = _depths(len(widths), edges)
    follows: list[list[int]] = [[] for _ in widths]
    for tail, head in edges:
        follows[tail].append(head)
    layer = [0] * len(widths)
    taken: list[float] = []
    for box in sorted(range(len(widths)), key=lambda each: (depth[each], each)):
        at = max((layer[head] + 1 for head in follows[box]), default=0)
        while at < len(taken) and taken[at] > 0 and taken[at] + gap + widths[box] > widest:
            at += 1
        taken.extend([0.0] * (at + 1 - len(taken)))
        taken[at] += widths[box] + (gap if taken[at] > 0 else 0.0)
        layer[box] = at
    return layer


def _depths(boxes: int, edges: Edges) -> list[int]:
    """The length of the longest path from each box to one that nothing follows."""
    before: list[list[int]] = [[] for _ in range(boxes)]
    left = [0] * boxes
    for tail, head in edges:
        before[head].append(tail)
        left[tail] += 1
    depth = [0] * boxes
    ready = [box for box in range(boxes) if not left[box]]
    done = 0
    for head in ready:
        done += 1
        for tail in before[head]:
            depth[tail] = max(depth[tail], depth[head] + 1)
            left[tail] -= 1
            if not left[tail]:
                ready.append(tail)
    if done < boxes:
        raise ValueError("the edges form a circle")
    return depth
