"""Which unit hangs below which in a single-line drawing: a tree from the sources to the loads."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from firstoff.appliance.circuit import Circuit
from firstoff.drawing.nets import Nets
from firstoff.energy.network import is_wet


@dataclass(frozen=True, slots=True)
class Branch:
    """A unit in the tree. ``parent`` is a branch before this one, -1 at the top.

    ``incoming`` are the nets that join it to its parent, the returns that it uses with them; ``aside`` are nets that
    others feed to it as well; ``ending`` are nets that nothing else touches. ``coupled`` says that a transformer or a
    separated converter lies between it and its parent.
    """

    unit: int
    parent: int
    incoming: frozenset[int]
    aside: frozenset[int]
    ending: frozenset[int]
    coupled: bool = False


def tree_of(circuit: Circuit, nets: Nets) -> tuple[Branch, ...]:
    """Every unit of ``nets`` once, each after its parent, in the order in which they are fed."""
    return _Growing(circuit, nets).grown()


class _Growing:
    def __init__(self, circuit: Circuit, nets: Nets) -> None:
        self._circuit = circuit
        self._nets = nets
        self._branches: list[Branch] = []
        self._at: dict[int, int] = {}
        self._users: dict[int, list[int]] = {}
        for number, unit in enumerate(nets.units):
            for net in unit.nets:
                self._users.setdefault(net, []).append(number)

    def grown(self) -> tuple[Branch, ...]:
        waiting: list[int] = []
        first: list[tuple[bool, int]] = []
        for number, unit in enumerate(self._nets.units):
            if unit.source is None:
                continue
            source = self._circuit.sources[unit.source]
            if source.derived_from:
                waiting.append(number)
            else:
                first.append((is_wet(source), number))
        for _, number in sorted(first):
            self._place(number, -1, None)
        self._follow()
        while waiting:
            number = next((each for each in waiting if self._feeder(each) is not None), waiting[0])
            waiting.remove(number)
            feeder = self._feeder(number)
            self._place(number, -1 if feeder is None else feeder, None, coupled=feeder is not None)
            self._follow()
        for number in range(len(self._nets.units)):
            if number not in self._at:
                self._place(number, -1, None)
                self._follow(loosely=True)
        return tuple(self._branches)

    def _follow(self, *, loosely: bool = False) -> None:
        """Place all that is fed by what is placed; ``loosely`` all that touches it."""
        while True:
            able = [
                (self._nets.rank.get(net, (True, 1e9)), unit, net, feeder)
                for net, users in self._users.items()
                for feeder in [self._feeding(net, loosely)]
                if feeder is not None
                for unit in users
                if unit not in self._at and self._nets.units[unit].source is None
            ]
            if not able:
                return
            _, unit, net, feeder = min(able)
            self._place(unit, self._at[feeder], net)

    def _feeding(self, net: int, loosely: bool) -> int | None:
        owner = self._nets.owner.get(net)
        if owner in self._at and self._nets.root.get(net) in self._at:
            return owner
        return next((user for user in self._users[net] if user in self._at), None) if loosely else None

    def _feeder(self, number: int) -> int | None:
        """The branch that feeds a derived source: it touches its primary points, if it can within one component."""
        source = self._circuit.sources[self._nets.units[number].source or ""]
        primary = {self._nets.net_of[point] for point in source.derived_from if point in self._nets.net_of}
        homes = {self._circuit.points[each].component for each in source.lines if each in self._circuit.points}

        def fitness(branch: int) -> tuple[bool, int, bool, int]:
            unit = self._nets.units[self._branches[branch].unit]
            return unit.component in homes, len(primary & unit.nets), unit.component is not None, branch

        able = [self._at[unit] for net in primary for unit in self._users.get(net, ()) if unit in self._at]
        return max(able, key=fitness, default=None)

    def _place(self, number: int, parent: int, entry: int | None, *, coupled: bool = False) -> None:
        nets, unit = self._nets, self._nets.units[number]
        own = {net for net in unit.nets if net != entry and (nets.owner.get(net) == number or unit.source is not None)}
        near = unit.nets - own
        above = nets.units[self._branches[parent].unit].nets if parent >= 0 and not coupled else frozenset[int]()
        incoming = {net for net in near if net in above or net in nets.returns or net == entry}
        if unit.source is not None:
            incoming, near = set(own), frozenset(own)
        ending = self._alone(own) if unit.device is not None else set[int]()
        if parent < 0 and unit.source is None:
            incoming, ending = set(unit.nets), set[int]()
        self._at[number] = len(self._branches)
        branch = Branch(
            number, parent, frozenset(incoming), frozenset(near - incoming), frozenset(ending), coupled=coupled
        )
        self._branches.append(branch)

    def _alone(self, nets: Iterable[int]) -> set[int]:
        return {net for net in nets if len(self._users[net]) == 1}
