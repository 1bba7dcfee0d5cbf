"""Moves as bit masks, with what every order of them must keep: which move can only come after which.

A *literal* is a component off, a state in force, or a component off by one of several removals; a situation is the
mask of the literals that hold. Every move needs some literals to hold and some not to, and flips some of them; flipped
backwards, it can be done from the situation after it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from firstoff.removal.handling import Handling, zone_of
from firstoff.removal.moves import Move
from firstoff.removal.options import Option
from firstoff.removal.problem import Problem


@dataclass(frozen=True, slots=True, eq=False)
class Chart:
    """``moves`` numbered in the order they were given in, which can be carried out.

    ``need``, ``avoid`` and ``flip`` are masks of literals of each move, ``start`` and ``energised`` the literals that
    hold at the start and those that say that the supply is on. ``before[i]`` and ``after[i]`` are the masks of the
    moves that come before and after move i in every order that can be carried out (not all of them may be known).
    ``by_hand`` says where it makes a difference whether the supply is on, ``turns`` which moves change it. ``kit``
    holds masks of tools, ``zone`` numbers (-1: none), ``load`` what a move adds to the burden in grams; ``loads`` are
    the literals of parts that have a burden, with it.
    """

    moves: Sequence[Move]
    need: list[int]
    avoid: list[int]
    flip: list[int]
    start: int
    energised: int
    before: list[int]
    after: list[int]
    kit: list[int]
    zone: list[int]
    by_hand: list[bool]
    turns: list[bool]
    serves: list[bool]
    load: list[int]
    loads: dict[int, int]
    tools: int
    zones: int

    def __len__(self) -> int:
        return len(self.moves)

    @property
    def certainly_on(self) -> int:
        """The moves that are done with the supply on in every order.

        Those that need it on; those that come before each way to turn it off for the first time; those that come
        after each way to turn it on for the last time.
        """
        count = len(self.moves)
        found = sum(1 << i for i in range(count) if self.need[i] & self.energised)
        end = self.start
        for i in range(count):
            end ^= self.flip[i]
        off = [i for i in range(count) if self.turns[i] and self.need[i] & self.flip[i] & self.energised]
        on = [i for i in range(count) if self.turns[i] and self.avoid[i] & self.flip[i] & self.energised]
        if self.start & self.energised:
            found |= _common((self.before[i] for i in off), (1 << count) - 1)
        if end & self.energised:
            found |= _common((self.after[i] for i in on), (1 << count) - 1)
        return found


def bits(mask: int) -> Iterator[int]:
    """The numbers of the bits set in ``mask``, from the lowest."""
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


def chart_of(
    problem: Problem, handling: Handling, moves: Sequence[Move], ahead: Sequence[Sequence[int]] | None = None
) -> Chart:
    """The chart of ``moves``, given in an order that can be carried out.

    ``ahead`` are the moves that can only come after each, where that is known and all there is to keep.
    """
    literals = _Literals(problem, moves)
    count = len(moves)
    need, avoid, flip = [0] * count, [0] * count, [0] * count
    for i, move in enumerate(moves):
        need[i], avoid[i], flip[i] = literals.of(move)
    if ahead is None:
        before = _precedence(need, avoid, flip, literals.start, _copies(moves))
    else:
        before = [0] * count
        for i, some in enumerate(ahead):
            for j in some:
                before[j] |= before[i] | 1 << i
    tools: dict[str, int] = {}
    zones: dict[str | None, int] = {None: -1}
    kit, zone, load = [0] * count, [-1] * count, [0] * count
    for i, move in enumerate(moves):
        for tool in move.option.kit:
            kit[i] |= 1 << tools.setdefault(tool, len(tools))
        zone[i] = zones.setdefault(zone_of(problem, move.option), len(zones) - 1)
        burden = handling.burden_of(move.option)
        load[i] = -burden if move.back else burden
    compiled = problem.compiled
    # Where a supply that no move changes is on, all is done with it on, in whatever order.
    always_on = any(atom in handling.energised and not literals.mask((atom,)) for atom in problem.start)
    return Chart(
        moves=moves, need=need, avoid=avoid, flip=flip, start=literals.start,
        energised=literals.mask(handling.energised), before=before, after=_after(before), kit=kit, zone=zone,
        by_hand=[not always_on and handling.by_hand(compiled, move.option) for move in moves],
        turns=[
            move.option.is_edge and compiled.variable[move.option.head] in handling.supply for move in moves
        ],
        serves=[move.option.head >= len(compiled.names) for move in moves],
        load=load,
        loads={literals.off_by(move.option): abs(load[i]) for i, move in enumerate(moves) if load[i]},
        tools=len(tools), zones=len(zones) - 1,
    )  # fmt: skip


class _Literals:
    """Gives every literal that some move changes a bit; what never changes is met, since one order can be done."""

    def __init__(self, problem: Problem, moves: Sequence[Move]) -> None:
        self._bits: dict[int, int] = {}
        self._by_way: dict[tuple[int, Option], int] = {}
        self._components = problem.compiled.components
        first: dict[int, Move] = {}
        several: set[int] = set()
        served = len(problem.compiled.names)
        for move in moves:
            option = move.option
            if option.head >= served:
                continue
            for atom in (option.head, option.leaves) if option.leaves >= 0 else (option.head,):
                self._bits.setdefault(atom, 1 << len(self._bits))
            if first.setdefault(option.head, move).option is not option:
                several.add(option.head)
        place = len(self._bits)
        for move in moves:
            if move.option.head in several and move.option.leaves < 0:
                key = (move.option.head, move.option)
                if key not in self._by_way:
                    self._by_way[key] = 1 << place
                    place += 1
        self._served = served
        self.start = self.mask((*problem.off, *problem.start))
        for atom in several & problem.off:
            self.start |= self._by_way.get((atom, first[atom].option), 0)

    def mask(self, atoms: Iterable[int]) -> int:
        found = 0
        for atom in atoms:
            found |= self._bits.get(atom, 0)
        return found

    def off_by(self, option: Option) -> int:
        """The literal that a removal has taken its part off."""
        return self._by_way.get((option.head, option)) or self._bits[option.head]

    def of(self, move: Move) -> tuple[int, int, int]:
        """The literals that ``move`` needs, those it needs not to hold, and those it flips."""
        option = move.option
        need, avoid = self.mask((*option.off, *option.states)), self.mask(option.fitted)
        if option.head >= self._served:
            return need, avoid, 0
        own = self._bits[option.head]
        if option.leaves >= 0:
            left = self._bits[option.leaves]
            return need | left, avoid | own, own | left
        own |= self._by_way.get((option.head, option), 0)
        return (need | own, avoid, own) if move.back else (need, avoid | own, own)


def _copies(moves: Sequence[Move]) -> list[int]:
    """For every move the one before it that is the same, -1 where there is none: their order makes no difference."""
    last: dict[tuple[Option, bool], int] = {}
    found = []
    for i, move in enumerate(moves):
        found.append(last.get((move.option, move.back), -1))
        last[move.option, move.back] = i
    return found


def _precedence(need: list[int], avoid: list[int], flip: list[int], start: int, copies: list[int]) -> list[int]:
    """Masks of what comes before each move in every order, found from the start on and from the end back."""
    count = len(need)
    end = start
    for each in flip:
        end ^= each
    before = _landmarks(need, avoid, flip, start, copies, range(count))
    later = [-1] * count
    for i, copy in enumerate(copies):
        if copy >= 0:
            later[copy] = i
    undone = [(need[i] & ~flip[i]) | (avoid[i] & flip[i]) for i in range(count)]
    unmade = [(avoid[i] & ~flip[i]) | (need[i] & flip[i]) for i in range(count)]
    for i, mask in enumerate(_landmarks(undone, unmade, flip, end, later, range(count - 1, -1, -1))):
        for j in bits(mask):
            before[j] |= 1 << i
    _close(before)
    if any((each & other) for i, each in enumerate(flip) for other in flip[:i]):
        while _confine(need, avoid, flip, start, before):
            _close(before)
    return before


def _close(before: list[int]) -> None:
    """What comes before a move has what comes before it too. Moves are numbered in an order that can be carried out."""
    for i, mask in enumerate(before):
        known = mask
        while mask:
            top = mask.bit_length() - 1
            known |= before[top]
            mask &= ~(before[top] | 1 << top)
        before[i] = known


def _after(before: list[int]) -> list[int]:
    after = [0] * len(before)
    for i, mask in enumerate(before):
        for j in bits(mask):
            after[j] |= 1 << i
    return after


def _confine(need: list[int], avoid: list[int], flip: list[int], start: int, before: list[int]) -> bool:
    """Add to ``before`` what follows from literals flipped several times; whether there was any.

    Where the moves that flip a literal are in one order, a move that needs it can only come in the intervals in which
    it holds, less those that end before all that the move comes after, or begin after all that it comes before.
    """
    after = _after(before)
    changed = False
    for literal in range(max(flip).bit_length()):
        flips = [i for i, mask in enumerate(flip) if mask >> literal & 1]
        # What flips it takes turns, so that an order of each kind orders all.
        if len(flips) < 2 or not all(before[b] >> a & 1 for k in (0, 1) for a, b in pairwise(flips[k::2])):
            continue
        for earlier, later in pairwise(flips):
            if not before[later] >> earlier & 1:
                before[later] |= 1 << earlier
                changed = True
        for i in range(len(need)):
            if flip[i] >> literal & 1 or not (need[i] | avoid[i]) >> literal & 1:
                continue
            holds = need[i] >> literal & 1
            first, last = _interval(flips, bool(start >> literal & 1) is bool(holds), before[i], after[i])
            if first >= 0 and not before[i] >> first & 1:
                before[i] |= 1 << first
                changed = True
            if last >= 0 and not before[last] >> i & 1:
                before[last] |= 1 << i
                changed = True
    return changed


def _interval(flips: list[int], at_start: bool, before: int, after: int) -> tuple[int, int]:
    """The flips between which a move must come that is done in every second interval: -1 where there is none."""
    ends = [-1, *flips, -1]
    possible = [
        (ends[k], ends[k + 1])
        for k in range(0 if at_start else 1, len(ends) - 1, 2)
        if not (ends[k] >= 0 and after >> ends[k] & 1) and not (ends[k + 1] >= 0 and before >> ends[k + 1] & 1)
    ]
    return possible[0][0], possible[-1][1]


def _landmarks(
    need: list[int], avoid: list[int], flip: list[int], start: int, copies: list[int], order: Iterable[int]
) -> list[int]:
    """What comes before each move even if nothing done were ever in the way: landmarks of the relaxation.

    As in Keyder, Richter and Helmert (ECAI 2010): what all moves that bring a need about have in common, each with
    itself, for every need that does not hold at the start. ``order`` can be carried out.
    """
    count = len(need)
    order = list(order)
    bringing: dict[int, list[int]] = {}
    for i in range(count):
        for literal in bits(avoid[i] & flip[i]):
            bringing.setdefault(2 * literal, []).append(i)
        for literal in bits(need[i] & flip[i]):
            bringing.setdefault(2 * literal + 1, []).append(i)
    asked = [
        [bringing[2 * literal] for literal in bits(need[i] & ~start)]
        + [bringing[2 * literal + 1] for literal in bits(avoid[i] & start)]
        + ([[copies[i]]] if copies[i] >= 0 else [])
        for i in range(count)
    ]
    everything = (1 << count) - 1
    found = [everything] * count
    changed = True
    while changed:
        changed = False
        for i in order:
            mask = 0
            for some in asked[i]:
                mask |= _common((found[j] | 1 << j for j in some), everything)
            if mask != found[i]:
                found[i] = mask
                changed = True
    return found


def _common(masks: Iterable[int], everything: int) -> int:
    for mask in masks:
        everything &= mask
    return everything
