"""The order of acts, for its tests alone: random machines whose acts differ in tools, zones, burden and supply, and an
oracle that puts acts in every order that can be carried out.

Nothing of the removal room is used but the shapes of requests and plans; what can be done next comes from
``support.full_model``.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from random import Random

from firstoff.appliance.model import (
    Appliance,
    Purpose,
)
from firstoff.appliance.terms import Concept
from firstoff.removal import Act, ActKind, Request, Target
from support.full_model import Situation, Step, is_end, start_of, steps
from support.instances import access

# By hand with the supply on, tool changes, zone changes, burden in grams times acts.
Cost = tuple[int, int, int, int]
NOTHING: Cost = (0, 0, 0, 0)


def with_handling(rng: Random, machine: Appliance, *, live: bool = True) -> Appliance:
    """``machine`` with random zones, masses, persons and tools; its first variable becomes the electrical supply,
    at times the second one too.

    With ``live``, some access paths that need the supply on, or nothing of it, are live readings. Every part is
    replaced alone, so that an act says all that it needs off.
    """
    tools = [Concept(f"t{number}", f"t{number}") for number in range(4)]
    zones = [Concept(f"z{number}", f"z{number}") for number in range(3)]

    def some_tools() -> tuple[Concept, ...]:
        return tuple(rng.sample(tools, rng.choice((0, 1, 1, 2, 3))))

    components = {
        slug: replace(
            part, zone=rng.choice(zones), kilograms=rng.choice((None, None, 0.5, 4.0, 12.0)), replaced_as=None
        )
        for slug, part in machine.components.items()
    }
    removals = {
        slug: replace(way, tools=some_tools(), persons=rng.choice((1, 1, 1, 2)))
        for slug, way in machine.removals.items()
    }
    preparations = {slug: replace(way, tools=some_tools()) for slug, way in machine.preparations.items()}
    variables, states = dict(machine.variables), dict(machine.states)
    for supply in [*variables][: rng.choice((1, 1, 1, 2))]:
        variables[supply] = replace(variables[supply], controls="mains")
        for number, slug in enumerate(variables[supply].states):
            if number == 1 or (number > 1 and rng.random() < 0.5):
                states[slug] = replace(states[slug], devices_open=frozenset({"plug"}))
    paths = {
        slug: replace(
            path,
            tools=some_tools(),
            live=live and rng.random() < 0.5 and not any(states[need].devices_open for need in path.needs_states),
        )
        for slug, path in machine.access_paths.items()
    }
    return replace(
        machine, components=components, removals=removals, preparations=preparations, access_paths=paths,
        variables=variables, states=states,
    )  # fmt: skip


def with_live_reading(machine: Appliance, rng: Random) -> tuple[Appliance, Target]:
    """``machine`` with a live reading of some part: supply on, another part off, a third fitted."""
    slugs = list(machine.components)
    part, off, fitted = rng.choice(slugs), rng.choice(slugs), rng.choice(slugs)
    on = next(state.id for state in machine.states.values() if state.initial)
    path = access(part, Purpose.TEST, 1, off={off}, fitted={fitted} - {off}, states={on}, tools=["meter"], way=9)
    paths = {
        slug: each
        for slug, each in machine.access_paths.items()
        if (each.component, each.purpose) != (part, Purpose.TEST)
    }
    return replace(machine, access_paths={**paths, path.id: replace(path, live=True)}), Target(part, Purpose.TEST)


def cost_of(machine: Appliance, request: Request, acts: Sequence[Act]) -> Cost:
    """What the acts cost in their order, by the objective as it is stated."""
    counts = _Counts(machine, acts)
    total, hand, zone = NOTHING, frozenset[str](), ""
    now = start_of(machine, request)
    for act in acts:
        step = _step(act)
        after = next(after for able, after in steps(machine, request, now) if able == step)
        total, hand, zone = counts.add(total, step, now, after, hand, zone)
        now = after
    return total


def least(machine: Appliance, request: Request, acts: Sequence[Act], most: int) -> Cost | None:
    """The least cost of any order of all of ``acts``; None where there are more than ``most`` orders to look at."""
    counts = _Counts(machine, acts)
    best: list[Cost] = []
    looked = 0
    stack = [(start_of(machine, request), Counter(map(_step, acts)), NOTHING, frozenset[str](), "")]
    while stack:
        now, left, total, hand, zone = stack.pop()
        looked += 1
        if looked > most:
            return None
        if not left and is_end(machine, request, now):
            best.append(total)
        for step, after in steps(machine, request, now):
            if step in left:
                rest = left - Counter((step,))
                stack.append((after, rest, *counts.add(total, step, now, after, hand, zone)))
    return min(best)


def least_mirrored(machine: Appliance, request: Request, acts: Sequence[Act], most: int) -> Cost | None:
    """As ``least``, over the orders of the way out, each followed by its mirror."""
    counts = _Counts(machine, acts)
    serves = [number for number, act in enumerate(acts) if act.kind is ActKind.SERVE]
    best: list[Cost] = []
    looked = 0
    start = start_of(machine, request)
    first = (start, frozenset(range(serves[-1] + 1)), NOTHING, frozenset[str](), "", ())
    stack: list[tuple[Situation, frozenset[int], Cost, frozenset[str], str, tuple[tuple[Step, Situation], ...]]] = [
        first
    ]
    while stack:
        now, left, total, hand, zone, path = stack.pop()
        looked += 1
        if looked > most:
            return None
        if not left:
            for step, before in reversed(path):
                if step[0] is not ActKind.SERVE:
                    total, hand, zone = counts.add(total, _taken_back(machine, step), now, before, hand, zone)
                    now = before
            best.append(total)
        for step, after in steps(machine, request, now):
            number = next((number for number in left if _step(acts[number]) == step), None)
            if number is not None:
                sofar = counts.add(total, step, now, after, hand, zone)
                stack.append((after, left - {number}, *sofar, (*path, (step, now))))
    return min(best)


def is_plain(acts: Sequence[Act], request: Request, machine: Appliance) -> bool:
    """Whether the acts are a plain way out and back: nothing twice, nothing taken back before the last target.

    A target that needs the supply on makes no plain plan where the supply changes too.
    """
    changes = any(
        machine.variables[machine.states[goal].variable].controls == "mains" for goal in _goals(machine, acts) if goal
    )
    for act in acts:
        path = machine.access_paths.get(act.way or "") if act.kind is ActKind.SERVE else None
        if changes and path and machine.energised(path.needs_states):
            return False
    out = [act for act in acts if act.phase == "out"]
    back = [act for act in acts if act.phase == "back"]
    reached = list(start_of(machine, request).holds)
    for act, goal in zip(out, _goals(machine, out), strict=True):
        if act.kind is ActKind.REFIT:
            return False
        reached.extend([goal] if goal else [])
    removed = [act.component for act in out if act.kind is ActKind.REMOVE]
    if len(set(reached)) < len(reached) or len(set(removed)) < len(removed):
        return False
    undone = Counter(_step(act)[:3] for act in back)
    return undone == Counter(
        _taken_back(machine, _step(act))[:3] for act in out if act.kind is not ActKind.SERVE
    ) and not any(act.kind is ActKind.SERVE for act in back)


def by_hand_with_supply_on(machine: Appliance, request: Request, acts: Sequence[Act]) -> int:
    """The number of acts by hand with the supply on."""
    return cost_of(machine, request, acts)[0]


def _goals(machine: Appliance, acts: Sequence[Act]) -> Iterator[str | None]:
    for act in acts:
        preparation = machine.preparations.get(act.way or "")
        if act.kind is ActKind.PREPARE and preparation:
            yield preparation.gives
        elif act.kind is ActKind.UNDO and preparation:
            yield preparation.from_state
        else:
            yield None


def _step(act: Act) -> Step:
    return act.kind, act.component, act.way, act.needed_for[0] if act.kind is ActKind.SERVE else None, act.minutes


def _taken_back(machine: Appliance, step: Step) -> Step:
    kind, component, way, _, _ = step
    if kind is ActKind.REMOVE:
        return ActKind.REFIT, component, way, None, machine.removals[way or ""].minutes_back
    preparation = machine.preparations[way or ""]
    if kind is ActKind.PREPARE:
        return ActKind.UNDO, None, way, None, preparation.undo_minutes
    return ActKind.PREPARE, None, way, None, preparation.minutes


class _Counts:
    """Adds up what acts cost."""

    def __init__(self, machine: Appliance, acts: Sequence[Act]) -> None:
        self._machine = machine
        self._handled = {act.component for act in acts if act.kind in (ActKind.REMOVE, ActKind.REFIT)}
        # Of parts found off, the removals by which they go back.
        self._found = {act.component: act.way or "" for act in reversed(acts) if act.kind is ActKind.REFIT}

    def add(
        self, total: Cost, step: Step, now: Situation, after: Situation, hand: frozenset[str], zone: str
    ) -> tuple[Cost, frozenset[str], str]:
        """The cost with ``step``, and the tools in hand and the zone worked at after it."""
        kind, component, way, _, _ = step
        machine = self._machine
        on = any(
            machine.variables[variable].controls == "mains" and not machine.states[state].devices_open
            for variable, state in now.states
        )
        preparation = machine.preparations.get(way or "")
        path = machine.access_paths.get(way or "") if kind is ActKind.SERVE else None
        removal = machine.removals.get(way or "")
        hands = not (path and path.live)
        if kind in (ActKind.PREPARE, ActKind.UNDO) and preparation:
            hands = machine.variables[machine.states[preparation.gives].variable].controls != "mains"
        used = removal.all_tools if removal else preparation.tools if preparation else path.tools if path else ()
        kit = frozenset(tool.id for tool in used)
        changes = len(kit - hand)
        place = machine.components[component].zone.id if component else zone
        burden = sum(self._burden(part, by) for part, by in after.off if part in self._handled)
        cost = (int(on and hands), changes, int(place != zone), burden)
        return (
            (total[0] + cost[0], total[1] + cost[1], total[2] + cost[2], total[3] + cost[3]),
            kit or hand,
            place,
        )

    def _burden(self, part: str, way: str) -> int:
        removal = self._machine.removals.get(way or self._found[part])
        extra = 23_000 * (removal.persons - 1) if removal else 0
        return round(1000 * (self._machine.components[part].kilograms or 0.0)) + extra
