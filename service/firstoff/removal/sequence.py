"""The best order of the moves of a chart, proved.

The set of moves done says what is off, which states are in force and so what can follow; with the tools in hand and the
zone worked at, it says all that the rest of the cost depends on. So the search goes over these (A*: Hart, Nilsson,
Raphael, IEEE Trans. SSC 4:100, 1968) and its first whole order is the best. What is left costs at least the acts that
are certain to be done with the supply on, each tool left that is not in hand, each zone left that is not the present
one. Of the burden only what an order can help is counted: no order spares a part from being off during the acts that
come between its removal and its refit in all orders, nor, of two acts that may come in either order on the way out, the
lesser of their burdens.

A move that costs nothing now, stands in the way of none that could come before it, and adds no more burden than any of
these, is done at once: put first in the best order of the rest, it makes that no worse, since taking up tools and
changing zone obey the triangle inequality.
"""

from __future__ import annotations

from collections.abc import Sequence
from heapq import heappop, heappush, nsmallest
from typing import NamedTuple

from firstoff.removal.chart import Chart, bits
from firstoff.removal.request import Meter


class _Place(NamedTuple):
    """Where an order has come to: moves done, those ready as to what comes before them, literals that hold, cost.

    ``hand`` and ``zone`` are the tools in hand and the zone worked at; ``hand_back`` and ``zone_back`` those of the
    last move that is mirrored on the way back.
    """

    done: int
    ready: int
    now: int
    hand: int
    zone: int
    hand_back: int
    zone_back: int
    cost: int
    last: int
    parent: _Place | None

    @property
    def key(self) -> tuple[int, int, int, int, int]:
        """What the cost of the rest depends on."""
        return (self.done, self.hand, self.zone, self.hand_back, self.zone_back)


