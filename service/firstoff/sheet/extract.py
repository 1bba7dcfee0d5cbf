"""As much of a removal graph as can be read on a page: all of it, or the plan's way and those it was chosen over."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from firstoff.appliance.model import Purpose
from firstoff.removal.graph import Node, Way
from firstoff.sheet.journey import Journey

#: What a node is, and its name; of a target, with its purpose.
Key = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Extract:
    """``nodes`` in order of their distance from the targets, each with the ways shown.

    ``targets`` are components whose removal itself is asked for, with the purposes. ``folded`` are states that are
    always to be had by one preparation without taking anything off. ``hidden`` counts the needs of a node that are not
    shown. ``left_out`` are nodes that were dropped, ``ways_left_out`` says that ways of shown nodes were.
    """

    nodes: dict[Key, Node]
    targets: dict[str, tuple[Purpose, ...]]
    folded: dict[str, Node]
    hidden: dict[Key, int]
    left_out: tuple[Node, ...]
    ways_left_out: bool


def extract(nodes: Sequence[Node], journey: Journey, most: int) -> Extract:
    """All that is needed, or, where that is more than ``most`` boxes, the plan's way and its alternatives'.

    Where that is still too much the plan's way alone, and at last as much of it as is nearest to the targets.
    """
    known = {key_of(node): node for node in nodes}
    targets: dict[str, tuple[Purpose, ...]] = {}
    for component, purpose in _removals_asked_for(nodes):
        targets[component] = (*targets.get(component, ()), purpose)
        known.pop(("target", f"{component}:{purpose.value}"))
    roots = [key for key, node in known.items() if key[0] == "target" or (key[0] == "component" and node.id in targets)]
    folded = _folded(known)
    keeps: tuple[Callable[[Node, Way], bool], ...] = (lambda _node, _way: True, journey.knows, journey.takes)
    for keep in keeps:
        shown = _kept(known, roots, folded, keep)
        if _boxes(shown) <= most:
            break
    hidden: dict[Key, int] = {}
    if _boxes(shown) > most:
        shown = dict(list(shown.items())[: max(most, len(roots))])
        hidden = {key: missing for key, node in shown.items() if (missing := _missing(node, shown, folded))}
    gone = [node for key, node in known.items() if key not in shown and not (key[0] == "state" and key[1] in folded)]
    fewer = any(len(node.ways) < len(known[key].ways) for key, node in shown.items())
    return Extract(shown, targets, folded, hidden, tuple(gone), fewer)


def key_of(node: Node) -> Key:
    """The node's key."""
    return (node.what, f"{node.id}:{node.target.purpose.value}" if node.target else node.id)


def needs_of(way: Way, folded: Mapping[str, Node]) -> Iterator[Key]:
    """The nodes that ``way`` needs, without the folded states."""
    yield from (("component", slug) for slug in way.off)
    yield from (("state", slug) for slug in way.states if slug not in folded)


def _removals_asked_for(nodes: Iterable[Node]) -> Iterator[tuple[str, Purpose]]:
    """The targets that are served by their own component being off and by nothing else."""
    for node in nodes:
        if node.target and [(way.id, way.off) for way in node.ways] == [(None, (node.id,))]:
            yield node.id, node.target.purpose


def _folded(known: Mapping[Key, Node]) -> dict[str, Node]:
    states = {key[1]: node for key, node in known.items() if key[0] == "state"}
    folded: dict[str, Node] = {}
    grown = True
    while grown:
        grown = False
        for slug, node in states.items():
            plain = len(node.ways) == 1 and not node.ways[0].off and all(each in folded for each in node.ways[0].states)
            if plain and slug not in folded:
                folded[slug] = node
                grown = True
    return folded


def _kept(
    known: Mapping[Key, Node], roots: Sequence[Key], folded: Mapping[str, Node], keep: Callable[[Node, Way], bool]
) -> dict[Key, Node]:
    """What the roots need by the ways kept, in order of the distance from them."""
    shown: dict[Key, Node] = {}
    queue = list(roots)
    for key in queue:
        if key in shown:
            continue
        node = known[key]
        shown[key] = replace(node, ways=tuple(way for way in node.ways if keep(node, way)))
        queue.extend(need for way in shown[key].ways for need in needs_of(way, folded))
    return shown


def _boxes(shown: Mapping[Key, Node]) -> int:
    return sum(1 + (len(node.ways) if len(node.ways) > 1 else 0) for node in shown.values())


def _missing(node: Node, shown: Mapping[Key, Node], folded: Mapping[str, Node]) -> int:
    return len({need for way in node.ways for need in needs_of(way, folded)} - shown.keys())
