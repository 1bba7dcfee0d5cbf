"""The steps of proving dead, in the order they are done.

29 CFR 1910.333(b)(2)(iv)(B) asks for a test that the parts are dead, backfeed included. The tester is proved before
and after: asked there above 600 V, common practice below.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import combinations

from firstoff.appliance.circuit import LinkKind
from firstoff.energy.feeds import Feed, fed_regions
from firstoff.energy.network import LOAD_LIKE, Network, closed_links, earthed, is_wet, regions, source_points
from firstoff.energy.words import ProveKind, ProveStep

ORDINARY_METER_VOLTS = 1000.0
"""What usual service meters and testers are rated for, in volts (measurement category II; from memory)."""


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

    Each electrical point is measured to protective earth, then between the supply conductors that lead to touched
    points without a load between (one touched point stands for each conductor; the links ``loose`` lead nowhere), then
    across each capacitor of ``charged``, then each neutral of ``neutrals`` (ids of sources) to earth. Points that are
    on earth are not measured; points of which nothing is known are. Points that only a fluid reaches are looked at
    instead.
    """
    closed = closed_links(network, ())
    whole_earth = earthed(network, None)
    dry, wet = regions(network, closed, whole_earth), regions(network, closed, frozenset())
    by_dry, by_wet = fed_regions((), frozenset(), dry, wet, feeds)
    number = network.index
    fluid = [p for p in touch if p in number and wet[number[p]] in by_wet and dry[number[p]] not in by_dry]
    electric = [p for p in touch if p not in fluid and (p not in number or number[p] not in earth)]
    high = {p: _highest(by_dry.get(dry[number[p]], [])) for p in network.points}
    steps = [_to_earth(network, point, earth, safe_volts, high) for point in electric]
    standing = _standing_for_conductors(network, [point for point in electric if point in number], loose)
    steps += [_between(network, one, other, safe_volts, high) for one, other in combinations(standing, 2)]
    measured = {frozenset(step.points) for step in steps}
    for id_ in charged:
        link = network.circuit.links[id_]
        if frozenset((link.start, link.end)) not in measured:
            steps.append(_between(network, link.start, link.end, safe_volts, high))
    for id_ in neutrals:
        neutral = network.circuit.sources[id_].neutral
        if neutral is not None and neutral not in electric:
            steps.append(_to_earth(network, neutral, earth, safe_volts, high))
    verify = tuple(
        ProveStep(ProveKind.VERIFY, (p,), f"Verify that nothing flows or is under pressure at {_label(network, p)}.")
        for p in fluid
    )
    return (*_tester(steps), *verify)


def _standing_for_conductors(network: Network, points: Sequence[str], loose: frozenset[str]) -> list[str]:
    """One of ``points`` for each conductor of an electrical source that leads to one without a load between."""
    straight = [link.kind not in LOAD_LIKE and link.kind != LinkKind.CONVERTER for link in network.links]
    whole = [leads and link.id not in loose for leads, link in zip(straight, network.links, strict=True)]
    wire = regions(network, bytearray(whole), frozenset())
    first: dict[int, str] = {}
    for point in points:
        first.setdefault(wire[network.index[point]], point)
    sources = [source for source in network.circuit.sources.values() if not is_wet(source)]
    leading = [wire[number] for source in sources for number in network.numbers(source_points(source))]
    return [first[region] for region in dict.fromkeys(leading) if region in first]


def _tester(steps: Sequence[ProveStep]) -> tuple[ProveStep, ...]:
    if not steps:
        return ()
    before = ProveStep(ProveKind.PROVE_TESTER, (), "Prove the tester on a known live source.")
    after = ProveStep(
        ProveKind.PROVE_TESTER, (), "Prove the tester again on the known live source. If it fails, nothing is proved."
    )
    return (before, *steps, after)


def _highest(feeds: Sequence[Feed]) -> float:
    """The highest voltage of those that may feed a point, where it is beyond ordinary meters; else 0."""
    peak = max((feed.peak or 0.0 for feed in feeds), default=0.0)
    return peak if peak > ORDINARY_METER_VOLTS else 0.0


def _rated(volts: float) -> str:
    if not volts:
        return ""
    return f" Use a meter and probe rated for {volts:.0f} V at least: an ordinary one must not be used here."


def _to_earth(
    network: Network, point: str, earth: frozenset[int], safe_volts: float, high: Mapping[str, float]
) -> ProveStep:
    reference = _earth_near(network, point, earth)
    return ProveStep(
        ProveKind.MEASURE,
        (point,) if reference is None else (point, reference),
        f"Measure from {_label(network, point)} to protective earth, a.c. and d.c.: below {safe_volts:g} V."
        f"{_rated(high.get(point, 0.0))}",
    )


def _between(network: Network, one: str, other: str, safe_volts: float, high: Mapping[str, float]) -> ProveStep:
    return ProveStep(
        ProveKind.MEASURE,
        (one, other),
        f"Measure between {_label(network, one)} and {_label(network, other)}, a.c. and d.c.: below {safe_volts:g} V."
        f"{_rated(max(high.get(one, 0.0), high.get(other, 0.0)))}",
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
