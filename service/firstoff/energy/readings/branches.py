"""A circuit in a situation as branches between nodes: shorts merged, impedances with their tolerances, sources.

What is not known is a branch of unknown impedance: semiconductors and converters, windings at alternating current whose
inductance is not told, throws of a changeover that do not say when they are made, links in doubt. A branch is ``None``
where it is open.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from math import cos, pi, radians, sin

from firstoff.appliance.circuit import Circuit, EnergySource, Link, LinkKind
from firstoff.energy.assume import World
from firstoff.energy.curves import Band
from firstoff.energy.errors import BadReading
from firstoff.energy.network import source_points
from firstoff.energy.readings.setting import Setting

Resistance = Callable[[Link, float], Band | None]
"""The resistance of a link, unpowered, at a temperature in degrees Celsius; None where it is not known."""


@dataclass(frozen=True, slots=True)
class Branch:
    """Between two nodes: ``ohms`` in series with ``henries``, or ``farads``; all None where it is unknown.

    ``tolerance`` is that of whatever the branch is made of, either way, as a fraction. ``rectifies`` marks what may
    drive a current of its own, as a rectifier does.
    """

    link: str
    start: int
    end: int
    ohms: float | None = None
    henries: float = 0.0
    farads: float | None = None
    tolerance: float = 0.0
    henry_tolerance: float = 0.0
    rectifies: bool = False

    @property
    def known(self) -> bool:
        return self.ohms is not None or self.farads is not None


@dataclass(frozen=True, slots=True)
class Supply:
    """An ideal source of ``volts`` (a phasor) from ``minus`` to ``plus``; ``unknown`` where its voltage is not known.

    ``lower`` and ``upper`` are tolerances as fractions. Supplies of one ``source`` vary together.
    """

    source: str
    plus: int
    minus: int
    volts: complex
    lower: float
    upper: float
    unknown: bool = False


@dataclass(frozen=True, slots=True)
class Net:
    """Branches and supplies over ``size`` nodes, at ``omega`` radians a second (0: direct current).

    ``node`` gives the node of a point. ``gaps`` are pairs of nodes on either side of what is open: stray capacitance
    couples them. ``shorted`` are sources whose terminals the circuit joins, ``lower_assumed`` says that a source does
    not tell how far it may fall, so that its upper tolerance is taken both ways.
    """

    size: int
    omega: float
    node: dict[str, int]
    branches: tuple[Branch, ...]
    supplies: tuple[Supply, ...]
    gaps: tuple[tuple[int, int], ...]
    shorted: tuple[str, ...] = ()
    lower_assumed: bool = False


class Joints:
    """Points joined without resistance, by union and find."""

    def __init__(self) -> None:
        self._root: dict[str, str] = {}

    def find(self, point: str) -> str:
        root = point
        while self._root.get(root, root) != root:
            root = self._root[root]
        while self._root.get(point, point) != root:
            self._root[point], point = root, self._root[point]
        return root

    def join(self, one: str, other: str) -> None:
        self._root[self.find(one)] = self.find(other)


def omega_of(circuit: Circuit) -> float | None:
    """The angular frequency of the alternating supply; None where none tells its frequency or several differ."""
    hertz = {source.hertz for source in _electrical(circuit) if source.current == "ac" and source.hertz is not None}
    return 2.0 * pi * hertz.pop() if len(hertz) == 1 else None


def net_of(
    world: World, setting: Setting, resistance: Resistance, *, direct: bool, energised: bool, cold: bool = False
) -> Net:
    """The branches of a circuit at direct or alternating current, with or without its sources.

    ``cold`` takes loads at their resistance unpowered. Secondaries are supplies of unknown voltage; ``settled`` gives
    them theirs.

    Raises ``BadReading`` where a part has an impossible value.
    """
    circuit, situation = world.circuit, world.over(setting.situation)
    omega = 0.0 if direct else omega_of(circuit) or 0.0
    if not direct and not omega and any(link.farads or link.henries for link in circuit.links.values()):
        omega = -1.0  # no frequency is known: whatever depends on it is unknown
    joints, waiting, gaps = Joints(), [], []
    for link in circuit.links.values():
        if link.kind is LinkKind.PIPE:
            continue
        state = _state(link, setting, situation.links_open | situation.bonds_open, situation.opened)
        if state is False:
            gaps.append((link.start, link.end))
        elif state is None or link.id in situation.links_in_doubt:
            waiting.append(Branch(link.id, 0, 0))
        elif link.kind in (LinkKind.CONDUCTOR, LinkKind.CONTACT, LinkKind.FUSE, LinkKind.EARTH_BOND):
            joints.join(link.start, link.end)
        else:
            branch = _branch(link, setting, resistance, omega, cold)
            if branch is not None:
                waiting.append(branch)
            else:
                gaps.append((link.start, link.end))
    origins = _origins(world, joints)
    points = list(circuit.points)
    points += [end for link in circuit.links.values() for end in (link.start, link.end)]
    points += [point for source in circuit.sources.values() for point in source_points(source)]
    numbers: dict[str, int] = {}
    for name in (*points, *origins.values()):
        numbers.setdefault(joints.find(name), len(numbers))
    node = {name: numbers[joints.find(name)] for name in (*points, *origins.values())}
    placed = [_placed(each, circuit, node) for each in waiting]
    supplies = _supplies(world, origins, node, direct) if energised else []
    to_earth = list(_to_earth(world, origins, node))
    if energised:
        supplies += [Supply(each.link, each.start, each.end, 1.0, 0.0, 0.0, unknown=True) for each in to_earth]
    kept, shorted = _without_loops(supplies)
    return Net(
        size=len(numbers),
        omega=omega,
        node=node,
        branches=tuple(each for each in (*placed, *(() if energised else to_earth)) if each.start != each.end),
        supplies=kept,
        gaps=tuple((node[one], node[other]) for one, other in gaps if node[one] != node[other]),
        shorted=shorted,
        lower_assumed=any(source.lower_tolerance is None for source in _electrical(circuit) if not source.derived_from),
    )


def _state(link: Link, setting: Setting, gone: frozenset[str], opened: frozenset[str]) -> bool | None:
    """Whether a link is closed; None where nobody knows."""
    if link.id in gone:
        return False
    if link.kind is not LinkKind.CONTACT or link.device is None:
        return True
    if not link.changeover:
        return link.device not in opened
    return None if link.at_rest is None else link.at_rest is not (link.device in setting.actuated)


def _branch(link: Link, setting: Setting, resistance: Resistance, omega: float, cold: bool) -> Branch | None:
    """What a load, winding, capacitor, semiconductor or converter is; None where it passes no direct current."""
    for name, value in (("ohms", link.ohms), ("farads", link.farads), ("henries", link.henries)):
        if value is not None and not value > 0.0:
            raise BadReading(f"{link.label} has {value:g} {name}, which nothing can have.")
    if link.kind is LinkKind.CAPACITOR:
        if omega == 0.0:
            return None
        known = link.farads is not None and omega > 0.0
        return Branch(link.id, 0, 0, farads=link.farads if known else None, tolerance=link.farad_tolerance)
    if link.kind not in (LinkKind.LOAD, LinkKind.WINDING):
        return Branch(link.id, 0, 0, rectifies=omega == 0.0)
    cold = cold or link.curve is not None
    found = _told(resistance(link, setting.celsius)) if cold else _working(link)
    reactive = link.kind is LinkKind.WINDING and omega != 0.0
    if found is None or (reactive and (link.henries is None or omega < 0.0)):
        return Branch(link.id, 0, 0)
    ohms, tolerance = found
    henries = link.henries or 0.0 if omega > 0.0 else 0.0
    return Branch(link.id, 0, 0, ohms=ohms, henries=henries, tolerance=tolerance, henry_tolerance=link.henry_tolerance)


def _told(found: Band | None) -> tuple[float, float] | None:
    """Ohms and the wider of their two tolerances."""
    if found is None:
        return None
    return found.nominal, max(found.nominal - found.lower, found.upper - found.nominal) / found.nominal


def _working(link: Link) -> tuple[float, float] | None:
    """The resistance of a load at work, from its rating where it has one, else from its ohms."""
    if link.kind is LinkKind.LOAD and link.rated_volts and link.rated_watts:
        return link.rated_volts**2 / link.rated_watts, link.watt_tolerance or link.ohm_tolerance
    if link.ohms is None:
        return None
    ratio = link.hot_cold_ratio or 1.0 if link.kind is LinkKind.LOAD else 1.0
    return link.ohms * ratio, link.ohm_tolerance


def _placed(branch: Branch, circuit: Circuit, node: dict[str, int]) -> Branch:
    link = circuit.links[branch.link]
    return Branch(
        branch.link, node[link.start], node[link.end], branch.ohms, branch.henries, branch.farads, branch.tolerance,
        branch.henry_tolerance, branch.rectifies,
    )  # fmt: skip


# --- sources -----------------------------------------------------------------------------------------------


def _electrical(circuit: Circuit) -> list[EnergySource]:
    return [source for source in circuit.sources.values() if source.lines and source.held_by is None]


def _origins(world: World, joints: Joints) -> dict[str, str]:
    """A name for the star point of each source; its neutral and, where its neutral is earthed, its earth lie on it."""
    origins = {}
    for source in _electrical(world.circuit):
        origin = f"{source.id} (origin)"
        origins[source.id] = origin
        if source.neutral is not None and source.id not in world.neutral_open:
            joints.join(origin, source.neutral)
        if source.protective_earth is not None and source.id in world.earthed_origins:
            joints.join(origin, source.protective_earth)
    return origins


def _to_earth(world: World, origins: dict[str, str], node: dict[str, int]) -> Iterable[Branch]:
    """Where it is not declared that a neutral is earthed, nobody knows what lies between origin and earth, nor which
    voltage."""
    for source in _electrical(world.circuit):
        if source.protective_earth is not None and not source.derived_from and source.id not in world.earthed_origins:
            yield Branch(source.id, node[origins[source.id]], node[source.protective_earth])


def _supplies(world: World, origins: dict[str, str], node: dict[str, int], direct: bool) -> list[Supply]:
    found = []
    for source in _electrical(world.circuit):
        origin = node[origins[source.id]]
        if source.current is not None and (source.current == "dc") is not direct:
            # By superposition: what drives no current of this kind lets it pass.
            found += [Supply(source.id, node[line], origin, 0.0, 0.0, 0.0) for line in source.lines]
            continue
        lower = source.upper_tolerance if source.lower_tolerance is None else source.lower_tolerance
        for line in source.lines:
            angle = _angle(world.circuit, source, line)
            unknown = source.volts is None or angle is None or source.current is None or bool(source.derived_from)
            turn = radians(angle or 0.0)
            volts = (source.volts or 1.0) * (1.0 if direct else complex(cos(turn), sin(turn)))
            found.append(Supply(source.id, node[line], origin, volts, lower, source.upper_tolerance, unknown))
    return found


def _without_loops(supplies: Iterable[Supply]) -> tuple[tuple[Supply, ...], tuple[str, ...]]:
    """The supplies without those that lie across others of the same voltage, and the sources that the circuit shorts.

    Ideal sources in a loop either add up to nothing, and one of them says nothing new, or a current without bounds
    flows. In a loop with an unknown one nobody can tell.
    """
    root: dict[int, int] = {}
    height: dict[int, complex] = {}  # volts of a node over its root

    def find(node: int) -> tuple[int, complex]:
        above = 0j
        while root.get(node, node) != node:
            above += height[node]
            node = root[node]
        return node, above

    kept: list[Supply] = []
    shorted: dict[str, None] = {}
    for each in supplies:
        (plus, over_plus), (minus, over_minus) = find(each.plus), find(each.minus)
        if plus != minus:
            root[plus], height[plus] = minus, over_minus + each.volts - over_plus
            kept.append(each)
        elif each.unknown or abs(over_plus - over_minus - each.volts) > 1e-6 * abs(each.volts):
            shorted[each.source] = None
    return tuple(kept), tuple(shorted)


def _angle(circuit: Circuit, source: EnergySource, line: str) -> float | None:
    """The phase angle of a line in degrees; one line alone is at 0. None where lines do not tell theirs."""
    point = circuit.points.get(line)
    told = point.phase_angle if point is not None else None
    return 0.0 if told is None and len(source.lines) == 1 else told
