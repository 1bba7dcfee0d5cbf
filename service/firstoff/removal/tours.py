"""The cheapest plan for a fixed walk through the states.

Between changes of state lie *phases*, in which the states stand still, and *boundaries*, at which a state changes or
a target is served that needs something fitted. Within a phase all that comes off can come off first and all that is
refitted can be refitted last, so at its middle everything that is off at some time of the phase is off at once. What
remains to be chosen is when each component is off: its *tours*. A tour runs from a phase to the same or a later one
and covers the boundaries between; it can hand over in the middle of a phase from one removal to another (the part is
refitted by the one and taken off again by the other). Removals of one phase must not wait for each other in a
circle, nor must refits.

Slots number the phases and boundaries in turn: phase k is slot 2k, the boundary before it slot 2k-1.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from firstoff.removal.options import Option
from firstoff.removal.request import Meter

_TOURS_A_TICK = 100


@dataclass(frozen=True, slots=True, eq=False)
class Boundary:
    """Components that have to be off, and those that have to be on, at a boundary."""

    off: frozenset[int]
    fitted: frozenset[int]


@dataclass(frozen=True, slots=True, eq=False)
class Leg:
    """A removal used from the phase in which it is taken off to that in which it is put back."""

    option: Option
    first: int
    last: int

    @property
    def found(self) -> bool:
        """Whether the part was off at the start: it is put back only, its needs hold in ``last`` alone."""
        return self.option.puts_back


@dataclass(frozen=True, slots=True, eq=False)
class Tour:
    """One way to have ``head`` (a component off, a target served, a state standing) at the slots of ``cover``.

    ``needs`` are heads and the slots at which they are needed; a target or a state is covered at slot 0 for good.
    Targets and states have no legs; theirs is ``option``, done in ``phase``.
    """

    head: int
    cost: int
    cover: int
    needs: tuple[tuple[int, int], ...]
    legs: tuple[Leg, ...] = ()
    option: Option | None = None
    phase: int = 0

    def needs_begun(self) -> tuple[tuple[int, int], ...]:
        """What has to have begun before this begins, with the slot."""
        if not self.legs:
            return self.needs
        leg = self.legs[0]
        return () if leg.found else tuple((need, 1 << 2 * leg.first) for need in leg.option.off)

    def needs_ended(self) -> tuple[tuple[int, int], ...]:
        """What must not have ended before this ends, with the slot."""
        return tuple((need, 1 << 2 * leg.last) for leg in self.legs[-1:] for need in leg.option.off)

    def waits_out(self, other: Tour) -> bool:
        """Whether taking this off has to wait until the other has been taken off in the same phase."""
        first, before = self.legs[0], other.legs[0]
        return before.first == first.first and other.head in first.option.off and not first.found and not before.found

    def waits_back(self, other: Tour) -> bool:
        """Whether the other's refit has to wait until this has been refitted in the same phase."""
        last = self.legs[-1]
        return other.legs[-1].last == last.last and other.head in last.option.off


@dataclass(frozen=True, slots=True, eq=False)
class Walk:
    """What is fixed: the states of the followed variables in every phase, and the boundaries between phases.

    ``varying`` are all states of followed variables, ``standing`` the states of others, which count as in force
    throughout once their tour is chosen.
    """

    phases: tuple[frozenset[int], ...]
    boundaries: tuple[Boundary, ...]
    varying: frozenset[int]
    standing: frozenset[int]

    def allowed(self, option: Option) -> list[int]:
        """The phases whose states ``option`` can be done in."""
        needed = self.varying.intersection(option.states)
        return [k for k, states in enumerate(self.phases) if states >= needed]


def tours_of(
    walk: Walk, head: int, options: Sequence[Option], meter: Meter, refits: Sequence[Option] = ()
) -> list[Tour]:
    """Every tour of component ``head`` on ``walk``, the widest first; not every one once ``meter`` is spent.

    ``refits`` put it back where it was found off; it can come off only after that.
    """
    forbidden = sum(1 << (2 * k + 1) for k, boundary in enumerate(walk.boundaries) if head in boundary.fitted)
    legs: list[list[Leg]] = []
    for option in options:
        allowed = walk.allowed(option)
        legs.append(
            [
                Leg(option, first, last)
                for first in allowed
                for last in allowed
                if first <= last and not _slots(first, last) & forbidden
            ]
        )
    found: list[Tour] = []
    chains: list[tuple[Leg, ...]] = [(leg,) for some in legs for leg in some if not refits or leg.first > 0]
    chains.extend(
        (Leg(refit, 0, last),) for refit in refits for last in walk.allowed(refit) if not _slots(0, last) & forbidden
    )
    while chains:
        chain = chains.pop()
        found.append(_tour(walk, head, chain))
        if len(found) % _TOURS_A_TICK == 0 and not meter.tick():
            break
        used = {leg.option.way for leg in chain}
        chains.extend(
            (*chain, leg) for some in legs for leg in some if leg.first == chain[-1].last and leg.option.way not in used
        )
    found.sort(key=lambda tour: (-tour.cover.bit_count(), tour.cost, tour.cover))
    return found


def serves_of(walk: Walk, head: int, options: Iterable[Option]) -> list[Tour]:
    """Every way to serve target ``head`` within a phase of ``walk``."""
    return [
        Tour(head, option.cost, 1, _needs(walk, [(option, 1 << 2 * k)]), option=option, phase=k)
        for option in options
        for k in walk.allowed(option)
    ]


def standing_of(walk: Walk, edge: Option, weight: int) -> list[Tour]:
    """Every way to bring about the standing state that ``edge`` leads to, at ``weight`` ticks."""
    phases = walk.allowed(edge)
    if not edge.off:
        del phases[1:]
    return [Tour(edge.head, weight, 1, _needs(walk, [(edge, 1 << 2 * k)]), option=edge, phase=k) for k in phases]


def circular(tour: Tour, chosen: Sequence[Tour]) -> bool:
    """Whether the tour's removal would wait for itself, or its refit would."""
    legged = [other for other in chosen if other.legs]
    return _meets_itself(tour, legged, out=True) or _meets_itself(tour, legged, out=False)


def _meets_itself(tour: Tour, others: Sequence[Tour], *, out: bool) -> bool:
    stack, seen = [tour], {tour}
    while stack:
        at = stack.pop()
        for other in (*others, tour):
            if other is at or not (at.waits_out(other) if out else at.waits_back(other)):
                continue
            if other is tour:
                return True
            if other not in seen:
                seen.add(other)
                stack.append(other)
    return False


def _tour(walk: Walk, head: int, chain: tuple[Leg, ...]) -> Tour:
    slots: list[tuple[Option, int]] = []
    for leg in chain:
        slots.append((leg.option, 1 << 2 * leg.last | (0 if leg.found else 1 << 2 * leg.first)))
    cover = _slots(chain[0].first, chain[-1].last)
    return Tour(head, sum(leg.option.cost for leg in chain), cover, _needs(walk, slots), legs=chain)


def _needs(walk: Walk, uses: Iterable[tuple[Option, int]]) -> tuple[tuple[int, int], ...]:
    needs: dict[int, int] = {}
    for option, slots in uses:
        for need in option.off:
            needs[need] = needs.get(need, 0) | slots
        for state in option.states:
            if state in walk.standing:
                needs[state] = 1
    return tuple(needs.items())


def _slots(first: int, last: int) -> int:
    return (1 << 2 * last + 1) - (1 << 2 * first)
