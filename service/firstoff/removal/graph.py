"""The removal graph of a request: every component and state that its targets may need, and every way to each.

After these come the components and states that only closing the machine may need: putting back what was found off, and
the way home from the states in force at the start.

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
from firstoff.removal.scope import scope


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
    purpose. A ``given`` node is so from the start and has no ways; ``back`` are the ways by which a part found off can
    go back and, where it has to, come off again, or by which a state in force can be had again. ``closing`` says that
    no target needs the node. ``lacking`` are the labels of the ways that cannot be used or lead nowhere.
    """

    what: Literal["component", "state", "target"]
    id: str
    ways: tuple[Way, ...]
    given: bool = False
    target: Target | None = None
    lacking: tuple[str, ...] = ()
    back: tuple[Way, ...] = ()
    closing: bool = False


def removal_graph(compiled: Compiled, request: Request) -> tuple[Node, ...]:
    """The nodes that the targets of ``request`` may need, targets first, then in order of their distance from them.

    Last come those that only closing the machine may need. Raises ``UnknownTarget``, ``UnknownComponent``,
    ``OffTwice`` or ``UnknownState``.
    """
    problem = Problem(compiled, request, request.banned)
    first_target = len(compiled.names)
    found: dict[int, tuple[Option, ...]] = {first_target + i: () for i in range(len(problem.targets))}
    usable = _usable(problem, found)
    closing = _closing(problem)
    possible = _possible(problem, {**closing, **usable})
    able = {
        atom: [option for option in options if possible.issuperset((*option.off, *option.states))]
        for atom, options in closing.items()
    }
    nodes = []
    queue = list(found)
    seen = set(queue)
    for atom in queue:
        options = [option for option in usable[atom] if possible.issuperset((*option.off, *option.states))]
        nodes.append(_node(problem, atom, options, able.get(atom, ())))
        for option in options:
            for need in (*option.off, *option.states):
                if need not in seen and (need not in problem.given or need < compiled.components):
                    seen.add(need)
                    queue.append(need)
    more = (_node(problem, atom, able[atom], able[atom], closing=True) for atom in sorted(able) if atom not in seen)
    return (*nodes, *(node for node in more if node.ways or node.back))


def _closing(problem: Problem) -> dict[int, list[Option]]:
    """The usable options of every component and state that any plan may need, to close the machine or before that.

    Of the ways back to a state, only those of variables that have to come home from the start: any other takes back
    what is told of already.
    """
    within = scope(problem)
    compiled = problem.compiled
    found = {atom: [*problem.refits.get(atom, ()), *options] for atom, options in within.removals.items()}
    for options in within.edges.values():
        for option in options:
            number = compiled.variable[option.head]
            if option.kind is not ActKind.UNDO or problem.start[number] != compiled.initial[number]:
                found.setdefault(option.head, []).append(option)
    return found


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


def _node(
    problem: Problem, atom: int, options: Sequence[Option], back: Sequence[Option], *, closing: bool = False
) -> Node:
    """``options`` bring the node about, ``back`` are those of a node that is given."""
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
    given = atom in problem.given
    ways = () if given else tuple(_way(problem, option) for option in options)
    if atom >= first_target:
        target = problem.targets[atom - first_target]
        return Node("target", target.component, ways, target=target, lacking=lacking)
    what: Literal["component", "state"] = "component" if atom < compiled.components else "state"
    again = tuple(_way(problem, option) for option in back) if given else ()
    return Node(what, names[atom], ways, given, lacking=lacking, back=again, closing=closing)


def _way(problem: Problem, option: Option) -> Way:
    names = problem.compiled.names
    return Way(
        id=option.way,
        label=option.label,
        minutes=option.minutes_back if option.puts_back else option.minutes + option.minutes_back,
        off=tuple(names[need] for need in option.off),
        states=tuple(names[need] for need in option.states if need not in problem.given),
    )
