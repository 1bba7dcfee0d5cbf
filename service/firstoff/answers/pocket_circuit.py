"""The circuit as a client needs it to compute live points by itself: numbers for names, and what is foreseen."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from typing import Generic, TypeVar

from firstoff.answers.stored_charge import stored_notes
from firstoff.appliance.circuit import LinkKind
from firstoff.appliance.model import Appliance
from firstoff.energy import Situation
from firstoff.energy.feeds import Feed, energy_feeds, stores
from firstoff.energy.foreseen import Foreseen, Wait, deciding, foreseen
from firstoff.energy.network import LOAD_LIKE, Network, network_of
from firstoff.energy.words import STORED_CHARGE
from firstoff_contract.pocket import (
    CircuitBulletin,
    CircuitFeed,
    CircuitLink,
    CircuitPoint,
    CircuitSituation,
    CircuitWait,
    PocketCircuit,
)

Each = TypeVar("Each", bound=Hashable)


class _Once(Generic[Each]):
    """Values in the order in which they are first placed, each once."""

    def __init__(self) -> None:
        self._places: dict[Each, int] = {}

    def place(self, value: Each) -> int:
        return self._places.setdefault(value, len(self._places))

    @property
    def values(self) -> list[Each]:
        return list(self._places)


def circuit_note(
    appliance: Appliance, safe_volts: float, standard: str, bulletins: Sequence[CircuitBulletin]
) -> PocketCircuit:
    """All that ``live_points_answer`` computes from where no part is off and no fault is assumed.

    :raises TooMany: not everything can be worked out beforehand.
    """
    circuit = appliance.circuit
    network = network_of(circuit)
    sets, clearings = _Once[tuple[tuple[str, ...], ...]](), _Once[tuple[int, ...]]()
    times, waits = _Once[Wait](), _Once[tuple[int, ...]]()
    charges = stored_notes(appliance, Situation(), safe_volts, standard)

    def situation(each: Foreseen) -> CircuitSituation:
        return CircuitSituation(
            earth=sorted(network.numbers(each.earth)),
            doubt=sorted(network.numbers(each.doubt)),
            cleared_by=clearings.place(tuple(sets.place(each.cleared_by[point]) for point in network.points)),
            waits=waits.place(tuple(times.place(each.waits[charge.link]) for charge in charges)),
        )

    situations = [situation(each) for each in foreseen(circuit, safe_volts)]
    return PocketCircuit(
        points=_points(network),
        links=_links(network),
        feeds=[_feed(network, each) for each in (*energy_feeds(network), *stores(network, STORED_CHARGE))],
        devices=sorted(circuit.devices),
        isolating=sorted(network.isolating),
        deciding=list(deciding(network)),
        situations=situations,
        sets=[sorted(list(devices) for devices in each if devices) for each in sets.values],
        clearings=[list(each) for each in clearings.values],
        stored=[each.model_copy(update={"wait_s": None}) for each in charges],
        times=[CircuitWait(sharing=list(each.sharing), seconds=list(each.seconds)) for each in times.values],
        waits=[list(each) for each in waits.values],
        bulletins=list(bulletins),
    )


def _points(network: Network) -> list[CircuitPoint]:
    points = (network.circuit.points[name] for name in network.points)
    names = ("id", "label", "component", "volts", "current")
    return [CircuitPoint.model_validate({name: getattr(each, name) for name in names}) for each in points]


def _links(network: Network) -> list[CircuitLink]:
    """All but earth bonds, which join no points."""
    opening = {number: device for device, numbers in network.contacts.items() for number in numbers}
    return [
        CircuitLink(
            id=link.id,
            label=link.label,
            start=network.index[link.start],
            end=network.index[link.end],
            load=link.kind in LOAD_LIKE,
            device=opening.get(number),
        )
        for number, link in enumerate(network.links)
        if link.kind is not LinkKind.EARTH_BOND
    ]


def _feed(network: Network, feed: Feed) -> CircuitFeed:
    circuit = network.circuit
    told = circuit.sources.get(feed.id) or circuit.links[feed.id]
    return CircuitFeed.model_validate(
        {
            "id": feed.id,
            "label": told.label,
            "energy": feed.kind,
            "starts": list(feed.starts),
            "neutral": feed.neutral,
            "derived": feed.derived,
            "derived_from": list(feed.derived_from),
            "holds": feed.holds,
            "capacitor": feed.id not in circuit.sources,
            "wet": feed.wet,
            "volts": feed.volts,
            "current": feed.current,
            "peak": feed.peak,
            "tolerance": feed.tolerance,
            "known": feed.known,
        }
    )
