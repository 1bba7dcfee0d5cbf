"""The order of the boxes within their layers: few crossings of edges.

Sweeps by barycentres (Sugiyama, Tagawa and Toda 1981), then swaps of neighbours while any swap helps.
"""

from __future__ import annotations

from bisect import bisect_right, insort
from collections.abc import Sequence
from itertools import pairwise

_SWEEPS = 12
_SWAPS = 8

Layers = list[list[int]]


def ordered(layers: Sequence[Sequence[int]], edges: Sequence[tuple[int, int]]) -> Layers:
    """``layers`` with the boxes of each in an order with few crossings. Every edge joins neighbouring layers."""
    above: dict[int, list[int]] = {box: [] for layer in layers for box in layer}
    below: dict[int, list[int]] = {box: [] for layer in layers for box in layer}
    for tail, head in edges:
        below[tail].append(head)
        above[head].append(tail)
    now = [list(layer) for layer in layers]
    best, fewest = [list(layer) for layer in now], crossings(now, below)
    for sweep in range(_SWEEPS):
        down = sweep % 2 == 0
        for number in range(1, len(now)) if down else range(len(now) - 2, -1, -1):
            fixed = now[number - 1] if down else now[number + 1]
            now[number] = _by_barycentre(now[number], fixed, above if down else below)
        _swap(now, above, below)
        found = crossings(now, below)
        if found < fewest:
            best, fewest = [list(layer) for layer in now], found
        if not fewest:
            break
    return best


def crossings(layers: Sequence[Sequence[int]], below: dict[int, list[int]]) -> int:
    """How often edges between neighbouring layers cross."""
    total = 0
    for upper, lower in pairwise(layers):
        place = {box: number for number, box in enumerate(lower)}
        seen: list[int] = []
        for box in upper:
            heads = sorted(place[head] for head in below[box])
            total += sum(len(seen) - bisect_right(seen, head) for head in heads)
            for head in heads:
                insort(seen, head)
    return total


def _by_barycentre(layer: Sequence[int], fixed: Sequence[int], near: dict[int, list[int]]) -> list[int]:
    """In order of the mean place of the neighbours in the ``fixed`` layer; boxes without any keep their place."""
    place = {box: number / max(1, len(fixed) - 1) for number, box in enumerate(fixed)}
    span = max(1, len(layer) - 1)

    def key(item: tuple[int, int]) -> tuple[float, int]:
        number, box = item
        others = [place[other] for other in near[box]]
        return (sum(others) / len(others) if others else number / span, number)

    return [box for _, box in sorted(enumerate(layer), key=key)]


def _swap(layers: Layers, above: dict[int, list[int]], below: dict[int, list[int]]) -> None:
    """Swap neighbours within a layer while that takes crossings away."""
    for _ in range(_SWAPS):
        better = False
        for number, layer in enumerate(layers):
            up = {box: place for place, box in enumerate(layers[number - 1])} if number else {}
            down = {box: place for place, box in enumerate(layers[number + 1])} if number + 1 < len(layers) else {}
            for at in range(len(layer) - 1):
                left, right = layer[at], layer[at + 1]
                now = _between(left, right, above, up) + _between(left, right, below, down)
                then = _between(right, left, above, up) + _between(right, left, below, down)
                if then < now:
                    layer[at], layer[at + 1] = right, left
                    better = True
        if not better:
            return


def _between(left: int, right: int, near: dict[int, list[int]], place: dict[int, int]) -> int:
    """Crossings between the edges of two neighbours on one side."""
    return sum(place[a] > place[b] for a in near[left] for b in near[right]) if place else 0
