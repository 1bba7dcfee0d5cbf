"""What a walk that has ended costs at least, told by the slots at which parts have to be off.

Closer than ``eras``, and dearer to find: a part is asked for in a *window*, somewhere between two slots of one of its
stretches. Of a way that meets the window it is known that it is begun no later than the window ends and ended no
sooner than it begins, which gives the windows of the parts it needs. A way that meets several windows of a stretch is
paid for once, as it can be used once for all of them; two ways in one stretch are paid for both.
"""

from __future__ import annotations

from collections.abc import Iterator

from firstoff.removal.asking import Asking
from firstoff.removal.eras import Picks, Place
from firstoff.removal.landmarks import bits
from firstoff.removal.options import Option
from firstoff.removal.problem import Choice
from firstoff.removal.request import Meter
from firstoff.removal.timetable import Timetable

# What is asked for: whether it is a way in use, then the way and the first era of its stretch, and 0; or an atom and
# the first and last slot of its window, -1 for what has no slots (targets, standing states).
Asked = tuple[bool, int, int, int]


def windowed(table: Timetable, meter: Meter) -> Picks | None:
    """The cheapest solution, None where there is none.

    Its ways are those of the places that one way alone serves; a place that takes several is left out, and so does
    not fit.
    """
    return _Solving(table).run(meter)


class _Solving:
    def __init__(self, table: Timetable) -> None:
        self._table = table
        self._terrain = table.terrain
        self._asking: Asking[Asked] = Asking()

    def run(self, meter: Meter) -> Picks | None:
        """See ``windowed``."""
        solution = self._asking.solved(self._goals(), self._choices, meter)
        if solution is None:
            return None
        ways: dict[Place, list[Option]] = {}
        for number, choice in solution.picks.items():
            is_use, atom, first, _ = self._asking.found[number]
            if is_use:
                ways.setdefault((self._terrain.ways[atom].head, first), []).append(choice[2])
            elif atom >= self._terrain.components:
                ways[atom, 0] = [choice[2]]
        single = {place: found[0] for place, found in ways.items() if len(found) == 1}
        return Picks(solution.cost, solution.bound, single)

    def _numbered(self, is_use: bool, atom: int, first: int, last: int) -> int:
        return self._asking.number((is_use, atom, first, last))

    def _choices(self, asked: Asked) -> Iterator[Choice]:
        is_use, atom, first, last = asked
        return self._of_use(atom) if is_use else self._of_window(atom, first, last)

    def _goals(self) -> Iterator[int]:
        terrain, table = self._terrain, self._table
        for target in terrain.within.serves:
            if target not in table.eras.served:
                yield self._numbered(False, target, -1, -1)
        for number, event in enumerate(table.events):
            for part in event.parts:
                yield self._numbered(False, part, 2 * number + 1, 2 * number + 1)
            for state in event.standing:
                yield self._numbered(False, state, -1, -1)
        for part in terrain.found_off:
            yield self._numbered(False, part, 0, 0)
        for state in terrain.problem.compiled.initial:
            if state in terrain.standing:
                yield self._numbered(False, state, -1, -1)

    def _stretch(self, part: int, slot: int) -> tuple[int, int]:
        """The first era of the stretch of ``part`` that holds ``slot``, and the mask of the stretch."""
        return next((era, mask) for era, mask in self._table.stretch[part].items() if mask >> slot & 1)

    def _of_use(self, number: int) -> Iterator[Choice]:
        """The one choice of a way in a stretch. What it needs is asked for by the windows that it meets."""
        way = self._terrain.ways[number]
        yield way.cost, tuple(self._numbered(False, state, -1, -1) for state in way.standing), way.option

    def _of_window(self, atom: int, first: int, last: int) -> Iterator[Choice]:
        terrain, table = self._terrain, self._table
        if atom >= terrain.components:
            for number in terrain.by_head.get(atom, ()):
                yield from self._once(number)
            return
        era, mask = self._stretch(atom, first)
        for number in terrain.by_head.get(atom, ()):
            way = terrain.ways[number]
            when = table.when[number] & mask
            if way.option.puts_back:
                yield from self._put_back(number, when >> first << first)
                continue
            if last == 0 and atom in terrain.found_off:
                continue
            begun = when & (1 << last + 1) - 1
            ended = when >> first << first
            if not begun or not ended or begun & -begun > 1 << ended.bit_length() - 1:
                continue
            use = self._numbered(True, number, era, 0)
            starts = {self._before(way.parts, group) for group in self._groups(way.parts, begun)}
            if atom in terrain.tangled:
                offers = {(use, *needs) for needs in starts}
            else:
                ends = {self._after(way.parts, group) for group in self._groups(way.parts, ended)}
                offers = {(use, *dict.fromkeys((*needs, *others))) for needs in starts for others in ends}
            for needs in offers:
                yield 0, needs, way.option

    def _put_back(self, number: int, ended: int) -> Iterator[Choice]:
        """The choices of a way that puts back a part found off, in one of these phases."""
        way = self._terrain.ways[number]
        use = self._numbered(True, number, 0, 0)
        if way.head in self._terrain.tangled:
            offers: set[tuple[int, ...]] = {(use,)} if ended else set()
        else:
            offers = {(use, *self._after(way.parts, group)) for group in self._groups(way.parts, ended)}
        for needs in offers:
            yield 0, needs, way.option

    def _once(self, number: int) -> Iterator[Choice]:
        """The choices of what is done once, in one of the phases of a run."""
        way = self._terrain.ways[number]
        standing = tuple(self._numbered(False, state, -1, -1) for state in way.standing)
        offers = set()
        for group in self._groups(way.parts, self._table.when[number]):
            for run in _runs(group):
                low, high = (run & -run).bit_length() - 1, run.bit_length() - 1
                offers.add(tuple(self._numbered(False, part, low, high) for part in way.parts))
        for needs in offers:
            yield way.cost, (*needs, *standing), way.option

    def _groups(self, parts: tuple[int, ...], slots: int) -> list[int]:
        """``slots`` by the stretches that they are in of ``parts``."""
        if not slots:
            return []
        stretch = self._table.stretch
        split = [part for part in parts if len(stretch[part]) > 1]
        if not split:
            return [slots]
        groups: dict[tuple[int, ...], int] = {}
        for slot in bits(slots):
            key = tuple(self._stretch(part, slot)[0] for part in split)
            groups[key] = groups.get(key, 0) | 1 << slot
        return list(groups.values())

    def _before(self, parts: tuple[int, ...], slots: int) -> tuple[int, ...]:
        """The windows of ``parts`` up to the last of ``slots``."""
        high = slots.bit_length() - 1
        return tuple(self._numbered(False, part, self._ends(part, high)[0], high) for part in parts)

    def _after(self, parts: tuple[int, ...], slots: int) -> tuple[int, ...]:
        """The windows of ``parts`` from the first of ``slots`` on."""
        low = (slots & -slots).bit_length() - 1
        return tuple(self._numbered(False, part, low, self._ends(part, low)[1]) for part in parts)

    def _ends(self, part: int, slot: int) -> tuple[int, int]:
        """The first and the last slot of the stretch of ``part`` that holds ``slot``."""
        mask = self._stretch(part, slot)[1]
        return (mask & -mask).bit_length() - 1, mask.bit_length() - 1


def _runs(slots: int) -> Iterator[int]:
    """``slots``, which are phases, by runs of phases that follow one another."""
    while slots:
        run, grown = 0, slots & -slots
        while run != grown:
            run = grown
            grown |= slots & run << 2
        yield run
        slots &= ~run
