"""h+ against Dijkstra over everything that can be brought about."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection
from heapq import heappop, heappush
from random import Random

import pytest

from firstoff.removal.blocks import blocks
from firstoff.removal.options import Option
from firstoff.removal.plans import ActKind
from firstoff.removal.problem import Choice, Choices
from firstoff.removal.request import Budget, Meter
from firstoff.removal.solver import Solution, solve

UNUSED = Option(
    kind=ActKind.REMOVE, way=None, label="", head=0, cost=0, minutes=0.0, minutes_back=0.0, off=(), fitted=(),
    states=(), leaves=-1, tools=(), kit=frozenset(),
)  # fmt: skip
CASES, A_BLOCK = 1500, 250


def choice(weight: int, *needs: int) -> Choice:
    return weight, needs, UNUSED


def random_choices(rng: Random, atoms: int, mutual: bool) -> Choices:
    """Up to three choices for each atom; without ``mutual`` an atom needs later atoms only."""
    found: Choices = {}
    for atom in range(atoms):
        pool = [other for other in range(0 if mutual else atom + 1, atoms) if other != atom]
        found[atom] = [
            choice(rng.randint(0, 9), *sorted(rng.sample(pool, min(len(pool), rng.choice((0, 1, 1, 2, 3))))))
            for _ in range(rng.choice((1, 1, 2, 2, 3)))
        ]
    return found


def least(goals: Collection[int], choices: Choices) -> int | None:
    """The least weight of any order of choices that brings ``goals`` about, by looking at every set of atoms."""
    heap: list[tuple[int, list[int]]] = [(0, [])]
    seen: set[frozenset[int]] = set()
    while heap:
        weight, reached = heappop(heap)
        have = frozenset(reached)
        if have in seen:
            continue
        seen.add(have)
        if have.issuperset(goals):
            return weight
        for atom, some in choices.items():
            if atom not in have:
                for extra, needs, _ in some:
                    if have.issuperset(needs):
                        heappush(heap, (weight + extra, sorted((*have, atom))))
    return None


def numbered(choices: Choices) -> list[int]:
    return blocks([[need for _, needs, _ in choices[atom] for need in needs] for atom in sorted(choices)])


def check(goals: Collection[int], choices: Choices, solution: Solution) -> None:
    """Assert that the picks bring ``goals`` about without going round in a circle, at the cost stated."""
    done: set[int] = set()
    left = dict(solution.picks)
    while able := [atom for atom, (_, needs, _) in left.items() if done.issuperset(needs)]:
        done.update(able)
        for atom in able:
            assert left.pop(atom) in choices[atom]
    assert not left
    assert done.issuperset(goals)
    assert solution.cost == sum(weight for weight, _, _ in solution.picks.values())
    assert solution.bound <= solution.cost
    assert all(len(choices[atom]) > 0 for atom in solution.forced)
    assert solution.forced <= done


@pytest.mark.parametrize("first", range(0, CASES, A_BLOCK))
def test_the_optimum_is_that_of_every_order_looked_at(first: int) -> None:
    kinds: Counter[str] = Counter()
    for seed in range(first, first + A_BLOCK):
        rng = Random(seed)
        choices = random_choices(rng, rng.randint(2, 8), mutual=rng.random() < 0.6)
        goals = sorted(rng.sample(sorted(choices), min(len(choices), rng.randint(1, 3))))
        want = least(goals, choices)
        solution = solve(goals, choices, numbered(choices), Meter(Budget()))
        if solution is None:
            assert want is None
            kinds["none"] += 1
            continue
        check(goals, choices, solution)
        assert solution.cost == solution.bound == want
        kinds["some"] += 1
        hasty = solve(goals, choices, numbered(choices), Meter(Budget(nodes=rng.randint(0, 1))))
        assert hasty is not None
        check(goals, choices, hasty)
        assert hasty.bound <= want <= hasty.cost
        kinds["cut short"] += hasty.bound < hasty.cost
    assert min(kinds[kind] for kind in ("none", "some", "cut short")) > 0


def shared(weight: int) -> Choices:
    """Two atoms that come free after a third of this weight, or each by itself for four."""
    return {0: [choice(0, 2), choice(4)], 1: [choice(0, 2), choice(4)], 2: [choice(weight)]}


TABLE: list[tuple[str, Choices, list[int], int | None]] = [
    # what the row shows, the choices, the goals, the least weight
    ("a shared need counts once", {0: [choice(1, 2)], 1: [choice(1, 2)], 2: [choice(5)]}, [0, 1], 7),
    ("dear but shared beats cheap twice", shared(6), [0, 1], 6),
    ("cheap twice beats dear but shared", shared(9), [0, 1], 8),
    ("no way in by way of each other", {0: [choice(1, 1), choice(9)], 1: [choice(1, 0), choice(9)]}, [0, 1], 10),
    ("a ring of three with one way in", {0: [choice(0, 1)], 1: [choice(0, 2)], 2: [choice(0, 0), choice(3)]}, [0], 3),
    ("a ring with no way in", {0: [choice(0, 1)], 1: [choice(0, 0)]}, [0], None),
    ("nothing asked", {0: [choice(1)]}, [], 0),
]


@pytest.mark.parametrize(("choices", "goals", "want"), [row[1:] for row in TABLE], ids=[row[0] for row in TABLE])
def test_small_cases(choices: Choices, goals: list[int], want: int | None) -> None:
    solution = solve(goals, choices, numbered(choices), Meter(Budget()))
    assert (None if solution is None else solution.cost) == want
