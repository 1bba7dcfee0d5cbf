"""What the single-line drawing of a supply shows: rows from the sources to the loads, each with what state it is in.

A row is as bad as the worst point that it stands for, and every point of the circuit is in some row.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from firstoff.appliance.circuit import LinkKind
from firstoff.appliance.model import Appliance
from firstoff.drawing.marks import Mark, mark_of, worst
from firstoff.drawing.nets import PLAIN, Nets, Unit, nets_of
from firstoff.drawing.placing import placed
from firstoff.drawing.symbols import Symbol, symbol_of
from firstoff.drawing.tree import Branch, tree_of
from firstoff.energy import PointState, Situation, StoredCharge, live_points, stored
from firstoff.energy.network import is_wet, source_points
from firstoff.sheet.words import listed

#: Up to this a part counts as low voltage in the notes, in volts (IEC 60335-1, 3.4.2: safety extra-low voltage).
_EXTRA_LOW = 50.0


@dataclass(frozen=True, slots=True)
class Row:
    """One symbol with the line that leads to it from row ``parent``, -1 for none.

    ``line`` is the state of that line and of what it ends at, ``inside`` that of all a part is made of, ``beyond`` that
    of what an opened device feeds, ``aside`` that of each other line that is joined to it. ``conductors`` run in the
    line. ``opened`` is None for what is no device, ``charge`` says that it may hold one. ``units`` are the devices,
    components or sources that it stands for.
    """

    units: tuple[str, ...]
    symbol: Symbol
    text: str
    parent: int
    line: Mark
    inside: Mark | None = None
    beyond: Mark | None = None
    aside: tuple[tuple[str, Mark], ...] = ()
    conductors: int = 1
    opened: bool | None = None
    isolating: bool = False
    charge: bool = False
    coupled: bool = False
    notes: tuple[str, ...] = ()

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Every state that the row tells."""
        own = (mark for mark in (self.line, self.inside, self.beyond) if mark is not None)
        return (*own, *(mark for _, mark in self.aside))


@dataclass(frozen=True, slots=True)
class Supply:
    """The rows, each after its parent, and what is said about them all."""

    title: str
    situation: str
    revision: str
    rows: tuple[Row, ...]


def supply_of(
    appliance: Appliance, situation: Situation, at: frozenset[str] | None = None, off: frozenset[str] = frozenset()
) -> Supply:
    """The supply of ``appliance`` as it stands in ``situation``.

    ``off`` names the components that are off, for the title. With ``at`` it is cut to what tells of these points, what
    leads there, and what hangs below.
    """
    nets = nets_of(appliance.circuit)
    drawing = _Drawing(appliance, situation, nets, tree_of(appliance.circuit, nets))
    opened = [appliance.circuit.devices[each].label for each in sorted(situation.opened)]
    holders = {id_: link.label for id_, link in appliance.circuit.links.items()}
    holders |= {id_: source.label for id_, source in appliance.circuit.sources.items()}
    released = [holders[each] for each in sorted(situation.released)]
    said = f"Open: {listed(opened)}." if opened else "Nothing is open."
    said += f" Discharged: {listed(released)}." if released else ""
    if off:
        said += f" Off the machine: {listed([appliance.components[each].label for each in sorted(off)])}."
    rows = drawing.rows()
    if at is not None:
        rows = _cut(rows, at)
        said += " Only what leads to the parts asked for is drawn."
    return Supply(appliance.model_number, said, appliance.revision, _merged(rows))


def rows_of(appliance: Appliance) -> tuple[Row, ...]:
    """Every row by itself, from top to bottom as ``picture`` has them, with every device open so that each row tells
    what lies beyond it."""
    nets = nets_of(appliance.circuit)
    everything_open = Situation(opened=frozenset(appliance.circuit.devices))
    rows = _Drawing(appliance, everything_open, nets, tree_of(appliance.circuit, nets)).rows()
    order, _ = placed([row.parent for row in rows])
    new = {old: place for place, old in enumerate(order)}
    return tuple(replace(rows[old], parent=new.get(rows[old].parent, -1)) for old in order)


