"""Time of a removal plan on random machines, beside HiGHS on the same machines.

The plan is the whole answer (``Planner.plan``: search, timeline, simulation), with no alternatives and with three.
HiGHS (``scipy.optimize.milp``) is given the whole machine as a program, and once more only the parts that the target
may need; both are built already, and solved once.
Where both prove their answer it must be the same; the last column counts where it is not. Where states have to change
on the way, what HiGHS finds is a lower bound at the most, and it is left out.

Run: python tests/benchmarks/removal_plan.py [machines]. It prints milliseconds and ratios; it asserts nothing.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from random import Random
from statistics import median

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import networkx as nx

from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.removal import Budget, Planner, Request, Target, Undecided, Unreachable
from support.dishwasher import dishwasher
from support.instances import Shape, one_phase, one_phase_with_states, with_live_tests
from support.milp import program, solve

VARIABLES = 3
LIVE_TESTS = 20
# A search that the budget ends counts as unproved, or as undecided where no plan was found.
SEEDS_A_CASE = 40


@dataclass(frozen=True, slots=True)
class Group:
    """Random machines of one shape; plans of other sizes than ``removals`` are passed over.

    ``variables``: state variables of which each is needed in one state. ``live_tests``: a second target is a test in
    the initial state of the first variable, while the removals need the other. ``nodes``: the budget of a plan.
    """

    name: str
    shape: Shape
    removals: range
    variables: int = 0
    live_tests: bool = False
    nodes: int = Budget().nodes

    def case(self, seed: int) -> tuple[Appliance, Request]:
        """A machine and a request on it."""
        rng = Random(seed)
        aims = []
        if self.variables:
            machine = one_phase_with_states(rng, self.shape, self.variables)
        else:
            machine = one_phase(rng, self.shape)
        if self.live_tests:
            machine = with_live_tests(rng, machine, LIVE_TESTS)
            aims.append(Target(rng.choice(list(machine.access_paths.values())).component, Purpose.TEST))
        aims.append(Target(f"p{rng.randrange(self.shape.parts)}", Purpose.REPLACE))
        return machine, Request(tuple(aims), alternatives=0)


NEAR = Shape(300, 360, needs=2, reach=60)
GROUPS = (
    Group("300 parts, 360 ways, up to 50 off", NEAR, range(5, 51)),
    Group("300 parts, 360 ways, 40 to 50 off", NEAR, range(40, 51)),
    Group("300 parts, 360 ways, over 100 off", Shape(300, 360, needs=3, reach=60), range(101, 301)),
    Group("300 parts, 420 ways, mutual needs", Shape(300, 420, needs=2, reach=60, mutual=0.1), range(5, 301)),
    Group("300 parts, 600 ways", Shape(300, 600, needs=3, reach=30), range(5, 301)),
    Group("3 state variables, set once", NEAR, range(5, 51), VARIABLES),
    Group("3 state variables, over 100 off", Shape(300, 360, needs=3, reach=60), range(101, 301), VARIABLES),
    Group("3 state variables, test, 1,000 nodes", NEAR, range(5, 51), VARIABLES, True, 1_000),
)


def milliseconds(run: Callable[[], object]) -> float:
    start = time.perf_counter()
    run()
    return (time.perf_counter() - start) * 1000


def spread(times: list[float]) -> str:
    """Median and 99th percentile."""
    if not times:
        return f"{'-':>9} {'-':>9}"
    ranked = sorted(times)
    return f"{median(ranked):9.2f} {ranked[round(0.99 * (len(ranked) - 1))]:9.2f}"


@dataclass(slots=True)
class Tally:
    """Cases that ended otherwise than with a plan that was proved and compared."""

    undecided: int = 0
    unproved: int = 0
    different: int = 0


def cases(group: Group, count: int, tally: Tally) -> Iterator[tuple[Appliance, Request]]:
    """The first ``count`` machines, by seed, whose plan has a size of the group."""
    found = 0
    for seed in range(SEEDS_A_CASE * count):
        machine, request = group.case(seed)
        try:
            size = len(Planner(machine).plan(request, Budget(group.nodes)).removed)
        except Unreachable:
            continue
        except Undecided:
            tally.undecided += 1
            continue
        if size in group.removals:
            found += 1
            yield machine, request
        if found == count:
            return


def measure(group: Group, count: int) -> None:
    """Print a line for the group."""
    ours: list[float] = []
    three: list[float] = []
    theirs: list[float] = []
    whole: list[float] = []
    tally = Tally()
    for machine, request in cases(group, count, tally):
        answer = partial(Planner(machine).plan, budget=Budget(group.nodes))
        plan = answer(request)
        ours.append(milliseconds(partial(answer, request)))
        three.append(milliseconds(partial(answer, replace(request, alternatives=3))))
        tally.unproved += not plan.optimal
        if group.live_tests:
            continue
        small = program(machine, request)
        theirs.append(milliseconds(partial(solve, small)))
        whole.append(milliseconds(partial(solve, program(machine, request, whole=True))))
        least = solve(small)
        tally.different += plan.optimal and (least is None or abs(least[0] - plan.minutes) > 1e-6)
    ratios = [b / a for a, b in zip(ours, theirs, strict=False)]
    entire = [b / a for a, b in zip(ours, whole, strict=False)]
    shown = " ".join(
        f"{median(some):7.1f} {min(some):7.2f}" if some else f"{'-':>7} {'-':>7}" for some in (entire, ratios)
    )
    print(
        f"{group.name:36} {len(ours):4} {spread(ours)} {spread(three)} {spread(whole)} {spread(theirs)} "
        f"{shown} {tally.undecided:9} {tally.unproved:8} {tally.different:9}",
        flush=True,
    )


def states() -> None:
    """Print the times of plans with states on the dishwasher of the tests."""
    print("\nmilliseconds: median and 99th percentile of 20 runs of one request")
    planner = Planner(dishwasher())
    for aims in (
        [("pump", Purpose.REPLACE)],
        [("board", Purpose.TEST)],
        [("board", Purpose.TEST), ("sensor", Purpose.REPLACE)],
    ):
        request = Request(tuple(Target(*aim) for aim in aims), alternatives=0)
        times = [milliseconds(partial(planner.plan, request)) for _ in range(20)]
        print(f"{'dishwasher: ' + ' and '.join(f'{slug} ({purpose})' for slug, purpose in aims):56} {spread(times)}")


def precedence(machine: Appliance) -> list[str]:
    """What networkx needs for the same answer where each part has one way: the closure, in topological order."""
    graph = nx.DiGraph((need, way.component) for way in machine.removals.values() for need in way.needs_off)
    return list(nx.topological_sort(graph.subgraph({"p0"} | nx.ancestors(graph, "p0"))))


def growth(sizes: list[int]) -> None:
    """Print the time by size where each part has one way."""
    print("\none way a part: milliseconds to compile and to plan, microseconds of the plan a removal; ratio: networkx")
    print("(its graph built anew, closure and topological order) over compiling and planning")
    print(f"{'parts':>8} {'removals':>9} {'compile':>9} {'plan':>9} {'a removal':>9} {'networkx':>9} {'ratio':>6}")
    for parts in sizes:
        machine = one_phase(Random(parts), Shape(parts, parts, needs=3, reach=50))
        request = Request((Target("p0", Purpose.REPLACE),))
        compiled = milliseconds(partial(Planner, machine))
        planner = Planner(machine)
        removals = len(planner.plan(request).removed)
        ours = min(milliseconds(partial(planner.plan, request)) for _ in range(3))
        theirs = min(milliseconds(partial(precedence, machine)) for _ in range(3))
        print(
            f"{parts:8} {removals:9} {compiled:9.1f} {ours:9.1f} {1000 * ours / removals:9.2f} {theirs:9.1f} "
            f"{theirs / (compiled + ours):6.2f}",
            flush=True,
        )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("machines", nargs="?", type=int, default=60, help="machines a row (default: 60)")
    parser.add_argument("--only", default="", help="rows whose name holds this text, and nothing else")
    parser.add_argument(
        "--growth", nargs="*", type=int, default=[1_000, 10_000, 100_000], metavar="PARTS",
        help="sizes with one way a part (default: 1000 10000 100000; none after the option: left out)",
    )  # fmt: skip
    arguments = parser.parse_args()
    print("milliseconds: median and 99th percentile; ratio: HiGHS over ours, median and least; the whole machine, then")
    print("only the parts that the target may need")
    print(
        f"{'':36} {'n':>4} {'plan':>9} {'':9} {'with 3':>9} {'':9} {'whole':>9} {'':9} {'needed':>9} {'':9} "
        f"{'whole':>7} {'least':>7} {'needed':>7} {'least':>7} {'undecided':>9} {'unproved':>8} {'different':>9}"
    )
    for group in GROUPS:
        if arguments.only in group.name:
            measure(group, arguments.machines)
    if not arguments.only:
        states()
        growth(arguments.growth)


if __name__ == "__main__":
    main()
