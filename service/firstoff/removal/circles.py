"""Needs that run in a circle: each of the parts or states waits for the next, and the last for the first."""

from __future__ import annotations

from collections.abc import Iterator

from firstoff.removal.options import Option
from firstoff.removal.problem import Problem

Circle = tuple[tuple[Option, int], ...]


def circles(problem: Problem, goal: int) -> Iterator[Circle]:
    """Each circle that ``goal`` waits for whatever is allowed and at hand, once, as options and what each waits for.

    Of several ways to bring something about the first is followed: where all of them wait in vain, any circle will do
    to show it.
    """
    stuck = _stuck(problem, goal)
    followed: set[int] = set()
    for atom in sorted(stuck):
        chain: list[int] = []
        at: int | None = atom
        while at is not None and at not in followed:
            followed.add(at)
            chain.append(at)
            at = _waits_for(problem, at, stuck)
        if at is not None and at in chain:
            ring = chain[chain.index(at) :]
            first = ring.index(min(ring))
            ring = ring[first:] + ring[:first]
            yield tuple(
                (problem.options(member)[0], need) for member, need in zip(ring, (*ring[1:], ring[0]), strict=True)
            )


def _waits_for(problem: Problem, atom: int, stuck: set[int]) -> int | None:
    """The first thing that the first way to ``atom`` waits for in vain; None where there is no way at all."""
    options = problem.options(atom)
    return next((need for need in (*options[0].off, *options[0].states) if need in stuck), None) if options else None


def _stuck(problem: Problem, goal: int) -> set[int]:
    """All that ``goal`` might need and that cannot be brought about, even with all tools and nothing ruled out."""
    seen, stack = {goal}, [goal]
    waiting: dict[int, list[tuple[int, int]]] = {}
    unmet: dict[tuple[int, int], int] = {}
    ready: list[int] = []
    while stack:
        atom = stack.pop()
        for number, option in enumerate(problem.options(atom)):
            needs = {*option.off, *option.states} - problem.given
            unmet[atom, number] = len(needs)
            if not needs:
                ready.append(atom)
            for need in needs:
                waiting.setdefault(need, []).append((atom, number))
            stack.extend(needs - seen)
            seen |= needs
    had: set[int] = set()
    while ready:
        atom = ready.pop()
        if atom not in had:
            had.add(atom)
            for way in waiting.get(atom, ()):
                unmet[way] -= 1
                if not unmet[way]:
                    ready.append(way[0])
    return seen - had
