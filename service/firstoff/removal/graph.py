"""The removal graph of a request: every component and state that its targets may need, and every way to each.

It is the AND/OR graph that a plan chooses from (Homem de Mello and Sanderson 1990 draw assemblies so): a node is
brought about by any one of its ways, and a way needs all its components off and all its states in force.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from firstoff.removal.compiled import Compiled
from firstoff.removal.options import Option
from firstoff.removal.plans import ActKind
from firstoff.removal.problem import Problem
from firstoff.removal.request import Request, Target


@dataclass(frozen=True, slots=True)
class Way:
    """One way to bring a node about.

    ``id`` names a removal, preparation or access path; None where a target is served by ``off`` alone. ``off`` are
    components and ``states`` states that it needs and that are not so from the start, in order of their numbers.
    ``minutes`` are those out and back.
    """

    id: str | None
    label: str
    minutes: float
    off: tuple[str, ...]
    states: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Node:
    """A component to be off, a state to be in force, or a target to be served.

    ``id`` is the slug of the component or state, of a target that of its component, whose ``target`` then says the
    purpose. A ``given`` node is so from the start and has no ways. ``lacking`` are the labels of the ways that cannot
    be used or lead nowhere.
    """

    what: Literal["component", "state", "target"]
    id: str
    ways: tuple[Way, ...]
    given: bool = False
    target: Target | None = None
    lacking: tuple[str, ...] = ()


def removal_graph(compiled: Compiled, request: Request) -> tuple[Node, ...]:
    """The nodes that the targets of ``request`` may need, targets first, then in order of their distance from them.

    Raises ``UnknownTarget``, ``UnknownComponent`` or ``UnknownState``.
    """
    problem = Problem(compiled, request, request.banned)
    first_target = len(compiled.names)
    found: dict[int, tuple[Option, ...]] = {first_target + i: () for i in range(len(problem.targets))}
    usable = _usable(problem, found)
    possible = _possible(problem, usable)
    nodes = []
    queue = list(found)
    seen = set(queue)
    for atom in queue:
        options = [option for option in usable[atom] if possible.issuperset((*option.off, *option.states))]
        nodes.append(_node(problem, atom, options))
        for option in options:
            for need in (*option.off, *option.states):
                if need not in seen and (need not in problem.given or need < compiled.components):
                    seen.add(need)
                    queue.append(need)
    return tuple(nodes)


def _usable(problem: Problem, targets: Mapping[int, object]) -> dict[int, list[Option]]:
    """The usable options of every atom that the targets may need."""
    found: dict[int, list[Option]] = {}
    stack = list(targets)
    while stack:
        atom = stack.pop()
        if atom not in found:
            found[atom] = [] if atom in problem.given else [*_forward(problem, atom)]
            stack.extend(need for option in found[atom] for need in (*option.off, *option.states))
    return found


def _forward(problem: Problem, atom: int) -> Iterator[Option]:
    """Usable options; of the ways back to a state, only those that leave a state in force at the start."""
    for option in problem.options(atom):
        if problem.usable(option) and (option.kind is not ActKind.UNDO or option.leaves in problem.start):
            yield option


def _possible(problem: Problem, usable: Mapping[int, Sequence[Option]]) -> frozenset[int]:
    """The atoms that can be brought about if nothing ever had to be undone, each option looked at once a need."""
    possible = set(problem.given)
    waiting: dict[int, list[list[int]]] = {}
    ready: list[int] = []
    for atom, options in usable.items():
        for option in options:
            unmet = [need for need in {*option.off, *option.states} if need not in possible]
            left = [len(unmet), atom]
            for need in unmet:
                waiting.setdefault(need, []).append(left)
            if not unmet:
                ready.append(atom)
    while ready:
        atom = ready.pop()
        if atom in possible:
            continue
        possible.add(atom)
        for left in waiting.get(atom, ()):
            left[0] -= 1
            if not left[0]:
                ready.append(left[1])
    return frozenset(possible)


def _node(problem: Problem, atom: int, options: Sequence[Option]) -> Node:
    compiled = problem.compiled
    names = compiled.names
    first_target = len(names)
    lacking = () if atom in problem.given else tuple(
        dict.fromkeys(
            option.label
            for option in problem.options(atom)
            if option.kind is not ActKind.UNDO and option.way is not None and option not in options
        )
    )  # fmt: skip
    ways = tuple(
        Way(
            id=option.way,
            label=option.label,
            minutes=option.minutes + option.minutes_back,
            off=tuple(names[need] for need in option.off),
            states=tuple(names[need] for need in option.states if need not in problem.given),
        )
        for option in options
    )
    if atom >= first_target:
        target = problem.targets[atom - first_target]
        return Node("target", target.component, ways, target=target, lacking=lacking)
    what: Literal["component", "state"] = "component" if atom < compiled.components else "state"
    return Node(what, names[atom], ways, given=atom in problem.given, lacking=lacking)
