"""Which acts of a plan rely on which: what each makes possible, and what has to wait until it is done."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from firstoff.appliance.model import Appliance
from firstoff.removal.plans import Act, ActKind

# A component off or on, or a state in force.
_Fact = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Reliance:
    """Numbers of later acts, in order: those that need what an act brings about, and those that end what it needed."""

    makes_possible: tuple[int, ...]
    goes_before: tuple[int, ...]


def reliance(appliance: Appliance, acts: Sequence[Act]) -> tuple[Reliance, ...]:
    """For every act the later ones that rely on it directly.

    An act makes possible what needs a fact that it was the last to bring about: a part off or back on, a state. It goes
    before the next act that ends a fact it needed itself: a part is back before the cover that had to be off for it.
    """
    source: dict[_Fact, int] = {}
    needing: dict[_Fact, list[int]] = {}
    makes: list[set[int]] = [set() for _ in acts]
    before: list[set[int]] = [set() for _ in acts]
    for number, act in enumerate(acts):
        needs = _needs(appliance, act)
        brings, ends = _changes(appliance, act)
        for fact in needs:
            if fact in source:
                makes[source[fact]].add(number)
        for fact in ends:
            for other in needing.pop(fact, ()):
                if other != number:
                    before[other].add(number)
            source.pop(fact, None)
        for fact in needs:
            if fact not in ends:
                needing.setdefault(fact, []).append(number)
        for fact in brings:
            source[fact] = number
    return tuple(
        Reliance(tuple(sorted(made)), tuple(sorted(first - made))) for made, first in zip(makes, before, strict=True)
    )


def _needs(appliance: Appliance, act: Act) -> set[_Fact]:
    """The facts an act needs; the part's own being off is left out where it is refitted."""
    way = act.way or ""
    if act.kind in (ActKind.REMOVE, ActKind.REFIT):
        removal = appliance.removals[way]
        return _facts(removal.needs_off, frozenset(), removal.needs_states)
    if act.kind in (ActKind.PREPARE, ActKind.UNDO):
        each = appliance.preparations[way]
        source = each.from_state if act.kind is ActKind.PREPARE else each.gives
        states = (each.needs_states - {each.from_state, each.gives}) | {source}
        return _facts(each.needs_off, each.needs_fitted, states)
    path = appliance.access_paths.get(way)
    needs = _facts(path.needs_off, path.needs_fitted, path.needs_states) if path else set()
    if path is None or path.purpose.value == "replace":
        part = appliance.components[act.component or ""]
        needs |= {("off", part.id), ("off", part.replaced_as or part.id)}
    return needs


def _facts(off: frozenset[str], fitted: frozenset[str], states: frozenset[str]) -> set[_Fact]:
    return {*(("off", part) for part in off), *(("on", part) for part in fitted), *(("state", s) for s in states)}


def _changes(appliance: Appliance, act: Act) -> tuple[tuple[_Fact, ...], tuple[_Fact, ...]]:
    """The facts an act brings about, and those it ends."""
    if act.kind in (ActKind.REMOVE, ActKind.REFIT):
        off, on = ("off", act.component or ""), ("on", act.component or "")
        return ((off,), (on,)) if act.kind is ActKind.REMOVE else ((on,), (off,))
    if act.kind in (ActKind.PREPARE, ActKind.UNDO):
        each = appliance.preparations[act.way or ""]
        ends = ("state", each.from_state), ("state", each.gives)
        source, goal = ends if act.kind is ActKind.PREPARE else ends[::-1]
        return (goal,), (source,)
    return (), ()
