"""The steps of proving dead, in the order they are done.

29 CFR 1910.333(b)(2)(iv)(B) asks for a test that the parts are dead, backfeed included. The tester is proved before
and after: asked there above 600 V, common practice below.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations

from firstoff.appliance.model import LinkKind
from firstoff.energy.feeds import Feed, fed_regions
from firstoff.energy.network import Network, closed_links, earthed, regions
from firstoff.energy.words import ProveKind, ProveStep


def prove_steps(
    network: Network,
    touch: Sequence[str],
    feeds: Sequence[Feed],
    earth: frozenset[int],
    loose: frozenset[str],
    charged: Iterable[str],
    neutrals: Iterable[str],
    safe_volts: float,
) -> tuple[ProveStep, ...]:
    """How to prove that nothing feeds ``touch``.

    Each electrical point is measured to protective earth, then one point of each pair of conductors that the same
    source can feed (the links ``loose`` do not make one conductor of two), then across each capacitor of ``charged``,
    then each neutral of ``neutrals`` (ids of sources) to earth. Points that are on earth are not measured; points of which nothing is known are. Points that only
    a fluid reaches are looked at instead.
    """
    closed = closed_links(network, ())
    whole_earth = earthed(network, None)
    dry, wet = regions(network, closed, whole_earth), regions(network, closed, frozenset())
    by_dry, by_wet = fed_regions((), frozenset(), dry, wet, feeds)
    number = network.index
    fluid = [p for p in touch if p in number and wet[number[p]] in by_wet and dry[number[p]] not in by_dry]
    electric = [p for p in touch if p not in fluid and (p not in number or number[p] not in earth)]
    whole = [link.kind == LinkKind.CONDUCTOR and link.id not in loose for link in network.links]
    wire = regions(network, bytearray(whole), frozenset())
    steps = [_to_earth(network, point, earth, safe_volts) for point in electric]
    conductors: dict[int, str] = {}
    for point in electric:
        if point in number:
            conductors.setdefault(wire[number[point]], point)
    for one, other in combinations(conductors.values(), 2):
        here, there = number[one], number[other]
        sources = {feed.id for feed in by_dry.get(dry[here], ())} & {feed.id for feed in by_dry.get(dry[there], ())}
        if sources:
            steps.append(_between(network, one, other, safe_volts))
    measured = {frozenset(step.points) for step in steps}
    for id_ in charged:
        link = network.circuit.links[id_]
        if frozenset((link.start, link.end)) not in measured:
            steps.append(_between(network, link.start, link.end, safe_volts))
    for id_ in neutrals:
        neutral = network.circuit.sources[id_].neutral
        if neutral is not None and neutral not in electric:
            steps.append(_to_earth(network, neutral, earth, safe_volts))
    verify = tuple(
        ProveStep(ProveKind.VERIFY, (p,), f"Verify that nothing flows or is under pressure at {_label(network, p)}.")
        for p in fluid
    )
    return (*_tester(steps), *verify)


def _tester(steps: Sequence[ProveStep]) -> tuple[ProveStep, ...]:
    if not steps:
        return ()
    before = ProveStep(ProveKind.PROVE_TESTER, (), "Prove the tester on a known live source.")
    after = ProveStep(
        ProveKind.PROVE_TESTER, (), "Prove the tester again on the known live source. If it fails, nothing is proved."
    )
    return (before, *steps, after)


def _to_earth(network: Network, point: str, earth: frozenset[int], safe_volts: float) -> ProveStep:
    reference = _earth_near(network, point, earth)
    return ProveStep(
        ProveKind.MEASURE,
        (point,) if reference is None else (point, reference),
        f"Measure from {_label(network, point)} to protective earth, a.c. and d.c.: below {safe_volts:g} V.",
    )


def _between(network: Network, one: str, other: str, safe_volts: float) -> ProveStep:
    return ProveStep(
        ProveKind.MEASURE,
        (one, other),
        f"Measure between {_label(network, one)} and {_label(network, other)}, a.c. and d.c.: below {safe_volts:g} V.",
    )


def _label(network: Network, point: str) -> str:
    declared = network.circuit.points.get(point)
    return point if declared is None else declared.label


def _earth_near(network: Network, point: str, earth: frozenset[int]) -> str | None:
    """An earthed point of the same component, else one of the appliance, else the supply's own; None where none is."""
    points = network.circuit.points
    supply = {source.protective_earth for source in network.circuit.sources.values()}
    own = points[point].component if point in points else None
    names = sorted(network.points[number] for number in earth)

    def rank(name: str) -> tuple[bool, bool]:
        return (name in supply, name not in points or points[name].component != own)

    return min(names, key=rank, default=None)
