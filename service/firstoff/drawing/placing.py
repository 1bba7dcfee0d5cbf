"""Where each row of a single-line drawing stands: a trunk straight down, with branches to its right.

Of the rows that hang below one, the one with the most below it goes straight on and comes last; the others stand one
column to the right and are done with before. So no line crosses another, and to the right of a symbol there is none.
"""

from __future__ import annotations

from collections.abc import Sequence


def placed(parents: Sequence[int]) -> tuple[list[int], list[int]]:
    """The order of the rows from the top, and the column of each, counted from the left.

    ``parents`` gives for each row the one it hangs from, -1 for none. Raises ``ValueError`` where they form a circle.
    """
    below: list[list[int]] = [[] for _ in parents]
    tops: list[int] = []
    for row, parent in enumerate(parents):
        (below[parent] if parent >= 0 else tops).append(row)
    found: list[int] = []
    stack = list(reversed(tops))
    while stack:
        row = stack.pop()
        found.append(row)
        stack.extend(below[row])
    if len(found) < len(parents):
        raise ValueError("the rows form a circle")
    size = [1] * len(parents)
    for row in reversed(found):
        if parents[row] >= 0:
            size[parents[row]] += size[row]
    order: list[int] = []
    column = [0] * len(parents)
    stack = list(reversed(tops))
    while stack:
        row = stack.pop()
        order.append(row)
        branches = sorted(below[row], key=lambda each: (size[each], each))
        for branch in branches:
            column[branch] = column[row] + (branch != branches[-1])
        stack.extend(reversed(branches))
    return order, column
