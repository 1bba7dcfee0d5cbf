"""The cheapest plan in the full model, where states have to be changed and changed back in the middle of the work.

A plan is a walk: a sequence of *events* (a state of a followed variable changes; a target is served that needs
something fitted) with phases between. Walks are grown event by event, best first. What a walk costs at least is what
its events cost and what is left by ``eras``; and what was proved by following fewer variables, with the changes of
the others that this does not count, a second time by the same way or back to the start. A walk that has come home is
one to choose tours for: mostly the picks of its eras fit its phases, and are the best there are (``timetable``);
where they do not, all tours are searched (``cover``). The first walk with tours to come up is the cheapest plan.

Of walks that offer the same work at the same times only the cheapest is kept. A phase offers nothing of its own where
all it allows can be done in the phase before or after it, no event between standing in the way.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush

from firstoff.removal.cover import cheapest
from firstoff.removal.eras import Eras, Picks, picked
from firstoff.removal.options import whole
from firstoff.removal.request import Meter
from firstoff.removal.terrain import Event, Terrain
from firstoff.removal.timetable import Timetable, settled, timetable
from firstoff.removal.tours import Boundary, Tour, Walk, serves_of, standing_of, tours_of
from firstoff.removal.windows import windowed


@dataclass(frozen=True, slots=True, eq=False)
class Found:
    """What a search found. ``bound``: what any plan on the terrain costs at least, in ticks.

    ``cost`` and ``walk`` of the cheapest plan found with its ``tours``; None where none was found.
    """

    bound: int
    cost: int | None = None
    walk: Begun | None = None
    tours: tuple[Tour, ...] = ()

    @property
    def proved(self) -> bool:
        """Whether the plan found is the cheapest."""
        return self.cost is not None and whole(self.cost) <= whole(self.bound)


# What a walk offers: by phase the ways that can be used, then what its event needs off and fitted.
Trail = tuple[tuple[int, int, int], ...]
# So many phases back are looked at again when a walk grows.
_LOOKED_BACK = 8
# What any plan costs at least, by the variables that were followed to prove it; some of those followed now.
Floors = Mapping[tuple[int, ...], int]


@dataclass(frozen=True, slots=True, eq=False)
class Begun:
    """A walk begun: its ``events``, the states of every phase, and the cost of the events, shifted by the potential.

    ``brought`` are the atoms that can be brought about by now, each by itself; ``fitted``, for every event, the parts
    that it needs fitted and that could be off. ``trail`` is what it offers, up to the phase it is in. ``again`` is, for
    each followed variable, the cost of its changes that a search which does not follow it would not count.
    """

    events: tuple[Event, ...]
    phases: tuple[frozenset[int], ...]
    cost: int
    brought: int
    fitted: tuple[int, ...]
    eras: Eras
    trail: Trail
    again: tuple[int, ...]


class Search:
    """One search over the walks of a terrain."""

    def __init__(self, terrain: Terrain, floors: Floors, meter: Meter, most: int | None = None) -> None:
        """``floors``: bounds proved by following fewer variables. ``most``: only cheaper plans are looked for."""
        self._terrain = terrain
        self._least = max(floors.values(), default=0)
        self._floors = [
            (least, [place for place, number in enumerate(terrain.followed) if number not in followed])
            for followed, least in floors.items()
        ]
        self._meter = meter
        self._most = most
        self._bounds: dict[Eras, int | None] = {}
        self._best = Found(self._least)

    def run(self) -> Found:
        """The cheapest plan, or the best one found before the meter was spent."""
        heap: list[tuple[int, int, int, Begun, tuple[Timetable, Picks] | None]] = []
        serial = 0
        seen: dict[tuple[Trail, frozenset[int], frozenset[int]], int] = {}

        def push(walk: Begun, bound: int | None, ended: tuple[Timetable, Picks] | None) -> None:
            """Keep a walk whose bound leaves it a chance."""
            nonlocal serial
            if bound is not None and self._worth(bound):
                serial += 1
                heappush(heap, (bound, -len(walk.events), serial, walk, ended))

        first = self.begin()
        push(first, self._bound(first), None)
        while heap:
            bound, _, _, walk, ended = heappop(heap)
            bound = max(bound, self._least)
            if not self._worth(bound):
                break
            if not self._meter.tick():
                return Found(bound, self._best.cost, self._best.walk, self._best.tours)
            if ended is not None:
                self._exactly(walk)
                if self._meter.spent:
                    return Found(bound, self._best.cost, self._best.walk, self._best.tours)
                continue
            ended = self._ended(walk)
            if ended is not None:
                push(walk, walk.cost + ended[1].bound, ended)
            for after in self._grown(walk):
                key = (after.trail, after.phases[-1], after.eras.served)
                if seen.get(key, after.cost + 1) <= after.cost:
                    continue
                seen[key] = after.cost
                push(after, self._bound(after), None)
        found = self._best
        if found.cost is None:
            return Found(self._least if self._most is None else max(self._least, self._most))
        return Found(max(found.cost, self._least), found.cost, found.walk, found.tours)

    def along(self, events: Sequence[Event]) -> Begun | None:
        """The walk of these events; None where one of them cannot be."""
        walk = self.begin()
        for event in events:
            if not self._possible(event, walk):
                return None
            walk = self._after(walk, event)
        return walk

    def try_on(self, walk: Begun) -> Found:
        """The cheapest plan on ``walk`` if the picks of its eras show it; a bound of any plan on it otherwise."""
        self._best = Found(self._least)
        ended = self._ended(walk)
        return self._best if ended is None else Found(walk.cost + ended[1].bound)

    def _worth(self, bound: int) -> bool:
        """Whether a plan that costs ``bound`` would be better than what is known."""
        most = self._most if self._best.cost is None else self._best.cost
        return most is None or whole(bound) < whole(most)

    # --- growing ---------------------------------------------------------------------------------------

    def begin(self) -> Begun:
        """The walk without events."""
        terrain = self._terrain
        brought, begun = terrain.risen(sum(1 << part for part in terrain.found_off), terrain.start)
        eras = Eras((begun,), (0,), (), frozenset(), terrain.start)
        trail = ((terrain.doable(terrain.start), 0, 0),)
        again = (0,) * len(terrain.followed)
        return Begun((), (terrain.start,), terrain.problem.constant, brought, (), eras, trail, again)

    def _grown(self, walk: Begun) -> Iterator[Begun]:
        """``walk`` with one more event, every one that is possible."""
        terrain = self._terrain
        for state in sorted(walk.phases[-1]):
            for edge in terrain.edges.get(state, ()):
                if self._possible(edge, walk):
                    yield self._after(walk, edge)
        for test in terrain.tests:
            if test.option.head not in walk.eras.served and self._possible(test, walk):
                yield self._after(walk, test)

    def _possible(self, event: Event, walk: Begun) -> bool:
        return event.states <= walk.phases[-1] and not event.needs & ~walk.brought

    def _after(self, walk: Begun, event: Event) -> Begun:
        terrain, eras, option = self._terrain, walk.eras, event.option
        states, served = walk.phases[-1], eras.served
        if option.is_edge:
            states = (states - {option.leaves}) | {option.head}
        else:
            served = served | {option.head}
        fitted = event.fitted & walk.brought
        brought, begun = terrain.risen(walk.brought & ~fitted, states)
        asked = (*eras.asked[:-1], eras.asked[-1] | event.needs)
        if fitted:
            eras = Eras((*eras.ways, begun), (*asked, 0), (*eras.fitted, fitted), served, states)
        else:
            eras = Eras((*eras.ways[:-1], eras.ways[-1] | begun), asked, eras.fitted, served, states)
        again = walk.again
        if option.is_edge and (option.head in terrain.problem.given or event in walk.events):
            again = (*again[: event.variable], again[event.variable] + event.cost, *again[event.variable + 1 :])
        return Begun(
            (*walk.events, event), (*walk.phases, states), walk.cost + event.cost, brought, (*walk.fitted, fitted),
            eras, _trail(walk.trail, event.needs, fitted, terrain.doable(states)), again,
        )  # fmt: skip

    # --- bounds and plans ------------------------------------------------------------------------------

    def _bound(self, walk: Begun) -> int | None:
        """What ``walk`` costs at least; None where it leads nowhere."""
        if walk.eras not in self._bounds:
            picks = picked(self._terrain, walk.eras, self._meter)
            self._bounds[walk.eras] = None if picks is None else picks.bound
        left = self._bounds[walk.eras]
        if left is None:
            return None
        bound = walk.cost + left
        for least, loose in self._floors:
            bound = max(bound, least + sum(walk.again[at] for at in loose))
        return bound

    def _ended(self, walk: Begun) -> tuple[Timetable, Picks] | None:
        """The walk as one that has ended, if it may be cheaper than what is known. Keeps the plan that its picks show.

        None where there is no plan on it, or none to look for beside the one that its picks show.
        """
        if walk.phases[-1] != self._terrain.home:
            return None
        table = timetable(self._terrain, walk.phases, walk.events, walk.fitted)
        if table is None:
            return None
        picks = self._fitting(walk, table, picked(self._terrain, table.eras, self._meter))
        if picks is not None:
            picks = self._fitting(walk, table, windowed(table, self._meter))
        return None if picks is None else (table, picks)

    def _fitting(self, walk: Begun, table: Timetable, picks: Picks | None) -> Picks | None:
        """``picks`` if more has to be looked for on ``walk``; None where they show its best plan, or it is no use.

        The plan that they show is kept.
        """
        if picks is None or not self._worth(walk.cost + picks.bound):
            return None
        tours = settled(table, picks)
        if tours is None:
            return picks
        cost = walk.cost + sum(tour.cost for tour in tours)
        if self._best.cost is None or cost < self._best.cost:
            self._best = Found(self._least, cost, walk, tuple(tours))
        return None if picks.bound == picks.cost else picks

    def _exactly(self, walk: Begun) -> None:
        """Search all tours on ``walk``; keep the plan where it is the cheapest yet."""
        terrain = self._terrain
        problem, within = terrain.problem, terrain.within
        fixed = fixed_walk(terrain, walk)
        tours: dict[int, list[Tour]] = {
            head: tours_of(fixed, head, options, self._meter, problem.refits.get(head, ()))
            for head, options in within.removals.items()
        }
        for head, options in within.serves.items():
            tours[head] = serves_of(fixed, head, [option for option in options if not within.fitted(option)])
        for edge in terrain.standing_edges:
            tours.setdefault(edge.head, []).extend(standing_of(fixed, edge, problem.weight(edge)))
        goals = {head: 1 for head in within.serves if head not in walk.eras.served}
        goals.update((state, 1) for event in walk.events for state in event.standing)
        goals.update((state, 1) for state in problem.compiled.initial if state in fixed.standing)
        goals.update((part, 1) for part in problem.off)
        for number, event in enumerate(walk.events):
            for need in event.parts:
                goals[need] = goals.get(need, 0) | 1 << 2 * number + 1
        found = cheapest(goals, tours, 2 * len(fixed.phases) - 1, self._meter)
        if found is not None and (self._best.cost is None or walk.cost + found[0] < self._best.cost):
            self._best = Found(self._least, walk.cost + found[0], walk, tuple(found[1]))


def fixed_walk(terrain: Terrain, walk: Begun) -> Walk:
    """The phases and boundaries of ``walk``."""
    boundaries = tuple(Boundary(frozenset(event.parts), terrain.within.fitted(event.option)) for event in walk.events)
    return Walk(walk.phases, boundaries, terrain.varying, terrain.standing)


def _trail(trail: Trail, needs: int, fitted: int, offered: int) -> Trail:
    """``trail`` after an event with these ``needs`` and parts ``fitted``, in a phase that offers these ways.

    Phases that offer nothing of their own are left out. All work of a phase moves to a neighbour across an event that
    asks for nothing. Across events that ask for parts off, parts come off sooner and go back later.
    """
    kept = [*trail[:-1], (trail[-1][0], needs, fitted), (offered, 0, 0)]
    at = len(kept) - 2
    while at >= max(0, len(kept) - _LOOKED_BACK):
        ways, needs, fitted = kept[at]
        if not needs and not fitted and not ways & ~kept[at + 1][0]:
            del kept[at]
        elif at and (
            (kept[at - 1][1:] == (0, 0) and not ways & ~kept[at - 1][0])
            or (_offered_by(kept, at, -1) and _offered_by(kept, at, 1))
        ):
            kept[at - 1] = (kept[at - 1][0], kept[at - 1][1] | needs, kept[at - 1][2] | fitted)
            del kept[at]
        at -= 1
    return tuple(kept)


def _offered_by(trail: Sequence[tuple[int, int, int]], at: int, step: int) -> bool:
    """Whether a phase before (or after) offers all that the phase ``at`` and those up to it offer.

    No part has to be fitted in between.
    """
    ways = 0
    while True:
        if trail[at if step > 0 else at - 1][2]:
            return False
        ways |= trail[at][0]
        at += step
        if not ways & ~trail[at][0]:
            return True
        if not 0 <= at + step < len(trail):
            return False
