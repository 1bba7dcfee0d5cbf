"""Which state variables to follow: as few as it takes to prove a plan.

Of the variables that are not followed the states add up and never go (a delete relaxation of these variables alone;
Katz, Hoffmann, Domshlak, ICAPS 2013, call it red-black planning). What the cheapest plan then costs is a lower bound,
and its walk is a good guess: the variables left out are changed where it changes them and changed back once they are
last needed. If that can be carried out at that cost it is the cheapest plan. If not, the variables that it needs in
several states are followed too.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from firstoff.removal.itinerary import moves_of
from firstoff.removal.moves import Move, inverse
from firstoff.removal.options import Option, whole
from firstoff.removal.problem import Problem
from firstoff.removal.request import Meter
from firstoff.removal.scope import Scope
from firstoff.removal.terrain import Event, Terrain
from firstoff.removal.tours import Tour
from firstoff.removal.walks import Found, Search, fixed_walk


def search(
    problem: Problem, within: Scope, picks: Iterable[Option], least: int, meter: Meter
) -> tuple[int, list[Move] | None]:
    """A bound on any plan in ticks, and the moves of the best plan found, None where none was found.

    ``picks`` are the options of h+, ``least`` is what it costs. The request must be known to be possible, or the
    search ends with ``meter`` only.
    """
    everything = Terrain(problem, within, within.followed)
    best = Found(least)
    # With parts found off h+ is told backwards, and counts changes of state otherwise.
    floors: dict[tuple[int, ...], int] = {} if problem.off else {(): least}
    followed: tuple[int, ...] = ()
    used = list(picks)
    while True:
        followed = _more(problem, within, used, followed)
        terrain = everything if followed == within.followed else Terrain(problem, within, followed)
        found = Search(terrain, floors, meter, best.cost).run()
        least = max(least, found.bound)
        floors[followed] = found.bound
        shown = found if terrain is everything else _carried_out(everything, terrain, found, meter)
        if shown.cost is not None and (best.cost is None or shown.cost < best.cost):
            best = shown
        if meter.spent or terrain is everything or (best.cost is not None and whole(best.cost) <= whole(least)):
            return least, _moves(everything, best)
        used = _used(found)


def _moves(everything: Terrain, best: Found) -> list[Move] | None:
    if best.walk is None:
        return None
    options = [event.option for event in best.walk.events]
    walk = fixed_walk(everything, best.walk)
    return moves_of(everything.problem, everything.within, walk, options, best.tours)


def _more(problem: Problem, within: Scope, used: Sequence[Option], followed: tuple[int, ...]) -> tuple[int, ...]:
    """What to follow next: the variables needed in several states too; else those that change too; else all."""
    needed: dict[int, set[int]] = {}
    changed: set[int] = set()
    for option in used:
        for state in option.states:
            if state != option.leaves:
                needed.setdefault(problem.compiled.variable[state], set()).add(state)
        if option.is_edge:
            changed.add(problem.compiled.variable[option.head])
    for more in ({number for number, states in needed.items() if len(states) > 1}, changed):
        if more & set(within.followed) - set(followed):
            return tuple(number for number in within.followed if number in followed or number in more)
    return within.followed


def _used(found: Found) -> list[Option]:
    used = [option for tour in found.tours for option in _options(tour)]
    used.extend(event.option for event in (found.walk.events if found.walk is not None else ()))
    return used


def _options(tour: Tour) -> Iterator[Option]:
    if tour.option is not None:
        yield tour.option
    yield from (leg.option for leg in tour.legs)


def _carried_out(everything: Terrain, terrain: Terrain, found: Found, meter: Meter) -> Found:
    """The plan ``found`` with its other variables changed where it changes them, and back when they are last needed.

    Without a walk where that cannot be carried out.
    """
    events = None if found.walk is None else _with_others(everything, terrain, found)
    if events is None:
        return Found(found.bound)
    search = Search(everything, {(): found.bound}, meter)
    walk = search.along(events)
    return Found(found.bound) if walk is None else search.try_on(walk)


def _with_others(everything: Terrain, terrain: Terrain, found: Found) -> list[Event] | None:
    """The events of ``found`` with changes of the variables that it does not follow."""
    problem = terrain.problem
    assert found.walk is not None
    framed = set(terrain.within.frames)
    by_option = {event.option: event for events in everything.edges.values() for event in events}
    set_in = [(tour.phase, tour.option) for tour in found.tours if tour.option is not None and tour.option.is_edge]
    set_in = [(phase, option) for phase, option in set_in if option.head not in framed]
    order = _in_order(set_in)
    if order is None:
        return None
    undone: dict[int, list[Option]] = {}
    last_needed = _last_needed(found)
    floor = len(found.walk.phases) - 1
    until: dict[int, int] = {}
    for _, option in order:
        until[option.head] = last_needed.get(option.head, 0)
    for phase, option in reversed(order):
        back = inverse(problem.compiled, option)
        needed = terrain.varying.intersection(back.states)
        begin = max(phase, until[option.head])
        at = next((k for k in range(begin, floor + 1) if needed <= found.walk.phases[k]), None)
        if at is None:
            return None
        undone.setdefault(at, []).append(back)
        for state in back.states:
            if state in until:
                until[state] = max(until[state], at)
    events: list[Event] = []
    for number in range(len(found.walk.phases)):
        events.extend(by_option[option] for phase, option in order if phase == number)
        events.extend(by_option[back] for back in undone.get(number, ()))
        if number < len(found.walk.events):
            event = found.walk.events[number]
            same = by_option.get(event.option) or next(
                (test for test in everything.tests if test.option is event.option), None
            )
            if same is None:
                return None
            events.append(same)
    return events


def _in_order(edges: Sequence[tuple[int, Option]]) -> list[tuple[int, Option]] | None:
    """``edges`` by phase, each after those whose states it needs; None where they wait for one another."""
    left = sorted(edges, key=lambda edge: edge[0])
    given = {option.head for _, option in left}
    order: list[tuple[int, Option]] = []
    while left:
        edge = next((e for e in left if not any(s in given and s != e[1].head for s in e[1].states)), None)
        if edge is None:
            return None
        left.remove(edge)
        given.discard(edge[1].head)
        phase = max([edge[0], *(earlier for earlier, option in order if option.head in edge[1].states)])
        order.append((phase, edge[1]))
    return order


def _last_needed(found: Found) -> dict[int, int]:
    """The last phase in which each state is needed by something other than a change of a variable not followed."""
    last: dict[int, int] = {}

    def note(option: Option, phase: int) -> None:
        for state in option.states:
            last[state] = max(last.get(state, 0), phase)

    for tour in found.tours:
        for leg in tour.legs:
            note(leg.option, leg.last)
        if tour.option is not None and not tour.option.is_edge:
            note(tour.option, tour.phase)
    for number, event in enumerate(found.walk.events if found.walk is not None else ()):
        note(event.option, number + 1)
    return last
