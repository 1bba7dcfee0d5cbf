"""What a plan can be made smallest in, and how much of each a plan has.

Whatever is minimised stands in the bits above the ticks of ``options``, so that costs stay whole numbers that add up
exactly: of plans with the same figure the one with the fewest minutes has the lowest cost, and a plan is proved best
in both at once.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from firstoff.appliance.model import (
    Appliance,
    Removal,
)
from firstoff.removal.compiled import Compiled
from firstoff.removal.options import Option, measure_of, minutes_of, with_measure
from firstoff.removal.plans import Act, ActKind, Figures
from firstoff.removal.request import Measure

#: What each measure is counted in.
UNITS: Mapping[Measure, str] = {
    Measure.MINUTES: "minutes",
    Measure.PARTS: "parts taken off",
    Measure.SINGLE_USE: "single-use parts",
    Measure.EXPOSURE: "exposures",
}

#: How much of a measure a way has when it is done, and when it is taken back, by id of the way.
Amounts = Mapping[str, tuple[int, int]]


def single_use_parts(removal: Removal) -> int:
    """How many single-use parts a removal breaks: fastenings by their count, connections, the part itself."""
    fastenings = sum(each.count for each in removal.fastenings if each.single_use)
    return fastenings + sum(each.single_use for each in removal.connections) + removal.single_use


def figures_of(appliance: Appliance, exposures: Amounts, acts: Iterable[Act]) -> Figures:
    """The figures of ``acts``, minutes summed act by act."""
    minutes, parts, broken, exposed = 0.0, 0, 0, 0
    for act in acts:
        minutes += act.minutes
        done, taken_back = exposures.get(act.way or "", (0, 0))
        exposed += taken_back if act.kind in (ActKind.REFIT, ActKind.UNDO) else done
        if act.kind is ActKind.REMOVE:
            parts += 1
            broken += single_use_parts(appliance.removals[act.way or ""])
    return Figures(minutes, parts, broken, exposed)


def amounts_of(appliance: Appliance, measure: Measure, exposures: Amounts) -> Amounts:
    """How much of ``measure`` each way has; ways left out have none. Nothing for minutes, which are in the ticks."""
    match measure:
        case Measure.PARTS:
            return dict.fromkeys(appliance.removals, (1, 0))
        case Measure.SINGLE_USE:
            return {id_: (single_use_parts(removal), 0) for id_, removal in appliance.removals.items()}
        case Measure.EXPOSURE:
            return exposures
        case Measure.MINUTES:
            return {}


def measured(compiled: Compiled, amounts: Amounts) -> Compiled:
    """``compiled`` with the amounts added to the costs. A removal's cost covers its refit."""

    def costed(option: Option) -> Option:
        amount, back = amount_of(option, amounts), amount_back_of(option, amounts)
        if not amount and not back:
            return option
        return replace(option, cost=with_measure(option.cost, amount), cost_back=with_measure(option.cost_back, back))

    return replace(
        compiled,
        by_head=tuple(tuple(costed(option) for option in options) for options in compiled.by_head),
        paths={key: tuple(costed(option) for option in options) for key, options in compiled.paths.items()},
    )


def amount_of(option: Option, amounts: Amounts) -> int:
    """How much of a measure ``option`` has; a removal counts with its refit."""
    done, taken_back = amounts.get(option.way or "", (0, 0))
    if option.kind is ActKind.REMOVE:
        return done + taken_back
    return taken_back if option.kind in (ActKind.UNDO, ActKind.REFIT) else done


def amount_back_of(option: Option, amounts: Amounts) -> int:
    """How much of a measure it is to take ``option`` back, by itself."""
    done, taken_back = amounts.get(option.way or "", (0, 0))
    return done if option.kind is ActKind.UNDO else taken_back


def bounds_of(measure: Measure, amount: int) -> tuple[float, float]:
    """What a cost is in ``measure``, and in minutes."""
    minutes = minutes_of(amount)
    return minutes if measure is Measure.MINUTES else float(measure_of(amount)), minutes
