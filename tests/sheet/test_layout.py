"""The layered drawing: what must hold for every graph, and that each step of it does what it says."""

from __future__ import annotations

from itertools import combinations, pairwise

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firstoff.sheet.layering import layers_of
from firstoff.sheet.layout import Edge, Layout, Place, Room, laid_out
from firstoff.sheet.ordering import crossings, ordered
from firstoff.sheet.placing import placed

Graph = tuple[list[tuple[float, float]], list[Edge]]

_SLACK = 1e-6


@st.composite
def graphs(draw: st.DrawFn) -> Graph:
    """Up to 24 boxes of different sizes and up to 50 edges that form no circle, in bundles."""
    count = draw(st.integers(0, 24))
    size = st.tuples(st.floats(20, 160), st.floats(12, 90))
    sizes = draw(st.lists(size, min_size=count, max_size=count))
    names = draw(st.permutations(range(count)))
    pairs = list(combinations(range(count), 2))
    chosen = draw(st.lists(st.sampled_from(pairs), max_size=50, unique=True)) if pairs else []
    return sizes, [Edge(names[a], names[b], draw(st.integers(0, 1))) for a, b in chosen]


def apart(one: Place, other: Place, gap: float = 0.0) -> bool:
    beside = one.x + one.width + gap <= other.x + _SLACK or other.x + other.width + gap <= one.x + _SLACK
    return beside or one.y + one.height <= other.y + _SLACK or other.y + other.height <= one.y + _SLACK


@given(graphs())
def test_no_two_boxes_overlap(graph: Graph) -> None:
    places = laid_out(*graph).places
    assert len(places) == len(graph[0])
    for one, other in combinations(places, 2):
        assert apart(one, other, Room().beside if one.layer == other.layer else 0.0)


@given(graphs())
def test_every_edge_leads_down(graph: Graph) -> None:
    sizes, edges = graph
    layout = laid_out(sizes, edges)
    for edge, route in zip(edges, layout.routes, strict=True):
        tail, head = layout.places[edge.tail], layout.places[edge.head]
        assert tail.layer < head.layer
        assert tail.y + tail.height < head.y
        first, last = route.corners[0], route.corners[-1]
        assert first[1] == tail.y + tail.height
        assert last[1] == head.y
        assert tail.x < first[0] < tail.x + tail.width
        assert head.x < last[0] < head.x + head.width
        assert all(upper[1] <= lower[1] + _SLACK for upper, lower in pairwise(route.corners))


@given(graphs())
def test_no_edge_runs_through_a_box(graph: Graph) -> None:
    """Beside boxes an edge runs straight down where none is; across it runs between layers alone."""
    sizes, edges = graph
    layout = laid_out(sizes, edges)
    for edge, route in zip(edges, layout.routes, strict=True):
        for number, ((x0, y0), (x1, y1)) in enumerate(pairwise(route.corners)):
            for box, place in enumerate(layout.places):
                if box in (edge.tail, edge.head):
                    continue
                beside = y1 <= place.y + _SLACK or place.y + place.height <= y0 + _SLACK
                if number % 2 == 0:
                    assert x0 == x1
                    assert beside or not place.x < x0 < place.x + place.width
                else:
                    assert beside, "the room between two layers is free"


@given(graphs())
def test_all_lies_within_the_size_stated(graph: Graph) -> None:
    layout = laid_out(*graph)
    for place in layout.places:
        assert place.x >= -_SLACK
        assert place.x + place.width <= layout.width + _SLACK
        assert place.y >= 0
        assert place.y + place.height <= layout.height + _SLACK
    for route in layout.routes:
        assert all(-_SLACK <= x <= layout.width + _SLACK and 0 <= y <= layout.height for x, y in route.corners)


@given(graphs())
def test_the_same_graph_is_drawn_the_same(graph: Graph) -> None:
    assert laid_out(*graph) == laid_out(*graph)


@given(graphs())
def test_layers_against_longest_paths(graph: Graph) -> None:
    """Without a limit to the width, a box stands as many layers up as the longest path from it is long (networkx)."""
    sizes, edges = graph
    pairs = [(edge.tail, edge.head) for edge in edges]
    known = nx.DiGraph(pairs)
    known.add_nodes_from(range(len(sizes)))
    found = layers_of([width for width, _ in sizes], pairs, float("inf"), 10)
    for box in known:
        reached = known.subgraph({box, *nx.descendants(known, box)})
        assert found[box] == nx.dag_longest_path_length(reached)


