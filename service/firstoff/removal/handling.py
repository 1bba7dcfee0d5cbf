"""What an act is like to carry out, and how well an order of acts does: the objective of ``firstoff.removal.order``."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from firstoff.removal.compiled import Compiled
from firstoff.removal.moves import Move
from firstoff.removal.options import Option
from firstoff.removal.plans import ActKind
from firstoff.removal.problem import Problem

_GRAMS = 1000
#: Kilograms that each person beyond the first counts for. An assumption of ours, no source.
PERSON_KILOGRAMS = 23


class Score(NamedTuple):
    """What an order costs; the less the better, the first that differs decides.

    ``supply_on``: acts by hand with the electrical supply on. ``tool_changes``: tools taken up by an act that the act
    with tools before it did not use. ``zone_changes``: acts at another zone than the act with a component before.
    ``burden``: over all acts, the sum of the burden in grams of the parts that are off after it.
    """

    supply_on: int
    tool_changes: int
    zone_changes: int
    burden: int


@dataclass(frozen=True, slots=True, eq=False)
class Handling:
    """What the order of acts depends on besides their needs.

    ``energised`` are the state atoms in which the electrical supply is on, ``supply`` the numbers of its variables;
    ``burden`` maps the ids of removals to the burden of their part in grams, where that is not 0; ``readings`` are the
    ids of the access paths that are read with hands off.
    """

    energised: frozenset[int]
    supply: frozenset[int]
    burden: Mapping[str, int]
    readings: frozenset[str]

    def by_hand(self, compiled: Compiled, option: Option) -> bool:
        """Whether hands are at the machine: all but a live reading and the change of the supply itself."""
        if option.leaves >= 0:
            return compiled.variable[option.head] not in self.supply
        return option.kind is not ActKind.SERVE or option.way not in self.readings

    def burden_of(self, option: Option) -> int:
        """The burden in grams of the part that ``option`` takes off; 0 for what takes none off."""
        return self.burden.get(option.way or "", 0)


def handling_of(compiled: Compiled) -> Handling:
    """What ``compiled`` says of the handling of its parts; a mass that is not known counts as none."""
    appliance = compiled.appliance
    burden: dict[str, int] = {}
    for removal in appliance.removals.values():
        component = appliance.components.get(removal.component)
        kilograms = (component.kilograms or 0.0) if component is not None else 0.0
        grams = round(_GRAMS * (kilograms + PERSON_KILOGRAMS * (removal.persons - 1)))
        if grams:
            burden[removal.id] = grams
    return Handling(
        energised=frozenset(
            atom
            for atom in range(compiled.components, len(compiled.names))
            if appliance.energised((compiled.names[atom],))
        ),
        supply=frozenset(
            number for number, slug in enumerate(compiled.variables) if appliance.variables[slug].is_mains
        ),
        burden=burden,
        readings=frozenset(path.id for path in appliance.access_paths.values() if path.live),
    )


def zone_of(problem: Problem, option: Option) -> str | None:
    """The zone an act is done at: that of its component, None for a change of state."""
    compiled = problem.compiled
    if option.leaves >= 0:
        return None
    if option.head < compiled.components:
        return compiled.zone[option.head]
    target = problem.targets[option.head - len(compiled.names)]
    return compiled.zone[compiled.number[target.component]]


def score(problem: Problem, handling: Handling, moves: Sequence[Move]) -> Score:
    """What ``moves`` cost in this order. Of parts found off, those that ``moves`` refit count until then."""
    compiled = problem.compiled
    energised, components = handling.energised, compiled.components
    on = len(energised.intersection(problem.start))
    taken: set[int] = set()
    load = 0
    for move in moves:
        if move.back and move.option.head not in taken:
            load += handling.burden_of(move.option)
        elif move.option.head < components and move.option.leaves < 0:
            taken.add(move.option.head)
    supply_on = tool_changes = zone_changes = burden = 0
    hand: frozenset[str] = frozenset()
    place: str | None = None
    for move in moves:
        option = move.option
        if on and handling.by_hand(compiled, option):
            supply_on += 1
        if option.kit and option.kit is not hand:
            tool_changes += len(option.kit - hand)
            hand = option.kit
        zone = zone_of(problem, option)
        if zone is not None and zone != place:
            zone_changes += 1
            place = zone
        if option.leaves >= 0:
            on += (option.head in energised) - (option.leaves in energised)
        elif option.head < components:
            load += -handling.burden_of(option) if move.back else handling.burden_of(option)
        burden += load
    return Score(supply_on, tool_changes, zone_changes, burden)
