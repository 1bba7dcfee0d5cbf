"""What of the live points depends on a few devices alone, worked out for every set of them beforehand.

With no part off, what is on protective earth, what is unknown, what would clear a point, and how long a charge takes,
depend on the isolating devices and on those that open an earth bond; the times depend on released capacitors too. All
else that ``live_points`` tells is reachability over what is closed now, which a client can follow for itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import compress

from firstoff.appliance.circuit import Circuit
from firstoff.energy.charge import sharing, stored
from firstoff.energy.doubt import doubtful_points, structural_doubt, wet_regions
from firstoff.energy.errors import TooMany
from firstoff.energy.feeds import Feed, energy_feeds, stores
from firstoff.energy.isolation import clearings
from firstoff.energy.network import Network, controls_closed, earthed, network_of, regions
from firstoff.energy.words import STORED_CHARGE, Situation

MOST_DEVICES = 8
MOST_SHARING = 8


@dataclass(frozen=True, slots=True)
class Wait:
    """Seconds for one capacitor: ``seconds[b]`` where of ``sharing`` those with a bit set in b are released."""

    sharing: tuple[str, ...]
    seconds: tuple[float | None, ...]


@dataclass(frozen=True, slots=True)
class Foreseen:
    """What holds with one set of the deciding devices open, whatever the controls do.

    ``earth`` are the points on protective earth, ``doubt`` those that are unknown unless they are live. ``cleared_by``
    and ``waits`` are by point and by capacitor.
    """

    earth: frozenset[str]
    doubt: frozenset[str]
    cleared_by: Mapping[str, tuple[tuple[str, ...], ...]]
    waits: Mapping[str, Wait]


def deciding(network: Network) -> tuple[str, ...]:
    """The devices that anything but the present paths depends on: those that isolate, or that open an earth bond."""
    bonds = {device for _, _, _, device in network.bonds if device is not None}
    return tuple(sorted(bonds.union(network.isolating & network.contacts.keys()) & network.circuit.devices.keys()))


def foreseen(circuit: Circuit, safe_volts: float) -> tuple[Foreseen, ...]:
    """One for every set of the ``deciding`` devices: at place b the one in which those with a bit set in b are open.

    Raises ``TooMany`` where there are more than ``MOST_DEVICES`` of them, or more than ``MOST_SHARING`` capacitors
    share what they hold in a way that their times depend on.
    """
    network = network_of(circuit)
    devices = deciding(network)
    if len(devices) > MOST_DEVICES:
        raise TooMany(f"{len(devices)} devices isolate it or open an earth bond; up to {MOST_DEVICES} are foreseen.")
    feeds, held = energy_feeds(network), stores(network, STORED_CHARGE)
    return tuple(_with_open(network, feeds, held, frozenset(opened), safe_volts) for opened in _subsets(devices))


def _with_open(
    network: Network, feeds: list[Feed], held: list[Feed], opened: frozenset[str], safe_volts: float
) -> Foreseen:
    situation = Situation(opened=opened)
    earth, closed = earthed(network, situation), controls_closed(network, situation)
    dry, wet = regions(network, closed, earth), wet_regions(network, closed, (*feeds, *held))
    doubt = structural_doubt(network, feeds, held, earth)
    doubt |= doubtful_points(feeds, frozenset(), dry, wet, doubt)
    return Foreseen(
        earth=frozenset(network.points[number] for number in earth),
        doubt=frozenset(network.points[number] for number in doubt),
        cleared_by=clearings(network.circuit, situation, network.points),
        waits=_waits(network, opened, safe_volts),
    )


def _waits(network: Network, opened: frozenset[str], safe_volts: float) -> dict[str, Wait]:
    plain = _seconds(network, opened, (), safe_volts)
    return {each: _wait(network, opened, each, plain[each], safe_volts) for each in plain}


def _wait(network: Network, opened: frozenset[str], capacitor: str, plain: float | None, safe_volts: float) -> Wait:
    """Where there is no time, or none is needed, less charge elsewhere changes nothing."""
    others = sorted(sharing(network, Situation(opened=opened), capacitor))
    if not plain or not others or _seconds(network, opened, others, safe_volts)[capacitor] == plain:
        return Wait((), (plain,))
    if len(others) > MOST_SHARING:
        raise TooMany(f"{len(others)} capacitors share charge with {capacitor}; up to {MOST_SHARING} are foreseen.")
    times = (_seconds(network, opened, released, safe_volts)[capacitor] for released in _subsets(others))
    return Wait(tuple(others), tuple(times))


def _seconds(
    network: Network, opened: frozenset[str], released: Iterable[str], safe_volts: float
) -> dict[str, float | None]:
    situation = Situation(opened=opened, released=frozenset(released))
    return {each.link: each.wait_s for each in stored(network.circuit, situation, safe_volts)}


def _subsets(names: Iterable[str]) -> Iterable[tuple[str, ...]]:
    """At place b those of ``names`` whose bit is set in b."""
    every = tuple(names)
    for bits in range(1 << len(every)):
        yield tuple(compress(every, (bits >> place & 1 for place in range(len(every)))))
