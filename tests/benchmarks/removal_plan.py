"""Time of a removal plan on random machines, beside HiGHS on the same machines.

The plan is the whole answer (``Planner.plan``: search, timeline, simulation), with no alternatives and with three. HiGHS
is given a program that holds the parts that the target may need and no others, built already, and solves it once.
Where both prove their answer it must be the same; the last column counts where it is not.

Run: python tests/benchmarks/removal_plan.py [machines]. It prints milliseconds and ratios; it asserts nothing.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from random import Random
from statistics import median

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from firstoff.appliance.model import Appliance, Purpose
from firstoff.removal import Planner, Request, Target, Unreachable
from support.dishwasher import dishwasher
from support.instances import Shape, one_phase
from support.milp import program, solve


@dataclass(frozen=True, slots=True)
class Group:
    """Random machines of one shape; plans of other sizes than ``removals`` are passed over."""

    name: str
    shape: Shape
    removals: range


GROUPS = (
    Group("300 parts, 360 ways, up to 50 off", Shape(300, 360, needs=2, reach=60), range(5, 51)),
    Group("300 parts, 360 ways, 40 to 50 off", Shape(300, 360, needs=2, reach=60), range(40, 51)),
    Group("300 parts, 360 ways, over 100 off", Shape(300, 360, needs=3, reach=60), range(101, 301)),
    Group("300 parts, 420 ways, mutual needs", Shape(300, 420, needs=2, reach=60, mutual=0.1), range(5, 301)),
    Group("300 parts, 600 ways", Shape(300, 600, needs=3, reach=30), range(5, 301)),
)


def milliseconds(run: Callable[[], object]) -> float:
    start = time.perf_counter()
    run()
    return (time.perf_counter() - start) * 1000


def spread(times: list[float]) -> str:
    """Median and 99th percentile."""
    ranked = sorted(times)
    return f"{median(ranked):9.2f} {ranked[int(0.99 * (len(ranked) - 1))]:9.2f}"


def cases(group: Group, count: int) -> list[tuple[Appliance, Request]]:
    """The first ``count`` machines, by seed, whose plan has a size of the group."""
    found: list[tuple[Appliance, Request]] = []
    seed = 0
    while len(found) < count and seed < 40 * count:
        rng = Random(seed)
        seed += 1
        machine = one_phase(rng, group.shape)
        aim = Target(f"p{rng.randrange(group.shape.parts)}", Purpose.REPLACE)
        request = Request((aim,), alternatives=0)
        try:
            size = len(Planner(machine).plan(request).removed)
        except Unreachable:
            continue
        if size in group.removals:
            found.append((machine, request))
    return found


def measure(group: Group, count: int) -> None:
    """Print a line for the group."""
    ours: list[float] = []
    three: list[float] = []
    theirs: list[float] = []
    unproved = different = 0
    for machine, request in cases(group, count):
        planner = Planner(machine)
        plan = planner.plan(request)
        ours.append(milliseconds(lambda planner=planner, request=request: planner.plan(request)))
        three.append(
            milliseconds(lambda planner=planner, request=request: planner.plan(replace(request, alternatives=3)))
        )
        small = program(machine, request)
        theirs.append(milliseconds(lambda small=small: solve(small)))
        least = solve(small)
        unproved += not plan.optimal
        different += plan.optimal and (least is None or abs(least[0] - plan.minutes) > 1e-6)
    ratios = [b / a for a, b in zip(ours, theirs, strict=True)]
    print(
        f"{group.name:36} {len(ours):4} {spread(ours)} {spread(three)} {spread(theirs)} "
        f"{median(ratios):7.1f} {min(ratios):7.2f} {unproved:8} {different:9}"
    )


def states() -> None:
    """Print the times of plans with states on the dishwasher of the tests."""
    planner = Planner(dishwasher())
    for aims in (
        [("pump", Purpose.REPLACE)],
        [("board", Purpose.TEST)],
        [("board", Purpose.TEST), ("sensor", Purpose.REPLACE)],
    ):
        request = Request(tuple(Target(*aim) for aim in aims), alternatives=0)
        times = [milliseconds(lambda request=request: planner.plan(request)) for _ in range(20)]
        print(f"{'dishwasher: ' + ' and '.join(f'{slug} ({purpose})' for slug, purpose in aims):56} {spread(times)}")


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 60
    print("milliseconds: median and 99th percentile; ratio: HiGHS over ours, median and least")
    print(
        f"{'':36} {'n':>4} {'plan':>9} {'':9} {'with 3':>9} {'':9} {'HiGHS':>9} {'':9} "
        f"{'ratio':>7} {'least':>7} {'unproved':>8} {'different':>9}"
    )
    for group in GROUPS:
        measure(group, count)
    states()


if __name__ == "__main__":
    main()