@given(graphs(), st.floats(150, 600))
def test_no_layer_is_wider_than_the_limit(graph: Graph, widest: float) -> None:
    sizes, edges = graph
    layers = layers_of([width for width, _ in sizes], [(edge.tail, edge.head) for edge in edges], widest, 10)
    for layer in set(layers):
        widths = [sizes[box][0] for box in range(len(sizes)) if layers[box] == layer]
        assert len(widths) == 1 or sum(widths) + 10 * (len(widths) - 1) <= widest + _SLACK
    assert all(layers[edge.tail] > layers[edge.head] for edge in edges)


@pytest.mark.parametrize("edges", [[(0, 1), (1, 0)], [(0, 0)], [(0, 1), (1, 2), (2, 1)]])
def test_a_circle_is_refused(edges: list[tuple[int, int]]) -> None:
    with pytest.raises(ValueError, match="circle"):
        layers_of([10, 10, 10], edges, 100, 10)


def crossings_counted(layers: list[list[int]], edges: list[tuple[int, int]]) -> int:
    """Every pair of edges between two layers, looked at one by one."""
    total = 0
    for upper, lower in pairwise(layers):
        between = [(upper.index(a), lower.index(b)) for a, b in edges if a in upper and b in lower]
        total += sum((a - c) * (b - d) < 0 for (a, b), (c, d) in combinations(between, 2))
    return total


@st.composite
def layered(draw: st.DrawFn) -> tuple[list[list[int]], list[tuple[int, int]]]:
    counts = draw(st.lists(st.integers(1, 6), min_size=2, max_size=5))
    starts = [sum(counts[:number]) for number in range(len(counts))]
    layers = [list(range(start, start + count)) for start, count in zip(starts, counts, strict=True)]
    pairs = [(a, b) for upper, lower in pairwise(layers) for a in upper for b in lower]
    return layers, draw(st.lists(st.sampled_from(pairs), unique=True, max_size=30))


@given(layered())
def test_the_order_crosses_no_more_than_before(case: tuple[list[list[int]], list[tuple[int, int]]]) -> None:
    layers, edges = case
    below = {box: [b for a, b in edges if a == box] for layer in layers for box in layer}
    assert crossings(layers, below) == crossings_counted(layers, edges)
    found = ordered(layers, edges)
    assert [sorted(layer) for layer in found] == [sorted(layer) for layer in layers]
    assert crossings_counted(found, edges) <= crossings_counted(layers, edges)


def test_crossings_that_can_go_do_go() -> None:
    """A ladder drawn upside down in each layer, and a tree: both can be drawn without a crossing."""
    layers = [[0, 1, 2], [5, 4, 3], [6, 7, 8]]
    ladder = [(0, 3), (1, 4), (2, 5), (3, 6), (4, 7), (5, 8)]
    assert crossings_counted(ordered(layers, ladder), ladder) == 0
    tree = [(0, 3), (0, 5), (1, 4), (2, 4)]
    assert crossings_counted(ordered([[0, 1, 2], [3, 4, 5]], tree), tree) == 0


@given(layered())
def test_places_keep_order_and_gaps(case: tuple[list[list[int]], list[tuple[int, int]]]) -> None:
    layers, edges = case
    widths = [10.0 + box for layer in layers for box in layer]
    centre = placed(layers, widths, [(a, b, 1.0) for a, b in edges], 5)
    for layer in layers:
        for left, right in pairwise(layer):
            assert centre[left] + widths[left] / 2 + 5 <= centre[right] - widths[right] / 2 + _SLACK


def test_a_chain_is_one_straight_line() -> None:
    layout = laid_out([(100, 30)] * 5, [Edge(number, number + 1) for number in range(4)])
    assert len({place.x for place in layout.places}) == 1
    assert [place.layer for place in layout.places] == [0, 1, 2, 3, 4]


def test_an_edge_past_layers_is_straight_where_there_is_room() -> None:
    """Box 0 leads to 4 directly, past the chain 1, 2, 3."""
    layout = laid_out([(80, 30)] * 5, [Edge(0, 1), Edge(1, 2), Edge(2, 3), Edge(3, 4), Edge(0, 4)])
    inner = [x for x, _ in layout.routes[4].corners[2:-1]]
    assert len({round(x, 6) for x in inner}) == 1


def test_a_bundle_shares_its_lane() -> None:
    sizes = [(80.0, 30.0)] * 6
    edges = [Edge(0, 1), Edge(1, 2), Edge(2, 3), Edge(2, 4), Edge(0, 3), Edge(0, 4), Edge(0, 5, 1), Edge(2, 5)]
    layout = laid_out(sizes, edges)
    assert layout.routes[4].corners[:4] == layout.routes[5].corners[:4]
    assert layout.routes[4].corners[0] != layout.routes[6].corners[0]


def test_nothing_is_drawn_as_nothing() -> None:
    assert laid_out([], []) == Layout(0.0, 0.0, (), ())