class Sequencer:
    """Orders the moves of one chart. With ``mirrored``, they are a way out, and all but its targets go back in reverse.

    Of a mirrored chart each literal changes once, so what comes before a move is all it needs, and nothing that is
    ready stands in the way of anything else that may come before it.
    """

    def __init__(self, chart: Chart, mirrored: bool) -> None:
        self._chart = chart
        self._mirrored = mirrored
        count = len(chart)
        self._all = (1 << count) - 1
        on = chart.certainly_on
        times = [1 if not mirrored or chart.serves[i] else 2 for i in range(count)]
        self._burdens = [self._burden(i, times[i]) if chart.loads else [] for i in range(count)]
        most = 2 * count * sum(chart.loads.values()) + 1
        self._zone_cost = 1 << most.bit_length()
        self._tool_cost = self._zone_cost << (2 * count + 1).bit_length()
        supply_cost = self._tool_cost << (2 * count * (chart.tools + 1)).bit_length()
        self._by_hand = [supply_cost * times[i] if chart.by_hand[i] else 0 for i in range(count)]
        self._on = on
        self._certain = [
            (cost, sum(1 << i for i in bits(on) if self._by_hand[i] == cost)) for cost in set(self._by_hand) if cost
        ]
        self._tools = [
            (1 << tool, sum(1 << i for i in range(count) if chart.kit[i] >> tool & 1)) for tool in range(chart.tools)
        ]
        self._zones = [
            (2 << zone, sum(1 << i for i in range(count) if chart.zone[i] == zone)) for zone in range(chart.zones)
        ]
        self._next = self._successors()
        self._strands = [[] if mirrored else self._stranding(i) for i in range(count)]
        self._clash = [0 if mirrored else self._clashes(i) for i in range(count)]
        self._lightest = sorted(range(count), key=chart.load.__getitem__)
        self._loaded = any(chart.load)
        self._with_kit = _groups(chart.kit, 0)
        self._at_zone = _groups(chart.zone, -1)
        self._mirrors = sum(1 << i for i in range(count) if mirrored and not chart.serves[i])
        self._turns = sum(1 << i for i in range(count) if chart.turns[i])
        self._left: dict[int, tuple[int, int, int, int, int]] = {}
        last = [
            i for i in range(count)
            if chart.kit[i] and not chart.serves[i]
            and not any(chart.kit[j] and not chart.serves[j] for j in bits(chart.after[i]))
        ]  # fmt: skip
        self._last_kit = max((chart.kit[i].bit_count() for i in last), default=0)

    def best(self, meter: Meter) -> list[int] | None:
        """The best order, or None where ``meter`` is spent before it is found."""
        start = self._settled(self._start())
        heap = [(self._least(start), 0, 0, start)]
        known = {start.key: start.cost}
        serial = 0
        while heap:
            _, _, _, place = heappop(heap)
            if place.done == self._all:
                return _moves(place)
            if place.cost > known[place.key]:
                continue
            if not meter.tick():
                return None
            for move in bits(place.ready):
                after = self._after(place, move)
                if after is None:
                    continue
                after = self._settled(after)
                key = after.key
                if after.cost < known.get(key, after.cost + 1):
                    known[key] = after.cost
                    serial += 1
                    heappush(heap, (after.cost + self._least(after), -after.done.bit_count(), serial, after))
        return None

    def good(self, width: int) -> list[int] | None:
        """A good order, by keeping the ``width`` most promising beginnings at every step; None where all end dead."""
        beam = [self._settled(self._start())]
        best: _Place | None = None
        while beam:
            found: dict[tuple[int, int, int, int, int], _Place] = {}
            for place in beam:
                for move in bits(place.ready):
                    after = self._after(place, move)
                    if after is None:
                        continue
                    after = self._settled(after)
                    other = found.get(after.key)
                    if other is None or after.cost < other.cost:
                        found[after.key] = after
            whole = [place for place in (*beam, *found.values()) if place.done == self._all]
            best = min((*whole, *([best] if best else [])), key=lambda place: place.cost, default=None)
            open_ends = (place for place in found.values() if place.done != self._all)
            beam = nsmallest(width, open_ends, key=lambda place: place.cost + self._least(place))
        return _moves(best) if best is not None else None

    def cost(self, order: Sequence[int]) -> int | None:
        """What ``order`` costs, in the search's own measure; None where it cannot be carried out."""
        place: _Place | None = self._start()
        for move in order:
            if place is None or not place.ready >> move & 1:
                return None
            place = self._after(place, move)
        return None if place is None else place.cost

    def _start(self) -> _Place:
        chart = self._chart
        ready = sum(1 << i for i in range(len(chart)) if not chart.before[i])
        return _Place(0, ready, chart.start, 0, -1, 0, -1, 0, -1, None)

    @property
    def floor(self) -> int:
        """The least that any order can cost, before any search."""
        return self._least(self._start())

    # --- one move ----------------------------------------------------------------------------------

    def _after(self, place: _Place, move: int) -> _Place | None:
        """Where ``move``, which is ready, leads; None where it cannot be done, or leaves others that never can be."""
        chart, now = self._chart, place.now
        if now & chart.need[move] != chart.need[move] or now & chart.avoid[move]:
            return None
        cost, hand, zone = place.cost, place.hand, place.zone
        hand_back, zone_back = place.hand_back, place.zone_back
        if now & chart.energised:
            cost += self._by_hand[move]
        back = self._mirrored and not chart.serves[move]
        tools = chart.kit[move]
        if tools:
            if tools != hand:
                cost += self._tool_cost * (tools & ~hand).bit_count()
                hand = tools
            if back:
                cost += self._tool_cost * (hand_back & ~tools).bit_count()
                hand_back = tools
        where = chart.zone[move]
        if where >= 0:
            if where != zone:
                cost += self._zone_cost
                zone = where
            if back:
                if zone_back not in (-1, where):
                    cost += self._zone_cost
                zone_back = where
        now ^= chart.flip[move]
        for literal, grams in self._burdens[move]:
            if now & literal:
                cost += grams
        done = place.done | 1 << move
        for who, how in self._strands[move]:
            if who & ~done and not how & ~done:
                return None
        ready = place.ready & ~(1 << move)
        for each in self._next[move]:
            if not chart.before[each] & ~done:
                ready |= 1 << each
        if done == self._all and self._mirrored:
            cost += self._tool_cost * (hand_back & ~hand).bit_count()
            cost += self._zone_cost * (zone_back not in (-1, zone))
        return _Place(done, ready, now, hand, zone, hand_back, zone_back, cost, move, place)

    def _settled(self, place: _Place) -> _Place:
        """``place`` after all moves that can do no harm."""
        while True:
            free = place.ready & self._with_kit.get(place.hand, 0) & self._at_zone.get(place.zone, 0) & ~self._turns
            if free & self._mirrors:
                same = self._with_kit.get(place.hand_back, 0) & self._at_zone.get(place.zone_back, 0)
                free &= same | ~self._mirrors
            if not free:
                return place
            for move in bits(free):
                if self._harmless(place, move):
                    after = self._after(place, move)
                    if after is not None:
                        place = after
                        break
            else:
                return place

    def _harmless(self, place: _Place, move: int) -> bool:
        """Whether some best order of the rest begins with ``move``, for which nothing has to be taken up or changed."""
        chart = self._chart
        if self._clash[move] & ~place.done:
            return False
        if chart.by_hand[move] and place.now & chart.energised and not self._on >> move & 1:
            return False
        if not self._loaded:
            return True
        between = self._all & ~(place.done | chart.after[move] | 1 << move)
        lightest = next((other for other in self._lightest if between >> other & 1), move)
        return chart.load[move] <= chart.load[lightest]

    # --- what is left ------------------------------------------------------------------------------

    def _least(self, place: _Place) -> int:
        """The least that the moves left can cost."""
        left = self._left.get(place.done)
        if left is None:
            left = self._left[place.done] = self._rest(place.done)
        cost, tools, zones, tools_back, zones_back = left
        many = (tools & ~place.hand).bit_count()
        if tools_back:
            dropped = (tools_back & ~place.hand_back).bit_count() + place.hand_back.bit_count() - self._last_kit
            many += max(0, dropped)
        places = (zones & ~(1 << place.zone + 1)).bit_count()
        if place.zone_back >= 0:
            places += (zones_back & ~(1 << place.zone_back + 1)).bit_count()
        elif zones_back:
            places += zones_back.bit_count() - 1
        return cost + many * self._tool_cost + places * self._zone_cost

    def _rest(self, done: int) -> tuple[int, int, int, int, int]:
        """Of the moves left: the cost of hands with the supply on, tools and zones, and those of the way back."""
        left = self._all & ~done
        tools = sum(tool for tool, users in self._tools if users & left)
        zones = sum(zone for zone, users in self._zones if users & left)
        cost = sum(cost * (moves & left).bit_count() for cost, moves in self._certain)
        left &= self._mirrors
        if not left:
            return cost, tools, zones, 0, 0
        return (
            cost, tools, zones,
            sum(tool for tool, users in self._tools if users & left),
            sum(zone for zone, users in self._zones if users & left),
        )  # fmt: skip

    # --- what is known beforehand ------------------------------------------------------------------

    def _burden(self, move: int, times: int) -> list[tuple[int, int]]:
        """For parts that may be off after ``move`` and need not be, their literal and what that costs."""
        chart = self._chart
        found = []
        for literal, grams in chart.loads.items():
            if literal & chart.flip[move] & chart.avoid[move]:
                continue
            off = [i for i in range(len(chart)) if chart.avoid[i] & chart.flip[i] & literal]
            on = [i for i in range(len(chart)) if chart.need[i] & chart.flip[i] & literal]
            if len(off) > 1 or len(on) > 1:
                found.append((literal, grams * times))
                continue
            out = not off or chart.before[move] >> off[0] & 1
            kept = not on or chart.after[move] >> on[0] & 1
            if out and kept:
                continue
            if self._mirrored and off and not chart.serves[move]:
                grams -= min(grams, max(0, chart.load[move]))
            if grams:
                found.append((literal, grams * times))
        return found

    def _successors(self) -> list[list[int]]:
        """For each move those that come after it with none known to come between."""
        chart = self._chart
        found: list[list[int]] = [[] for _ in range(len(chart))]
        for move in range(len(chart)):
            direct = mask = chart.before[move]
            for earlier in bits(mask):
                direct &= ~chart.before[earlier]
            for earlier in bits(direct):
                found[earlier].append(move)
        return found

    def _stranding(self, move: int) -> list[tuple[int, int]]:
        """For each literal that ``move`` flips, the moves that need it as it was, and those that flip it back."""
        chart = self._chart
        found = []
        for literal in bits(chart.flip[move]):
            held = chart.need[move] >> literal & 1
            needed, other = (chart.need, chart.avoid) if held else (chart.avoid, chart.need)
            who = sum(1 << i for i in range(len(chart)) if needed[i] >> literal & 1)
            how = sum(1 << i for i in range(len(chart)) if (other[i] & chart.flip[i]) >> literal & 1)
            found.append((who, how))
        return found

    def _clashes(self, move: int) -> int:
        """The moves that may come before ``move`` or after it and that cannot be done, or undo a need, after it."""
        chart = self._chart
        found = 0
        for other in range(len(chart)):
            if other == move or (chart.after[move] | chart.before[move]) >> other & 1:
                continue
            mine, its = chart.need[move] | chart.avoid[move], chart.need[other] | chart.avoid[other]
            if chart.flip[move] & its or chart.flip[other] & mine:
                found |= 1 << other
        return found


def _groups(values: Sequence[int], none: int) -> dict[int, int]:
    """The masks of the moves that fit each of ``values``: those that have it, and those that have ``none``."""
    found: dict[int, int] = {none: 0}
    for i, value in enumerate(values):
        found[value] = found.get(value, 0) | 1 << i
    return {value: mask | found[none] for value, mask in found.items()}


def _moves(place: _Place) -> list[int]:
    order: list[int] = []
    here: _Place | None = place
    while here is not None and here.last >= 0:
        order.append(here.last)
        here = here.parent
    return order[::-1]
