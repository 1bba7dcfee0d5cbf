"""Chooses tours: the cheapest that cover all that is asked of them on a fixed walk.

Best first. What is asked is a mask of *places*: a head at a slot. Heads are decided in an order in which what needs
comes before what is needed, so that all that is asked of a head is known when it is decided (among heads of mutual
needs it may grow). A place asks in turn for what every tour that covers it needs in the end (its landmarks).
The bound counts for every head the cheapest disjoint tours that cover what is asked of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from heapq import heappop, heappush

from firstoff.removal.blocks import blocks
from firstoff.removal.landmarks import bits
from firstoff.removal.request import Meter
from firstoff.removal.tours import Tour, circular

_UNCOVERABLE = -1


def cheapest(
    goals: Mapping[int, int], tours: Mapping[int, Sequence[Tour]], slots: int, meter: Meter
) -> tuple[int, list[Tour]] | None:
    """The cheapest tours that cover ``goals`` (masks of slots by head), with their cost in ticks.

    ``slots`` is the number of slots of the walk. None where there are none, or when ``meter`` is spent; ask it.
    """
    coverable = _coverable(tours)
    if any(asked & ~_union(coverable.get(head, ())) for head, asked in goals.items()):
        return None
    return _Search(coverable, slots, meter).run(goals)


class _Search:
    """One search. Places are numbered head by head: place = position of the head * slots + slot.

    The last slot of each head is an extra one that stands for "at some time": every tour covers it.
    """

    def __init__(self, tours: Mapping[int, Sequence[Tour]], slots: int, meter: Meter) -> None:
        self._meter = meter
        self._slots = slots + 1
        self._some = 1 << slots
        number = {head: n for n, head in enumerate(tours)}
        needs = [sorted({number[need] for tour in found for need, _ in tour.needs}) for found in tours.values()]
        block = dict(zip(tours, blocks(needs), strict=True))
        self._heads = sorted(tours, key=lambda head: (block[head], head))
        self._position = {head: position for position, head in enumerate(self._heads)}
        self._tours = [list(tours[head]) for head in self._heads]
        self._full = (1 << self._slots) - 1
        counts: dict[int, int] = {}
        for head in self._heads:
            counts[block[head]] = counts.get(block[head], 0) + 1
        self._tangled = [counts[block[head]] > 1 for head in self._heads]
        self._needs = [[self._places(tour.needs) for tour in found] for found in self._tours]
        self._marks = self._landmarks()
        self._asks = [[self._closure(needs) for needs in found] for found in self._needs]
        self._spans = [self._cheapest_spans(found) for found in self._tours]
        self._costs: dict[tuple[int, int, int], int] = {}

    def run(self, goals: Mapping[int, int]) -> tuple[int, list[Tour]] | None:
        """The search itself; see ``cheapest``."""
        asked = self._closure(self._places(goals.items()))
        bound = self._rest(asked, 0)
        if bound == _UNCOVERABLE:
            return None
        # An entry: bound, minus depth, serial; places asked and covered, cost so far, tours chosen.
        heap: list[tuple[int, int, int, int, int, int, tuple[Tour, ...]]] = [(bound, 0, 0, asked, 0, 0, ())]
        serial = 0
        while heap:
            bound, depth, _, asked, covered, cost, chosen = heappop(heap)
            missing = asked & ~covered
            if not missing:
                return bound, list(chosen)
            if not self._meter.tick():
                return None
            position = ((missing & -missing).bit_length() - 1) // self._slots
            shift = position * self._slots
            for number in self._worthwhile(position, asked, covered):
                tour = self._tours[position][number]
                if self._tangled[position] and tour.legs and circular(tour, chosen):
                    continue
                wanted = asked | self._asks[position][number]
                done = covered | (tour.cover | self._some) << shift
                rest = self._rest(wanted, done)
                if rest != _UNCOVERABLE:
                    serial += 1
                    amount = cost + tour.cost
                    heappush(heap, (amount + rest, depth - 1, serial, wanted, done, amount, (*chosen, tour)))
        return None

    def _worthwhile(self, position: int, asked: int, covered: int) -> list[int]:
        """Numbers of the tours to try for the first missing slot of the head at ``position``.

        Where nothing more can be asked of the head, a tour is left out if another covers all that is missing, is no
        dearer, and asks for nothing more that is new.
        """
        shift = position * self._slots
        taken = covered >> shift & self._full
        missing = asked >> shift & self._full & ~taken
        first = missing & -missing
        able = [
            number
            for number, tour in enumerate(self._tours[position])
            if (tour.cover | self._some) & first and not tour.cover & taken
        ]
        missing &= ~self._some
        if self._tangled[position]:
            return able
        tours, asks = self._tours[position], self._asks[position]
        kept: list[int] = []
        for number in able:
            new = asks[number] & ~asked
            if not any(
                not missing & ~tours[other].cover
                and tours[other].cost <= tours[number].cost
                and not asks[other] & ~asked & ~new
                and (
                    other < number
                    or tours[other].cost < tours[number].cost
                    or asks[other] & ~asked != new
                    or missing & ~tours[number].cover
                )
                for other in able
                if other != number
            ):
                kept.append(number)
        return kept

    # --- bounds ----------------------------------------------------------------------------------------

    def _rest(self, asked: int, covered: int) -> int:
        """The least cost of covering what is asked, head by head; -1 where some head cannot."""
        amount = 0
        missing = asked & ~covered
        while missing:
            position = ((missing & -missing).bit_length() - 1) // self._slots
            shift = position * self._slots
            wanted = missing >> shift & self._full
            missing &= ~(self._full << shift)
            cost = self._head_cost(position, wanted, covered >> shift & self._full)
            if cost == _UNCOVERABLE:
                return _UNCOVERABLE
            amount += cost
        return amount

    def _head_cost(self, position: int, wanted: int, taken: int) -> int:
        """The least cost of disjoint tours of one head that cover ``wanted`` and keep clear of ``taken``."""
        key = (position, wanted, taken)
        if key in self._costs:
            return self._costs[key]
        if wanted == self._some:
            costs = (cost for begun in self._spans[position] for _, span, cost in begun if not span & taken)
            return min(costs, default=_UNCOVERABLE)
        left = wanted & ~self._some
        # best[s]: the least cost for what is wanted from slot s on, by tours that begin at s or later.
        best = [0] * (self._slots + 1)
        for slot in range(left.bit_length() - 1, -1, -1):
            offers = [
                cost + best[end]
                for end, span, cost in self._spans[position][slot]
                if not span & taken and best[end] != _UNCOVERABLE
            ]
            if not left >> slot & 1 and best[slot + 1] != _UNCOVERABLE:
                offers.append(best[slot + 1])
            best[slot] = min(offers, default=_UNCOVERABLE)
        self._costs[key] = best[0]
        return best[0]

    def _cheapest_spans(self, tours: Iterable[Tour]) -> list[list[tuple[int, int, int]]]:
        """For every slot the spans of tours that begin there: the slot after the span, its mask, its least cost."""
        least: dict[int, int] = {}
        for tour in tours:
            least[tour.cover] = min(tour.cost, least.get(tour.cover, tour.cost))
        spans: list[list[tuple[int, int, int]]] = [[] for _ in range(self._slots)]
        for cover, cost in sorted(least.items()):
            spans[(cover & -cover).bit_length() - 1].append((cover.bit_length(), cover, cost))
        return spans

    # --- landmarks -------------------------------------------------------------------------------------

    def _places(self, asked: Iterable[tuple[int, int]]) -> int:
        mask = 0
        for head, slots in asked:
            mask |= slots << self._position[head] * self._slots
        return mask

    def _closure(self, mask: int) -> int:
        marks = self._marks
        for place in bits(mask):
            mask |= marks[place]
        return mask

    def _landmarks(self) -> list[int]:
        """For every place the places that are asked for with it; all there are where it can never be covered.

        What a tour needs when it begins has begun before, and what it needs when it ends ends after it: either alone
        goes round in no circle, so of its equations (see ``landmarks``) the greatest solution holds. Both together
        may go round: what a part that is off needs for its refit may have needed that part off. Of all needs the
        least solution holds that has those two in it.
        """
        single = [1 << place for place in range(len(self._heads) * self._slots)]
        if any(self._tangled):
            begun, ended = (
                self._solution(
                    [-1] * len(single), [[self._places(needs(tour)) for tour in some] for some in self._tours]
                )
                for needs in (Tour.needs_begun, Tour.needs_ended)
            )
            single = [mark & (1 << len(single)) - 1 | other for mark, other in zip(begun, ended, strict=True)]
        return self._solution(single, self._needs)

    def _solution(self, start: list[int], needs_of: Sequence[Sequence[int]]) -> list[int]:
        """From ``start`` on to where nothing changes: what all tours that cover a place need, and what that needs."""
        self._marks = marks = start
        covering: list[tuple[int, list[int]]] = []
        for place in reversed(range(len(marks))):
            position, slot = divmod(place, self._slots)
            found = zip(self._tours[position], needs_of[position], strict=True)
            alternatives = sorted({needs for tour, needs in found if (tour.cover | self._some) >> slot & 1})
            if alternatives:
                covering.append((place, alternatives))
            else:
                marks[place] = 1 << place
        changed = True
        while changed:
            changed = False
            for place, needs_of_some in covering:
                common = -1
                for needs in needs_of_some:
                    common &= self._closure(needs)
                    if common == 0:
                        break
                some = place + self._slots - 1 - place % self._slots
                mark = common | 1 << place | (marks[some] if some > place else 0)
                if mark != marks[place]:
                    marks[place] = mark
                    changed = True
        every = (1 << len(marks)) - 1
        return [mark & every for mark in marks]


def _union(tours: Iterable[Tour]) -> int:
    mask = 0
    for tour in tours:
        mask |= tour.cover
    return mask


def _coverable(tours: Mapping[int, Sequence[Tour]]) -> dict[int, list[Tour]]:
    """``tours`` without those whose needs no tour can cover, and heads without tours left out."""
    kept = {head: list(found) for head, found in tours.items()}
    changed = True
    while changed:
        changed = False
        reach = {head: _union(found) for head, found in kept.items()}
        for head, found in kept.items():
            good = [tour for tour in found if not any(asked & ~reach.get(need, 0) for need, asked in tour.needs)]
            if len(good) < len(found):
                kept[head] = good
                changed = True
    return {head: found for head, found in kept.items() if found}
