"""Best-first search over the undecided part of a problem, one independent region at a time."""

from __future__ import annotations

from collections.abc import Iterator
from heapq import heappop, heappush

from firstoff.removal.landmarks import Open, bits
from firstoff.removal.problem import Choice
from firstoff.removal.request import Meter

# What was chosen: place, number of the choice, and what was chosen before.
Trail = tuple[int, int, "Trail"] | None


def search(part: Open, meter: Meter) -> tuple[dict[int, Choice], int, int]:
    """Decide ``part``: the picks by atom, their cost in ticks, and a lower bound on any decision's cost.

    Atoms that were picked before the search are not counted. Cost and bound are equal unless ``meter`` is spent.
    """
    required, done, cost, trail = _settle(part)
    bound = cost
    parts: list[Trail] = [trail]
    for region in _regions(part, required, done):
        region_cost, region_bound, region_required, region_trail = _Region(part, region & ~done, meter).solve(required)
        cost += region_cost
        bound += region_bound
        required |= region_required
        parts.append(region_trail)
    picks = {part.atoms[i]: part.choices[i][0] for i in bits(required)}
    for chosen in parts:
        while chosen is not None:
            place, number, chosen = chosen
            picks[part.atoms[place]] = part.choices[place][number]
    return picks, cost, bound


def undominated(part: Open, place: int, required: int) -> list[int]:
    """The choices of ``place`` worth trying where all of ``required`` is done anyway.

    A choice is left out where another is no dearer and entails nothing more that is new, and cannot be part of a
    circle: all it needs is then done in any solution with the choice left out.
    """
    choices, span = part.choices[place], part.span[place]
    offers = [
        (choices[k][0], mask & ~required, part.tangled >> place & 1 and any(span >> need & 1 for need in needs))
        for k, (mask, needs) in enumerate(zip(part.entails[place], part.needs[place], strict=True))
    ]
    kept: list[int] = []
    for k, (weight, new, _) in enumerate(offers):
        for other, (other_weight, other_new, inside) in enumerate(offers):
            if other == k or inside or other_weight > weight or other_new & ~new:
                continue
            if other < k or other_weight < weight or other_new != new or offers[k][2]:
                break
        else:
            kept.append(k)
    return kept


def _settle(part: Open) -> tuple[int, int, int, Trail]:
    """Pick what leaves no choice: the required mask, the mask of decided places, the cost so far and the picks."""
    required = part.required
    done = sum(1 << i for i, choices in enumerate(part.choices) if len(choices) == 1)
    cost = part.total(required)
    trail: Trail = None
    changed = True
    while changed:
        changed = False
        for i in bits(required & ~done):
            kept = undominated(part, i, required)
            if len(kept) == 1:
                new = part.entails[i][kept[0]] & ~required
                cost += part.choices[i][kept[0]][0] - part.least[i] + part.total(new)
                required |= new
                done |= 1 << i
                trail = (i, kept[0], trail)
                changed = True
    return required, done, cost, trail


def _regions(part: Open, required: int, done: int) -> Iterator[int]:
    """Masks of places that can be decided apart from one another, each with undecided places."""
    reach = [0] * len(part.atoms)
    changed = True
    while changed:
        changed = False
        for i in reversed(range(len(part.atoms))):
            mask = 1 << i
            for needs in part.needs[i]:
                for need in needs:
                    mask |= 1 << need if required >> need & 1 else reach[need]
            if part.tangled >> i & 1:
                mask |= part.span[i]
            if mask != reach[i]:
                reach[i] = mask
                changed = bool(part.tangled)
    regions: list[int] = []
    for i in bits(required & ~done):
        mask = reach[i] & (~required | part.tangled) | 1 << i
        apart = []
        for region in regions:
            if region & mask:
                mask |= region
            else:
                apart.append(region)
        regions = [*apart, mask]
    yield from regions