class _Drawing:
    """Rows in the making."""

    def __init__(self, appliance: Appliance, situation: Situation, nets: Nets, tree: Sequence[Branch]) -> None:
        self._appliance, self._circuit = appliance, appliance.circuit
        self._situation = situation
        self._nets, self._tree = nets, tree
        self._states: Mapping[str, PointState] = live_points(self._circuit, situation)
        self._charge: Mapping[str, StoredCharge] = {each.link: each for each in stored(self._circuit, situation)}
        self._roots = self._sources_above()
        self._ways = self._wired_through()
        self._pieces = Counter(unit.component for unit in nets.units if unit.component)

    def rows(self) -> list[Row]:
        rows = [self._row(number) for number in range(len(self._tree))]
        for number, branch in enumerate(self._tree):
            if branch.ending:
                points = self._points(branch.ending)
                where = [self._place(each) for each in points]
                mark = self._mark(branch.ending, number)
                rows.append(Row((), Symbol.END, f"to {listed(list(dict.fromkeys(where)), most=3)}", number, mark))
        return [*rows, *self._loose()]

    def _loose(self) -> Iterable[Row]:
        """Metal parts on protective earth, and points that nothing modelled leads to."""
        touched = {net for unit in self._nets.units for net in unit.nets}
        apart = set(range(len(self._nets.points))) - touched - self._nets.earth
        if self._nets.earth:
            points = self._points(self._nets.earth)
            yield Row((), Symbol.EARTH, f"protective earth, {len(points)} points", -1, self._mark(self._nets.earth))
        if apart:
            names = [self._place(point) for point in self._points(apart)]
            yield Row(
                (),
                Symbol.END,
                f"joined to nothing: {listed(list(dict.fromkeys(names)), most=3)}",
                -1,
                self._mark(apart),
            )

    def _row(self, number: int) -> Row:
        branch = self._tree[number]
        unit = self._nets.units[branch.unit]
        device = self._circuit.devices.get(unit.device or "")
        line = self._mark(branch.incoming, number)
        whole = self._mark(unit.nets, number) if unit.component else line
        charges = [link for link in unit.links if link in self._charge]
        return Row(
            units=(unit.device or unit.component or unit.source or "",),
            symbol=symbol_of(self._circuit, unit),
            text=self._text(number, unit),
            parent=branch.parent,
            line=line,
            inside=whole if unit.component else None,
            aside=self._aside(branch, number),
            conductors=len(branch.incoming),
            opened=None if device is None else device.id in self._situation.opened,
            isolating=device is not None and device.isolating,
            beyond=self._beyond(branch, number) if unit.device in self._situation.opened else None,
            charge=bool(charges),
            coupled=branch.coupled,
            notes=tuple(self._notes(number, unit)),
        )

    def _aside(self, branch: Branch, number: int) -> tuple[tuple[str, Mark], ...]:
        """What else feeds it: other devices, fuses and sources, and for a device whatever it touches."""
        found: dict[int, set[int]] = {}
        for net in sorted(branch.aside):
            owner = self._nets.owner.get(net, -1)
            feeder = self._nets.units[owner] if owner >= 0 else None
            fused = feeder is not None and symbol_of(self._circuit, feeder) is Symbol.FUSE
            if feeder is None or fused or feeder.component is None or self._nets.units[branch.unit].component is None:
                found.setdefault(owner, set()).add(net)
        said = []
        for owner, nets in found.items():
            name = self._name(self._nets.units[owner]) if owner >= 0 else "other parts"
            said.append((name, self._mark(nets, number)))
        return tuple(said)

    def _beyond(self, branch: Branch, number: int) -> Mark | None:
        """The state of what a device feeds."""
        far = self._nets.units[branch.unit].nets - branch.incoming - branch.aside
        return self._mark(far, number) if far else None

    def _notes(self, number: int, unit: Unit) -> Iterable[str]:
        links = [self._circuit.links[each] for each in unit.links]
        source = self._circuit.sources.get(unit.source or "")
        if source is not None and source.derived_from:
            yield "separated; alive while its primary may be"
        if self._ways[number]:
            yield f"wired through {listed([self._label(each) for each in self._ways[number]], most=3)}"
        for link in links:
            if link.kind == LinkKind.CAPACITOR and link.id in self._charge:
                volts = self._charge[link.id].volts
                most = "of a voltage not known" if volts is None else f"up to {volts:.0f} V"
                yield f"STORED CHARGE {most}: {link.label}"
            elif link.kind == LinkKind.CAPACITOR:
                yield f"discharged: {link.label}"
        if any(link.kind == LinkKind.FUSE for link in links) and any(link.kind != LinkKind.FUSE for link in links):
            yield "with a fuse"
        if self._gone(unit):
            yield "off the machine"
        loose = self._situation.links_open | self._situation.links_in_doubt
        wires = {link.id for link in self._circuit.links.values() if link.kind in PLAIN and link.id in loose}
        if any(self._nets.net_of[self._circuit.links[wire].start] in self._tree[number].incoming for wire in wires):
            yield "a wire to it is off or may be"
        if self._low(unit):
            yield "low voltage, but NOT separated from the mains"

    def _low(self, unit: Unit) -> bool:
        """Whether a part has terminals of a low voltage that a source without separation feeds."""
        if unit.source is not None:
            return False
        sources = {net: self._circuit.sources.get(self._source_of(net)) for net in unit.nets}
        mains = [net for net, source in sources.items() if source is not None and not source.derived_from]
        points = [self._circuit.points[each] for each in self._points(mains) if each in self._circuit.points]
        return any(point.volts is not None and point.volts <= _EXTRA_LOW for point in points)

    def _source_of(self, net: int) -> str:
        root = self._nets.root.get(net)
        return "" if root is None else self._nets.units[root].source or ""

    def _gone(self, unit: Unit) -> bool:
        return (
            bool(unit.links)
            and set(unit.links) <= self._situation.links_open
            and not (unit.device is not None and unit.device in self._situation.opened)
        )

    def _sources_above(self) -> list[str | None]:
        roots: list[str | None] = []
        for branch in self._tree:
            above = roots[branch.parent] if branch.parent >= 0 else None
            roots.append(self._nets.units[branch.unit].source or above)
        return roots

    def _wired_through(self) -> list[list[str]]:
        """For each branch the parts that its line runs through and that have no row, each with one branch alone."""
        circuit = self._circuit
        drawn = {unit.component for unit in self._nets.units} | {
            device.component for device in circuit.devices.values()
        }
        drawn |= {
            circuit.points[each].component
            for source in circuit.sources.values()
            for each in source_points(source)
            if each in circuit.points
        }
        found: list[list[str]] = [[] for _ in self._tree]
        for turn in range(3):
            for number, branch in enumerate(self._tree):
                unit = self._nets.units[branch.unit]
                nets = (branch.incoming - self._nets.returns, branch.incoming, unit.nets)[turn]
                points = self._points(nets) if unit.component or (unit.device and turn == 0) else []
                for part in [circuit.points[each].component for each in points if each in circuit.points]:
                    if part not in drawn:
                        drawn.add(part)
                        found[number].append(part)
        return found

    def _text(self, number: int, unit: Unit) -> str:
        name = self._name(unit)
        root = self._circuit.sources.get(self._roots[number] or "")
        if unit.component and self._pieces[unit.component] > 1 and root is not None:
            side = f"{root.volts:g} V side" if root.derived_from and root.volts is not None else "mains side"
            return f"{name}, {side}"
        return name

    def _name(self, unit: Unit) -> str:
        if unit.device is not None:
            return self._circuit.devices[unit.device].label
        if unit.source is not None:
            return self._circuit.sources[unit.source].label
        return self._label(unit.component or "")

    def _label(self, component: str) -> str:
        part = self._appliance.components.get(component)
        return part.label if part else component

    def _place(self, point: str) -> str:
        """The part that a point is on."""
        known = self._circuit.points.get(point)
        return self._label(known.component) if known else point

    def _points(self, nets: Iterable[int]) -> list[str]:
        return [point for net in sorted(nets) for point in self._nets.points[net]]

    def _mark(self, nets: Iterable[int], number: int | None = None) -> Mark:
        source = None if number is None else self._circuit.sources.get(self._roots[number] or "")
        wet = source is not None and is_wet(source)
        return mark_of(self._circuit, self._states, self._points(nets), wet=wet)


