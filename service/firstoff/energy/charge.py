"""What capacitors hold once the supply is gone, and how long a bleed resistor takes.

Waiting is never permission: bleed resistors fail open. The time only says when it makes sense to measure.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import log

from firstoff.appliance.circuit import (
    Circuit,
    Link,
    LinkKind,
)
from firstoff.appliance.model import Appliance
from firstoff.energy.feeds import peak_volts, supply_tolerance
from firstoff.energy.network import Network, circuit_of, closed_links, network_of
from firstoff.energy.relaxation import Capacitor, Resistor, seconds_until
from firstoff.energy.words import SAFE_STANDARD, SAFE_VOLTS, Situation, StoredCharge

_PARTING = frozenset({LinkKind.SEMICONDUCTOR, LinkKind.CONVERTER})


def stored(
    of: Appliance | Circuit,
    situation: Situation,
    safe_volts: float = SAFE_VOLTS,
    standard: str = SAFE_STANDARD,
) -> tuple[StoredCharge, ...]:
    """What every capacitor that is not released may hold, in the order of the circuit.

    ``volts`` is the highest peak at upper supply tolerance: sqrt(2) U (1 + t) for alternating and U (1 + t) for direct
    current. ``wait_s`` is R C ln(volts / safe_volts), R and C at their upper tolerances and R hot where that is more,
    from the discharge of a capacitor through a resistor, u(t) = V0 exp(-t / RC); 0 where ``volts`` is no more than
    ``safe_volts``. It is given so only where exactly one bleed resistor is in circuit and no other capacitor can share
    its charge or recharge it short of a semiconductor or converter (one failed short voids the time). Elsewhere
    the group of capacitors that any link joins is solved numerically (``relaxation``). None where that gives no time
    either, and wherever any link joins the capacitor to a battery or to a secondary of a source that still holds: what
    opening the supply does not take away at once may recharge it.

    Raises ``ValueError`` where ``safe_volts`` is not above zero.
    """
    if not safe_volts > 0.0:
        raise ValueError(f"The safe voltage must be above zero, not {safe_volts:g} V.")
    network = network_of(circuit_of(of))
    tolerance = supply_tolerance(network.circuit)
    held: list[StoredCharge] = []
    for link in network.links:
        if link.kind != LinkKind.CAPACITOR or link.id in situation.released:
            continue
        volts = None if link.volts is None else peak_volts(link.volts, link.current, tolerance)
        alone = _wait(network, link, situation, volts, safe_volts)
        held.append(
            StoredCharge(
                link=link.id,
                component=link.component,
                volts=volts,
                wait_s=alone if alone is not None else _group_wait(network, link, situation, tolerance, safe_volts),
                safe_volts=safe_volts,
                standard=standard,
                release=release_text(link, safe_volts),
                joules=_joules(link, volts),
            )
        )
    return tuple(held)


def _joules(capacitor: Link, volts: float | None) -> float | None:
    """C U^2 / 2 at the highest voltage and capacitance."""
    if volts is None or capacitor.farads is None:
        return None
    return capacitor.farads * (1.0 + capacitor.farad_tolerance) * volts * volts / 2.0


def release_text(capacitor: Link, safe_volts: float) -> str:
    """The discharge step as the author wrote it, or in plain words."""
    return capacitor.release or (
        f"Measure the direct voltage across {capacitor.label}, discharge it through a resistor, and measure again: "
        f"below {safe_volts:g} V."
    )


def tied_across(circuit: Circuit, bleed: str, opened: frozenset[str]) -> bool:
    """Whether conductors alone join the bleed resistor to both ends of its capacitor with the links ``opened`` gone.

    A fuse or a contact in between may open unseen, so it does not tie.
    """
    links = circuit.links
    resistor = links[bleed]
    capacitor = links.get(resistor.bleeds or "")
    if capacitor is None or bleed in opened or capacitor.id in opened:
        return False
    from_start, from_end = _wired(circuit, resistor.start, opened), _wired(circuit, resistor.end, opened)
    if capacitor.end in from_start and capacitor.start in from_end:
        from_start, from_end = from_end, from_start
    return capacitor.start in from_start and capacitor.end in from_end and from_start.isdisjoint(from_end)


def _wired(circuit: Circuit, point: str, opened: frozenset[str]) -> set[str]:
    """The points that conductors join to ``point``."""
    joined: dict[str, list[str]] = {}
    for id_, link in circuit.links.items():
        if link.kind == LinkKind.CONDUCTOR and id_ not in opened:
            joined.setdefault(link.start, []).append(link.end)
            joined.setdefault(link.end, []).append(link.start)
    reached = {point}
    waiting = [point]
    while waiting:
        for other in joined.get(waiting.pop(), ()):
            if other not in reached:
                reached.add(other)
                waiting.append(other)
    return reached


def _wait(
    network: Network, capacitor: Link, situation: Situation, volts: float | None, safe_volts: float
) -> float | None:
    """Seconds until the charge is down to ``safe_volts`` at worst, or None where no time can be vouched for."""
    loose = situation.links_open | situation.links_in_doubt
    bleeds = [link for link in network.links if link.bleeds == capacitor.id and link.id not in situation.links_open]
    if len(bleeds) != 1 or volts is None or capacitor.farads is None:
        return None
    bleed = bleeds[0]
    if bleed.kind != LinkKind.LOAD or bleed.ohms is None or not tied_across(network.circuit, bleed.id, loose):
        return None
    if (
        bleed.ohms <= 0.0
        or capacitor.farads <= 0.0
        or bleed.curve is not None
        or _shares(network, capacitor, situation)
    ):
        return None
    closed = closed_links(network, situation.opened & network.isolating, situation.links_open)
    joined = _joined(network, closed, (network.index[capacitor.start], network.index[capacitor.end]))
    if joined & _lasting(network):
        return None
    if volts <= safe_volts:
        return 0.0
    return _most_ohms(bleed) * capacitor.farads * (1.0 + capacitor.farad_tolerance) * log(volts / safe_volts)


def _most_ohms(load: Link) -> float:
    """Upper tolerance, hot where it has more ohms hot than cold."""
    return (load.ohms or 0.0) * (1.0 + load.ohm_tolerance) * max(1.0, load.hot_cold_ratio or 1.0)


def _lasting(network: Network) -> set[int]:
    """Points of what may go on when the supply is opened: batteries, and secondaries of a source that still holds."""
    return {
        point
        for source in network.circuit.sources.values()
        if source.derived_from or source.held_by is not None
        for point in network.numbers((*source.lines, *source.feeds))
    }


def _shares(network: Network, capacitor: Link, situation: Situation) -> bool:
    """Whether another capacitor can be reached from the terminals of this one without crossing a parting link.

    Controls count as closed and earth bonds as conducting: either way the answer errs towards giving no time.
    """
    closed = closed_links(network, situation.opened & network.isolating, situation.links_open)
    bonded: dict[int, list[int]] = {}
    for _, start, end, _ in network.bonds:
        bonded.setdefault(start, []).append(end)
        bonded.setdefault(end, []).append(start)
    first = [network.index[capacitor.start], network.index[capacitor.end]]
    reached = set(first)
    waiting = first
    while waiting:
        here = waiting.pop()
        others = list(bonded.get(here, ()))
        for number, other in network.neighbours[here]:
            link = network.links[number]
            if not closed[number] or link.kind in _PARTING:
                continue
            if link.kind == LinkKind.CAPACITOR and link.id != capacitor.id:
                return True
            others.append(other)
        for other in others:
            if other not in reached:
                reached.add(other)
                waiting.append(other)
    return False


def _group_wait(
    network: Network, capacitor: Link, situation: Situation, tolerance: float, safe_volts: float
) -> float | None:
    """Seconds until all that may share charge with the capacitor is safe; None where no time can be vouched for.

    The group is all that any link joins to it, earth bonds too. A winding in it, a supply that is not isolated from it,
    or a capacitor of unknown size or voltage gives no time. Only loads of stated ohms are relied on, and conductors.
    """
    closed = closed_links(network, situation.opened & network.isolating, situation.links_open)
    reached = _joined(network, closed, (network.index[capacitor.start], network.index[capacitor.end]))
    supplied = {
        point
        for source in network.circuit.sources.values()
        for point in network.numbers((*source.lines, *source.feeds))
    }
    inside = [
        link
        for number, link in enumerate(network.links)
        if closed[number] and network.index[link.start] in reached and link.kind != LinkKind.EARTH_BOND
    ]
    alone = capacitor.id not in {link.id for link in inside}
    if alone or reached & supplied or any(link.kind == LinkKind.WINDING for link in inside):
        return None
    loose = situation.links_open | situation.links_in_doubt
    relied = [link for link in inside if link.id not in loose]
    place = _wired_places(network, reached, [link for link in relied if link.kind == LinkKind.CONDUCTOR])

    def ends(link: Link) -> tuple[int, int]:
        return place[network.index[link.start]], place[network.index[link.end]]

    if ends(capacitor)[0] == ends(capacitor)[1]:
        return None
    capacitors = []
    for link in inside:
        if link.kind == LinkKind.CAPACITOR and ends(link)[0] != ends(link)[1]:
            if not link.farads or link.farads < 0.0 or link.volts is None or link.farad_tolerance >= 1.0:
                return None
            peak = 0.0 if link.id in situation.released else peak_volts(link.volts, link.current, tolerance)
            most, least = (link.farads * (1.0 + sign * link.farad_tolerance) for sign in (1.0, -1.0))
            capacitors.append(Capacitor(*ends(link), most, least, peak))
    resistors = [
        Resistor(*ends(link), _most_ohms(link))
        for link in relied
        if link.kind == LinkKind.LOAD and link.ohms is not None and link.ohms > 0.0 and link.curve is None
    ]
    return seconds_until(capacitors, resistors, len(set(place.values())), safe_volts)


def sharing(network: Network, situation: Situation, capacitor: str) -> frozenset[str]:
    """The other capacitors whose charge may bear on how long ``capacitor`` takes: those that any link joins to it."""
    closed = closed_links(network, situation.opened & network.isolating, situation.links_open)
    own = network.links[network.link_index[capacitor]]
    reached = _joined(network, closed, (network.index[own.start], network.index[own.end]))
    return frozenset(
        link.id
        for link in network.links
        if link.kind == LinkKind.CAPACITOR and link is not own and network.index[link.start] in reached
    )


def _joined(network: Network, closed: bytearray, first: Iterable[int]) -> set[int]:
    """The points that closed links of any kind, and earth bonds, join to ``first``."""
    bonded: dict[int, list[int]] = {}
    for _, start, end, _ in network.bonds:
        bonded.setdefault(start, []).append(end)
        bonded.setdefault(end, []).append(start)
    reached = set(first)
    waiting = list(reached)
    while waiting:
        here = waiting.pop()
        others = [other for number, other in network.neighbours[here] if closed[number]]
        for other in (*others, *bonded.get(here, ())):
            if other not in reached:
                reached.add(other)
                waiting.append(other)
    return reached


def _wired_places(network: Network, points: Iterable[int], conductors: Iterable[Link]) -> dict[int, int]:
    """A small number for each point, equal where conductors join them."""
    places = {point: point for point in points}

    def find(point: int) -> int:
        while places[point] != point:
            point = places[point]
        return point

    for link in conductors:
        places[find(network.index[link.start])] = find(network.index[link.end])
    numbers: dict[int, int] = {}
    return {point: numbers.setdefault(find(point), len(numbers)) for point in places}
