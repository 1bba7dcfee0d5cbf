"""A graph without circles drawn in layers: sizes and edges in, coordinates out, the same for the same.

The method of layers (Sugiyama, Tagawa and Toda 1981): layers, order within each, places, routes. Lengths are in the
unit of the sizes given; x runs to the right and y down, from the upper left corner of the drawing.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from firstoff.sheet.layering import layers_of
from firstoff.sheet.ordering import ordered
from firstoff.sheet.placing import placed
from firstoff.sheet.straightening import straightened

#: Width of the lane that an edge keeps where it passes a layer.
_LANE = 2.0
#: How much more the straightness of a lane, and of an edge that is alone at both its ends, counts than of another.
_LANE_WEIGHT, _ALONE_WEIGHT = 6.0, 10.0
_PORTS = 16.0


@dataclass(frozen=True, slots=True)
class Room:
    """How much room to leave: between boxes side by side, between layers, and the widest a layer should be."""

    beside: float = 10.0
    between: float = 27.0
    widest: float = 380.0


@dataclass(frozen=True, slots=True)
class Edge:
    """From box ``tail`` down to box ``head``. Edges of one tail and one ``bundle`` go together as far as they can."""

    tail: int
    head: int
    bundle: int = 0


@dataclass(frozen=True, slots=True)
class Place:
    """A box: its upper left corner and size; ``layer`` is counted from the top."""

    x: float
    y: float
    width: float
    height: float
    layer: int


@dataclass(frozen=True, slots=True)
class Route:
    """An edge as the corners of its way down from the tail's lower side to the head's upper side.

    Between corners 0 and 1, 2 and 3 and so on it runs straight down, past a layer; between 1 and 2, 3 and 4 it crosses
    the room between two layers.
    """

    corners: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Layout:
    """``places`` in the order of the sizes given, ``routes`` in that of the edges."""

    width: float
    height: float
    places: tuple[Place, ...]
    routes: tuple[Route, ...]


def laid_out(sizes: Sequence[tuple[float, float]], edges: Sequence[Edge], room: Room | None = None) -> Layout:
    """Boxes of the ``sizes`` (width, height) in layers so that every edge leads down.

    Raises ``ValueError`` where the edges form a circle or join a box with itself.
    """
    room = room or Room()
    real = len(sizes)
    widths = [width for width, _ in sizes]
    from_last = layers_of(widths, [(edge.tail, edge.head) for edge in edges], room.widest, room.beside)
    last = max(from_last, default=0)
    layer = [last - each for each in from_last]
    chains = _chains(layer, edges)
    widths.extend(_LANE for _ in range(len(layer) - real))
    pieces = list(dict.fromkeys(piece for chain in chains for piece in pairwise(chain)))
    rows: list[list[int]] = [[] for _ in range(last + 1)] if sizes else []
    for box, number in enumerate(layer):
        rows[number].append(box)
    rows = ordered(rows, pieces)
    centre = placed(rows, widths, _weighted(pieces, real), room.beside)
    centre = straightened(centre, rows, widths, chains, room.beside)
    heights = [max((sizes[box][1] for box in row if box < real), default=0.0) for row in rows]
    tops = [sum(heights[:number]) + room.between * number for number in range(len(rows))]
    places = tuple(
        Place(centre[box] - width / 2, tops[layer[box]], width, height, layer[box])
        for box, (width, height) in enumerate(sizes)
    )
    routes = _routes(chains, edges, places, centre, tops, heights)
    whole = max((centre[box] + widths[box] / 2 for box in range(len(widths))), default=0.0)
    return Layout(whole, tops[-1] + heights[-1] if rows else 0.0, places, routes)


def _chains(layer: list[int], edges: Sequence[Edge]) -> list[list[int]]:
    """Each edge as tail, a lane for every layer that it passes, head; the layers of the lanes are added to ``layer``.

    A lane is shared by the edges of a bundle.
    """
    lanes: dict[tuple[int, int, int], int] = {}
    chains = []
    for edge in edges:
        chain = [edge.tail]
        for at in range(layer[edge.tail] + 1, layer[edge.head]):
            key = (edge.tail, edge.bundle, at)
            if key not in lanes:
                lanes[key] = len(layer)
                layer.append(at)
            chain.append(lanes[key])
        chains.append([*chain, edge.head])
    return chains


def _weighted(pieces: Sequence[tuple[int, int]], real: int) -> list[tuple[int, int, float]]:
    """The pieces of edges with how much their straightness counts; boxes from number ``real`` on are lanes."""
    leaving = Counter(a for a, _ in pieces)
    arriving = Counter(b for _, b in pieces)

    def weight(a: int, b: int) -> float:
        if a >= real and b >= real:
            return _LANE_WEIGHT
        return _ALONE_WEIGHT if leaving[a] == 1 and arriving[b] == 1 else 1.0

    return [(a, b, weight(a, b)) for a, b in pieces]


def _routes(
    chains: Sequence[Sequence[int]],
    edges: Sequence[Edge],
    places: Sequence[Place],
    centre: Sequence[float],
    tops: Sequence[float],
    heights: Sequence[float],
) -> tuple[Route, ...]:
    leaving = _ports([(edge.tail, edge.bundle) for edge in edges], [chain[1] for chain in chains], places, centre)
    arriving = _ports(
        [(edge.head, number) for number, edge in enumerate(edges)], [chain[-2] for chain in chains], places, centre
    )
    routes = []
    for number, chain in enumerate(chains):
        tail, head = places[chain[0]], places[chain[-1]]
        corners = [(leaving[number], tail.y + tail.height), (leaving[number], tops[tail.layer] + heights[tail.layer])]
        for at, lane in enumerate(chain[1:-1], tail.layer + 1):
            corners += [(centre[lane], tops[at]), (centre[lane], tops[at] + heights[at])]
        routes.append(Route((*corners, (arriving[number], head.y))))
    return tuple(routes)


def _ports(
    ends: Sequence[tuple[int, int]], nexts: Sequence[int], places: Sequence[Place], centre: Sequence[float]
) -> list[float]:
    """Where along its box each edge begins or ends, spread about the middle in order of where they go to.

    ``ends`` are the box and the port, which edges may share; ``nexts`` the box or lane at the other end of the piece.
    """
    towards: dict[tuple[int, int], list[float]] = {}
    for end, other in zip(ends, nexts, strict=True):
        towards.setdefault(end, []).append(centre[other])
    of_box: dict[int, list[tuple[int, int]]] = {}
    for end in towards:
        of_box.setdefault(end[0], []).append(end)
    ports: dict[tuple[int, int], float] = {}
    for box, found in of_box.items():
        place = places[box]
        found.sort(key=lambda end: (sum(towards[end]) / len(towards[end]), end))
        step = min(_PORTS, max(0.0, place.width - 24.0) / max(1, len(found) - 1))
        for order, end in enumerate(found):
            ports[end] = place.x + place.width / 2 + (order - (len(found) - 1) / 2) * step
    return [ports[end] for end in ends]