def _cut(rows: Sequence[Row], at: frozenset[str]) -> list[Row]:
    """The rows that tell of the points ``at``, with all above and all below them; parents renumbered."""
    kept = {number for number, row in enumerate(rows) if any(mark.points & at for mark in row.marks)}
    for number, row in enumerate(rows):
        if row.parent in kept:
            kept.add(number)
    for number in range(len(rows) - 1, -1, -1):
        if number in kept and rows[number].parent >= 0:
            kept.add(rows[number].parent)
    new = {old: place for place, old in enumerate(sorted(kept))}
    return [replace(rows[old], parent=new.get(rows[old].parent, -1)) for old in new]


def _merged(rows: Sequence[Row]) -> tuple[Row, ...]:
    """Rows with parts that end the same line in the same state put together, and parents renumbered."""
    parents = {row.parent for row in rows}
    first: dict[object, int] = {}
    together: dict[int, list[Row]] = {}
    kept: list[int] = []
    for number, row in enumerate(rows):
        plain = number not in parents and row.opened is None and not row.notes and not row.aside and row.units
        inside = row.inside or row.line
        key = (row.parent, row.symbol, row.line.look, inside.look) if plain else number
        if key not in first:
            first[key] = number
            kept.append(number)
        together.setdefault(first[key], []).append(row)
    new = {old: place for place, old in enumerate(kept)}
    return tuple(_one(together[old], new.get(rows[old].parent, -1)) for old in kept)


def _one(rows: Sequence[Row], parent: int) -> Row:
    if len(rows) == 1:
        return replace(rows[0], parent=parent)
    return replace(
        rows[0],
        units=tuple(unit for row in rows for unit in row.units),
        text=listed([row.text for row in rows]),
        parent=parent,
        line=worst([row.line for row in rows]),
        inside=worst([row.inside or row.line for row in rows]),
        conductors=max(row.conductors for row in rows),
    )
