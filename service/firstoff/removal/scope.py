"""Everything that could matter to a request in the full model, and which state variables have to be followed.

A variable that some way needs in a state other than the one in force is *active*. Among the active ones a variable
is a *frame* where nothing can be lost by setting it first and taking it back last: all needs of it name one state;
one preparation leads there from the initial state at no more than any other way there and back; it needs no part
off or fitted; and of states it needs frames only, which any plan that uses it would have had to set too. Frames
cost their weight once and never contradict. All other active variables are *followed*: a plan is a walk through their
states.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from firstoff.removal.moves import inverse
from firstoff.removal.options import Option
from firstoff.removal.problem import Problem


@dataclass(frozen=True, slots=True, eq=False)
class Scope:
    """``removals`` by component and ``serves`` by target atom, ``edges`` by the state they leave, all usable ones.

    ``frames`` maps the one state needed of a frame variable to the preparation that gives it, in an order in which
    they can be done; ``followed`` are the numbers of the followed variables. ``removable`` are the components that a
    plan might take off: only these matter to what has to be fitted.
    """

    removals: Mapping[int, tuple[Option, ...]]
    serves: Mapping[int, tuple[Option, ...]]
    edges: Mapping[int, tuple[Option, ...]]
    frames: Mapping[int, Option]
    followed: tuple[int, ...]
    removable: frozenset[int]

    def fitted(self, option: Option) -> frozenset[int]:
        """The components that ``option`` needs fitted and that a plan might have off."""
        return self.removable.intersection(option.fitted)


def scope(problem: Problem) -> Scope:
    """The scope of ``problem``."""
    compiled = problem.compiled
    first_target = len(compiled.names)
    removals: dict[int, tuple[Option, ...]] = {}
    serves: dict[int, tuple[Option, ...]] = {}
    into: dict[int, tuple[Option, ...]] = {}
    active: set[int] = set()
    stack = [*problem.goals, *(initial for initial in compiled.initial if initial not in problem.given)]
    seen = set(stack)
    while stack:
        atom = stack.pop()
        found = tuple(option for option in problem.options(atom) if problem.usable(option))
        if atom >= first_target:
            serves[atom] = found
        elif atom < compiled.components:
            removals[atom] = found
        else:
            into[atom] = found
        needs = [need for option in found for need in (*option.off, *option.states) if need not in problem.given]
        if compiled.components <= atom < first_target and compiled.variable[atom] not in active:
            active.add(compiled.variable[atom])
            needs.extend(
                state
                for state in range(compiled.components, first_target)
                if compiled.variable[state] == compiled.variable[atom]
            )
        fresh = [need for need in dict.fromkeys(needs) if need not in seen]
        seen.update(fresh)
        stack.extend(fresh)
    into, removals, serves = (_possible(problem, group, active) for group in (into, removals, serves))
    edges: dict[int, list[Option]] = {}
    for found in into.values():
        for edge in found:
            edges.setdefault(edge.leaves, []).append(edge)
    removable = frozenset(removals)
    frames = _frames(problem, active, into, [*_all(removals), *_all(serves)], removable)
    framed = {compiled.variable[state] for state in frames}
    return Scope(
        removals=removals,
        serves=serves,
        edges={state: tuple(found) for state, found in edges.items()},
        frames=frames,
        followed=tuple(sorted(active - framed)),
        removable=removable,
    )


def _all(options: Mapping[int, tuple[Option, ...]]) -> Iterable[Option]:
    for found in options.values():
        yield from found


def _possible(
    problem: Problem, options: Mapping[int, tuple[Option, ...]], active: set[int]
) -> dict[int, tuple[Option, ...]]:
    """``options`` without those that need a state not in force of a variable that is never changed."""
    variable = problem.compiled.variable
    return {
        head: tuple(
            option for option in found if all(variable[s] in active or s in problem.given for s in option.states)
        )
        for head, found in options.items()
    }


def _frames(
    problem: Problem,
    active: set[int],
    into: Mapping[int, tuple[Option, ...]],
    ways: list[Option],
    removable: frozenset[int],
) -> dict[int, Option]:
    """The frame states with their preparations, in an order in which they can be done."""
    compiled = problem.compiled
    needed: dict[int, set[int]] = {variable: set() for variable in active}
    everything = [*ways, *_all(into)]
    for option in everything:
        for state in option.states:
            if state != option.leaves and compiled.variable[state] in active:
                needed[compiled.variable[state]].add(state)
    frames: dict[int, Option] = {}
    growing = True
    while growing:
        growing = False
        for variable in sorted(active):
            states = needed[variable]
            if len(states) != 1 or problem.start[variable] != compiled.initial[variable]:
                continue
            (state,) = states
            if state in frames or state == problem.start[variable]:
                continue
            edge = _frame_edge(problem, into, state, frames, removable)
            if edge is not None:
                frames[state] = edge
                growing = True
    return frames


def _frame_edge(
    problem: Problem,
    into: Mapping[int, tuple[Option, ...]],
    state: int,
    frames: Mapping[int, Option],
    removable: frozenset[int],
) -> Option | None:
    """The preparation that makes ``state`` a frame, if one does."""
    compiled = problem.compiled
    variable = compiled.variable[state]
    start = problem.start[variable]
    same = [edge for head, edges in into.items() if compiled.variable[head] == variable for edge in edges]
    least = _distance(start, state, same) + problem.home[state] if state in problem.home else -1
    for edge in into.get(state, ()):
        # A state in force that is not the initial one has to be left before the end, when the frame is taken back.
        settled = frozenset(problem.start).intersection(compiled.initial)
        frame_needs = [need for need in edge.states if need not in settled]
        if edge.leaves != start or any(need not in frames for need in frame_needs):
            continue
        if edge.off or removable.intersection(edge.fitted):
            continue
        if frame_needs and len(into[state]) > 1:
            continue
        if edge.cost + inverse(compiled, edge).cost == least:
            return edge
    return None


def _distance(start: int, goal: int, edges: list[Option]) -> int:
    """The least cost from ``start`` to ``goal`` by ``edges``, whatever they need; -1 where there is no way."""
    reached = {start: 0}
    changed = True
    while changed:
        changed = False
        for edge in edges:
            if edge.leaves in reached:
                amount = reached[edge.leaves] + edge.cost
                if amount < reached.get(edge.head, amount + 1):
                    reached[edge.head] = amount
                    changed = True
    return reached.get(goal, -1)
