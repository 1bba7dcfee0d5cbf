"""Times the plans that no other beats, beside the four plans that are each best in one figure.

    python tests/benchmarks/pareto.py

Machines are random, with single-use parts and exposures here and there; the budget is two seconds each, as served.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from random import Random
from statistics import median

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from firstoff.appliance.model import Purpose
from firstoff.removal import Budget, Measure, Pareto, Planner, Request, Target
from support.figures import with_figures
from support.instances import Shape, one_phase

MACHINES = 20
SHAPES = (Shape(30, 45), Shape(60, 90), Shape(300, 360, reach=8))


Case = tuple[float, float, Pareto]


def timed(run: Callable[[], object]) -> float:
    """How many milliseconds ``run`` takes."""
    begun = time.perf_counter()
    run()
    return (time.perf_counter() - begun) * 1e3


def case(seed: int, shape: Shape) -> Case:
    """The times for all plans that no other beats and for the four best in one figure, and the former."""
    machine, exposures = with_figures(Random(seed), one_phase(Random(seed), shape))
    planner = Planner(machine, exposures)
    part = shape.parts - 40 if shape.reach < shape.parts else 0
    request = Request((Target(f"p{part}", Purpose.REPLACE),), alternatives=0)
    for measure in Measure:
        planner.compiled(measure)
    four = timed(lambda: [planner.plan(replace(request, minimise=measure)) for measure in Measure])
    found: list[Pareto] = []
    budget = Budget(seconds=2.0, clock=time.perf_counter)
    all_of_them = timed(lambda: found.append(planner.pareto(request, budget)))
    return all_of_them, four, found[0]


def main() -> None:
    """Print a row for each shape."""
    print("  parts/ways  removals  plans  complete  median ms  most ms  four ms")
    for shape in SHAPES:
        cases = [case(seed, shape) for seed in range(MACHINES)]
        times = [took for took, _, _ in cases]
        fronts = [front for _, _, front in cases]
        removals = median(len(front.plans[0].removed) for front in fronts)
        plans = median(len(front.plans) for front in fronts)
        complete = f"{sum(front.complete for front in fronts)}/{MACHINES}"
        four = median(took for _, took, _ in cases)
        print(
            f"{f'{shape.parts}/{shape.ways}':>12} {removals:>9g} {plans:>6g} {complete:>9} {median(times):>10.1f} "
            f"{max(times):>8.1f} {four:>8.1f}"
        )


if __name__ == "__main__":
    main()
