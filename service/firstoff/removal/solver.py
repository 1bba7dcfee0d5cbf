"""The cheapest way to bring goals about when nothing done has to be undone on the way.

Every atom has choices, each with a weight and the atoms it needs. A solution picks one choice for every goal and for
everything that a picked choice needs, without going round in a circle; each weight counts once. This is
delete-free planning and its optimum is h+ (Haslum, Slaney, Thiebaux, ICAPS 2012; Imai and Fukunaga, JAIR 54, 2015).

The search: atoms that cannot be brought about are struck out; atoms with one choice are picked by unit propagation,
in linear time; what all choices of an atom need (its landmarks, Keyder, Richter, Helmert, ECAI 2010) is required
with it. What is left to choose falls apart into regions that share nothing, and each is solved by A*. A node of it is
the set of required atoms; its bound counts every required atom at its cheapest choice. Atoms are decided in an order
in which what needs comes before what is needed, so nodes that require the same of what is still to be decided are
one. Where atoms may need one another, the node remembers the picks among them and dies once a circle is all that
is left.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from firstoff.removal.landmarks import Open
from firstoff.removal.problem import Choice, Choices
from firstoff.removal.regions import search
from firstoff.removal.request import Meter


@dataclass(frozen=True, slots=True, eq=False)
class Solution:
    """``picks`` by atom, their total ``cost`` and a proven lower ``bound`` on any solution's, in ticks.

    ``forced`` are the atoms known to be needed by every solution that have one choice.
    """

    cost: int
    bound: int
    picks: dict[int, Choice]
    forced: frozenset[int]


def solve(goals: Iterable[int], choices: Choices, block: Sequence[int], meter: Meter) -> Solution | None:
    """The cheapest solution, or None where the goals cannot be brought about.

    ``choices`` must hold every atom that the goals may need; ``block`` numbers atoms so that a need has a higher
    number, or the same where atoms may need one another. Once ``meter`` is spent the best solution found is
    returned, with ``bound`` below ``cost``.
    """
    goals = tuple(goals)
    order = sorted(choices, key=block.__getitem__, reverse=True)
    live = _live(order, choices, block)
    if not all(goal in live for goal in goals):
        return None
    picks: dict[int, Choice] = {}
    undecided: list[int] = []
    stack, seen = list(goals), set(goals)
    while stack:
        atom = stack.pop()
        options = live[atom]
        if len(options) > 1:
            undecided.append(atom)
            continue
        picks[atom] = options[0]
        for need in options[0][1]:
            if need not in seen:
                seen.add(need)
                stack.append(need)
    forced = frozenset(picks)
    cost = sum(choice[0] for choice in picks.values())
    if not undecided:
        return Solution(cost, cost, picks, forced)
    found, extra, bound = search(Open(seen, undecided, live, block), meter)
    picks.update(found)
    return Solution(cost + extra, cost + bound, picks, forced)


def _live(order: Sequence[int], choices: Choices, block: Sequence[int]) -> Choices:
    """``choices`` without those that can never be made, atoms without a choice left out. ``order``: needs first."""
    live: Choices = {}
    position, count = 0, len(order)
    while position < count:
        atom = order[position]
        end = position + 1
        while end < count and block[order[end]] == block[atom]:
            end += 1
        if end == position + 1:
            kept = [choice for choice in choices[atom] if all(need in live for need in choice[1])]
            if kept:
                live[atom] = kept
        else:
            _live_block(order[position:end], choices, live)
        position = end
    return live


def _live_block(atoms: Sequence[int], choices: Choices, live: Choices) -> None:
    """Add to ``live`` those of ``atoms``, which may need one another, that can be brought about."""
    inside = set(atoms)
    waiting: dict[int, list[int]] = {}
    unmet: dict[int, int] = {}
    owners: list[int] = []
    ready: list[int] = []
    for atom in atoms:
        for _, needs, _ in choices[atom]:
            number = len(owners)
            owners.append(atom)
            if any(need not in live and need not in inside for need in needs):
                continue
            within = [need for need in needs if need in inside]
            unmet[number] = len(within)
            for need in within:
                waiting.setdefault(need, []).append(number)
            if not within:
                ready.append(atom)
    reached: set[int] = set()
    while ready:
        atom = ready.pop()
        if atom in reached:
            continue
        reached.add(atom)
        for number in waiting.get(atom, ()):
            unmet[number] -= 1
            if not unmet[number]:
                ready.append(owners[number])
    for atom in atoms:
        if atom in reached:
            live[atom] = [
                choice for choice in choices[atom] if all(need in live or need in reached for need in choice[1])
            ]
