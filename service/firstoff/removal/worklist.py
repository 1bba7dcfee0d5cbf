"""A good order of a way out at little cost: n log n in its moves where few kits and zones differ.

The supply first: what has to come before it is off, then all else, what needs it on again at the end. Among the moves
that can be done next, those that need no other tool, then those at the same zone, then those whose part burdens least.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from heapq import heappop, heappush

from firstoff.removal.handling import Handling, zone_of
from firstoff.removal.moves import Move
from firstoff.removal.options import Option
from firstoff.removal.problem import Problem

_NO_TOOLS: frozenset[str] = frozenset()
# Of more kits than this that could be taken up next, only the first are looked at.
_LOOK_AT = 32


def worklist(problem: Problem, handling: Handling, out: Sequence[Move]) -> list[Move]:
    """``out`` in a good order that can be carried out. It must bring about each atom once, and none that is given."""
    ahead = ahead_of(out)
    waits = [0] * len(out)
    for later in ahead:
        for i in later:
            waits[i] += 1
    stages = _stages(handling, out, ahead)
    ready: list[list[int]] = [[], [], []]
    for i in range(len(out)):
        if not waits[i]:
            ready[stages[i]].append(i)
    order: list[Move] = []
    hands = _Hands(problem, handling)
    for stage, first in enumerate(ready):
        for i in first:
            hands.offer(i, out[i].option)
        while hands:
            i = hands.take()
            order.append(out[i])
            for j in ahead[i]:
                waits[j] -= 1
                if not waits[j]:
                    if stages[j] == stage:
                        hands.offer(j, out[j].option)
                    else:
                        ready[stages[j]].append(j)
    return order


def ahead_of(out: Sequence[Move]) -> list[list[int]]:
    """For each move those that can only come after it; such a way out can be carried out in any order that keeps this.

    What brings an atom about comes before what needs it; what needs a state, or a part fitted, before what ends that.
    """
    made = {move.option.head: i for i, move in enumerate(out)}
    left = {move.option.leaves: i for i, move in enumerate(out) if move.option.leaves >= 0}
    ahead: list[list[int]] = [[] for _ in out]
    for i, move in enumerate(out):
        option = move.option
        for need in option.off:
            maker = made.get(need)
            if maker is not None:
                ahead[maker].append(i)
        for state in option.states:
            maker = made.get(state)
            if maker is not None:
                ahead[maker].append(i)
            leaver = left.get(state, i)
            if leaver != i:
                ahead[i].append(leaver)
        for part in option.fitted:
            remover = made.get(part)
            if remover is not None:
                ahead[i].append(remover)
    return ahead


def _stages(handling: Handling, out: Sequence[Move], ahead: Sequence[Sequence[int]]) -> list[int]:
    """0 for what has to come before the supply is off, 2 for what turns it on and what waits for that, else 1."""
    energised = handling.energised
    stages = [1] * len(out)
    if not energised:
        return stages
    turns = [i for i, move in enumerate(out) if move.option.leaves >= 0 and _turns(handling, move.option)]
    if not turns:
        return stages
    for i in _reached(ahead, (i for i in turns if out[i].option.head in energised)):
        stages[i] = 2
    behind: list[list[int]] = [[] for _ in out]
    for i, some in enumerate(ahead):
        for j in some:
            behind[j].append(i)
    for i in _reached(behind, (i for i in turns if out[i].option.leaves in energised)):
        if stages[i] == 1:
            stages[i] = 0
    return stages


def _turns(handling: Handling, option: Option) -> bool:
    return (option.leaves in handling.energised) != (option.head in handling.energised)


def _reached(ahead: Sequence[Sequence[int]], roots: Iterable[int]) -> set[int]:
    stack = list(roots)
    found = set(stack)
    while stack:
        for j in ahead[stack.pop()]:
            if j not in found:
                found.add(j)
                stack.append(j)
    return found


class _Hands:
    """Moves that can be done now, by kit and zone; hands out the one that suits the tools in hand and the place."""

    def __init__(self, problem: Problem, handling: Handling) -> None:
        self._problem = problem
        self._handling = handling
        self._kits: dict[frozenset[str], dict[str, list[tuple[int, int]]]] = {}
        self._hand = _NO_TOOLS
        self._zone = ""

    def __bool__(self) -> bool:
        return bool(self._kits)

    def offer(self, i: int, option: Option) -> None:
        """Add move number ``i``."""
        zones = self._kits.setdefault(option.kit, {})
        heappush(zones.setdefault(zone_of(self._problem, option) or "", []), (self._handling.burden_of(option), i))

    def take(self) -> int:
        """Take the next."""
        kit, zone = self._choice()
        zones = self._kits[kit]
        heap = zones[zone]
        _, i = heappop(heap)
        if not heap:
            del zones[zone]
            if not zones:
                del self._kits[kit]
        if kit:
            self._hand = kit
        if zone:
            self._zone = zone
        return i

    def _choice(self) -> tuple[frozenset[str], str]:
        for kit in (_NO_TOOLS, self._hand):
            zones = self._kits.get(kit)
            if zones:
                for zone in ("", self._zone):
                    if zone in zones:
                        return kit, zone
        kit = self._hand if self._hand in self._kits else self._next_kit()
        zones = self._kits[kit]
        if self._zone in zones:
            return kit, self._zone
        return kit, min(zones, key=lambda zone: zones[zone][0])

    def _next_kit(self) -> frozenset[str]:
        """The kit with the fewest other tools; of these one with work at the same zone, or with the least burden."""
        kits = self._kits
        if len(kits) == 1:
            return next(iter(kits))
        best: tuple[int, bool, tuple[int, int]] | None = None
        found = _NO_TOOLS
        for number, (kit, zones) in enumerate(kits.items()):
            if number == _LOOK_AT:
                break
            key = (len(kit - self._hand), self._zone not in zones, min(heap[0] for heap in zones.values()))
            if best is None or key < best:
                best, found = key, kit
        return found
