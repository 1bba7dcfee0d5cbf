"""Lanes made straight: an edge that passes several layers keeps to one line wherever there is room."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median

_ROUNDS = 3


def straightened(
    centre: Sequence[float],
    rows: Sequence[Sequence[int]],
    widths: Sequence[float],
    chains: Sequence[Sequence[int]],
    gap: float,
) -> list[float]:
    """``centre`` with the lanes of each chain (its inner boxes) in line as far as the order and ``gap`` let them.

    Only lanes move, and never nearer than ``gap`` to what stands beside them.
    """
    moved = list(centre)
    beside: dict[int, tuple[int | None, int | None]] = {}
    for row in rows:
        for number, box in enumerate(row):
            beside[box] = (row[number - 1] if number else None, row[number + 1] if number + 1 < len(row) else None)
    whole = max((moved[box] + widths[box] / 2 for box in beside), default=0.0)

    def room(lane: int) -> tuple[float, float]:
        left, right = beside[lane]
        half = widths[lane] / 2
        least = half if left is None else moved[left] + widths[left] / 2 + gap + half
        most = whole - half if right is None else moved[right] - widths[right] / 2 - gap - half
        return least, max(least, most)

    for _ in range(_ROUNDS):
        for chain in sorted(chains, key=len, reverse=True):
            lanes = list(chain[1:-1])
            while lanes:
                least, most = room(lanes[0])
                count = 1
                while count < len(lanes):
                    low, high = room(lanes[count])
                    if max(least, low) > min(most, high):
                        break
                    least, most = max(least, low), min(most, high)
                    count += 1
                wish = median(moved[lane] for lane in lanes[:count])
                for lane in lanes[:count]:
                    moved[lane] = min(max(wish, least), most)
                lanes = lanes[count:]
    return moved
