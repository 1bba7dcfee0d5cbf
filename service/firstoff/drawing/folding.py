"""A tall drawing folded into columns of about the same height, cut between its rows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

Corner = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Folding:
    """``cuts`` are where each column begins, and where the last one ends, in the drawing before it is folded."""

    cuts: tuple[float, ...]

    @property
    def height(self) -> float:
        """That of the tallest column."""
        return max(end - start for start, end in pairwise(self.cuts))

    def shift(self, y: float, width: float, top: float) -> Corner:
        """How far right and down to move what stands at ``y``: columns are ``width`` wide and begin at ``top``."""
        column = max(number for number, start in enumerate(self.cuts[:-1]) if number == 0 or start <= y)
        return column * width, top - self.cuts[column]

    def turns(self, width: float, top: float) -> list[Corner]:
        """The lower left corner of each column but the last."""
        ends = [top + end - start for start, end in pairwise(self.cuts)]
        return [(number * width, end) for number, end in enumerate(ends[:-1])]

    def paths(self, corners: Sequence[Corner], width: float, top: float) -> Iterator[str]:
        """SVG paths of a line that runs down and to the right, one for each column that it is in."""
        for column, (start, end) in enumerate(pairwise(self.cuts)):
            inside: list[Corner] = []
            for (x0, y0), (x1, y1) in pairwise(corners):
                upper, lower = max(y0, start), min(y1, end)
                if upper < lower or (y0 == y1 and start <= y0 < end):
                    inside += [(x0, upper), (x1, lower)]
            if inside:
                moved = [(x + column * width, y - start + top) for x, y in dict.fromkeys(inside)]
                yield "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in moved)


def folding_of(rows: Sequence[float], height: float, columns: int, above: float) -> Folding:
    """The folding into at most ``columns`` of rows that begin at ``rows``, rising; the tallest is as low as can be.

    ``above`` is the room above a row that belongs to it.
    """
    begins = [0.0 if number == 0 else y - above for number, y in enumerate(rows)]
    for tallest in sorted({end - start for start in begins for end in [*begins, height] if end > start}):
        cuts = [0.0]
        for this, after in pairwise([*begins, height]):
            if after - cuts[-1] > tallest and this > cuts[-1]:
                cuts.append(this)
        if len(cuts) <= columns and max(b - a for a, b in pairwise([*cuts, height])) <= tallest:
            return Folding((*cuts, height))
    return Folding((0.0, height))
