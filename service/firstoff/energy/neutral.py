"""When a neutral may be taken for dead.

A neutral is live until it is opened. The one exception: a fixed, polarised supply with a declared earthed neutral, once
every line conductor is open and neutral to earth was measured dead.
"""

from __future__ import annotations

from firstoff.appliance.circuit import (
    EnergySource,
    LinkKind,
)
from firstoff.energy.network import LOAD_LIKE, Network, closed_links

_CONSUMING = LOAD_LIKE | {LinkKind.CONVERTER}


def may_be_proved(source: EnergySource) -> bool:
    """Whether the supply is one whose neutral can be proved dead to earth."""
    return (
        source.neutral is not None
        and bool(source.lines)
        and source.neutral not in source.lines
        and source.fixed
        and source.earthed_neutral
        and source.polarised
        and not source.derived_from
    )


def lines_still_to_open(network: Network, source: EnergySource, opened: frozenset[str]) -> frozenset[str] | None:
    """None once every line of ``source`` is open by way of the isolating devices in ``opened``.

    Otherwise the isolating devices of which at least one more has to open (perhaps none can). All else counts as
    closed, opened links too: only an isolating device opens a line. A line is open where it ends at opened isolating
    contacts and nothing but conductors, contacts and fuses is left on its side of them, the neutral least of all.
    """
    closed = closed_links(network, opened & network.isolating)
    neutral = None if source.neutral is None else network.index[source.neutral]
    for line in source.lines:
        lacking = _lacking(network, closed, network.index[line], neutral)
        if lacking is not None:
            return lacking
    return None


def _lacking(network: Network, closed: bytearray, line: int, neutral: int | None) -> frozenset[str] | None:
    devices: dict[int, frozenset[str]] = {line: frozenset()}
    edge: list[int] = []
    beside: set[str] = set()
    waiting = [line]
    for here in waiting:
        for number, other in network.neighbours[here]:
            link = network.links[number]
            if not closed[number]:
                edge.append(other)
                continue
            if link.kind in _CONSUMING:
                return devices[here]
            opens = number in network.contacts.get(link.device or "", ()) and link.device in network.isolating
            own = frozenset({link.device}) if opens and link.device is not None else frozenset()
            beside |= own
            if other == neutral:
                return devices[here] | own
            if other not in devices:
                devices[other] = devices[here] | own
                waiting.append(other)
    return None if any(other not in devices for other in edge) else frozenset(beside)
