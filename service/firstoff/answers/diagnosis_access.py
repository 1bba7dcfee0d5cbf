"""Checks and remedies of one machine as actions with what has to be opened for them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from firstoff.answers import names
from firstoff.answers.as_found import AsFound
from firstoff.answers.bench import Bench
from firstoff.answers.diagnosis_guard import gated_by
from firstoff.answers.names import Aim
from firstoff.appliance.model import Appliance, Check, Purpose, Remedy
from firstoff.diagnosis import Access, Action, RankedFault, ranked, telling_apart
from firstoff.diagnosis.telling import outcome_probabilities
from firstoff.removal import Act, ActKind, Budget, RemovalError, Request, Target

#: Minutes of a remedy that states none, besides getting there. Common practice, no source.
REMEDY_MINUTES = 5.0
#: Minutes to switch a repaired machine on and see whether it works. Common practice, no source.
TRY_MINUTES = 3.0
#: Checks that are considered besides those that a gated remedy waits for: the most telling for their minutes.
MOST_CHECKS = 6


def access_of(appliance: Appliance) -> Access:
    """Removals and preparations as openings; a removal lies behind what it needs off where that has one way off."""
    minutes = {each.id: each.minutes_out + each.minutes_back for each in appliance.removals.values()}
    minutes |= {each.id: each.minutes + each.undo_minutes for each in appliance.preparations.values()}
    ways: dict[str, list[str]] = {}
    for each in appliance.removals.values():
        ways.setdefault(each.component, []).append(each.id)
    inside = {
        each.id: frozenset(ways[part][0] for part in each.needs_off if len(ways.get(part, ())) == 1)
        for each in appliance.removals.values()
    }
    return Access(minutes, inside)


def opened_of(appliance: Appliance, found: AsFound) -> frozenset[str]:
    """The openings of a machine as found. Where it is not known how a part came off, all its ways count as done."""
    states = set(found.states.values())
    removals = frozenset(each.id for each in found.came_off_by(appliance))
    return removals | {each.id for each in appliance.preparations.values() if each.gives in states}


def actions_of(
    bench: Bench,
    likely: Mapping[str, float],
    made: frozenset[str],
    at_hand: frozenset[str] | None,
    most_checks: int = MOST_CHECKS,
) -> list[Action]:
    """Remedies of the likely faults, the checks that tell them apart, and all those that a gated remedy waits for."""
    appliance = bench.appliance
    ends: dict[str, set[str]] = {}
    remedies: dict[str, Remedy] = {}
    for fault in likely:
        for remedy in appliance.faults[fault].remedies:
            ends.setdefault(remedy.id, set()).add(fault)
            remedies[remedy.id] = remedy
    gates = {slug: gated_by(appliance, remedies[slug], which) for slug, which in ends.items()}
    found = [
        remedy_action(bench, remedies[slug], frozenset(which), at_hand, gates[slug])
        for slug, which in sorted(ends.items())
    ]
    shares = [_shared(each, likely) for each in ranked(appliance, ()) if each.fault in likely]
    telling = [each.check for each in telling_apart(appliance, shares) if each.check not in made][:most_checks]
    waited = {check for gate in gates.values() for checks in gate.values() for check in checks} - made
    found += [check_action(bench, appliance.checks[slug], likely, at_hand) for slug in sorted(waited.union(telling))]
    return [each for each in found if each is not None]


def _shared(fault: RankedFault, likely: Mapping[str, float]) -> RankedFault:
    return RankedFault(
        fault.fault, fault.label, fault.component, fault.origin, likely[fault.fault], fault.explains,
        fault.unexplained, fault.remedies, fault.brings_on,
    )  # fmt: skip


def check_action(bench: Bench, check: Check, faults: Iterable[str], tools: frozenset[str] | None) -> Action | None:
    """``check`` as an action; None where it cannot be got at with ``tools``."""
    aim = Aim(check.component, check.purpose, live=check.live)
    if tools is not None and any(tool.id not in tools for tool in check.tools):
        return None
    got = _got_at(bench, aim, tools)
    if got is None:
        return None
    way, shut, minutes = got
    given = {fault: outcome_probabilities(check, fault) for fault in faults}
    outcomes = tuple({fault: each[place] for fault, each in given.items()} for place in range(len(check.outcomes)))
    return Action(check.id, check.minutes + minutes, (way,), shut=shut, outcomes=outcomes)


def remedy_action(
    bench: Bench,
    remedy: Remedy,
    ends: frozenset[str],
    tools: frozenset[str] | None,
    after: Mapping[str, frozenset[str]],
) -> Action | None:
    """``remedy`` as an action. All is put together to try the machine: nobody tries it with guards off."""
    own = (REMEDY_MINUTES if remedy.minutes is None else remedy.minutes) + TRY_MINUTES
    every = frozenset((*bench.appliance.removals, *bench.appliance.preparations))
    if remedy.component is None:
        return Action(remedy.id, own, ends=ends, shut_after=every, after=after)
    purpose = Purpose.REPLACE if remedy.kind.id == "replace" else Purpose.TEST
    for each in (purpose, Purpose.REPLACE, Purpose.INSPECT):
        got = _got_at(bench, Aim(remedy.component, each), tools)
        if got is not None:
            return Action(remedy.id, own + got[2], (got[0],), shut=got[1], ends=ends, shut_after=every, after=after)
    return None


def _got_at(
    bench: Bench, aim: Aim, tools: frozenset[str] | None
) -> tuple[frozenset[str], frozenset[str], float] | None:
    """What is open when ``aim`` is served by the cheapest plan, what must be shut, and minutes besides."""
    banned = names.ruled_out(bench.appliance, [aim])
    target = Target(aim.component, aim.purpose)
    try:
        plan = bench.planner.plan(Request((target,), tools=tools, alternatives=0, banned=banned), Budget(nodes=2000))
    except RemovalError:
        return None
    opened: dict[str, float] = {}
    shut: set[str] = set()
    extra = 0.0
    for act in plan.acts:
        if act.kind is ActKind.SERVE:
            extra += act.minutes
            break
        if act.way is not None and act.kind in (ActKind.PREPARE, ActKind.REMOVE):
            opened[act.way] = act.minutes
        elif act.way is not None and opened.pop(act.way, None) is not None:
            # Opened for a while on the way in, such as the supply isolated before a live test: paid by this action.
            shut.add(act.way)
            extra += _both_ways(bench.appliance, act)
    needed = frozenset(opened) & (bench.appliance.removals.keys() | bench.appliance.preparations.keys())
    served = next((each.way for each in plan.acts if each.kind is ActKind.SERVE), None)
    path = bench.appliance.access_paths.get(served or "")
    fitted = path.needs_fitted if path else frozenset[str]()
    guards = {each.id for each in bench.appliance.removals.values() if each.component in fitted}
    return needed, frozenset(shut | guards) - needed, extra


def _both_ways(appliance: Appliance, act: Act) -> float:
    removal = appliance.removals.get(act.way or "")
    if removal:
        return removal.minutes_out + removal.minutes_back
    preparation = appliance.preparations.get(act.way or "")
    return preparation.minutes + preparation.undo_minutes if preparation else act.minutes
