"""When every way can be used on a walk that has ended, and the picks of its eras put into its phases.

Slots number the phases and the boundaries between them in turn: phase k is slot 2k, the boundary after it slot 2k+1.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from firstoff.removal.eras import Eras, Picks, Place
from firstoff.removal.terrain import Event, Terrain
from firstoff.removal.tours import Leg, Tour, circular


@dataclass(frozen=True, slots=True, eq=False)
class Timetable:
    """A walk that has ended.

    ``when[number]`` is the mask of phases in which a way can be used, as far as one can tell without choosing ways:
    its states hold and each part it needs can be off. ``stretch[part]`` holds, for the first era of each stretch of
    the part, the mask of its slots; ``whole`` is the mask of all slots.
    """

    terrain: Terrain
    events: tuple[Event, ...]
    eras: Eras
    when: Sequence[int]
    stretch: Mapping[int, dict[int, int]]
    whole: int


def timetable(
    terrain: Terrain, phases: Sequence[frozenset[int]], events: tuple[Event, ...], fitted: Sequence[int]
) -> Timetable | None:
    """The timetable of a walk; ``fitted`` are, for each event, the parts that have to be on and could be off.

    None where an event needs a part off that cannot be.
    """
    slots = 2 * len(phases) - 1
    whole = (1 << slots) - 1
    edges = [0, *(2 * number + 1 for number, parts in enumerate(fitted) if parts), slots]
    between = [parts for parts in fitted if parts]
    spans = [(1 << end) - (1 << start) for start, end in pairwise(edges)]
    stretch = {head: _stretches(head, spans, between) for head in terrain.upwards if head < terrain.components}
    hold = _holding(terrain, phases)
    when = [0] * len(terrain.ways)
    cover = dict.fromkeys(terrain.upwards, whole)
    changed = True
    while changed:
        changed = False
        for head in terrain.upwards:
            reach = 0
            for number in terrain.by_head[head]:
                way = terrain.ways[number]
                when[number] = found = _able(way.parts, way.standing, hold[way.states], cover)
                if way.option.puts_back:
                    found = when[number] = found & stretch[head][0]
                    reach |= _from_start(found)
                elif found:
                    runs = stretch[head].values() if head < terrain.components else ()
                    reach |= whole if head >= terrain.components else _filled(found, runs)
            if reach != cover[head]:
                cover[head] = reach
                changed = bool(terrain.tangled)
    for part in terrain.found_off:
        if not any(when[number] for number in terrain.by_head[part] if terrain.ways[number].option.puts_back):
            return None
    for number, event in enumerate(events):
        if not all(cover.get(part, 0) >> 2 * number + 1 & 1 for part in event.parts):
            return None
        if not all(cover.get(state) for state in event.standing):
            return None
    for number, way in enumerate(terrain.ways):
        if way.head not in cover:
            when[number] = _able(way.parts, way.standing, hold[way.states], cover)
    return Timetable(terrain, events, _eras(events, spans, between, when), when, stretch, whole)


def _stretches(part: int, spans: Sequence[int], between: Sequence[int]) -> dict[int, int]:
    """The slots of each stretch of ``part`` by its first era; boundaries where it has to be on are in none."""
    found = {0: spans[0]}
    first = 0
    for era, span in enumerate(spans[1:], 1):
        if between[era - 1] >> part & 1:
            first = era
            found[era] = span & ~(span & -span)
        else:
            found[first] |= span
    return found


def _holding(terrain: Terrain, phases: Sequence[frozenset[int]]) -> dict[frozenset[int], int]:
    """The phases, as slots, in which each set of states that some way needs holds."""
    return {
        states: sum(1 << 2 * number for number, phase in enumerate(phases) if states <= phase)
        for states in {way.states for way in terrain.ways}
    }


def _able(parts: Iterable[int], standing: Iterable[int], slots: int, cover: Mapping[int, int]) -> int:
    for part in parts:
        slots &= cover.get(part, 0)
    return slots if all(cover.get(state) for state in standing) else 0


def _filled(slots: int, runs: Iterable[int]) -> int:
    """Within each of ``runs`` all from the first to the last of ``slots``."""
    mask = 0
    for run in runs:
        inside = slots & run
        if inside:
            mask |= (1 << inside.bit_length()) - (inside & -inside)
    return mask


def _from_start(slots: int) -> int:
    """All from the start to the last of ``slots``; none where there are none."""
    return (1 << slots.bit_length()) - 1


def _eras(events: Sequence[Event], spans: Sequence[int], between: Sequence[int], when: Sequence[int]) -> Eras:
    ways = tuple(sum(1 << number for number, slots in enumerate(when) if slots & span) for span in spans)
    asked = [0] * len(spans)
    for number, event in enumerate(events):
        # A boundary between eras belongs to the later in ``spans``; a part off at it is off in both.
        era = next(era for era, span in enumerate(spans) if span >> 2 * number + 1 & 1)
        asked[era] |= event.needs
    served = frozenset(event.option.head for event in events if not event.option.is_edge)
    return Eras(ways, tuple(asked), tuple(between), served, None)


def settled(of: Timetable, picks: Picks) -> list[Tour] | None:
    """Tours by the ways picked; None where these cannot be had at the slots where they are needed.

    A part is off in a stretch from the last phase in which its way can be begun before it is needed until the first in
    which it can be ended after that.
    """
    terrain = of.terrain
    chosen = {place: terrain.number[option] for place, option in picks.ways.items()}
    rank = {head: position for position, head in enumerate(terrain.upwards)}
    order = sorted((place for place in chosen if place[0] in rank), key=lambda place: (rank[place[0]], place[1]))
    able = _within_picks(of, chosen, order)
    if able is None:
        return None
    when, cover = able
    asked: dict[int, int] = {}
    for number, event in enumerate(of.events):
        for part in event.parts:
            asked[part] = asked.get(part, 0) | 1 << 2 * number + 1
    for part in terrain.found_off:
        asked[part] = asked.get(part, 0) | 1
    tours = []
    for place, number in chosen.items():
        way = terrain.ways[number]
        if way.head < terrain.components:
            continue
        slots = when[place] if place in when else _able(way.parts, way.standing, of.when[number], cover)
        if not slots:
            return None
        slot = slots & -slots
        tours.append(Tour(way.head, way.cost, 1, (), option=way.option, phase=slot.bit_length() // 2))
        for part in way.parts:
            asked[part] = asked.get(part, 0) | slot
    if any(slots & ~cover.get(part, 0) for part, slots in asked.items()):
        return None
    legged = _legged(of, chosen, order, when, asked)
    if terrain.tangled and any(circular(tour, legged) for tour in legged if tour.head in terrain.tangled):
        return None
    return [*tours, *legged]


def _within_picks(
    of: Timetable, chosen: Mapping[Place, int], order: Sequence[Place]
) -> tuple[dict[Place, int], dict[int, int]] | None:
    """The phases in which the way of each place can be used if no other ways are, and the slots each part can be off.

    None where some place is left without.
    """
    terrain = of.terrain
    cover: dict[int, int] = {}
    for part, era in order:
        cover[part] = cover.get(part, 0) | (of.stretch[part][era] if part < terrain.components else of.whole)
    when: dict[Place, int] = {}
    changed = True
    while changed:
        changed = False
        reach: dict[int, int] = {}
        for place in order:
            head, era = place
            way = terrain.ways[chosen[place]]
            run = of.stretch[head][era] if head < terrain.components else of.whole
            slots = _able(way.parts, way.standing, of.when[chosen[place]] & run, cover)
            if not slots:
                return None
            when[place] = slots
            if head >= terrain.components:
                reach[head] = of.whole
            else:
                off = _from_start(slots) if way.option.puts_back else _filled(slots, (run,))
                reach[head] = reach.get(head, 0) | off
            if head not in terrain.tangled:
                others = cover[head] & ~run
                cover[head] = others | reach[head] & run
        for head, slots in reach.items():
            if slots != cover[head]:
                cover[head] = slots
                changed = True
    return when, cover


def _legged(
    of: Timetable,
    chosen: Mapping[Place, int],
    order: Sequence[Place],
    when: Mapping[Place, int],
    asked: dict[int, int],
) -> list[Tour]:
    """The tours of parts, given where they are ``asked`` for. They ask for others in turn."""
    terrain = of.terrain
    tours: dict[Place, Tour] = {}
    changed = True
    while changed:
        changed = False
        for place in reversed(order):
            part, era = place
            if part >= terrain.components:
                continue
            needed = asked.get(part, 0) & of.stretch[part][era]
            if not needed:
                continue
            way = terrain.ways[chosen[place]]
            found = way.option.puts_back
            first = 0 if found else (when[place] & (1 << (needed & -needed).bit_length()) - 1).bit_length() - 1
            later = when[place] >> needed.bit_length() - 1
            last = needed.bit_length() - 1 + (later & -later).bit_length() - 1
            known = tours.get(place)
            if known is not None and (known.legs[0].first, known.legs[0].last) == (first // 2, last // 2):
                continue
            cover = (1 << last + 1) - (1 << first)
            tours[place] = Tour(part, way.cost, cover, (), legs=(Leg(way.option, first // 2, last // 2),))
            for need in way.parts:
                asked[need] = asked.get(need, 0) | (1 << last if found else 1 << first | 1 << last)
            changed = bool(terrain.tangled)
    return list(tours.values())
