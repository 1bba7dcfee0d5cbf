"""Where in its layer each box stands: near what it is joined to, in the order given, never upon another.

The places of one layer that are nearest, by least squares, to the places wished for and keep order and gaps are an
isotonic regression, found by pooling neighbours (Barlow, Bartholomew, Bremner and Brunk 1972).
"""

from __future__ import annotations

from collections.abc import Sequence

_SWEEPS = 24


def placed(
    layers: Sequence[Sequence[int]],
    widths: Sequence[float],
    edges: Sequence[tuple[int, int, float]],
    gap: float,
) -> list[float]:
    """The horizontal centre of each box, from 0 to the width of the widest layer.

    ``edges`` are (box above, box below, weight): the heavier, the straighter. ``gap`` is kept between neighbours.
    """
    near: list[list[tuple[int, float]]] = [[] for _ in widths]
    for tail, head, weight in edges:
        near[tail].append((head, weight))
        near[head].append((tail, weight))
    level = {box: number for number, layer in enumerate(layers) for box in layer}
    whole = max((_packed(layer, widths, gap) for layer in layers), default=0.0)
    centre = [0.0] * len(widths)
    for layer in layers:
        at = (whole - _packed(layer, widths, gap)) / 2
        for box in layer:
            centre[box] = at + widths[box] / 2
            at += widths[box] + gap
    for sweep in range(_SWEEPS):
        down = sweep % 2 == 0
        for number in range(len(layers)) if down else range(len(layers) - 1, -1, -1):
            wishes = [_wish(box, near[box], level, centre, down, sweep) for box in layers[number]]
            for box, at in zip(layers[number], _fitted(layers[number], widths, wishes, gap, whole), strict=True):
                centre[box] = at
    return centre


def _packed(layer: Sequence[int], widths: Sequence[float], gap: float) -> float:
    return sum(widths[box] for box in layer) + gap * max(0, len(layer) - 1)


def _wish(
    box: int, near: Sequence[tuple[int, float]], level: dict[int, int], centre: Sequence[float], down: bool, sweep: int
) -> tuple[float, float]:
    """Where the box would stand if it were alone, and how much that matters. The last sweeps look both ways."""
    both = sweep >= _SWEEPS - 6
    joined = [(other, weight) for other, weight in near if both or (level[other] < level[box]) == down]
    total = sum(weight for _, weight in joined)
    if not joined:
        return centre[box], 0.1
    return sum(centre[other] * weight for other, weight in joined) / total, total


def _fitted(
    layer: Sequence[int],
    widths: Sequence[float],
    wishes: Sequence[tuple[float, float]],
    gap: float,
    whole: float,
) -> list[float]:
    """The centres nearest to the wishes that keep the order, the gaps and the bounds 0 and ``whole``."""
    offsets: list[float] = []
    at = 0.0
    for box in layer:
        offsets.append(at + widths[box] / 2)
        at += widths[box] + gap
    most = whole - (at - gap)
    pools: list[tuple[float, float, int]] = []
    for (wish, weight), offset in zip(wishes, offsets, strict=True):
        pool = (wish - offset, weight, 1)
        while pools and pools[-1][0] >= pool[0]:
            value, heavy, count = pools.pop()
            total = heavy + pool[1]
            pool = ((value * heavy + pool[0] * pool[1]) / total, total, count + pool[2])
        pools.append(pool)
    shifts = [min(max(value, 0.0), max(most, 0.0)) for value, _, count in pools for _ in range(count)]
    return [offset + shift for offset, shift in zip(offsets, shifts, strict=True)]