class _Region:
    """A* over one region. ``places`` is the mask of its undecided places; others count as decided."""

    def __init__(self, part: Open, places: int, meter: Meter) -> None:
        self._part = part
        self._meter = meter
        several = sum(1 << i for i in bits(places) if len(part.choices[i]) > 1)
        self._several = several
        self._orders: dict[int, list[tuple[int, tuple[int, ...]]]] = {}
        self._tails = {i: ~((part.span[i] & -part.span[i]) - 1) for i in bits(several)}

    def solve(self, required: int) -> tuple[int, int, int, Trail]:
        """The cost beyond ``required`` at its cheapest, the bound on it, the required mask at the end, the picks."""
        part, several = self._part, self._several
        heap: list[tuple[int, int, int, int, int, Trail]] = [(0, 0, 0, required, 0, None)]
        best: dict[tuple[int, int, Trail], int] = {}
        serial = 0
        while heap:
            amount, minus_done, _, mask, done, trail = heappop(heap)
            todo = mask & several & ~done
            if not todo:
                return amount, amount, mask, trail
            if not self._meter.tick():
                cost, mask, trail = self._fallback(required)
                return cost, amount, mask, trail
            place = (todo & -todo).bit_length() - 1
            for k in undominated(part, place, mask):
                new = part.entails[place][k] & ~mask
                cost = amount + part.choices[place][k][0] - part.least[place] + part.total(new)
                after = (place, k, trail)
                if part.tangled >> place & 1 and self._circular(mask | new, after, place):
                    continue
                key = self._key(mask | new, done | 1 << place, after)
                if best.get(key, cost + 1) <= cost:
                    continue
                best[key] = cost
                serial += 1
                heappush(heap, (cost, minus_done - 1, serial, mask | new, done | 1 << place, after))
        raise AssertionError("a part with live choices has a solution")

    def _key(self, mask: int, done: int, trail: Trail) -> tuple[int, int, Trail]:
        """What the rest of the search depends on: what is required from the next undecided block on, and its picks."""
        todo = mask & self._several & ~done
        if not todo:
            return -1, 0, None
        place = (todo & -todo).bit_length() - 1
        span = self._part.span[place]
        inside: Trail = None
        if self._part.tangled >> place & 1:
            for i, k in sorted(_within(trail, span).items()):
                inside = (i, k, inside)
        return place, mask & self._tails[place], inside

    def _circular(self, mask: int, trail: Trail, place: int) -> bool:
        """Whether some required place of the block could now only be brought about by way of itself."""
        span = self._part.span[place]
        number = trail[1] if trail is not None else 0
        if not self._inside(place)[number]:
            return False
        picked = _within(trail, span)
        missing = span
        changed = True
        while changed and missing & mask:
            changed = False
            for i, options in self._block_order(span):
                if not missing >> i & 1:
                    continue
                able = options if i not in picked else (options[picked[i]],)
                if any(not needs & missing for needs in able):
                    missing ^= 1 << i
                    changed = True
        return bool(missing & mask)

    def _inside(self, place: int) -> tuple[int, ...]:
        """For every choice of ``place`` the mask of places of its own block that it needs at once."""
        span = self._part.span[place]
        return tuple(sum(1 << need for need in needs) & span for needs in self._part.needs[place])

    def _block_order(self, span: int) -> list[tuple[int, tuple[int, ...]]]:
        """The places of a block with ``_inside`` of each, in an order in which they can be brought about."""
        if span not in self._orders:
            left = {i: self._inside(i) for i in bits(span)}
            order: list[tuple[int, tuple[int, ...]]] = []
            missing = span
            while left:
                able = [i for i, options in left.items() if any(not needs & missing for needs in options)]
                for i in able:
                    missing ^= 1 << i
                    order.append((i, left.pop(i)))
            self._orders[span] = order
        return self._orders[span]

    def _fallback(self, required: int) -> tuple[int, int, Trail]:
        """A solution that is quick to find: every place by the choice with the least sum of what it needs.

        Knuth's generalisation of Dijkstra's algorithm (Inf. Process. Lett. 6:1, 1977): a choice is made only once
        all it needs has been, so there is no circle.
        """
        part = self._part
        value: dict[int, int] = {}
        made: dict[int, int] = {}
        heap: list[tuple[int, int, int]] = []
        unmet: dict[tuple[int, int], int] = {}
        users: dict[int, list[tuple[int, int]]] = {}
        for i, options in enumerate(part.needs):
            for k, needs in enumerate(options):
                unmet[i, k] = len(needs)
                for need in needs:
                    users.setdefault(need, []).append((i, k))
                if not needs:
                    heappush(heap, (part.choices[i][k][0], i, k))
        while heap:
            amount, i, k = heappop(heap)
            if i in made:
                continue
            made[i], value[i] = k, amount
            for user, number in users.get(i, ()):
                unmet[user, number] -= 1
                if not unmet[user, number]:
                    needs = part.needs[user][number]
                    heappush(heap, (part.choices[user][number][0] + sum(value[n] for n in needs), user, number))
        cost, mask = 0, required
        trail: Trail = None
        stack = list(bits(required & self._several))
        seen = set(stack)
        while stack:
            i = stack.pop()
            cost += part.choices[i][made[i]][0] - (part.least[i] if required >> i & 1 else 0)
            mask |= 1 << i
            trail = (i, made[i], trail)
            for need in part.needs[i][made[i]]:
                if need not in seen and (not required >> need & 1 or self._several >> need & 1):
                    seen.add(need)
                    stack.append(need)
        return cost, mask, trail


def _within(trail: Trail, span: int) -> dict[int, int]:
    """The picks of ``trail`` at places in ``span``."""
    picked: dict[int, int] = {}
    while trail is not None:
        place, number, trail = trail
        if span >> place & 1:
            picked[place] = number
    return picked
